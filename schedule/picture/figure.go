package picture

import "dullred/alloys/unit"

// Figure is a picture in the figures of what it shows. The zero Figure is empty.
type Figure struct {
	ID     string   `json:"-"` // begins the ids within an SVG: one for each on a page; letters, figures and "-" are kept
	Title  string   `json:"title"`
	Desc   string   `json:"description"` // what it shows, in sentences with figures, for those who do not see it
	Panels []Panel  `json:"panels"`
	Notes  []string `json:"notes,omitempty"` // printed under it, and part of the description

	// Style has the decimal sign and the dates of the reader. A picture stays metric,
	// as its axes are.
	Style unit.Style `json:"-"`
}

// said is a text of the figure as it is written.
func (f Figure) said(text string) string { return f.Style.Metric().Text(text) }

// Panel is one plot of a figure.
type Panel struct {
	Title  string   `json:"title,omitempty"`
	X      Axis     `json:"x"`
	Y      Axis     `json:"y"`
	Even   bool     `json:"to_scale,omitempty"` // a unit is as long upwards as across
	High   float64  `json:"-"`                  // of the plot, in mm; 0 is the usual, and an even one finds its own
	Series []Series `json:"series,omitempty"`
	Rules  []Rule   `json:"lines,omitempty"`
	Labels []Label  `json:"labels,omitempty"`
	Empty  string   `json:"empty,omitempty"` // why there is nothing to draw, in a sentence
}

// Axis is one direction of a panel. Min and Max are its ends.
type Axis struct {
	Label string  `json:"label"` // with its unit
	Min   float64 `json:"from"`
	Max   float64 `json:"to"`
	Log   bool    `json:"logarithmic,omitempty"` // both ends are above 0
	Ticks []Tick  `json:"ticks,omitempty"`       // nil are found; an empty list is none
}

// Tick is a figure on an axis.
type Tick struct {
	At   float64 `json:"at"`
	Text string  `json:"text"`
}

// Series are points of one kind. Several of one name and look are one in the key.
type Series struct {
	Name   string  `json:"name,omitempty"` // in the key; empty is not in it
	Points []Point `json:"points"`
	Stroke Stroke  `json:"stroke"`         // between the points
	Marker Marker  `json:"marker"`         // at each
	Fill   bool    `json:"area,omitempty"` // they are the outline of an area, shown in light grey
}

// Point is a place in a panel.
type Point struct {
	X   float64 `json:"x"`
	Y   float64 `json:"y"`
	Gap bool    `json:"apart,omitempty"` // not joined to the point before
}

// Rule is a line right across a panel, at a figure of one of its axes.
type Rule struct {
	Name    string  `json:"name,omitempty"` // in the key
	At      float64 `json:"at"`
	Upright bool    `json:"upright,omitempty"`
	Stroke  Stroke  `json:"stroke"`
	Marker  Marker  `json:"marker"`         // at its top, or its right end
	Text    string  `json:"text,omitempty"` // written at it
}

// Label is a text in a panel, with its middle at a place.
type Label struct {
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Text string  `json:"text"`
}

// Stroke is how a line is dashed. The zero Stroke draws none.
type Stroke uint8

// The strokes.
const (
	NoStroke Stroke = iota
	Solid
	Dashed
	Dotted
	DashDot
	LongDash
)

var strokeNames = [...]string{"none", "solid", "dashed", "dotted", "dash-dot", "long dash"}

// String is the stroke in a word.
func (s Stroke) String() string { return strokeNames[min(int(s), len(strokeNames)-1)] }

// MarshalText is String.
func (s Stroke) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Marker is the shape of a point. The zero Marker draws none.
type Marker uint8

// The markers.
const (
	NoMarker Marker = iota
	Disc
	Ring
	Square
	Cross
	Triangle
	Diamond
)

var markerNames = [...]string{"none", "disc", "ring", "square", "cross", "triangle", "diamond"}

// String is the marker in a word.
func (m Marker) String() string { return markerNames[min(int(m), len(markerNames)-1)] }

// MarshalText is String.
func (m Marker) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// look is what a line of the key shows.
type look struct {
	stroke Stroke
	marker Marker
	fill   bool
	rule   bool // an upright line
}

// entry is one line of the key.
type entry struct {
	name string
	look look
}

// key is every name of a figure with its look, in the order in which they come.
func (f Figure) key() (all []entry) {
	seen := map[entry]bool{}
	add := func(name string, l look) {
		if e := (entry{name, l}); name != "" && !seen[e] {
			seen[e] = true
			all = append(all, e)
		}
	}
	for _, p := range f.Panels {
		for _, s := range p.Series {
			if len(s.Points) == 0 {
				continue
			}
			add(s.Name, look{s.Stroke, s.Marker, s.Fill, false})
		}
		for _, r := range p.Rules {
			add(r.Name, look{r.Stroke, r.Marker, false, r.Upright})
		}
	}
	return all
}
