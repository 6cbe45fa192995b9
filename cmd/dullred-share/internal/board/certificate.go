package board

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"net"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"dullred/cmd/internal/place"
)

// ErrCertificate is returned for a certificate or a key that is no good.
var ErrCertificate = errors.New("the page cannot be given with this certificate")

// identity is a certificate with its key.
type identity struct {
	pair tls.Certificate
	leaf *x509.Certificate
}

// identity reads the certificate and the key; nil where neither was given.
func (p Place) identity() (*identity, error) {
	switch {
	case p.Certificate == "" && p.Key == "":
		return nil, nil
	case p.Key == "":
		return nil, fmt.Errorf("%w: its key is missing; give --key FILE too", ErrCertificate)
	case p.Certificate == "":
		return nil, fmt.Errorf("%w: there is only the key; give --certificate FILE too", ErrCertificate)
	}
	i, err := readIdentity(p.Certificate, p.Key)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrCertificate, err)
	}
	if err := i.check(p.Now); err != nil {
		return nil, fmt.Errorf("%w: %q %w", ErrCertificate, p.Certificate, err)
	}
	return i, nil
}

func readIdentity(certificate, key string) (*identity, error) {
	public, err := readPEM(certificate, "CERTIFICATE")
	if err != nil {
		return nil, err
	}
	secret, err := readPEM(key, "PRIVATE KEY")
	if err != nil {
		return nil, err
	}
	for rest := public; ; {
		var block *pem.Block
		if block, rest = pem.Decode(rest); block == nil {
			break
		}
		if block.Type != "CERTIFICATE" {
			continue
		}
		if _, err := x509.ParseCertificate(block.Bytes); err != nil {
			return nil, fmt.Errorf("%q is damaged", certificate)
		}
	}
	pair, err := tls.X509KeyPair(public, secret)
	switch {
	case err == nil:
		return &identity{pair, pair.Leaf}, nil
	case strings.Contains(err.Error(), "does not match"):
		return nil, fmt.Errorf("the key %q does not belong to it", key)
	}
	return nil, fmt.Errorf("the key %q is damaged, or of a kind that is not known", key)
}

// mostPEM is how large a file of a certificate with those that signed it may be, in bytes.
const mostPEM = 1 << 20

// readPEM reads a file that holds something of a kind. A key that needs a passphrase is
// of another kind.
func readPEM(path, kind string) ([]byte, error) {
	text, err := place.Read(path, mostPEM)
	if err != nil {
		return nil, err
	}
	for rest := text; ; {
		var block *pem.Block
		if block, rest = pem.Decode(rest); block == nil {
			break
		}
		if strings.HasPrefix(block.Type, "ENCRYPTED") || block.Headers["DEK-Info"] != "" {
			return nil, fmt.Errorf("%q needs a passphrase, which nobody is there to type", path)
		}
		if strings.HasSuffix(block.Type, kind) {
			return text, nil
		}
	}
	return nil, fmt.Errorf("there is no %s of the form PEM in %q", strings.ToLower(kind), path)
}

// check is what a browser would refuse, whoever signed it.
func (i *identity) check(now time.Time) error {
	const day = "2006-01-02 15:04 MST"
	switch c := i.leaf; {
	case now.After(c.NotAfter):
		return fmt.Errorf("has expired at %s", c.NotAfter.In(now.Location()).Format(day))
	case now.Before(c.NotBefore):
		return fmt.Errorf("is valid only from %s", c.NotBefore.In(now.Location()).Format(day))
	case len(c.DNSNames)+len(c.IPAddresses) == 0:
		return errors.New("is for no name: it needs one as subject alternative name")
	}
	return nil
}

// over is a listener over TLS. HTTP/1.1 is enough for one page and its events.
func (i *identity) over(l net.Listener) net.Listener {
	return tls.NewListener(l, &tls.Config{Certificates: []tls.Certificate{i.pair}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}})
}

// has reports whether the certificate is for a name or an address; no identity is for none.
func (i *identity) has(name string) bool {
	return i != nil && name != "" && i.leaf.VerifyHostname(name) == nil
}

// called is the name of a place: its address where the certificate is for it, else the
// first name that the certificate is for and that leads to one place.
func (i *identity) called(at net.IP) string {
	if i.has(at.String()) {
		return at.String()
	}
	for _, name := range i.leaf.DNSNames {
		if !strings.ContainsFunc(name, noHostName) {
			return name
		}
	}
	if len(i.leaf.IPAddresses) > 0 {
		return i.leaf.IPAddresses[0].String()
	}
	return at.String()
}

// noHostName is of what no name of a machine holds: a certificate may say anything.
func noHostName(r rune) bool {
	return r >= utf8.RuneSelf || !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-._", r)
}
