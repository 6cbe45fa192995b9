package sheet_test

import (
	"fmt"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/demo"
	"dullred/schedule/sheet"
)

var (
	quay    = time.FixedZone("quay", 3600)
	evening = time.Date(2026, time.March, 3, 19, 30, 0, 0, quay)
	kw, mb  = schedule.ID("hand-1"), schedule.ID("hand-2")
)

// story is a piece on the way: one entry a minute.
type story struct{ entries []schedule.Entry }

func piece(start schedule.Started) *story { return new(story).by(kw, start) }

func (s *story) by(hand schedule.ID, bodies ...schedule.Body) *story {
	return s.on(hand, nil, bodies...)
}

func (s *story) on(hand schedule.ID, zones []string, bodies ...schedule.Body) *story {
	for _, body := range bodies {
		n := len(s.entries)
		at := evening.Add(time.Duration(n) * time.Minute).UTC()
		s.entries = append(s.entries, schedule.Entry{ID: schedule.ID(fmt.Sprintf("e%05d", n)), At: at, Written: at, Bench: "bench",
			Hand: hand, Piece: "piece", Zones: zones, Version: 1, Body: body})
	}
	return s
}

func (s *story) sheet() sheet.Sheet {
	return sheet.Build(sheet.Source{Name: "spoon", Entries: s.entries, Hands: map[schedule.ID]string{kw: "kw", mb: "mb"}, Place: quay})
}

// shown adds the advice after each pass, as the bench keeps it.
func shown(entries []schedule.Entry) (out []schedule.Entry) {
	p := schedule.NewPiece(nil, nil)
	for _, e := range entries {
		p.Add(e)
		out = append(out, e)
		if e.Kind() == schedule.KindPass {
			advice := p.State.Advise(e.At, nil)
			out = append(out, advice.Keep(e, e.At))
		}
	}
	return out
}

func square(side unit.Millimetre) schedule.Reading {
	return schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: side, Width: side}}
}

func rod(zones ...string) schedule.Started {
	return schedule.Started{Alloy: "AG925", Reading: square(8), Calliper: 0.05, Zones: zones}
}

func to(side unit.Millimetre) schedule.Pass {
	return schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: square(side)}
}

// eventful is a piece to which everything happened that a sheet holds.
func eventful() *story {
	start := rod("bowl", "handle")
	start.Stock, start.Mark, start.Length, start.Cast = "melt 3", "K", 90, true
	s := piece(start).by(kw, to(7.2)).on(mb, []string{"bowl"}, schedule.Pass{Process: coldwork.Widen, Count: 2, Reading: square(6)})
	s.on(mb, []string{"bowl"}, schedule.Signalled{Sign: schedule.SignRings}, to(5.8))
	s.by(kw, schedule.Fluxed{}, schedule.Begun{Temp: 200}, schedule.Reached{Temp: 640}, schedule.Out{Temp: 610}, schedule.Quenched{})
	s.on(kw, []string{"bowl"}, schedule.Soft{}).on(mb, []string{"handle"}, schedule.Springy{})
	s.on(mb, []string{"handle"}, schedule.Begun{}, schedule.Out{}, schedule.Quenched{}, to(6.5))
	s.on(kw, []string{"handle"}, schedule.CrackSeen{}, schedule.CrackIgnored{}, schedule.CrackFiled{}, schedule.Filed{Reading: square(6.3)}, schedule.Dressed{})
	s.by(kw, schedule.CrackSeen{}).on(kw, []string{"bowl"}, schedule.CrackFiled{})
	s.by(mb, schedule.Jointed{Joint: "rim", Solder: "maker's own", Solidus: 700, Flow: 730}, schedule.Jointed{Joint: "foot", Solder: "found in a drawer"})
	s.by(mb, schedule.Pass{Process: coldwork.Twisting, Count: 1, Turns: 2, Over: 40}, schedule.Measured{Reading: square(5.7)}, schedule.Note{Text: "left <b> in the vice"})
	s.by(kw, to(3), schedule.Begun{})
	last := s.entries[len(s.entries)-2].ID
	s.by(kw, schedule.Void{Target: last})
	return s
}

// finished is a spoon that was weighed, photographed and finished.
func finished() *story {
	start := rod("bowl", "stem")
	start.Length = 90
	planished := to(6.2)
	planished.Tool = "planishing hammer"
	s := piece(start).by(kw, schedule.Weighed{Mass: 77}, schedule.Photo{Ref: "12-14"}, to(6.9))
	s.by(kw, schedule.Begun{}, schedule.Reached{Temp: 630}, schedule.Out{}, schedule.Quenched{}, schedule.Soft{}, planished)
	s.on(mb, []string{"stem"}, schedule.CrackSeen{}, schedule.Filed{Reading: square(6)}, schedule.CrackFiled{}, schedule.Photo{Ref: "19"})
	return s.by(mb, schedule.Weighed{Mass: 1.25, What: schedule.PartScrap}, schedule.Weighed{Mass: 74.9}, schedule.Finished{})
}

// cases are the sheets that stand in the golden files.
func cases() map[string]sheet.Sheet {
	out := map[string]sheet.Sheet{}
	for _, p := range demo.Class(evening) {
		hands := map[schedule.ID]string{p.Entries[0].Hand: "kw"}
		out[p.Name] = sheet.Build(sheet.Source{Name: p.Name, Entries: shown(p.Entries), Hands: hands, Place: quay})
	}
	s := eventful()
	s.entries = shown(s.entries)
	out["eventful"] = s.sheet()
	s = finished()
	s.entries = shown(s.entries)
	out["finished"] = s.sheet()
	return out
}
