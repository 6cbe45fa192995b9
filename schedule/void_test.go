package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

func TestVoided(t *testing.T) {
	// Entry 1 is a pass, the others are voids of what stands under their number.
	for _, c := range []struct {
		name, reason string
		voids        map[int]int // number -> target
		dead         []int
	}{
		{"none", "nothing is void by itself", nil, nil},
		{"one", "a void takes its entry back", map[int]int{2: 1}, []int{1}},
		{"void of a void", "a void typed by mistake is voided in turn", map[int]int{2: 1, 3: 2}, []int{2}},
		{"three deep", "the last one decides", map[int]int{2: 1, 3: 2, 4: 3}, []int{1, 3}},
		{"two voids of one entry", "one that stands is enough", map[int]int{2: 1, 3: 1, 4: 2}, []int{1, 2}},
		{"both voids voided", "then the entry stands", map[int]int{2: 1, 3: 1, 4: 2, 5: 3}, []int{2, 3}},
		{"of itself", "a ring of one takes nothing back", map[int]int{2: 2}, nil},
		{"ring of two", "neither is settled, so neither counts", map[int]int{2: 3, 3: 2}, nil},
		{"ring of three", "nor in an odd ring", map[int]int{2: 3, 3: 4, 4: 2}, nil},
		{"ring broken from outside", "a void that stands settles the ring", map[int]int{2: 3, 3: 2, 4: 2}, []int{2}},
		{"of nothing", "an entry of another record", map[int]int{2: 9}, []int{9}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			h := story{entryAt(1, unread("roll", 1))}
			for n, target := range c.voids {
				h = append(h, entryAt(n, schedule.Void{Target: idOf(target)}))
			}
			var dead []int
			voided := schedule.Voided(h)
			for n := range 10 {
				if voided[idOf(n)] {
					dead = append(dead, n)
				}
			}
			require.Equal(t, c.dead, dead, c.reason)
		})
	}
}

// A smith who voids the start and then that void has the piece back.
func TestVoidedStart(t *testing.T) {
	h := start(wrought("AG925")).then(course("lengthen", bar(7, 7.4)))
	gone := h.then(schedule.Void{Target: idOf(0)})
	require.Equal(t, []string{"a pass is logged before the piece was started", "the piece was never started"}, gone.advice().Reasons)
	require.Equal(t, h.advice(), gone.then(schedule.Void{Target: idOf(2)}).advice())
}

// A void may be dated before what it takes back: clocks of two benches differ.
func TestVoidThatCameFirst(t *testing.T) {
	h := start(wrought("AG925"))
	void := entryAt(1, schedule.Void{Target: idOf(2)})
	pass := entryAt(2, course("lengthen", bar(7, 7.4)))
	var p schedule.Piece
	for _, e := range append(h, void, pass) {
		p.Add(e)
	}
	require.Equal(t, h.state(), p.State)
}
