package sheet

import (
	"slices"

	"dullred/schedule"
)

// What becomes of a crack in a zone.
const (
	crackOpen  = "open"
	crackOver  = "overridden"
	crackFiled = "filed out"
)

// crack is what stands in each zone of a crack.
type crack map[string]string

// crack keeps a crack that is seen, and what is done about those that stand.
func (b *builder) crack(e schedule.Entry, before *schedule.State) {
	switch e.Body.(type) {
	case schedule.CrackSeen:
		b.seen(e, before)
	case schedule.CrackFiled:
		b.mend(e, crackFiled)
	case schedule.CrackIgnored:
		b.mend(e, crackOver)
	}
}

// seen opens a crack in the zones where none is open.
func (b *builder) seen(e schedule.Entry, before *schedule.State) {
	c := crack{}
	var names []string
	for _, name := range b.piece.State.About(e) {
		if z, _ := before.Zone(name); z.Crack != schedule.CrackOpen {
			c[name], names = crackOpen, append(names, name)
		}
	}
	if len(names) == 0 {
		return
	}
	b.cracks = append(b.cracks, c)
	b.sheet.Cracks = append(b.sheet.Cracks, Crack{Made: b.made(e), Zones: plainAll(names), Done: []Done{}})
}

// mend does something about the cracks of the zones of an entry that are not filed
// out; one that was overridden already is not overridden again.
func (b *builder) mend(e schedule.Entry, what string) {
	for i, c := range b.cracks {
		var names []string
		for _, name := range b.piece.State.About(e) {
			if was, ok := c[name]; ok && was != crackFiled && was != what {
				c[name], names = what, append(names, name)
			}
		}
		if len(names) > 0 {
			b.sheet.Cracks[i].Done = append(b.sheet.Cracks[i].Done, Done{b.made(e), what, plainAll(names)})
		}
	}
}

// endCracks says how each crack stands: as in the worst of its zones.
func (b *builder) endCracks() {
	for i, c := range b.cracks {
		stands := crackFiled
		for _, state := range c {
			if rank(state) > rank(stands) {
				stands = state
			}
		}
		b.sheet.Cracks[i].Stands = stands
	}
}

func rank(state string) int { return slices.Index([]string{crackFiled, crackOver, crackOpen}, state) }
