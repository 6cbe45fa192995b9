package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/cmd/internal/say"
	"dullred/schedule/share"
)

// school is a shared record as a teacher has it.
type school interface {
	share.Store
	Benches(ctx context.Context) ([]postgres.Bench, error)
	Named(ctx context.Context, class, text string) (share.Label, bool, error)
	Release(ctx context.Context, bench string) error
	Forget(ctx context.Context, id string) error
}

var _ school = (*postgres.Store)(nil)

// taught does something in a shared record as a teacher.
func (a *app) taught(ctx context.Context, to target, do func(school) error) (err error) {
	if err := to.check(); err != nil {
		return err
	}
	s, err := a.open(ctx, to, "")
	if err != nil {
		return asTeacher(err)
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	sc, ok := s.(school)
	if !ok {
		return errors.New("this shared record has no teacher")
	}
	return asTeacher(do(sc))
}

// asTeacher says what is kept and to be done when a teacher is refused.
func asTeacher(err error) error {
	return inSchool(err, "use a role that was made with dullred-share role NAME --as teacher")
}

func (a *app) benchesCommand() *cobra.Command {
	var to target
	cmd := &cobra.Command{
		Use:   "benches",
		Short: "which benches share, by whose role, and how much they wrote",
		Long: `Lists all benches of the shared record: the name, the role that writes for it, how
many entries it wrote, and when the last one. Any role may ask. The time is that of
the clock of the bench.`,
		Example: "  dullred-share benches --to postgres://teacher@db.example/school",
		Args:    none,
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.benches(cmd.Context(), to) },
	}
	targetFlags(cmd, &to)
	return cmd
}

// benchJSON is a bench of a shared record.
type benchJSON struct {
	ID      string    `json:"id"`
	Name    string    `json:"name,omitempty"`
	Role    string    `json:"role,omitempty"` // that writes for it; absent where none does
	Entries int64     `json:"entries"`
	Last    time.Time `json:"last_written,omitzero"`
}

// called is a bench by its name, else by its id.
func (b benchJSON) called() string {
	if b.Name != "" {
		return b.Name
	}
	return b.ID
}

func benchJSONOf(b postgres.Bench) benchJSON {
	return benchJSON{ID: b.ID, Name: say.Clean(b.Name), Role: say.Clean(b.Role), Entries: b.Entries, Last: b.Last}
}

func (a *app) benches(ctx context.Context, to target) error {
	return a.taught(ctx, to, func(s school) error {
		all, err := s.Benches(ctx)
		if err != nil {
			return err
		}
		list := []benchJSON{}
		for _, b := range all {
			list = append(list, benchJSONOf(b))
		}
		return a.answer(list, benchesText(list, a.now().Location()))
	})
}

func benchesText(list []benchJSON, zone *time.Location) string {
	if len(list) == 0 {
		return "no bench has come yet\n"
	}
	var b strings.Builder
	for _, x := range list {
		role, last := "role "+x.Role, "nothing yet"
		if x.Role == "" {
			role = "free: no role has it"
		}
		if !x.Last.IsZero() {
			last = "last " + x.Last.In(zone).Format("2006-01-02 15:04")
		}
		fmt.Fprintf(&b, "%s\n  %s; %s, %s\n", x.called(), role, entries(int(x.Entries)), last)
	}
	return b.String()
}

func (a *app) releaseCommand() *cobra.Command {
	var to target
	var yes bool
	cmd := &cobra.Command{
		Use:   "release BENCH",
		Short: "take a bench from its role: after a laptop broke, say",
		Long: `Takes a bench from the role that writes for it, as a teacher. Each bench belongs to
the first role that came with it, so that nobody else can write in its name. When a
laptop broke there are two ways on:

  Its record is lost     release the bench; the role is then free for the new record
  Its record was saved   the same role goes on by itself with the saved record; only
                         for another role the bench must be released

All entries stay, and the role keeps its password. Whichever role comes first with the
record of the bench has it from then on, so end dullred-share at the old laptop
before. BENCH is the name of the bench, its role, or its id: see dullred-share benches.`,
		Example: "  dullred-share release bench3 --to postgres://teacher@db.example/school",
		Args:    words("the bench", 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.release(cmd.Context(), to, consent{args[0], yes, cmd.ErrOrStderr()})
		},
	}
	targetFlags(cmd, &to)
	cmd.Flags().BoolVar(&yes, "yes", false, "do not ask")
	return cmd
}

// releasedJSON is a bench that was taken from a role.
type releasedJSON struct {
	Bench benchJSON `json:"bench"` // as it was
}

func (a *app) release(ctx context.Context, to target, c consent) error {
	return a.taught(ctx, to, func(s school) error {
		b, err := oneBench(ctx, s, c.name)
		if err != nil {
			return err
		}
		if err := a.agree(c, fmt.Sprintf("The bench %s is taken from the role %s; its entries stay.", b.called(), b.Role)); err != nil {
			return err
		}
		if err := s.Release(ctx, b.ID); err != nil {
			return err
		}
		var l lines
		l.line("released", "%s, from the role %s; its entries stay", b.called(), b.Role)
		l.line("next", "the first role that comes with its record has it, and %s is free for another bench", b.Role)
		return a.answer(releasedJSON{b}, l.String())
	})
}

// oneBench is the bench with a name, a role or an id, which has a role.
func oneBench(ctx context.Context, s school, name string) (benchJSON, error) {
	all, err := s.Benches(ctx)
	if err != nil {
		return benchJSON{}, err
	}
	all = slices.DeleteFunc(all, func(b postgres.Bench) bool {
		return !strings.EqualFold(b.Name, name) && b.Role != name && b.ID != strings.ToLower(name)
	})
	switch {
	case len(all) == 0:
		return benchJSON{}, refuse("dullred-share benches names them", fmt.Sprintf("there is no bench %.60q", name))
	case len(all) > 1:
		return benchJSON{}, refuse("give the id, from dullred-share benches --json", fmt.Sprintf("%.60q is the name of one bench and the role of another", name))
	case all[0].Role == "":
		return benchJSON{}, refuse("nothing needs to be done", fmt.Sprintf("no role has the bench %.60q", name))
	}
	return benchJSONOf(all[0]), nil
}

// words wants some words behind a command. It repeats none of them.
func words(what string, n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == n {
			return nil
		}
		return refuse("see "+cmd.CommandPath()+" --help", fmt.Sprintf("expected %s, got %s", what, counted(len(args), "word", "words")))
	}
}

// consent is what was typed to have something done that cannot be taken back.
type consent struct {
	name string // as it was given
	yes  bool   // it was agreed to already
	ask  io.Writer
}

// mostTyped is how much is read of what is typed, in bytes.
const mostTyped = 64 << 10

// agree asks for the name once more, unless it was agreed to.
func (a *app) agree(c consent, what string) error {
	if c.yes {
		return nil
	}
	fmt.Fprintf(c.ask, "%s Type its name to go on: ", say.Clean(what))
	typed, err := bufio.NewReader(io.LimitReader(a.in, mostTyped)).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	if strings.TrimSpace(typed) == strings.TrimSpace(c.name) {
		return nil
	}
	if typed == "" {
		fmt.Fprintln(c.ask) // the sentence that follows begins a line
	}
	return refuse("type the name as you gave it, or add --yes", "it was not agreed to")
}
