package board

import (
	"bytes"
	"crypto/ed25519"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/require"
)

// FuzzCertificate reads two files as a certificate and its key. What is taken is valid at
// the moment and for a name, by which it is called; what is not is refused in one line.
func FuzzCertificate(f *testing.F) {
	now := time.Date(2031, 3, 5, 18, 31, 0, 0, time.UTC)
	public, secret := paperOf(f, now, "board.example")
	_, other := paperOf(f, now, "elsewhere.example")
	nameless, _ := paperOf(f, now)
	f.Add(public, secret)
	f.Add(secret, public)
	f.Add(public, other)
	f.Add(nameless, secret)
	odd, its := paperOf(f, now, "bo\x1b[2Jard.example", "*.example")
	f.Add(odd, its)
	f.Add(bytes.Join([][]byte{[]byte("noted at the bench\n"), public, public}, nil), secret)
	f.Add(public, pem.EncodeToMemory(&pem.Block{Type: "ENCRYPTED PRIVATE KEY", Bytes: []byte("rust")}))
	f.Add(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: []byte("rust")}), []byte("-----BEGIN "))
	folder := f.TempDir()
	place := Place{Certificate: filepath.Join(folder, "board.crt"), Key: filepath.Join(folder, "board.key"), Now: now}
	f.Fuzz(func(t *testing.T, certificate, key []byte) {
		require.NoError(t, errors.Join(os.WriteFile(place.Certificate, certificate, 0o600), os.WriteFile(place.Key, key, 0o600)))
		i, err := place.identity()
		if err != nil {
			require.ErrorIs(t, err, ErrCertificate)
			require.False(t, strings.ContainsFunc(err.Error(), unicode.IsControl), "%q", err)
			return
		}
		require.False(t, now.Before(i.leaf.NotBefore) || now.After(i.leaf.NotAfter))
		called := i.called(net.IPv4(127, 0, 0, 1))
		require.True(t, called != "" && !strings.ContainsFunc(called, func(r rune) bool { return r <= ' ' || r >= unicode.MaxASCII }), "%q", called)
	})
}

// paperOf is a certificate for some names and its key, always the same for names as long.
func paperOf(f *testing.F, now time.Time, names ...string) (public, secret []byte) {
	key := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{byte(len(strings.Join(names, "")))}, ed25519.SeedSize))
	form := &x509.Certificate{SerialNumber: big.NewInt(1), NotBefore: now.Add(-time.Hour), NotAfter: now.Add(time.Hour), DNSNames: names}
	der, err := x509.CreateCertificate(nil, form, form, key.Public(), key)
	require.NoError(f, err)
	private, err := x509.MarshalPKCS8PrivateKey(key)
	require.NoError(f, err)
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: private})
}
