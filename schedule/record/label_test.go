package record

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLabels(t *testing.T) {
	r := openNew(t)
	labels := []Label{
		{ID: bowl, Class: PieceClass, Text: "bowl 2"},
		{ID: cup, Class: PieceClass, Text: "Ævar's cup"},
		{ID: "p3", Class: PieceClass, Text: "Bowl 1"},
		{ID: hand, Class: HandClass, Text: "Bowl 1"},
	}
	row := sample()
	require.NoError(t, r.AppendNamed(labels, row))
	require.Equal(t, []Row{row}, all(t, r))

	pieces, err := r.Labels(PieceClass)
	require.NoError(t, err)
	require.Equal(t, []Label{labels[2], labels[0], labels[1]}, pieces, "in the order of their texts")
	for text, want := range map[string]string{"BOWL 2": bowl, "bowl 1": "p3", "ævar's CUP": cup, "bowl": "", "": ""} {
		id, ok, err := r.LabelID(PieceClass, text)
		require.NoError(t, err)
		require.Equal(t, want, id, text)
		require.Equal(t, want != "", ok, text)
	}
}

func TestNameTaken(t *testing.T) {
	r := openNew(t)
	require.NoError(t, r.AppendNamed([]Label{{ID: bowl, Class: PieceClass, Text: "Bowl"}, {ID: cup, Class: PieceClass, Text: "Cup"}}))
	tests := []struct {
		name, reason string
		label        Label
		want         error
	}{
		{"same again", "a repeated message", Label{bowl, PieceClass, "Bowl"}, nil},
		{"other case of its own", "a correction", Label{bowl, PieceClass, "BOWL"}, nil},
		{"other class", "a hand may be called like a piece", Label{hand, HandClass, "Bowl"}, nil},
		{"another's", "one name would mean two pieces", Label{"p3", PieceClass, "bowl"}, ErrNameTaken},
		{"renamed to another's", "the same by renaming", Label{bowl, PieceClass, "cup"}, ErrNameTaken},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			row := sample()
			err := r.AppendNamed([]Label{tt.label}, row)
			require.ErrorIs(t, err, tt.want, tt.reason)
			found, findErr := r.Find(row.ID, 1)
			require.NoError(t, findErr)
			if tt.want == nil {
				require.Len(t, found, 1)
				return
			}
			require.Empty(t, found, "label and entry stand or fall together")
			require.EqualError(t, err, "append "+r.Path()+`: piece "`+tt.label.Text+`": the name is taken`)
		})
	}
	id, _, err := r.LabelID(PieceClass, "bowl")
	require.NoError(t, err)
	require.Equal(t, bowl, id)
}

func TestLabelRefused(t *testing.T) {
	r := openNew(t)
	for reason, label := range map[string]Label{
		"no class of ours": {"x", "tool", "Planisher"}, "no id": {"", PieceClass, "Bowl"}, "no text": {"x", PieceClass, ""},
	} {
		require.ErrorContains(t, r.AppendNamed([]Label{label}, sample()), "append "+r.Path()+": label", reason)
	}
	require.Empty(t, all(t, r))
}

// A forgotten name is nowhere on the disk; the entries stay.
func TestForget(t *testing.T) {
	const name = "Unmistakable Ewer"
	path := closed(t)
	r, err := Open(path)
	require.NoError(t, err)
	row := sample()
	require.NoError(t, r.AppendNamed([]Label{{ID: bowl, Class: PieceClass, Text: name}}, row))
	require.NoError(t, r.Close())
	require.Contains(t, contents(t, filepath.Dir(path))["record.db"], name, "or the test cannot fail")

	r, err = Open(path)
	require.NoError(t, err)
	require.NoError(t, r.AppendNamed([]Label{{ID: bowl, Class: PieceClass, Text: name + "s"}}))
	require.NoError(t, r.Forget(bowl))
	require.NoError(t, r.Forget(bowl), "nothing left to forget is no error")
	log, err := os.ReadFile(path + "-wal") // holds no locks, unlike the record itself
	require.NoError(t, err)
	require.NotContains(t, string(log), name)
	_, ok, err := r.LabelID(PieceClass, name+"s")
	require.NoError(t, err)
	require.False(t, ok)
	require.Equal(t, []Row{row}, all(t, r))
	require.NoError(t, r.Close())
	left := strings.ToLower(contents(t, filepath.Dir(path))["record.db"])
	require.NotContains(t, left, strings.ToLower(name))
}

// Two texts fold to the same exactly when strings.EqualFold calls them equal.
func TestFold(t *testing.T) {
	letters := rapid.StringOfN(rapid.RuneFrom([]rune("aAbBkK\u212a\u00e6\u00c6sS\u017fßẞσςΣ")), 0, 4, -1)
	rapid.Check(t, func(rt *rapid.T) {
		a, b := letters.Draw(rt, "a"), letters.Draw(rt, "b")
		require.Equal(rt, strings.EqualFold(a, b), Fold(a) == Fold(b))
	})
}
