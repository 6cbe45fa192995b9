package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
	"dullred/schedule/split"
)

// limitFlags is what limit was given.
type limitFlags struct {
	stock string
	cast  bool
}

func (a *app) limitCommand() *cobra.Command {
	var f limitFlags
	cmd := &cobra.Command{
		Use:   "limit ALLOY",
		Short: "what the record has taught of the strain at which a metal splits",
		Long: `Every interval between two anneals that the record holds, as it ended: whole, or
with a crack. The published limit is taken as the strain that 2 % of intervals would not
survive (a judgement); the intervals move that. Only shown: the advice goes by the
published limit, or by your own.`,
		Args: names("ALLOY"),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.onBench(func(b *bench) error { return a.limit(b, args[0], f) })
		},
	}
	cmd.Flags().StringVar(&f.stock, "stock", "", "only metal from here, as piece new --stock named it")
	cmd.Flags().BoolVar(&f.cast, "cast", false, "as cast, before the first proved heat")
	return cmd
}

// limitJSON is what was learned. Strains are equivalent true strains.
type limitJSON struct {
	Alloy     string   `json:"alloy"`
	Stock     string   `json:"stock,omitempty"`
	Condition string   `json:"condition"`
	Whole     int      `json:"whole"`
	Splits    int      `json:"splits"`
	Published float64  `json:"published_strain"`
	Learned   float64  `json:"learned_strain"` // that 2 % of intervals do not survive
	LeftOut   []string `json:"left_out"`       // intervals that are doubtful, and why
}

func (a *app) limit(b *bench, name string, f limitFlags) error {
	alloy, err := b.book.Find(name)
	if err != nil {
		return err
	}
	condition := alloys.Wrought
	if f.cast {
		condition = alloys.Cast
	}
	published, err := coldwork.LimitOf(alloy, condition, "")
	if err != nil || !published.Known() || alloy.SelfSoftening {
		return refuse("dullred alloys "+string(alloy.ID)+" shows what is known", "no limit is published for %s %s to learn from", alloy.Name, condition)
	}
	seen, err := b.intervals(string(alloy.ID), f.stock, condition)
	if err != nil {
		return err
	}
	prior := split.Prior(published.Strain)
	known := prior.Learn(seen)
	j := limitJSON{Alloy: string(alloy.ID), Stock: f.stock, Condition: string(condition), LeftOut: []string{},
		Published: figure(float64(published.Strain)), Learned: figure(float64(known.Limit(split.Risk)))}
	j.Splits, j.Whole = known.Seen()
	for _, i := range seen {
		if why := split.Doubtful(i); why != "" {
			j.LeftOut = append(j.LeftOut, why)
		}
	}
	return a.answer(j, j.text(alloy, published)+limitPicture(prior, known, seen))
}

// intervals are those of the record, of an alloy in a condition, and of one stock
// if it is named.
func (b *bench) intervals(alloy, stock string, condition alloys.Condition) (seen []split.Interval, err error) {
	labels, err := b.rec.Labels(record.PieceClass)
	if err != nil {
		return nil, err
	}
	for _, l := range labels {
		p, err := b.load(schedule.ID(l.ID), l.Text)
		if err != nil {
			return nil, err
		}
		for _, i := range p.state.Intervals {
			if i.Alloy == alloy && i.Condition == condition && (stock == "" || strings.EqualFold(i.Stock, stock)) {
				seen = append(seen, i.Interval)
			}
		}
	}
	return seen, nil
}

func (j limitJSON) text(alloy alloys.Alloy, published coldwork.Limit) string {
	var out headed
	what := alloy.Name + ", " + j.Condition
	if j.Stock != "" {
		what += ", from " + clean(j.Stock)
	}
	out.line("metal", "%s", what)
	out.line("published", "%s%s: strain %.3f, taken as what 2 %% of intervals do not survive, a judgement", published.Text, judged(published), j.Published)
	out.line("record", "%s whole, %s", counted(j.Whole, "interval"), counted(j.Splits, "crack"))
	taken := unit.Strain(j.Learned).Worked()
	switch {
	case j.Whole+j.Splits == 0:
		out.line("learned", "nothing yet: the published limit stands")
	case j.Learned < j.Published-0.0005:
		out.line("learned", "tighter: 2 %% would not survive strain %.3f, %.0f %% of thickness", j.Learned, 100*float64(taken))
	default:
		out.line("learned", "no tighter: 2 %% would not survive strain %.3f, %.0f %% of thickness", j.Learned, 100*float64(taken))
	}
	for _, why := range slices.Compact(slices.Sorted(slices.Values(j.LeftOut))) {
		out.line("left out", "%s", why)
	}
	return out.String()
}

// The picture of what is known: columns of strain, rows of density.
const (
	limitColumns = 64
	limitRows    = 8
)

// limitPicture draws where the next interval would split, as the published limit
// alone has it and as it was learned, with the intervals under it.
func limitPicture(prior, known split.Knowledge, seen []split.Interval) string {
	mean, sd := prior.Middle()
	most := float64(mean + 2*sd)
	strainAt := func(x int) unit.Strain { return unit.Strain((float64(x) + 0.5) * most / limitColumns) }
	peak := 0.0
	for x := range limitColumns {
		peak = max(peak, prior.Density(strainAt(x)), known.Density(strainAt(x)))
	}
	var b strings.Builder
	for row := limitRows; row > 0; row-- {
		line := []byte(strings.Repeat(" ", limitColumns))
		for x := range line {
			switch {
			case height(known.Density(strainAt(x)), peak) == row:
				line[x] = '#'
			case height(prior.Density(strainAt(x)), peak) == row:
				line[x] = '.'
			}
		}
		b.WriteString("  " + strings.TrimRight(string(line), " ") + "\n")
	}
	axis := []byte(strings.Repeat("-", limitColumns))
	for _, i := range seen {
		if x := int(float64(i.Strain) / most * limitColumns); split.Doubtful(i) == "" && x < limitColumns {
			axis[x] = max(axis[x], map[bool]byte{false: 'o', true: 'x'}[i.Split])
		}
	}
	fmt.Fprintf(&b, "  %s\n  0%*.2f strain\n", axis, limitColumns-1, most)
	b.WriteString("  # where it would split, . by the published limit alone, o whole, x cracked\n")
	return b.String()
}

func height(density, peak float64) int { return int(math.Round(density / peak * limitRows)) }
