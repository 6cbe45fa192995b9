package postgres

import (
	"context"
	"crypto/hmac"
	"crypto/pbkdf2"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
	"golang.org/x/text/secure/precis"
)

// The groups that a role may be put into: what it may do.
const (
	Writer  = "writer"  // sends entries of one bench, and reads
	Reader  = "reader"  // reads
	Teacher = "teacher" // reads, takes a bench from its role, erases labels
)

// Login is a role that may log in.
type Login struct {
	Name     string // as PostgreSQL takes it, up to 63 bytes
	As       string // Writer, Reader or Teacher
	Password string
}

// ErrLogin is returned for a Login that cannot be made.
var ErrLogin = errors.New("that cannot be a role")

func (l Login) check() error {
	switch {
	case l.As != Writer && l.As != Reader && l.As != Teacher:
		return fmt.Errorf("%w: %.60q is not writer, reader or teacher", ErrLogin, l.As)
	case l.Name == "" || len(l.Name) > 63 || strings.ContainsRune(l.Name, 0):
		return fmt.Errorf("%w: the name has one to 63 bytes", ErrLogin)
	case strings.HasPrefix(l.Name, "pg_") || strings.HasPrefix(l.Name, "dullred_"):
		return fmt.Errorf("%w: names that begin with pg_ or dullred_ are those of groups", ErrLogin)
	case l.Password == "":
		return fmt.Errorf("%w: it needs a password", ErrLogin)
	}
	return nil
}

// AddRole makes a role that may log in and puts it into its group. A role that is there
// already is an error, so that nobody's password is changed by mistake. The server is
// given what follows from the password, not the password, since it may write statements
// into its log.
func AddRole(ctx context.Context, c Config, l Login) error {
	if err := l.check(); err != nil {
		return err
	}
	verifier, err := scram(l.Password)
	if err != nil {
		return err
	}
	return once(ctx, c, func(ctx context.Context, conn *pgx.Conn) error {
		return makeRole(ctx, conn, l, verifier)
	})
}

func makeRole(ctx context.Context, conn *pgx.Conn, l Login, verifier string) error {
	name, group := pgx.Identifier{l.Name}.Sanitize(), pgx.Identifier{"dullred_" + l.As}.Sanitize()
	var taken, prepared bool
	err := conn.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_roles WHERE rolname = $1), EXISTS (SELECT FROM pg_roles WHERE rolname = $2)`,
		l.Name, "dullred_"+l.As).Scan(&taken, &prepared)
	switch {
	case err != nil:
		return err
	case !prepared:
		return errUnprepared
	case taken:
		return fmt.Errorf("%w: there is a role %.63q already", ErrLogin, l.Name)
	}
	_, err = conn.Exec(ctx, `CREATE ROLE `+name+` LOGIN PASSWORD '`+verifier+`' IN ROLE `+group)
	return err
}

const (
	scramRounds = 4096 // what PostgreSQL itself takes
	scramSalt   = 16   // bytes, the same
)

// scram is what PostgreSQL keeps of a password (RFC 5802 and RFC 7677; its form is in
// https://www.postgresql.org/docs/15/catalog-pg-authid.html). Like the server and pgx it
// takes a password as it is when it cannot be prepared (RFC 8265).
func scram(password string) (string, error) {
	if prepared, err := precis.OpaqueString.String(password); err == nil {
		password = prepared
	}
	salt := make([]byte, scramSalt)
	rand.Read(salt)
	return scramWith(password, salt)
}

func scramWith(password string, salt []byte) (string, error) {
	salted, err := pbkdf2.Key(sha256.New, password, salt, scramRounds, sha256.Size)
	if err != nil {
		return "", err
	}
	stored := sha256.Sum256(keyed(salted, "Client Key"))
	b64 := base64.StdEncoding.EncodeToString
	return fmt.Sprintf("SCRAM-SHA-256$%d:%s$%s:%s", scramRounds, b64(salt), b64(stored[:]), b64(keyed(salted, "Server Key"))), nil
}

func keyed(key []byte, text string) []byte {
	mac := hmac.New(sha256.New, key)
	mac.Write([]byte(text))
	return mac.Sum(nil)
}
