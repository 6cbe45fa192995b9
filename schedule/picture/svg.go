package picture

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// SVG is a figure as scalable graphics, an element that can stand in a page of HTML
// or, as it has its name space, in a file. It holds no script, no reference and no
// rule of style that could reach another element; every text is data. Its title and
// description are for those who do not see it, under ids that begin with the figure's.
func SVG(f Figure) []byte {
	p, id := layOut(f), idOf(f.ID)
	var to svgPen
	fmt.Fprintf(&to, `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="%s-title %s-desc" width="%dmm" height="%smm" viewBox="0 0 %d %s">`,
		id, id, paperWide, coordinate(p.high), paperWide, coordinate(p.high))
	fmt.Fprintf(&to, "\n<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", id, escaped(f.said(f.Title)), id, escaped(f.said(f.Desc)))
	to.area([]spot{{0, 0}, {paperWide, 0}, {paperWide, p.high}, {0, p.high}}, white)
	drawFigure(f, p, &to)
	to.WriteString("</svg>\n")
	return to.Bytes()
}

// idOf keeps of an id what needs no escape anywhere.
func idOf(id string) string {
	kept := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return -1
	}, id)
	return "p" + cmp.Or(strings.TrimSuffix("-"+kept, "-"), "icture")
}

// escaped is a text as data in XML and in HTML.
func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(plain(text))) // a Builder takes all
	return b.String()
}

// svgPen writes elements.
type svgPen struct{ bytes.Buffer }

func (s *svgPen) path(points []spot, look style) {
	fmt.Fprintf(s, `<path d="%s" fill="none" stroke="%s" stroke-width="%s"`, pathOf(points), greyOf(look.grey), coordinate(look.wide))
	if len(look.dash) > 0 {
		var on []string
		for _, d := range look.dash {
			on = append(on, coordinate(d))
		}
		fmt.Fprintf(s, ` stroke-dasharray="%s"`, strings.Join(on, " "))
	}
	s.WriteString("/>\n")
}

func (s *svgPen) area(points []spot, grey int) {
	fmt.Fprintf(s, "<path d=\"%sZ\" fill=\"%s\"/>\n", pathOf(points), greyOf(grey))
}

// anchors are the sides by their names.
var anchors = [...]string{fromLeft: "start", inMiddle: "middle", toRight: "end"}

func (s *svgPen) text(t lettering) {
	fmt.Fprintf(s, `<text x="%s" y="%s" font-family="Go, Helvetica, Arial, sans-serif" font-size="%s" fill="#000000" text-anchor="%s"`,
		coordinate(t.at.x), coordinate(t.at.y), coordinate(t.size), anchors[t.side])
	if t.bold {
		s.WriteString(` font-weight="bold"`)
	}
	if t.turned {
		fmt.Fprintf(s, ` transform="rotate(-90 %s %s)"`, coordinate(t.at.x), coordinate(t.at.y))
	}
	fmt.Fprintf(s, ">%s</text>\n", escaped(t.text))
}

func pathOf(points []spot) string {
	var b strings.Builder
	for i, p := range points {
		b.WriteByte("ML"[min(i, 1)])
		b.WriteString(coordinate(p.x) + " " + coordinate(p.y))
	}
	return b.String()
}

// coordinate is a length in mm, to a hundredth.
func coordinate(f float64) string {
	return strconv.FormatFloat(math.Round(f*100)/100+0, 'f', -1, 64)
}

func greyOf(grey int) string { return fmt.Sprintf("#%02x%02x%02x", grey, grey, grey) }
