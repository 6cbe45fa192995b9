package share_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

func TestMemory(t *testing.T) {
	sharetest.Run(t, func(testing.TB) sharetest.Open {
		m := share.NewMemory(sharetest.NewID())
		return func(_ testing.TB, bench string) share.Store { return m.As(bench) }
	})
}

func TestMemoryForgets(t *testing.T) {
	m, bench, hand := share.NewMemory(sharetest.NewID()), sharetest.NewID(), sharetest.NewID()
	s, ctx := m.As(bench), t.Context()
	label := share.Batch{Labels: []share.Label{{ID: hand, Class: "hand", Text: "left"}}}
	_, err := s.Send(ctx, label)
	require.NoError(t, err)
	m.Forget(hand)
	p, err := s.After(ctx, 0, 10)
	require.NoError(t, err)
	require.Empty(t, p.Labels)
	require.EqualValues(t, 1, p.Next, "past the place where it stood, or a reader would ask for it again and again")
	receipt, err := s.Send(ctx, label)
	require.NoError(t, err)
	require.Equal(t, share.Receipt{Forgotten: []string{hand}}, receipt)
	receipt, err = s.Send(ctx, share.Batch{Labels: []share.Label{{ID: sharetest.NewID(), Class: "hand", Text: "left"}}})
	require.NoError(t, err)
	require.Equal(t, share.Receipt{}, receipt, "the name is free")
}
