package picture

// The widths of lines, in mm.
const (
	axisWide  = 0.2
	gridWide  = 0.12
	lineWide  = 0.4
	ruleWide  = 0.3
	markerBig = 1.1 // from the middle to the edge
)

// drawFigure puts a figure on the paper of a page.
func drawFigure(f Figure, p page, bare pen) {
	to := styled{bare, f.said}
	for i, text := range p.title {
		to.text(lettering{at: spot{margin, p.titleY + headline*(0.8+leading*float64(i))}, text: text, size: headline, bold: true})
	}
	for i, fr := range p.frames {
		drawPanel(f.Panels[i], fr, to)
	}
	for _, k := range p.key {
		drawKey(k, to)
	}
	for i, text := range p.notes {
		to.text(lettering{at: spot{margin, p.notesY + letters*(0.8+leading*float64(i))}, text: text, size: letters})
	}
}

func drawPanel(p Panel, fr frame, to pen) {
	if p.Title != "" {
		to.text(lettering{at: spot{fr.place.x, fr.place.y + letters*0.9}, text: clipped(p.Title, letters, fr.place.w), size: letters, bold: true})
	}
	if p.Empty != "" {
		drawEmpty(p, fr, to)
		return
	}
	drawAreas(p, fr.plot, to)
	drawAxes(p, fr, to)
	for _, r := range p.Rules {
		drawRule(p, r, fr.plot, to)
	}
	for _, s := range p.Series {
		drawSeries(p, s, fr.plot, to)
	}
	for _, l := range p.Labels {
		if at, ok := fr.plot.at(p, l.X, l.Y); ok {
			drawText(to, lettering{at: spot{at.x, at.y + letters*0.35}, text: plain(l.Text), size: letters, side: inMiddle})
		}
	}
}

// drawEmpty says why there is no plot.
func drawEmpty(p Panel, fr frame, to pen) {
	drawBox(fr.plot, to)
	for i, text := range lines(p.Empty, letters, fr.place.w-8) {
		to.text(lettering{at: spot{fr.plot.x + 2, fr.plot.y + 2 + letters*(0.8+leading*float64(i))}, text: text, size: letters})
	}
}

func drawBox(b box, to pen) {
	to.path([]spot{{b.x, b.y}, {b.x + b.w, b.y}, {b.x + b.w, b.y + b.h}, {b.x, b.y + b.h}, {b.x, b.y}}, style{wide: axisWide})
}

// drawText writes a text on a ground of white, so that a line behind it does not
// cross it.
func drawText(to pen, t lettering) {
	wide := widthOf(t.text, t.size)
	left := t.at.x - wide*[...]float64{fromLeft: 0, inMiddle: 0.5, toRight: 1}[t.side]
	top, foot := t.at.y-t.size*0.8, t.at.y+t.size*0.25
	to.area([]spot{{left, top}, {left + wide, top}, {left + wide, foot}, {left, foot}}, white)
	to.text(t)
}

// drawAxes draws the frame, the figures of both axes and their names.
func drawAxes(p Panel, fr frame, to pen) {
	b := fr.plot
	drawBox(b, to)
	foot := b.y + b.h
	for _, t := range p.X.ticks(fr.ticks) {
		if at, ok := p.X.share(t.At); ok && p.X.holds(t.At) {
			x := b.x + at*b.w
			to.path([]spot{{x, foot}, {x, foot + tickLong}}, style{wide: axisWide})
			to.text(lettering{at: spot{x, foot + tickLong + letters}, text: plain(t.Text), size: letters, side: inMiddle})
		}
	}
	for _, t := range p.Y.ticks(fr.ticks) {
		if at, ok := p.Y.share(t.At); ok && p.Y.holds(t.At) {
			y := b.y + (1-at)*b.h
			to.path([]spot{{b.x, y}, {b.x - tickLong, y}}, style{wide: axisWide})
			to.path([]spot{{b.x, y}, {b.x + b.w, y}}, style{wide: gridWide, grey: pale})
			to.text(lettering{at: spot{b.x - tickLong - tickAir, y + letters*0.35}, text: clipped(t.Text, letters, paperWide/3), size: letters, side: toRight})
		}
	}
	to.text(lettering{at: spot{b.x + b.w/2, foot + tickLong + letters*(1+leading)}, text: clipped(p.X.Label, letters, fr.place.w), size: letters, side: inMiddle})
	to.text(lettering{at: spot{fr.place.x + letters, b.y + b.h/2}, text: clipped(p.Y.Label, letters, max(b.h+8, 24)), size: letters, side: inMiddle, turned: true})
}

// drawAreas draws what is filled, which lies under all else.
func drawAreas(p Panel, b box, to pen) {
	for _, s := range p.Series {
		if !s.Fill {
			continue
		}
		for _, run := range runs(p, s, b) {
			to.area(run, pale)
		}
	}
}

func drawSeries(p Panel, s Series, b box, to pen) {
	for _, run := range runs(p, s, b) {
		if s.Fill && len(run) > 0 {
			run = append(run, run[0])
		}
		if s.Stroke != NoStroke && len(run) > 1 {
			to.path(run, styleOf(s.Stroke, lineWide))
		}
	}
	for _, q := range s.Points {
		if at, ok := b.at(p, q.X, q.Y); ok && p.X.holds(q.X) && p.Y.holds(q.Y) {
			drawMarker(s.Marker, at, to)
		}
	}
}

// runs are the stretches of a series that are joined, on the paper. What has no place
// there parts them.
func runs(p Panel, s Series, b box) (all [][]spot) {
	var run []spot
	flush := func() {
		if len(run) > 0 {
			all, run = append(all, run), nil
		}
	}
	for _, q := range s.Points {
		at, ok := b.at(p, q.X, q.Y)
		if q.Gap || !ok || !p.X.holds(q.X) || !p.Y.holds(q.Y) {
			flush()
		}
		if ok && p.X.holds(q.X) && p.Y.holds(q.Y) {
			run = append(run, at)
		}
	}
	flush()
	return all
}

func drawRule(p Panel, r Rule, b box, to pen) {
	if r.Upright {
		at, ok := p.X.share(r.At)
		if !ok || !p.X.holds(r.At) {
			return
		}
		x := b.x + at*b.w
		to.path([]spot{{x, b.y + b.h}, {x, b.y}}, styleOf(r.Stroke, ruleWide))
		drawMarker(r.Marker, spot{x, b.y}, to)
		if r.Text != "" {
			drawText(to, lettering{at: spot{x + 0.8, b.y + letters*1.3}, text: plain(r.Text), size: letters})
		}
		return
	}
	at, ok := p.Y.share(r.At)
	if !ok || !p.Y.holds(r.At) {
		return
	}
	y := b.y + (1-at)*b.h
	to.path([]spot{{b.x, y}, {b.x + b.w, y}}, styleOf(r.Stroke, ruleWide))
	drawMarker(r.Marker, spot{b.x + b.w, y}, to)
	if r.Text != "" {
		drawText(to, lettering{at: spot{b.x + b.w - 1, y - 0.7}, text: clipped(r.Text, letters, b.w-4), size: letters, side: toRight})
	}
}

// drawKey draws a sample and its name.
func drawKey(k keyed, to pen) {
	y := k.at.y + letters*0.45
	left, right := k.at.x+0.5, k.at.x+keySample-2
	middle := spot{(left + right) / 2, y}
	switch {
	case k.look.fill:
		to.area([]spot{{left, y - 1.2}, {right, y - 1.2}, {right, y + 1.2}, {left, y + 1.2}}, pale)
		if k.look.stroke != NoStroke {
			to.path([]spot{{left, y - 1.2}, {right, y - 1.2}, {right, y + 1.2}, {left, y + 1.2}, {left, y - 1.2}}, styleOf(k.look.stroke, lineWide))
		}
	case k.look.rule:
		to.path([]spot{{middle.x, y + 1.8}, {middle.x, y - 1}}, styleOf(k.look.stroke, ruleWide))
		middle.y = y - 1
	case k.look.stroke != NoStroke:
		to.path([]spot{{left, y}, {right, y}}, styleOf(k.look.stroke, lineWide))
	}
	drawMarker(k.look.marker, middle, to)
	to.text(lettering{at: spot{k.at.x + keySample, k.at.y + letters*0.8}, text: k.name, size: letters})
}
