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
	"dullred/schedule/split"
)

// limitFlags is what limit was given.
type limitFlags struct {
	stock        string
	cast         bool
	loosen, hold bool
}

func (a *app) limitCommand() *cobra.Command {
	var f limitFlags
	cmd := &cobra.Command{
		Use:   "limit ALLOY",
		Short: "what the record has taught of the strain at which a metal splits",
		Long: `Every interval between two anneals that the record holds, as it ended: whole, or
with a crack. The published limit is taken as the strain that 2 % of intervals would not
survive (a judgement); the intervals of a stock move that. The advice for a piece that
was started with --stock goes by it: tighter at once, looser only when you say so.`,
		Example: `  dullred limit sterling --stock "melt 7"
  dullred limit sterling --stock "melt 7" --loosen    (your word: beyond the published limit)
  dullred limit sterling --stock "melt 7" --hold      (taken back)`,
		Args: names("ALLOY"),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.onBench(func(b *bench) error { return a.limit(b, args[0], f) })
		},
	}
	cmd.Flags().StringVar(&f.stock, "stock", "", "only metal from here, as piece new --stock named it")
	cmd.Flags().BoolVar(&f.cast, "cast", false, "as cast, before the first proved heat")
	cmd.Flags().BoolVar(&f.loosen, "loosen", false, "let what was learned of the stock go beyond the published limit; it is recorded as your word")
	cmd.Flags().BoolVar(&f.hold, "hold", false, "hold the stock to the published limit again")
	cmd.MarkFlagsMutuallyExclusive("loosen", "hold")
	return cmd
}

// limitJSON is what was learned. Strains are equivalent true strains.
type limitJSON struct {
	Alloy     string   `json:"alloy"`
	Stock     string   `json:"stock,omitempty"`
	Condition string   `json:"condition"`
	Whole     int      `json:"whole"`
	Splits    int      `json:"splits"`
	Tests     int      `json:"test_pieces"` // of the splits, worked to them on purpose
	Published float64  `json:"published_strain"`
	Learned   float64  `json:"learned_strain"`
	Warns     float64  `json:"warned_strain"` // that the advice goes by
	Risk      float64  `json:"risk"`          // that an interval does not survive the learned strain
	Loosened  bool     `json:"loosened"`
	By        string   `json:"said_by,omitempty"` // the last word on it
	When      string   `json:"said_at,omitempty"`
	LeftOut   []string `json:"left_out"` // intervals that are doubtful, and why
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
	if err := a.word(b, &f, schedule.Loosened{Alloy: string(alloy.ID), Condition: condition}); err != nil {
		return err
	}
	seen, err := b.intervals(string(alloy.ID), f.stock, condition)
	if err != nil {
		return err
	}
	j := limitJSON{Alloy: string(alloy.ID), Stock: f.stock, Condition: string(condition), LeftOut: []string{},
		Published: figure(float64(published.Strain))}
	var counted []split.Interval
	for _, i := range seen {
		switch {
		case i.Doubt != "":
			j.LeftOut = append(j.LeftOut, i.Doubt)
		default:
			counted = append(counted, i.Interval)
			if i.Test && i.Split {
				j.Tests++
			}
		}
	}
	if err := j.say(b, condition); err != nil {
		return err
	}
	prior := split.Prior(published.Strain)
	known := prior.Learn(counted)
	j.Splits, j.Whole = known.Seen()
	caution := split.Caution{Published: published.Strain, Risk: b.risk, Loosen: j.Loosened}
	j.Risk = figure(b.risk)
	j.Learned, j.Warns = figure(float64(known.Limit(b.risk))), figure(float64(caution.Warn(known)))
	return a.answer(j, j.text(alloy, published)+limitPicture(prior, known, counted))
}

// word records what the smith says of the limit of a stock, if anything.
func (a *app) word(b *bench, f *limitFlags, word schedule.Loosened) error {
	if !f.loosen && !f.hold {
		return nil
	}
	if f.stock = strings.TrimSpace(f.stock); f.stock == "" {
		return refuse("name it with --stock", "the limit is loosened for one stock, not for a metal")
	}
	word.Stock, word.Held = f.stock, f.hold
	return b.append(nil, a.atBench(b, word, a.now()))
}

// say fills in the last word on the limit of the stock, and whose it was.
func (j *limitJSON) say(b *bench, condition alloys.Condition) error {
	words, err := b.words()
	if err != nil || j.Stock == "" {
		return err
	}
	e, ok := schedule.LastWord(words, j.Alloy, j.Stock, condition)
	if !ok {
		return nil
	}
	labels, err := b.labels()
	j.Loosened = !e.Body.(schedule.Loosened).Held
	j.By, j.When = labels.of(e.Hand), e.At.Local().Format("2006-01-02 15:04")
	return err
}

// intervals are those of the record, of an alloy in a condition, and of one stock
// if it is named.
func (b *bench) intervals(alloy, stock string, condition alloys.Condition) (seen []schedule.Interval, err error) {
	ids, err := b.ofMetal(alloy, stock)
	if err != nil {
		return nil, err
	}
	for _, id := range ids {
		p, err := b.loadState(id)
		if err != nil {
			return nil, err
		}
		for _, i := range p.state.Intervals {
			if i.Condition == condition {
				seen = append(seen, i)
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
	cracks := counted(j.Splits, "crack")
	if j.Tests > 0 {
		cracks += ", " + fmt.Sprintf("%d of them of test pieces", j.Tests)
	}
	out.line("record", "%s whole, %s", counted(j.Whole, "interval"), cracks)
	per := 100 * float64(unit.Strain(j.Learned).Worked())
	switch {
	case j.Whole+j.Splits == 0:
		out.line("learned", "nothing yet: the published limit stands")
	default:
		out.line("learned", "%g %% would not survive strain %.3f, %.0f %% of thickness", 100*j.Risk, j.Learned, per)
	}
	out.line("warns", "%s", j.warning())
	if j.By != "" {
		word := "may go beyond the published limit"
		if !j.Loosened {
			word = "is held to the published limit"
		}
		out.line("word", "it %s: said by %s on %s", word, j.By, j.When)
	}
	for _, why := range slices.Compact(slices.Sorted(slices.Values(j.LeftOut))) {
		out.line("left out", "%s", why)
	}
	return out.String()
}

// warning is what the advice goes by.
func (j limitJSON) warning() string {
	text := fmt.Sprintf("strain %.3f", j.Warns)
	switch {
	case j.Stock == "":
		return "each stock by its own intervals; name one with --stock"
	case j.Warns < j.Published-0.0005:
		return text + ": tighter than published, by itself"
	case j.Warns > j.Published+0.0005:
		return text + ": looser than published, by your word"
	case j.Learned > j.Published+0.0005 && !j.Loosened:
		return text + ", as published: it goes beyond that only when you say so (--loosen)"
	case j.Learned > j.Published+0.0005:
		return text + ": no interval has gone further yet (three must)"
	}
	return text + ", as published"
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
		if x := int(float64(i.Strain) / most * limitColumns); x < limitColumns {
			axis[x] = max(axis[x], map[bool]byte{false: 'o', true: 'x'}[i.Split])
		}
	}
	fmt.Fprintf(&b, "  %s\n  0%*.2f strain\n", axis, limitColumns-1, most)
	b.WriteString("  # where it would split, . by the published limit alone, o whole, x cracked\n")
	return b.String()
}

func height(density, peak float64) int { return int(math.Round(density / peak * limitRows)) }
