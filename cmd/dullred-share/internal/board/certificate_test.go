package board_test

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"io"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/board"
)

// paper is a certificate that signs itself, with its key, in files.
type paper struct {
	certificate, key string
	pool             *x509.CertPool // that trusts it
}

// sign makes one for some names, valid between two moments.
func sign(t testing.TB, from, to time.Time, names ...string) paper {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	form := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "board"}, NotBefore: from, NotAfter: to}
	for _, name := range names {
		if ip := net.ParseIP(name); ip != nil {
			form.IPAddresses = append(form.IPAddresses, ip)
		} else {
			form.DNSNames = append(form.DNSNames, name)
		}
	}
	der, err := x509.CreateCertificate(rand.Reader, form, form, &key.PublicKey, key)
	require.NoError(t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	require.NoError(t, err)
	public := pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})
	p := paper{keep(t, public), keep(t, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})), x509.NewCertPool()}
	require.True(t, p.pool.AppendCertsFromPEM(public))
	return p
}

// keep writes a file.
func keep(t testing.TB, text []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "board.pem")
	require.NoError(t, os.WriteFile(path, text, 0o600))
	return path
}

func TestListenWithACertificate(t *testing.T) {
	past, future := now().Add(-time.Hour), now().Add(time.Hour)
	good, other := sign(t, past, future, "board.example", "192.0.2.7"), sign(t, past, future, "board.example")
	old, early, nameless := sign(t, past, past.Add(time.Minute), "board.example"), sign(t, future, future.Add(time.Hour), "board.example"), sign(t, past, future)
	damaged := keep(t, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: []byte("rust")}))
	badKey := keep(t, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: []byte("rust")}))
	locked := keep(t, pem.EncodeToMemory(&pem.Block{Type: "ENCRYPTED PRIVATE KEY", Bytes: []byte("rust")}))
	huge := keep(t, nil)
	require.NoError(t, os.Truncate(huge, 1<<40))
	const here = "127.0.0.1:0"
	cases := []struct {
		name, address, certificate, key, says string
		is                                    error
		reason                                string
	}{
		{"both", here, good.certificate, good.key, "", nil, "loopback may have it too"},
		{"the key alone", here, "", good.key, "give --certificate FILE too", board.ErrCertificate, "half of it is nothing"},
		{"the certificate alone", here, good.certificate, "", "give --key FILE too", board.ErrCertificate, "half of it is nothing"},
		{"no such file", here, good.certificate + ".none", good.key, "no such file", board.ErrCertificate, "it is said which"},
		{"no such key", here, good.certificate, good.key + ".none", "no such file", board.ErrCertificate, "it is said which"},
		{"the wrong way round", here, good.key, good.certificate, "there is no certificate of the form PEM", board.ErrCertificate, "they are easily confused"},
		{"a text", here, good.certificate, keep(t, []byte("three blows")), "there is no private key of the form PEM", board.ErrCertificate, "it is said which"},
		{"damaged", here, damaged, good.key, "is damaged", board.ErrCertificate, "it is said which"},
		{"a damaged key", here, good.certificate, badKey, "is damaged, or of a kind that is not known", board.ErrCertificate, "it is said which"},
		{"a key with a passphrase", here, good.certificate, locked, "needs a passphrase", board.ErrCertificate, "nobody can type it"},
		{"a folder", here, t.TempDir(), good.key, "it is no plain file", board.ErrCertificate, "it is said which"},
		{"without an end", here, os.DevNull, good.key, "it is no plain file", board.ErrCertificate, "a device may be read for ever"},
		{"huge", here, huge, good.key, "it is too large: over 1024 KiB", board.ErrCertificate, "that is another file, which fills the memory"},
		{"a huge key", here, good.certificate, huge, "it is too large: over 1024 KiB", board.ErrCertificate, "the same"},
		{"of two", here, good.certificate, other.key, "does not belong to it", board.ErrCertificate, "a browser would refuse"},
		{"expired", here, old.certificate, old.key, "has expired at 2031-03-05 17:32 UTC", board.ErrCertificate, "a browser would refuse"},
		{"to come", here, early.certificate, early.key, "is valid only from 2031-03-05 19:31 UTC", board.ErrCertificate, "a browser would refuse"},
		{"for nobody", here, nameless.certificate, nameless.key, "is for no name", board.ErrCertificate, "a browser would refuse"},
		{"a name to listen at", "board.example:8443", good.certificate, good.key, "is not an address of this machine in figures", board.ErrAddress, "a name may lead anywhere"},
		{"another machine", "192.0.2.7:8443", good.certificate, good.key, "is not an address of this machine", board.ErrAddress, "only this machine's own"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			d, err := board.Listen(board.Place{Address: c.address, Certificate: c.certificate, Key: c.key, Now: now()})
			if c.says == "" {
				require.NoError(t, err, c.reason)
				require.NoError(t, d.Close())
				return
			}
			require.ErrorIs(t, err, c.is, c.reason)
			require.ErrorContains(t, err, c.says)
			require.NotContains(t, err.Error(), "\n")
		})
	}
}

// Over TLS the page is given to who asks for it by a name of the certificate, in TLS 1.2 or
// later.
func TestServeOverTLS(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod())
	f := s.feed()
	until(t, f, shows(1))
	p := sign(t, now().Add(-time.Hour), now().Add(time.Hour), "board.example", "127.0.0.1")
	d, err := board.Listen(board.Place{Address: "127.0.0.1:0", Certificate: p.certificate, Key: p.key, Now: now()})
	require.NoError(t, err)
	require.Equal(t, "https://"+d.Addr().String()+"/", d.URL())
	require.False(t, d.Open())
	ctx, cancel := context.WithCancel(context.Background())
	over := make(chan error, 1)
	go func() { over <- board.Serve(ctx, f, d) }()
	defer func() { cancel(); require.NoError(t, <-over) }()
	_, port, err := net.SplitHostPort(d.Addr().String())
	require.NoError(t, err)
	cases := []struct {
		name, host string
		most       uint16
		status     int // 0 for no answer at all
		reason     string
	}{
		{"by a name of the certificate", "board.example:" + port, 0, http.StatusOK, "as the tablet asks"},
		{"in capitals", "BOARD.example:" + port, 0, http.StatusOK, "names have no case"},
		{"by figures of the certificate", "127.0.0.1:" + port, 0, http.StatusOK, "as the tablet asks"},
		{"on this machine", "localhost:" + port, 0, http.StatusOK, "it is ours"},
		{"by another name", "elsewhere.example:" + port, 0, http.StatusForbidden, "a page from elsewhere whose name was turned"},
		{"by no name", "", 0, http.StatusOK, "the address that was dialled"},
		{"as it was once done", "board.example:" + port, tls.VersionTLS11, 0, "TLS 1.1 is broken"},
		{"as it is still done", "board.example:" + port, tls.VersionTLS12, http.StatusOK, "older tablets"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			client := http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: p.pool, MinVersion: tls.VersionTLS10, MaxVersion: c.most, Time: now}, DisableKeepAlives: true}}
			r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, d.URL(), nil)
			require.NoError(t, err)
			r.Host = c.host
			answer, err := client.Do(r)
			if c.status == 0 {
				require.ErrorContains(t, err, "protocol version", c.reason)
				return
			}
			require.NoError(t, err)
			defer answer.Body.Close()
			text, err := io.ReadAll(answer.Body)
			require.NoError(t, err)
			require.Equal(t, c.status, answer.StatusCode, c.reason)
			require.Equal(t, c.status == http.StatusOK, strings.Contains(string(text), "spoon"))
		})
	}
	answer, err := http.Get("http://" + d.Addr().String() + "/")
	require.NoError(t, err)
	defer answer.Body.Close()
	require.Equal(t, http.StatusBadRequest, answer.StatusCode, "without TLS there is nothing")
}
