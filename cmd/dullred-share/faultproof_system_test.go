//go:build system && linux

package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"fmt"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// authority signs the certificates of servers.
type authority struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
	path string // of its certificate
}

func newAuthority(t *testing.T) authority {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	ca := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "school"}, NotBefore: time.Now().Add(-2 * time.Hour),
		NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true, KeyUsage: x509.KeyUsageCertSign}
	der, err := x509.CreateCertificate(rand.Reader, ca, ca, &key.PublicKey, key)
	require.NoError(t, err)
	cert, err := x509.ParseCertificate(der)
	require.NoError(t, err)
	a := authority{cert, key, filepath.Join(t.TempDir(), "ca.crt")}
	require.NoError(t, os.WriteFile(a.path, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600))
	return a
}

// certificate is what a server proves itself with.
type certificate struct {
	by        authority
	names     []string
	addresses []net.IP
	until     time.Time
}

// shows has the server prove itself with a certificate.
func (sc *scene) shows(c certificate) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(sc.t, err)
	cert := &x509.Certificate{SerialNumber: big.NewInt(2), Subject: pkix.Name{CommonName: "db"}, NotBefore: time.Now().Add(-time.Hour),
		NotAfter: c.until, DNSNames: c.names, IPAddresses: c.addresses}
	der, err := x509.CreateCertificate(rand.Reader, cert, c.by.cert, &key.PublicKey, c.by.key)
	require.NoError(sc.t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	require.NoError(sc.t, err)
	for name, block := range map[string]*pem.Block{"server.crt": {Type: "CERTIFICATE", Bytes: der}, "server.key": {Type: "PRIVATE KEY", Bytes: secret}} {
		path := filepath.Join(sc.s.Dir, "data", name)
		require.NoError(sc.t, os.WriteFile(path, pem.EncodeToMemory(block), 0o600))
		require.NoError(sc.t, sc.s.Give(path))
	}
	sc.s.Exec(sc.t, "postgres", `ALTER SYSTEM SET ssl = on`)
	sc.s.Stop()
	sc.s.Restart(sc.t)
}

// certified has a server on a host of this machine prove itself wrongly, or with nil not
// at all, to a bench that trusts one authority.
func (sc *scene) certified(host string, wrongly func(*certificate)) (mend func()) {
	right := certificate{newAuthority(sc.all), nil, []net.IP{net.ParseIP(host)}, time.Now().Add(time.Hour)}
	sc.url = fmt.Sprintf("postgres://%s@%s:%d/%s?sslmode=verify-full&sslrootcert=%s", sc.role, host, sc.s.Port, sc.database, right.by.path)
	if wrongly != nil {
		wrong := right
		wrongly(&wrong)
		sc.shows(wrong)
	}
	return func() { sc.shows(right) }
}
