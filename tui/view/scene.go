package view

import (
	"dullred/alloys/unit"
	"dullred/schedule"
)

// Page is one of the pages of the bench screen.
type Page uint8

// The pages. The zero Page is the one for two metres.
const (
	Distance Page = iota
	Plan
	Near
	Board
	Keys
	Cautions
	Why
	Curves
)

// The smallest screen that is served, in columns and rows.
const (
	LeastWidth  = 60
	LeastHeight = 20
)

// Scene is all that a frame shows. It holds facts and words, no places.
type Scene struct {
	Page   Page
	Theme  Theme
	Scroll int // lines that a page read close is moved up
	Demo   bool
	Style  unit.Style // of all figures but those that are being typed

	Piece   *Piece    // nil when the bench is empty
	Others  []Running // what runs or is hot on other pieces, and at the bench
	Alarm   *Alert    // the oldest that nobody acknowledged
	Caution string    // what can hurt now; empty once it has been shown
	Toast   string    // the answer to the last key
	Bad     bool      // the answer is a refusal
	Ask     string    // a question that the same key answers with yes
	Form    *Form
	Help    []Hint // most useful first; as many as fit are shown
	Keys    []Hint // every key
	Safety  string // the whole safety text
	Board   []Row  // every piece, nearest to splitting first; of the page Board only
	Sharing string // how the record is shared, in a few words; empty where it is not

	Why   *schedule.Explanation // the sum behind the advice; of the page Why only
	Curve *Curve                // of the page Curves only
	Drill *Drill                // nil but in a lesson at a simulated bar
}

// Piece is the piece that is shown.
type Piece struct {
	Name, Metal, Section string
	Place                string // the other bench that it was last at; empty for this one
	Mark                 string // what is chalked on it
	Hand, Work           string // who works, and with which process
	Zone                 string // the zone that was chosen; empty is the one that decides
	Advice               schedule.Advice
	Timer                *schedule.Timer // of that zone
	Cue                  *schedule.Cue   // while a heat is to be reached
	Next                 Hint            // the one next key
	Probe                *Probe          // nil without a thermocouple
	Ahead                []float64       // shares of the limit after each of the courses left; none when not known
	Log                  []string        // newest first
	Plan                 *PlanView       // of the pages Plan and Near; nil without a plan
}

// PlanView is a piece on its plan.
type PlanView struct {
	schedule.Following
	Keys   string // the zones that the keys are for, in words; empty on a page where they are for the piece
	Unread int    // courses since those zones were last read
}

// Probe is what a thermocouple reads in the piece.
type Probe struct {
	Temp  unit.Celsius
	Fault string // why there is no temperature; empty when there is
	Over  string // what melts at the ceiling, when it is reached; else empty
}

// Hint is a key and what it does.
type Hint struct {
	Key   string // as it stands on the key: "space", "h", "s/y"
	Words string
	Group string // heading on the page of keys
}

// Running is a timer, or heat that does not run, with the name of its piece;
// the name is empty for what is of the bench.
type Running struct {
	Name  string
	Timer schedule.Timer
	Hot   bool
}

// Alert is one that waits to be acknowledged.
type Alert struct {
	Text  string // a plain sentence, its priority first
	Marks string // of how much it presses
	More  int    // further ones behind it
	Seen  bool   // acknowledged, and still so
	Shown bool   // lit, in the rhythm of its flash if it has one
}

// Form is what is being typed.
type Form struct {
	Title  string
	Fields []FormField
	At     int      // field with the cursor
	Choice []string // completions of the field, the chosen one first
	Error  string
	Hint   string
}

// FormField is one line of a form.
type FormField struct {
	Label, Text, Empty string // Empty is what an empty field stands for
}

// Draw is a scene on a screen of w columns and h rows.
func Draw(s Scene, w, h int) *Frame {
	f := New(w, h)
	f.thin, f.style = s.Theme == Hearth, s.Style
	lines, readClose := closeLines(s, w)
	switch {
	case w < LeastWidth || h < LeastHeight:
		tooSmall(f)
	case s.Form != nil:
		drawForm(f, s)
	case s.Page == Plan && s.Piece != nil:
		drawPlan(f, s)
	case readClose:
		drawClose(f, s, lines)
	case s.Page == Board && s.Piece != nil:
		drawBoard(f, s)
	case s.Drill != nil:
		drawDrill(f, s)
	case s.Piece == nil:
		drawEmpty(f, s)
	default:
		drawDistance(f, s)
	}
	if w >= LeastWidth && h >= LeastHeight {
		drawSharing(f, s)
	}
	return f
}

// tooSmall says so, on a screen of any size.
func tooSmall(f *Frame) {
	w, h := f.Size()
	f.Wrap(0, 0, w, h, "The screen is too small: 60 columns and 20 rows are the least. Make it larger, or quit with x and "+
		"run dullred watch, which prints plain lines. The record goes on.", Plain)
}
