package postgres

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"net"
	"net/url"
	"os"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"dullred/schedule/share"
)

// Config says where a shared record is, and as whom it is opened.
type Config struct {
	URL          string        // postgres://ROLE@HOST:PORT/DATABASE, without a password
	PasswordFile string        // its first line is the password; "" looks in ~/.pgpass
	Bench        string        // id of the bench that sends; "" only reads
	Timeout      time.Duration // for each statement; 0 is 10 s
	Poll         time.Duration // between two looks for news beside LISTEN; 0 is 3 s
}

// ErrAddress is returned for a URL or a password file that cannot be used. Nothing was
// asked of any server.
var ErrAddress = errors.New("the address cannot be used")

const (
	usualTimeout = 10 * time.Second
	usualPoll    = 3 * time.Second
)

// address is a Config that has passed all rules.
type address struct {
	Config
	conn *pgx.ConnConfig
}

func (c Config) address() (*address, error) {
	if c.Timeout <= 0 {
		c.Timeout = usualTimeout
	}
	if c.Poll <= 0 {
		c.Poll = usualPoll
	}
	if err := vetURL(c.URL); err != nil {
		return nil, err
	}
	if err := vetFiles(c.URL); err != nil {
		return nil, err
	}
	conn, err := parse(c.URL)
	if err != nil {
		return nil, err
	}
	if c.PasswordFile != "" {
		conn.Password, err = readPassword(c.PasswordFile)
	} else {
		err = vetUsual(conn.Password)
	}
	if err != nil {
		return nil, err
	}
	conn.ConnectTimeout = c.Timeout
	conn.RuntimeParams["application_name"] = "dullred-share"
	return &address{c, conn}, nil
}

// vetURL refuses what is no URL of a database, and a password in it: command lines are
// seen by all who list the processes. Like every refusal of a URL it repeats nothing of
// it: a password may stand where a host does, and a host may hold control characters.
func vetURL(text string) error {
	u, err := url.Parse(text)
	if err != nil || !strings.HasPrefix(text, "postgres://") && !strings.HasPrefix(text, "postgresql://") || strings.Contains(text, "#") {
		return fmt.Errorf("%w: it is not of the form postgres://ROLE@HOST/DATABASE", ErrAddress)
	}
	_, given := u.User.Password()
	if q := u.Query(); given || q.Has("password") || q.Has("sslpassword") {
		return fmt.Errorf("%w: a password does not belong in it, where others see it; put it into a file for --password-file, or into ~/.pgpass", ErrAddress)
	}
	return nil
}

// parse reads a URL.
func parse(text string) (*pgx.ConnConfig, error) {
	conn, err := parseOnce(text)
	if err != nil {
		return nil, err
	}
	mode := usualMode(conn)
	if u, err := url.Parse(text); err == nil && !u.Query().Has("sslmode") && mode != "" {
		u.RawQuery = strings.TrimPrefix(strings.TrimSuffix(u.RawQuery, "&")+"&sslmode="+mode, "&")
		if conn, err = parseOnce(u.String()); err != nil {
			return nil, err
		}
	}
	if !proved(conn) {
		return nil, fmt.Errorf("%w: it leads beyond this machine, and sslmode must be verify-full or verify-ca there", ErrAddress)
	}
	if !verified(conn) {
		conn.DialFunc = dialLoopback
	}
	return conn, nil
}

// usualMode is the sslmode where a URL says nothing of TLS; "" leaves it to the library.
// Where the server is beyond the loopback address its certificate is verified. On this
// machine nobody reads along, and a server without TLS need not start a process only to
// refuse it each time that somebody connects.
func usualMode(c *pgx.ConnConfig) string {
	switch {
	case !proved(c):
		return "verify-full"
	case os.Getenv("PGSSLMODE") == "":
		return "allow"
	}
	return ""
}

// mayHold are the settings that a URL may hold. The library reads a URL in a way of its own,
// so that it alone knows whether there is a password in it.
var mayHold = pgx.ParseConfigOptions{ParseConfigOptions: pgconn.ParseConfigOptions{ConnStringAllowedKeys: []string{
	"host", "port", "user", "dbname", "application_name", "connect_timeout", "options", "target_session_attrs", "passfile",
	"sslmode", "sslrootcert", "sslcert", "sslkey", "sslcertmode", "sslsni", "sslnegotiation", "channel_binding", "require_auth"}}}

func parseOnce(text string) (*pgx.ConnConfig, error) {
	conn, err := pgx.ParseConfigWithOptions(text, mayHold)
	switch {
	case err == nil:
		return conn, nil
	case strings.Contains(err.Error(), "ConnStringAllowedKeys"):
		return nil, fmt.Errorf("%w: it holds a setting that does not belong in it, such as a password, which comes from --password-file or ~/.pgpass", ErrAddress)
	case strings.Contains(err.Error(), "read CA file"), strings.Contains(err.Error(), "add CA to cert pool"):
		return nil, fmt.Errorf("%w: sslrootcert does not lead to certificates in PEM", share.ErrCertificate)
	}
	// What is wrong may be said with the value, and a value may be a password put into
	// the wrong place.
	return nil, fmt.Errorf("%w: a part of it, or of the settings PG... in the environment, is not understood", ErrAddress)
}

// ways are the ways in which a connection is tried, one after the other.
func ways(c *pgx.ConnConfig) []pgconn.FallbackConfig {
	all := []pgconn.FallbackConfig{{Host: c.Host, Port: c.Port, TLSConfig: c.TLSConfig}}
	for _, f := range c.Fallbacks {
		all = append(all, *f)
	}
	return all
}

// proved reports whether on each way the server is on this machine or must prove who it is.
func proved(c *pgx.ConnConfig) bool {
	for _, w := range ways(c) {
		if !isLoopback(w.Host) && !verifies(w.TLSConfig) {
			return false
		}
	}
	return true
}

// verified reports whether on each way the server must prove who it is.
func verified(c *pgx.ConnConfig) bool {
	for _, w := range ways(c) {
		if !verifies(w.TLSConfig) {
			return false
		}
	}
	return true
}

// verifies reports whether a certificate is verified: by the library, or, where the name
// in it does not matter (verify-ca), by a function of pgx.
func verifies(t *tls.Config) bool {
	return t != nil && (!t.InsecureSkipVerify || t.VerifyPeerCertificate != nil)
}

func isLoopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || strings.HasPrefix(host, "/") || strings.HasPrefix(host, "@") || ip != nil && ip.IsLoopback()
}

// dialLoopback dials addresses of this machine alone, whatever a name stands for.
func dialLoopback(ctx context.Context, network, addr string) (net.Conn, error) {
	host, _, err := net.SplitHostPort(addr)
	if network != "unix" && (err != nil || !isLoopback(host)) {
		return nil, fmt.Errorf("%w: %.200q is beyond this machine", ErrAddress, addr)
	}
	return dialer.DialContext(ctx, network, addr)
}

// dialer notices on an idle connection within some ten seconds that the other end is gone.
var dialer = net.Dialer{KeepAliveConfig: net.KeepAliveConfig{Enable: true, Idle: 4 * time.Second, Interval: 2 * time.Second, Count: 3}}
