package postgres

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"net"
	"slices"
	"strings"
	"syscall"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"dullred/cmd/internal/say"
	"dullred/schedule/share"
)

// meaning is what a code of the server means to us. Instead of its own words, which are
// in the language of the server and in terms of databases, we say ours: %s is the role.
type meaning struct {
	kind error
	says string
}

// meanings has, by the SQLSTATE codes of the server
// (https://www.postgresql.org/docs/15/errcodes-appendix.html), or by the class that their
// first two characters are, what they mean here. DR is a class of our own.
var meanings = map[string]meaning{
	"08":    {share.ErrUnreachable, "the connection broke"},
	"25006": {share.ErrRights, "the server is a copy that only gives"},
	"28":    {share.ErrPassword, "it lets nobody in from this machine as %s"},
	"28P01": {share.ErrPassword, "role %s"},
	"3D000": {share.ErrNotShared, "the server has no such database"},
	"3F000": {share.ErrNotShared, "the database was not prepared"},
	"42P01": {share.ErrNotShared, "the database was not prepared"},
	"42883": {share.ErrNotShared, "the database was not prepared"},
	"42501": {share.ErrRights, "role %s"},
	"53100": {share.ErrFull, "nothing of this was stored"},
	"53300": {share.ErrUnreachable, "the server takes no more connections"},
	"55P03": {share.ErrUnreachable, "the server is busy"},
	"57014": {share.ErrUnreachable, "the server gave it up"},
	"57P":   {share.ErrUnreachable, "the server is going down or coming up"},
	"40":    {share.ErrUnreachable, "the server is busy with another change"},
	"DR001": {share.ErrForged, "this bench does not belong to the role %s, or what it sends is not its own"},
	"DR002": {share.ErrRights, "entries are never changed and never deleted"},
}

// fault says an error in our words. Its text is one line and holds no password; what
// the server said is not under it, so that nobody prints it by mistake. lost is whether
// the connection is gone.
func (a *address) fault(ctx context.Context, err error, lost bool) error {
	if errors.Is(err, share.ErrSlow) {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if ours(err) {
		return worded{err, a.scrub(err.Error())}
	}
	if refusal, ok := errors.AsType[*pgconn.PgError](err); ok {
		return a.refusal(refusal)
	}
	if _, other := errors.AsType[pgx.ScanArgError](err); other {
		return errStrange
	}
	switch {
	case badCertificate(err) || verified(a.conn) && strings.Contains(err.Error(), noTLS):
		return fmt.Errorf("%w: %s", share.ErrCertificate, a.scrub(certificateWords(err)))
	case timedOut(err):
		return fmt.Errorf("%w: %s does not answer within %v", share.ErrUnreachable, a.where(), a.Timeout)
	case strangeTalk(err):
		return fmt.Errorf("%w: what answers at %s is no PostgreSQL server", share.ErrUnreachable, a.where())
	case lost:
		return fmt.Errorf("%w: %s", share.ErrUnreachable, a.scrub(a.broken(err)))
	}
	return errors.New(a.scrub(err.Error()))
}

// ours reports whether an error is of a kind of ours already.
func ours(err error) bool {
	kinds := []error{ErrAddress, ErrLogin, share.ErrNewer, share.ErrOlder, share.ErrNotShared, share.ErrRewound}
	return slices.ContainsFunc(kinds, func(kind error) bool { return errors.Is(err, kind) })
}

// worded is an error in other words.
type worded struct {
	error
	text string
}

func (w worded) Error() string { return w.text }

func (w worded) Unwrap() error { return w.error }

// stale reports whether what was found out when the connection was made no longer holds:
// the database is another one, or the bench was taken from the role.
func stale(err error) bool {
	return errors.Is(err, share.ErrNotShared) || errors.Is(err, share.ErrForged)
}

func (a *address) refusal(e *pgconn.PgError) error {
	role := fmt.Sprintf("%q", a.conn.User)
	for n := len(e.Code); n >= 2; n-- {
		m, known := meanings[e.Code[:n]]
		if !known {
			continue
		}
		if m.kind == share.ErrPassword && a.conn.Password == "" {
			m.says = "no password was given for %s"
		}
		return fmt.Errorf("%w: %s", m.kind, a.scrub(strings.ReplaceAll(m.says, "%s", role)))
	}
	return errors.New(a.scrub(fmt.Sprintf("the server refuses it: %s (its code %s)", e.Message, e.Code)))
}

// broken says what broke a connection, without the names and numbers of the sockets.
func (a *address) broken(err error) string {
	if name, ok := errors.AsType[*net.DNSError](err); ok {
		if name.IsNotFound {
			return fmt.Sprintf("no machine is known by the name %s", name.Name)
		}
		return fmt.Sprintf("nobody can be asked where %s is", name.Name)
	}
	for _, w := range unmade {
		if errors.Is(err, w.is) {
			return fmt.Sprintf(w.says, a.where())
		}
	}
	if op, ok := errors.AsType[*net.OpError](err); ok && op.Op == "dial" && op.Err != nil {
		return fmt.Sprintf("%s: %v", a.where(), op.Err)
	}
	open := func(w pgconn.FallbackConfig) bool { return w.TLSConfig == nil }
	if strings.Contains(err.Error(), noTLS) && !slices.ContainsFunc(ways(a.conn), open) {
		return a.where() + " has no TLS, which the address asks for"
	}
	return a.where() + " ended the connection"
}

// unmade are causes for which a connection is not made; %s is where to.
var unmade = []struct {
	is   error
	says string
}{
	{syscall.ECONNREFUSED, "no server runs at %s"},
	{syscall.ENOENT, "no server runs at %s"}, // of a socket in a folder
	{syscall.ENETUNREACH, "there is no way to %s from here"},
	{syscall.EHOSTUNREACH, "there is no way to %s from here"},
}

func (a *address) where() string {
	if strings.HasPrefix(a.conn.Host, "/") {
		return a.scrub(a.conn.Host)
	}
	return a.scrub(net.JoinHostPort(a.conn.Host, fmt.Sprint(a.conn.Port)))
}

// scrub makes one clean line of a text, without the password, not even one that comes
// together where something was cleaned away.
func (a *address) scrub(text string) string {
	text = strings.Join(strings.Fields(say.Clean(a.unsaid(text))), " ")
	return a.unsaid(text)
}

// unsaid is a text without the password.
func (a *address) unsaid(text string) string {
	if a.conn.Password == "" {
		return text
	}
	return strings.ReplaceAll(text, a.conn.Password, "…")
}

// noTLS is what pgx says when a server has no TLS; it has no error to compare with.
const noTLS = "server refused TLS connection"

func badCertificate(err error) bool {
	_, unproved := errors.AsType[*tls.CertificateVerificationError](err)
	_, unknown := errors.AsType[x509.UnknownAuthorityError](err)
	_, invalid := errors.AsType[x509.CertificateInvalidError](err)
	_, elsewhere := errors.AsType[x509.HostnameError](err)
	return unproved || unknown || invalid || elsewhere
}

func certificateWords(err error) string {
	if e, ok := errors.AsType[x509.HostnameError](err); ok {
		return "its certificate is for another name than " + e.Host
	}
	if e, ok := errors.AsType[x509.CertificateInvalidError](err); ok && e.Reason == x509.Expired {
		return "its certificate has expired, or a clock is wrong"
	}
	if strings.Contains(err.Error(), noTLS) {
		return "it has no TLS"
	}
	return "its certificate was not signed by anybody who is trusted here"
}

func timedOut(err error) bool {
	if errors.Is(err, context.DeadlineExceeded) {
		return true
	}
	n, ok := errors.AsType[net.Error](err)
	return ok && n.Timeout()
}

// strangeTalk reports whether the other end said what no such server says.
func strangeTalk(err error) bool {
	if errors.Is(err, io.EOF) {
		return false
	}
	return slices.ContainsFunc([]string{"received unexpected message", "unknown message type", "invalid message", "invalid body length"},
		func(s string) bool { return strings.Contains(err.Error(), s) })
}
