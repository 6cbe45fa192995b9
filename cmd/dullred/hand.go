package main

import (
	"cmp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
)

// everyPiece is more pieces than a hand works.
const everyPiece = 1_000_000

func (a *app) handCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "hand [HAND]",
		Short: "what the record has taught of a hand: strain per course, and what its signs have meant",
		Long: `What the readings in the record say of a hand: how much strain one course puts in,
by process and metal, with the number of courses it was learned from; and at which
share of the limit its signs of hardness came. Without a name it is the hand that works.`,
		Args: perhaps("HAND"),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.onBench(func(b *bench) error { return a.showHand(b, strings.Join(args, "")) })
		},
	}
}

// handJSON is what is known of a hand. Shares are fractions of the limit.
type handJSON struct {
	Hand    string       `json:"hand"`
	Courses []courseJSON `json:"courses"`
	Signs   []signJSON   `json:"signs"`
	LeftOut []string     `json:"left_out,omitempty"` // readings that are doubtful, and why
}

type courseJSON struct {
	Process string  `json:"process"`
	Alloy   string  `json:"alloy"`
	Courses int     `json:"courses"` // it was learned from
	Strain  float64 `json:"strain"`  // of one
	Low     float64 `json:"strain_low"`
	High    float64 `json:"strain_high"`
}

type signJSON struct {
	Sign string  `json:"sign"`
	N    int     `json:"n"`
	Low  float64 `json:"share_low"`
	High float64 `json:"share_high"`
}

func (a *app) showHand(b *bench, name string) error {
	id, name, err := b.handNamed(name)
	if err != nil {
		return err
	}
	ids, err := b.rec.PiecesOfHand(string(id), everyPiece)
	if err != nil {
		return err
	}
	var courses []coldwork.Course
	var heard []schedule.Heard
	var out []string
	for _, piece := range ids {
		p, err := b.load(schedule.ID(piece), "")
		if err != nil {
			return err
		}
		courses = append(courses, p.state.Courses...)
		heard = append(heard, p.state.Heard...)
		for _, l := range p.state.LeftOut {
			if l.Hand == string(id) {
				out = append(out, l.Why)
			}
		}
	}
	j := handOf(id, courses, heard)
	j.Hand, j.LeftOut = name, slices.Compact(slices.Sorted(slices.Values(out)))
	return a.answer(j, j.text(b))
}

// handNamed is a hand by its label; the one that works here where none is given.
func (b *bench) handNamed(name string) (schedule.ID, string, error) {
	if name == "" {
		for _, l := range b.here.fresh {
			if schedule.ID(l.ID) == b.here.hand {
				return b.here.hand, l.Text, nil // it has logged nothing yet
			}
		}
		labels, err := b.labels()
		return b.here.hand, labels.of(b.here.hand), err
	}
	l, found, err := b.rec.LabelNamed(record.HandClass, name)
	if err == nil && !found {
		err = missing("the log says who worked: dullred log", "there is no hand named %.60q", name)
	}
	return schedule.ID(l.ID), l.Text, err
}

// handOf is what courses and signs say of a hand.
func handOf(id schedule.ID, courses []coldwork.Course, heard []schedule.Heard) handJSON {
	j := handJSON{Courses: []courseJSON{}, Signs: []signJSON{}}
	seen := map[[2]string]bool{}
	for _, c := range courses {
		key := [2]string{c.Alloy, string(c.Process)}
		if c.Hand != string(id) || seen[key] {
			continue
		}
		seen[key] = true
		h := coldwork.Learned(coldwork.At{Hand: c.Hand, Alloy: c.Alloy, Process: c.Process}, courses)
		low, high := h.Range()
		j.Courses = append(j.Courses, courseJSON{string(c.Process), c.Alloy, h.Seen(), figure(float64(h.PerCourse())), figure(float64(low)), figure(float64(high))})
	}
	slices.SortFunc(j.Courses, func(x, y courseJSON) int {
		return cmp.Or(cmp.Compare(y.Courses, x.Courses), strings.Compare(x.Alloy+x.Process, y.Alloy+y.Process))
	})
	own := slices.DeleteFunc(heard, func(h schedule.Heard) bool { return h.Hand != id })
	for _, sign := range schedule.Signs() {
		if low, high, n := schedule.Means(own, sign); n > 0 {
			j.Signs = append(j.Signs, signJSON{string(sign), n, figure(low), figure(high)})
		}
	}
	return j
}

func (j handJSON) text(b *bench) string {
	var out headed
	out.line("hand", "%s", j.Hand)
	if len(j.Courses) == 0 {
		out.line("courses", "none measured yet: the assumption is %.2f of strain a course of lengthening", float64(coldwork.Prior(coldwork.Lengthen).PerCourse()))
	}
	for _, c := range j.Courses {
		metal := c.Alloy
		if alloy, err := b.book.Find(c.Alloy); err == nil {
			metal = alloy.Name
		}
		out.line(c.Process, "%s: %.3f of strain a course on soft metal, 8 in 10 from %.2f to %.2f, learned from %s", metal, c.Strain, c.Low, c.High, counted(c.Courses, "course"))
	}
	for _, s := range j.Signs {
		out.line("sign", "%s", schedule.Meaning(schedule.Sign(s.Sign), s.Low, s.High, s.N))
	}
	for _, why := range j.LeftOut {
		out.line("left out", "%s", why)
	}
	return out.String()
}
