package schedule

import (
	"fmt"
	"slices"
	"strconv"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/split"
)

// limit is the piece's limit in a condition: the published one, or the smith's own,
// as far as the intervals of its stock leave it. They tighten it by themselves and
// loosen it only where the smith said so.
func (s *State) limit(c alloys.Condition, others *Observed) coldwork.Limit {
	published := s.published(c)
	own := s.intervals(c)
	if !published.Known() || s.Test || len(own)+len(others.intervals(s.origin(c))) == 0 {
		return published
	}
	return s.memo.limit(limitOf{published, s.origin(c), own, others})
}

// published is the piece's limit by the table, or the smith's own where it speaks of
// that condition. A metal that softens by itself has none, not even the smith's own:
// it would end in a heat, and a heat melts it.
func (s *State) published(c alloys.Condition) coldwork.Limit {
	if s.Alloy.SelfSoftening {
		return coldwork.Limit{}
	}
	limit, err := coldwork.LimitOf(s.Alloy, c, s.Limit)
	if err != nil {
		limit, _ = coldwork.LimitOf(s.Alloy, c, "")
	}
	return limit
}

// origin is the stock of the piece in a condition.
func (s *State) origin(c alloys.Condition) origin { return origin{s.AlloyID, s.Stock, c} }

// intervals are those of the piece itself in a condition.
func (s *State) intervals(c alloys.Condition) (own []split.Interval) {
	for _, i := range s.Intervals {
		if i.Condition == c && i.Doubt == "" {
			own = append(own, i.Interval)
		}
	}
	return own
}

// limitOf is what a learned limit follows from.
type limitOf struct {
	published coldwork.Limit
	origin    origin
	own       []split.Interval
	others    *Observed
}

// learn is the limit by the published one and the intervals.
func (l limitOf) learn() coldwork.Limit {
	known := split.Prior(l.published.Strain).Learn(slices.Concat(l.others.intervals(l.origin), l.own))
	splits, whole := known.Seen()
	caution := split.Caution{Published: l.published.Strain, Risk: l.others.risk(), Loosen: l.others.loosened(l.origin)}
	warn := caution.Warn(known)
	if splits+whole == 0 || warn == l.published.Strain {
		return l.published
	}
	out := l.published
	out.Strain, out.Text = warn, fmt.Sprintf("%.1f %% of thickness", 100*float64(warn.Worked()))
	how := "tighter than"
	if warn > l.published.Strain {
		how = "by the smith's word looser than"
	}
	whose := "that is published"
	if l.published.School == coldwork.OwnSchool {
		whose = "of your own"
	}
	out.Learned = fmt.Sprintf("learned of this stock, %s the %s %s: of %s %s, and %s %% would not survive more (a judgement)",
		how, l.published.Text, whose, count(splits+whole, "interval"), cracked(splits), figureOf(100*l.others.risk()))
	return out
}

// figureOf prints a figure that was typed, without zeros behind the point.
func figureOf(f float64) string { return strconv.FormatFloat(f, 'g', 3, 64) }

func cracked(n int) string {
	if n == 0 {
		return "none cracked"
	}
	return fmt.Sprintf("%d cracked", n)
}

// limits remembers what was learned as long as nothing was added, so that an advice
// that is asked for again costs nothing.
type limits struct {
	others *Observed
	known  map[limitKey]coldwork.Limit
}

// limitKey tells the limits of one piece apart while no interval is added to it.
type limitKey struct {
	published unit.Strain
	condition alloys.Condition
	own       int
}

func (m *limits) limit(l limitOf) coldwork.Limit {
	if m == nil {
		return l.learn()
	}
	if m.others != l.others || m.known == nil {
		m.others, m.known = l.others, map[limitKey]coldwork.Limit{}
	}
	key := limitKey{l.published.Strain, l.origin.condition, len(l.own)}
	limit, ok := m.known[key]
	if !ok {
		limit = l.learn()
		m.known[key] = limit
	}
	return limit
}
