package sheet

import (
	"html/template"
	"time"

	"dullred/alloys/unit"
)

// Sheet is the making record of one piece. Lengths are in mm, temperatures in °C,
// strains are true strains, and times are local to a place and whole seconds. A
// pointer that is nil is a figure that nobody measured, or that no table has.
type Sheet struct {
	Name      string     `json:"name"`
	Started   *time.Time `json:"started,omitempty"`
	Finished  []Made     `json:"finished"` // more than one contradict each other
	Alloy     string     `json:"alloy"`    // as it was typed
	AlloyName string     `json:"alloy_name,omitempty"`
	Charge    string     `json:"charge,omitempty"` // where the metal is from
	Mark      string     `json:"mark,omitempty"`
	Cast      bool       `json:"cast"`
	Test      bool       `json:"test_piece"` // it is worked until it splits
	Calliper  *float64   `json:"calliper_mm,omitempty"`
	Length    *float64   `json:"length_mm,omitempty"` // at the start
	Limit     string     `json:"own_limit,omitempty"` // the smith's own; without one the table's counts
	Unread    []string   `json:"cannot_be_read"`      // why the piece cannot be followed
	Work      []Work     `json:"work"`
	Heats     []Heat     `json:"heats"`
	Cracks    []Crack    `json:"cracks"`
	Joints    []Joint    `json:"joints"`
	Signs     []Sign     `json:"signs"`
	Weights   []Weight   `json:"weights"`
	Photos    []Photo    `json:"photos"`
	Notes     []Note     `json:"notes"`
	Advice    []Advice   `json:"advice"`
	Hands     []Hand     `json:"hands"`
	Stain     Stain      `json:"fire_stain"`
	Hallmark  string     `json:"hallmark,omitempty"` // what the law may ask; empty for metals that are not precious
	Totals    Totals     `json:"totals"`

	// Style is how figures and dates are written in text, pages and PDF, with what
	// people typed among the names that it keeps. CSV and JSON are for machines and
	// always metric, with a decimal point and ISO dates.
	Style unit.Style `json:"-"`

	// Pictures stand in a page, between the summary and the tables, and in no other
	// format. They stand as they are given, so that they must be safe, ask for nothing,
	// and say in words what they show: an inline svg element with role="img" and a title.
	Pictures []template.HTML `json:"-"`
}

// Made is when something was logged to have happened, and by whom.
type Made struct {
	At   time.Time `json:"at"`
	Hand string    `json:"hand"`
}

// Work is one step of the work: the start, a pass, a reading without work, metal
// filed off or edges dressed.
type Work struct {
	Made
	What    string   `json:"what"`             // the process of a pass, else the kind of the entry
	Detail  string   `json:"detail,omitempty"` // of a bend or a twist
	Tool    string   `json:"tool,omitempty"`
	Courses int      `json:"courses"`
	Zones   []Worked `json:"zones"`
}

// Worked is what a step did to one zone.
type Worked struct {
	Zone   string   `json:"zone"`
	Size   string   `json:"size,omitempty"`                // as it was read; empty when it was not
	Strain *float64 `json:"strain,omitempty"`              // of a pass; below 0 where a reading corrects courses before it
	Since  *float64 `json:"strain_since_soft,omitempty"`   // after it
	Spent  *float64 `json:"limit_spent_percent,omitempty"` // after it; nil without a limit
}

// Heat is one fire, however many zones it has, from the entry that begins it to
// its bend check.
type Heat struct {
	Made             // its first entry
	Zones   []string `json:"zones"`
	Begun   *Step    `json:"begun,omitempty"`
	Reached *Step    `json:"reached,omitempty"`
	Out     *Step    `json:"out,omitempty"`
	Cooled  string   `json:"cooled,omitempty"`              // "quenched" or "found cool"
	Hottest *float64 `json:"probe_hottest_c,omitempty"`     // by a thermocouple
	Flame   *float64 `json:"flame_seconds,omitempty"`       // begun to out
	AtHeat  *float64 `json:"at_heat_seconds,omitempty"`     // reached to out
	Stain   *float64 `json:"minutes_above_500_c,omitempty"` // an estimate where no probe timed it
	Flux    bool     `json:"under_flux"`
	Proved  Proof    `json:"proved"`
	By      string   `json:"proved_by,omitempty"`
}

// Step is one step of a heat.
type Step struct {
	At   time.Time `json:"at"`
	Temp *float64  `json:"temperature_c,omitempty"`
}

// Proof is how a heat ended.
type Proof string

// A heat that was springy in one zone was no anneal; one that was soft in one and
// springy in none was. A heat is open until work or another heat shows that nobody
// will prove it.
const (
	Soft    Proof = "soft"
	Springy Proof = "springy"
	Never   Proof = "never"
	Open    Proof = "not yet"
)

// Crack is one crack and what was done about it.
type Crack struct {
	Made            // when it was seen
	Zones  []string `json:"zones"`
	Done   []Done   `json:"done"`
	Stands string   `json:"stands"` // "open", "overridden" or "filed out"
}

// Done is one thing done about a crack.
type Done struct {
	Made
	What  string   `json:"what"`
	Zones []string `json:"zones"`
}

// Joint is a soldered joint. Its solidus is what the smith typed from the maker's
// sheet, else the table's; Why says what is wrong when it is not known.
type Joint struct {
	Made
	Joint   string   `json:"joint"`
	Solder  string   `json:"solder,omitempty"`
	Solidus *float64 `json:"solidus_c,omitempty"`
	Why     string   `json:"why_unknown,omitempty"`
}

// Sign is what the metal said.
type Sign struct {
	Made
	Zones []string `json:"zones"`
	Sign  string   `json:"sign"`
}

// Weight is what the scales said of the piece, or of the scrap that was kept of it.
type Weight struct {
	Made
	What  string  `json:"what"` // "piece" or "scrap"
	Grams float64 `json:"grams"`
}

// Photo refers to photos: the numbers that a camera gave them, or a file. It is text
// in every format and never followed.
type Photo struct {
	Made
	Zones []string `json:"zones"`
	Ref   string   `json:"photo"`
}

// Note is free text.
type Note struct {
	Made
	Text string `json:"text"`
}

// Advice is what was shown after a pass. Followed is judged of an anneal now, which
// wants a heat, and of a crack to be filed out, in the zone that it was about: what
// came next there, that or another pass. It is nil for other advice, and where
// neither came.
type Advice struct {
	Made
	Zone     string   `json:"zone"`
	Verdict  string   `json:"verdict"`
	Spent    *float64 `json:"limit_spent_percent,omitempty"`
	Followed *bool    `json:"followed,omitempty"`
}

// Hand is one who worked at the piece.
type Hand struct {
	Hand    string    `json:"hand"`
	First   time.Time `json:"first"`
	Last    time.Time `json:"last"`
	Entries int       `json:"entries"` // other than advice and alerts
	Courses int       `json:"courses"`
}

// Stain is how much fire-stain the piece can have taken, by the ledger of its state.
type Stain struct {
	Flux    int     `json:"heats_under_flux"`
	Bare    int     `json:"heats_without_flux"`
	Minutes float64 `json:"minutes_above_500_c"`
	Probed  int     `json:"heats_timed_by_probe"` // the others are estimates
}

// Totals sums the sheet up. Proved are the heats proved soft. In is the first weight of
// the piece and Out the last; Lost is what is in neither the piece nor its scrap. All
// four are nil until the piece was weighed twice, but In, which one weight gives.
type Totals struct {
	Courses int `json:"courses"`
	Heats   int `json:"heats"`
	Proved  int `json:"proved_soft"`
	Cracks  int `json:"cracks"`

	In    *float64 `json:"metal_in_g,omitempty"`
	Out   *float64 `json:"metal_out_g,omitempty"`
	Scrap *float64 `json:"scrap_g,omitempty"`
	Lost  *float64 `json:"lost_g,omitempty"`
	Share *float64 `json:"lost_percent,omitempty"` // of what went in
}
