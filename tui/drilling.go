package tui

import (
	"fmt"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/drill"
	"dullred/tui/view"
)

// drilling is a lesson at a simulated bar, on a bench whose one piece it is. The
// bench asks it for every key, and for what may be seen.
type drilling struct {
	lesson Lesson
	began  time.Duration // by the clock that nobody can set
	stage  view.Stage

	bar     int // of the lesson
	struck  int // courses since the bar was last soft
	courses int // in all
	asked   bool
	heat    bool // the answer that is waited for is before a heat
	sizes   []string
	sign    schedule.Sign
	changed time.Duration // when it went into the flame, or came out
	hottest unit.Celsius  // of the metal, when it came out

	reveal drill.Reveal
	proved drill.Proved
}

// newDrilling begins a lesson on an empty bench.
func newDrilling(b *Bench, lesson Lesson) (*drilling, error) {
	d := &drilling{lesson: lesson}
	d.began = d.at(b)
	return d, d.nextBar(b)
}

// Drilled is what came of the lesson so far. It is false where there is none, or
// nothing was done in it.
func (b *Bench) Drilled() (schedule.Drilled, bool) {
	if b.drill == nil {
		return schedule.Drilled{}, false
	}
	result := b.drill.lesson.Result()
	return result, b.drill.begun()
}

// begun reports whether a course was struck, a heat given or an answer told.
func (d *drilling) begun() bool {
	score := d.lesson.Score()
	return d.courses > 0 || score.Asked > 0 || score.Heats > 0
}

// at is this moment of the lesson. It goes by the clock that nobody can set, where
// there is one: no bar melts because a clock was put right.
func (d *drilling) at(b *Bench) time.Duration {
	boot, ok := b.line.clock.Boot()
	if !ok {
		boot = time.Duration(b.now().UnixNano())
	}
	return boot - d.began
}

// turn goes to a stage, and to its page.
func (d *drilling) turn(b *Bench, stage view.Stage) {
	d.stage, b.page, b.scroll, b.toast = stage, view.Distance, 0, toast{}
}

// nextBar puts the bar that the lesson has now on the bench.
func (d *drilling) nextBar(b *Bench) error {
	d.bar, _ = d.lesson.Bars()
	bar := d.lesson.Bar()
	d.soft(coldwork.Section(bar.Reading.Size))
	err := b.start(fmt.Sprintf("bar %d", d.bar), bar)
	d.turn(b, view.Striking)
	return err
}

// soft begins to count anew, at a section.
func (d *drilling) soft(s coldwork.Section) {
	d.struck, d.asked, d.sign, d.sizes = 0, false, "", []string{s.String()}
}

// log writes what the lesson did to the bar: that alone, without the advice that was
// not shown.
func (d *drilling) log(b *Bench, body schedule.Body) {
	p := b.current()
	e := b.entry(p.id, body)
	if err := schedule.AcceptIn(b.book(), p.entries, e, b.now()); err != nil {
		b.refuse(err)
		return
	}
	b.write(e)
}

// strike is one course.
func (d *drilling) strike(b *Bench) {
	s := d.lesson.Strike()
	d.struck, d.courses, d.asked, d.heat = d.struck+1, d.courses+1, false, false
	d.turn(b, view.Striking)
	d.log(b, schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: s.Reading})
	if s.Reading.Taken() {
		d.sizes = append(d.sizes, coldwork.Section(s.Reading.Size).String())
	}
	if d.sign = s.Sign; s.Sign != "" {
		d.log(b, schedule.Signalled{Sign: s.Sign})
	}
	switch {
	case s.Split:
		d.log(b, schedule.CrackSeen{})
		d.turn(b, view.Split)
	case s.Done:
		d.turn(b, view.Worked)
	case d.struck%2 == 0:
		d.turn(b, view.Asking)
	}
}

// say is the student's answer.
func (d *drilling) say(b *Bench, n int) {
	d.reveal = d.lesson.Say(n)
	d.asked = true
	d.turn(b, view.Told)
}

// begin puts the bar into the flame.
func (d *drilling) begin(b *Bench) {
	d.changed = d.at(b)
	d.lesson.Begin(d.changed)
	d.turn(b, view.InFlame)
	d.log(b, schedule.Begun{})
}

func (d *drilling) out(b *Bench) {
	d.changed = d.at(b)
	d.hottest = d.lesson.Temp(d.changed)
	d.lesson.Out(d.changed)
	d.turn(b, view.OutOfFlame)
	d.log(b, schedule.Out{})
}

func (d *drilling) quench(b *Bench) {
	d.lesson.Quench(d.at(b))
	d.turn(b, view.Bending)
	d.log(b, schedule.Quenched{})
}

// prove is the bend check, which tells by itself what came of the heat.
func (d *drilling) prove(b *Bench) {
	d.proved = d.lesson.Prove()
	d.asked = false
	d.turn(b, view.Proved)
	if d.proved.Reading.Taken() {
		d.log(b, schedule.Measured{Reading: d.proved.Reading})
		d.sizes = append(d.sizes, coldwork.Section(d.proved.Reading.Size).String())
	}
	if !d.proved.Soft {
		d.log(b, schedule.Springy{})
		return
	}
	d.log(b, schedule.Soft{})
	d.soft(b.current().state().Zones[0].Tally.Section())
}

// goOn leaves what was told.
func (d *drilling) goOn(b *Bench) {
	switch {
	case d.lesson.Over():
		d.turn(b, view.Scored)
	case d.stage == view.Split || d.stage == view.Worked || d.lost():
		if err := d.nextBar(b); err != nil {
			b.refuse(err)
		}
	default:
		d.turn(b, view.Striking)
	}
}
