package sheet

import (
	"cmp"
	"slices"

	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// judge settles by an entry whether earlier advice was followed.
func (b *builder) judge(e schedule.Entry) {
	zones := b.piece.State.About(e)
	for i, shown := range b.advice {
		a := &b.sheet.Advice[i]
		if a.Followed != nil || e.ID == shown.After || !slices.Contains(zones, shown.Zone) {
			continue
		}
		if followed, settled := answers(shown.Verdict, e); settled {
			a.Followed = &followed
		}
	}
}

// answers reports whether an entry settles a piece of advice, and how.
func answers(v schedule.Verdict, e schedule.Entry) (followed, settled bool) {
	if v != schedule.VerdictAnnealNow && v != schedule.VerdictFileCrack {
		return false, false
	}
	switch e.Kind() {
	case schedule.KindPass:
		return false, true
	case schedule.KindBegun, schedule.KindReached, schedule.KindOut, schedule.KindQuenched:
		return v == schedule.VerdictAnnealNow, v == schedule.VerdictAnnealNow
	case schedule.KindCrackFiled:
		return v == schedule.VerdictFileCrack, v == schedule.VerdictFileCrack
	}
	return false, false
}

// joint is a joint as it was logged, with its solidus.
func (b *builder) joint(e schedule.Entry, j schedule.Jointed) Joint {
	out := Joint{Made: b.made(e), Joint: plain(j.Joint), Solder: plain(j.Solder)}
	book := cmp.Or(b.Book, alloys.Default())
	found, err := heat.JointOf(book, j.Solder, j.Solidus, j.Flow)
	if err != nil {
		out.Why = plain(err.Error())
		return out
	}
	out.Solidus = celsius(found.Solidus)
	return out
}
