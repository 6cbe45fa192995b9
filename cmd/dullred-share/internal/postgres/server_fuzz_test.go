package postgres

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgproto3"
	"github.com/jackc/pgx/v5/pgtype"
	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/share"
)

const (
	anID  = "0b6f1c2e-2f7a-4c57-9a3e-8d3b5a1f4c11"
	notID = "{7c9e6679-7425-40de-944b-e07fc1f90ae7}"
)

// lie is what the columns of an answer are made of.
type lie struct {
	one, two, class, text string
	number, more          int64
	figure                float64
}

var truth = lie{anID, anID, "piece", "spoon", 7, 8, 6.5}

// FuzzServer asks a server that lies: the columns of its answers are whatever they are, and
// one byte is changed. What is taken of it are rows of ids, pages that lead on, labels that
// were sent, and benches that can be printed; what is not is refused in one clean line,
// without the password.
func FuzzServer(f *testing.F) {
	add := func(q int, l lie) {
		f.Add(uint8(q), l.one, l.two, l.class, l.text, l.number, l.more, l.figure, uint16(0), byte(0))
	}
	for q := range questions {
		add(q, truth)
		add(q, lie{notID, "", "hammer", "\x1b[2J\xff", -1, math.MinInt64, math.NaN()})
		add(q, lie{"XX\n00", anID, "", "it broke at anvil and an\x1bvil", 1, math.MaxInt64, math.Inf(1)})
	}
	f.Fuzz(func(t *testing.T, question uint8, one, two, class, text string, number, more int64, figure float64, where uint16, with byte) {
		q := questions[int(question)%len(questions)]
		says := q.answer(lie{one, two, class, text, number, more, figure}).wire(t)
		says[int(where)%len(says)] ^= with
		s := lyingStore(t, says)
		err := q.ask(t, s)
		require.NoError(t, s.Close())
		if err != nil {
			requireCleanLine(t, err.Error())
		}
	})
}

// requireCleanLine is of a fault; the password is anvil.
func requireCleanLine(t *testing.T, text string) {
	require.NotEmpty(t, text)
	require.True(t, utf8.ValidString(text), "%q", text)
	require.False(t, strings.ContainsFunc(text, func(r rune) bool { return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) }), "%q", text)
	require.NotContains(t, text, "anvil")
}

// TestServerThatTellsTheTruth: each question of FuzzServer is answered by the truth.
func TestServerThatTellsTheTruth(t *testing.T) {
	quiet(t)
	for _, q := range questions {
		if err := q.ask(t, lyingStore(t, q.answer(truth).wire(t))); q.name != "a refusal" {
			require.NoError(t, err, q.name)
		}
	}
}

// A writer may give its entries any time: who lists the benches is not kept from the others.
func TestBenchesBearAnyTime(t *testing.T) {
	quiet(t)
	for _, at := range []int64{math.MinInt64, -1, 253402300800e6, math.MaxInt64} { // the third is the year 10000
		all, err := lyingStore(t, answered(nil, benchColumns, []any{anID, "bench 3", "bench3", int64(1), at}).wire(t)).Benches(t.Context())
		require.NoError(t, err)
		require.Equal(t, []Bench{{ID: anID, Name: "bench 3", Role: "bench3", Entries: 1}}, all)
	}
}

// Columns of the answers.
var (
	textColumn, numberColumn, figureColumn = uint32(pgtype.TextOID), uint32(pgtype.Int8OID), uint32(pgtype.Float8OID)
	textsColumn                            = uint32(pgtype.TextArrayOID)

	headColumns  = []uint32{textColumn, numberColumn}
	sumColumns   = []uint32{textColumn, numberColumn, numberColumn}
	totalColumns = []uint32{numberColumn, numberColumn}
	benchColumns = []uint32{textColumn, textColumn, textColumn, numberColumn, numberColumn}
	sentColumns  = []uint32{numberColumn, textsColumn, textsColumn, textsColumn}
	nameColumns  = []uint32{textColumn, textColumn, textColumn}
	pageColumns  = append(append([]uint32{numberColumn, textColumn, textColumn, numberColumn, numberColumn}, slices.Repeat([]uint32{textColumn}, 5)...),
		numberColumn, textColumn, numberColumn, textColumn, figureColumn, figureColumn, figureColumn, figureColumn, figureColumn, figureColumn, textColumn)
)

// row is a row of a page, at a place.
func (l lie) row(class string, seq int64) []any {
	return []any{seq, class, l.one, l.number, l.more, l.two, l.two, l.two, l.text, l.text, l.number, l.text, l.more, l.text,
		l.figure, l.figure, l.figure, l.figure, l.figure, l.figure, l.text}
}

// questions are what a store asks, and the answer that is made of a lie.
var questions = []struct {
	name   string
	answer func(lie) said
	ask    func(*testing.T, *Store) error
}{
	{"a page", func(l lie) said {
		return together(prepared(nil, headColumns...), prepared(totalColumns, pageColumns...), said{ready},
			gave(headColumns, []any{l.one, l.more}), gave(pageColumns, l.row("", l.number), l.row(l.class, l.more)), said{ready})
	}, askPage},
	{"pieces", func(l lie) said {
		return answered([]uint32{textsColumn}, pageColumns, l.row("", l.number), l.row(l.class, l.more))
	}, func(t *testing.T, s *Store) error {
		b, err := s.Pieces(t.Context(), anID)
		if err == nil {
			requireHeld(t, b.Rows, b.Labels)
		}
		return err
	}},
	{"sums", func(l lie) said { return answered(nil, sumColumns, []any{l.one, l.number, l.more}) }, func(t *testing.T, s *Store) error {
		sums, err := s.Sums(t.Context())
		for id := range sums {
			require.True(t, err != nil || areIDs(id), "%q", id)
		}
		return err
	}},
	{"a total", func(l lie) said { return answered(nil, totalColumns, []any{l.number, l.more}) }, func(t *testing.T, s *Store) error {
		sum, err := s.Total(t.Context())
		require.True(t, err != nil || sum.Count >= 0)
		return err
	}},
	{"benches", func(l lie) said { return answered(nil, benchColumns, []any{l.one, l.text, l.class, l.number, l.more}) }, askBenches},
	{"a name", func(l lie) said {
		return answered([]uint32{textColumn, textColumn}, nameColumns, []any{l.one, l.class, l.text})
	}, func(t *testing.T, s *Store) error {
		name, found, err := s.Named(t.Context(), "piece", "spoon")
		require.True(t, err != nil || !found || areIDs(name.ID) && name.Class == "piece", "%v", name)
		return err
	}},
	{"what became of a batch", func(l lie) said {
		fates := slices.Repeat([]string{l.class}, int(uint64(l.number)%4)) // the truth is that there are three
		return answered(sendParameters(), sentColumns, []any{l.more, []string{l.one}, fates, slices.Repeat([]string{l.text}, len(fates))})
	}, askReceipt},
	{"a refusal", func(l lie) said {
		return said{&pgproto3.ErrorResponse{Severity: "ERROR", Code: clipped(l.one), Message: clipped(l.text), Detail: clipped(l.two)}, ready}
	}, func(t *testing.T, s *Store) error {
		_, err := s.Total(t.Context())
		require.Error(t, err)
		return err
	}},
	{"a preparation", func(l lie) said {
		done := said{&pgproto3.CommandComplete{CommandTag: []byte("BEGIN")}, ready}
		return together(answered(nil, []uint32{textColumn}, []any{"UTF8"}), done, answered([]uint32{numberColumn}, []uint32{textColumn}, []any{""}),
			answered(nil, []uint32{uint32(pgtype.BoolOID)}, []any{true}), answered(nil, []uint32{numberColumn}, []any{l.number - 6}), done)
	}, func(t *testing.T, s *Store) error {
		return s.work.hold(t.Context(), func(conn *pgx.Conn) error {
			_, to, err := climb(t.Context(), conn, []string{"SELECT 1"})
			require.True(t, err != nil || to == 1)
			return err
		})
	}},
}

func askPage(t *testing.T, s *Store) error {
	p, err := s.After(t.Context(), 1, 1)
	if err != nil {
		return err
	}
	require.True(t, areIDs(p.Record), "%q", p.Record)
	require.LessOrEqual(t, len(p.Rows)+len(p.Labels), 1)
	require.True(t, p.Next > 1 || p.Next == 1 && !p.More, "it leads on: %v", p)
	requireHeld(t, p.Rows, p.Labels)
	return nil
}

func requireHeld(t *testing.T, rows []schedule.Row, labels []share.Label) {
	for _, r := range rows {
		require.True(t, areIDs(r.ID, r.Bench, r.Hand, r.Piece), "%v", r)
	}
	for _, l := range labels {
		require.True(t, areIDs(l.ID), "%q", l.ID)
		require.Contains(t, []string{"piece", "hand", "bench"}, l.Class)
	}
}

func askBenches(t *testing.T, s *Store) error {
	all, err := s.Benches(t.Context())
	if err != nil {
		return err
	}
	for _, b := range all {
		require.True(t, areIDs(b.ID) && b.Entries >= 0, "%v", b)
	}
	_, err = json.Marshal(all)
	require.NoError(t, err, "%v", all)
	return nil
}

// askReceipt sends three labels.
func askReceipt(t *testing.T, s *Store) error {
	s.at.Bench = anID
	var b share.Batch
	for _, class := range []string{"piece", "hand", "bench"} {
		b.Labels = append(b.Labels, share.Label{ID: anID, Class: class, Text: "spoon"})
	}
	done, err := s.Send(t.Context(), b)
	if err != nil {
		return err
	}
	require.True(t, done.Fresh >= 0 && areIDs(done.Refused...), "%v", done)
	for _, l := range slices.Concat(done.Renamed, done.Stayed) {
		require.Equal(t, anID, l.ID)
	}
	return nil
}

// sendParameters are the types of what callSend is given.
func sendParameters() []uint32 {
	ids, numbers, figures := uint32(pgtype.UUIDArrayOID), uint32(pgtype.Int8ArrayOID), uint32(pgtype.Float8ArrayOID)
	return []uint32{ids, numbers, numbers, ids, ids, ids, textsColumn, textsColumn, numbers, textsColumn, numbers, textsColumn,
		figures, figures, figures, figures, figures, figures, textsColumn, ids, textsColumn, textsColumn}
}

// clipped is a text that ends where a message ends it.
func clipped(text string) string {
	text, _, _ = strings.Cut(text, "\x00")
	return text
}
