package view

import "strings"

// drawForm is a form over the whole screen: what is typed, large enough to be
// read back, and what it will come to.
func drawForm(f *Frame, s Scene) {
	drawTitle(f, s)
	form := s.Form
	f.Text(2, 2, f.style.Text(form.Title), Bold)
	y := 4
	if len(form.Fields) == 1 {
		y = drawTyped(f, form.Fields[0], y)
	} else {
		y = drawFields(f, form, y)
	}
	if len(form.Choice) > 0 {
		f.Text(2, y, "arrow down for the next:", Dim)
		for i, c := range form.Choice[:min(len(form.Choice), max(0, f.h-y-5))] {
			role := Plain
			if i == 0 {
				role = Focus
			}
			f.Text(4, y+1+i, " "+clip(c, f.w-8)+" ", role)
		}
	}
	text, role := form.Hint, Plain
	if form.Error != "" {
		text, role = "NOT LOGGED: "+form.Error, Toast
	}
	f.Wrap(2, f.h-4, f.w-4, 2, text, role)
	drawHelp(f, s, f.h-1)
}

// drawTyped is the one field of a form in block numerals.
func drawTyped(f *Frame, field FormField, y int) int {
	text := field.Text
	if text == "" {
		text = field.Empty
	}
	size := Seven
	if f.h < 24 || Width(text, size) > f.w-4 {
		size = Five
	}
	f.Text(2, y, field.Label, Plain)
	if Width(text, size) > f.w-4 {
		f.Text(2, y+2, clip(text, f.w-4), Focus)
		return y + 4
	}
	f.Big(2, y+2, text, Bold, size)
	return y + size.Rows() + 3
}

func drawFields(f *Frame, form *Form, y int) int {
	for i, field := range form.Fields {
		role, text := Field, field.Text
		if i == form.At {
			role = Focus
			text += "_"
		}
		if strings.TrimSuffix(text, "_") == "" && field.Empty != "" {
			text = "(" + field.Empty + ")" + text
		}
		f.Text(2, y, field.Label, Plain)
		width := f.w - 22
		f.Fill(20, y, width, 1, ' ', role)
		f.Text(21, y, clip(text, width-2), role)
		y += 2
	}
	return y
}

// drawEmpty is the page of a bench without pieces.
func drawEmpty(f *Frame, s Scene) {
	drawTitle(f, s)
	f.Big(2, 2, "START", Calm, Five)
	f.Text(2, 9, "Nothing is recorded yet. What will it be?", Plain)
	y := 11
	for _, h := range s.Help[:min(2, len(s.Help))] {
		f.Text(2, y, " "+h.Key+" ", Key)
		f.Text(8, y, h.Words, Bold)
		y += 2
	}
	f.Wrap(2, y+1, f.w-4, 2, s.Caution, Plain)
	drawToast(f, s, f.h-2)
	drawHelp(f, s, f.h-1)
}
