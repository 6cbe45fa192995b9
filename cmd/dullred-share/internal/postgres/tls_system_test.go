//go:build system && linux

package postgres_test

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
)

// signer signs certificates for servers.
type signer struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
	path string // of its certificate
}

func newSigner(t *testing.T) signer {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	ca := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "school"}, NotBefore: time.Now().Add(-time.Hour),
		NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true, KeyUsage: x509.KeyUsageCertSign}
	der, err := x509.CreateCertificate(rand.Reader, ca, ca, &key.PublicKey, key)
	require.NoError(t, err)
	cert, err := x509.ParseCertificate(der)
	require.NoError(t, err)
	s := signer{cert, key, filepath.Join(t.TempDir(), "ca.crt")}
	require.NoError(t, os.WriteFile(s.path, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600))
	return s
}

// sign writes a certificate and its key for a server, which is told to read them.
func (s signer) sign(t *testing.T, server *pgtest.Server, from, to time.Time, names []string, ips ...net.IP) {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	cert := &x509.Certificate{SerialNumber: big.NewInt(2), Subject: pkix.Name{CommonName: "db"}, NotBefore: from, NotAfter: to, DNSNames: names, IPAddresses: ips}
	der, err := x509.CreateCertificate(rand.Reader, cert, s.cert, &key.PublicKey, s.key)
	require.NoError(t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	require.NoError(t, err)
	for name, block := range map[string]*pem.Block{"server.crt": {Type: "CERTIFICATE", Bytes: der}, "server.key": {Type: "PRIVATE KEY", Bytes: secret}} {
		path := filepath.Join(server.Dir, "data", name)
		require.NoError(t, os.WriteFile(path, pem.EncodeToMemory(block), 0o600))
		require.NoError(t, server.Give(path))
	}
}

// TestCertificates is run on the loopback address, where a certificate is verified when
// that is asked for, as elsewhere.
func TestCertificates(t *testing.T) {
	school, stranger, here := newSigner(t), newSigner(t), net.IPv4(127, 0, 0, 1)
	server := pgtest.Start(t)
	s := newSchool(t, server)
	reader := s.Role(t, postgres.Reader)
	past, future := time.Now().Add(-time.Hour), time.Now().Add(time.Hour)
	cases := []struct {
		name  string
		serve func()
		query string
		says  string // empty is let in
	}{
		{"as it should be", func() { school.sign(t, server, past, future, nil, here) }, "verify-full&sslrootcert=" + school.path, ""},
		{"by its signer", func() { school.sign(t, server, past, future, []string{"db.example"}) }, "verify-ca&sslrootcert=" + school.path, ""},
		{"another name", func() { school.sign(t, server, past, future, []string{"db.example"}) }, "verify-full&sslrootcert=" + school.path, "for another name than 127.0.0.1"},
		{"another signer", func() { stranger.sign(t, server, past, future, nil, here) }, "verify-full&sslrootcert=" + school.path, "not signed by anybody who is trusted"},
		{"another signer, whatever the name", func() { stranger.sign(t, server, past, future, nil, here) }, "verify-ca&sslrootcert=" + school.path, "not signed by anybody who is trusted"},
		{"expired", func() { school.sign(t, server, past, past.Add(time.Minute), nil, here) }, "verify-full&sslrootcert=" + school.path, "has expired"},
		{"nobody trusted", func() { school.sign(t, server, past, future, nil, here) }, "verify-full", "not signed by anybody who is trusted"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			c.serve()
			server.Exec(t, "postgres", `ALTER SYSTEM SET ssl = on`)
			server.Stop()
			server.Restart(t)
			_, err := postgres.Open(t.Context(), postgres.Config{URL: reader.URL + "?sslmode=" + c.query, PasswordFile: reader.PasswordFile})
			if c.says == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorIs(t, err, share.ErrCertificate)
			require.ErrorContains(t, err, c.says)
			require.False(t, strings.Contains(err.Error(), "\n") || strings.Contains(err.Error(), pgtest.RolePassword), err)
		})
	}
}
