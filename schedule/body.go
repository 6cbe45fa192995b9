package schedule

import (
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// Kind says what an entry records.
type Kind string

// The kinds this version reads and writes.
const (
	KindStarted      Kind = "piece started"
	KindPass         Kind = "pass"
	KindMeasured     Kind = "measured"
	KindBegun        Kind = "heat begun"
	KindReached      Kind = "heat reached"
	KindOut          Kind = "heat out"
	KindQuenched     Kind = "quenched"
	KindCool         Kind = "found cool"
	KindPickled      Kind = "in the pickle"
	KindRinsed       Kind = "out of the pickle"
	KindSoft         Kind = "proved soft"
	KindSpringy      Kind = "proved springy"
	KindCrackSeen    Kind = "crack seen"
	KindCrackFiled   Kind = "crack filed out"
	KindCrackIgnored Kind = "crack overridden"
	KindFiled        Kind = "filed or trimmed"
	KindDressed      Kind = "edges dressed"
	KindSign         Kind = "sign"
	KindFluxed       Kind = "fluxed"
	KindJoint        Kind = "joint"
	KindTrace        Kind = "probe trace"
	KindShown        Kind = "advice shown"
	KindRaised       Kind = "alert raised"
	KindAcknowledged Kind = "alert acknowledged"
	KindPlan         Kind = "plan"
	KindNote         Kind = "note"
	KindVoid         Kind = "void"

	// Of the bench as a whole, whose id stands in place of a piece's.
	KindTorchLit  Kind = "torch lit"
	KindTorchOut  Kind = "torch out"
	KindLight     Kind = "light"
	KindClockStep Kind = "clock step"
	KindNoise     Kind = "noise level"
	KindBath      Kind = "bath"
)

// Reserved are the names of kinds to come. This version keeps such entries
// unread, like any kind it does not know.
func Reserved() []Kind {
	return []Kind{"cut into pieces", "joined", "start corrected"}
}

// Body is what an entry says, by kind.
type Body interface{ Kind() Kind }

// Reading is what was measured: a section, a ring diameter, or both. The zero
// Reading is none.
type Reading struct {
	Size unit.Size
	Ring unit.Millimetre
}

// Taken reports whether anything was measured.
func (r Reading) Taken() bool { return r != Reading{} }

// On is the section that the reading makes of the one before it.
func (r Reading) On(before coldwork.Section) (coldwork.Section, error) {
	section := before
	if r.Size.Shape != unit.Unshaped {
		section = before.After(coldwork.Section(r.Size))
	}
	if r.Ring == 0 {
		return section, nil
	}
	return section.AtRing(r.Ring)
}

// Started opens a piece: its metal, section, zones and the rules it is worked by.
type Started struct {
	Alloy    string          `json:"alloy"`
	Reading  Reading         `json:"-"`
	Length   unit.Millimetre `json:"-"` // 0 when not known
	Cast     bool            `json:"cast,omitempty"`
	Zones    []string        `json:"zones,omitempty"` // names along the piece; one zone when empty
	Calliper unit.Millimetre `json:"calliper"`        // error of a reading
	Limit    string          `json:"limit,omitempty"` // the smith's own limit or school; "" is the table's
	Mark     string          `json:"mark,omitempty"`  // what is chalked on it
	Stock    string          `json:"stock,omitempty"` // where the metal is from: a melt, a delivery
	Test     bool            `json:"test,omitempty"`  // worked until it splits, to learn where its stock does
}

// Pass is one or more courses, read afterwards or not.
type Pass struct {
	Process coldwork.Process `json:"-"`
	Count   int              `json:"-"`
	Reading Reading          `json:"-"`
	Radius  unit.Millimetre  `json:"radius,omitempty"` // of a bend, inside
	Turns   float64          `json:"turns,omitempty"`  // of a twist
	Over    unit.Millimetre  `json:"over,omitempty"`   // length of the twist
	Tool    string           `json:"tool,omitempty"`   // hammer, stake or former, by the smith's name for it
}

// Measured is a reading without work.
type Measured struct {
	Reading Reading `json:"-"`
}

// Begun, Reached and Out are the steps of a heat; Temp is 0 when it was not measured.
type (
	Begun struct {
		Temp  unit.Celsius `json:"-"`
		Torch string       `json:"torch,omitempty"` // with which; "" is the bench's only one
		Brick bool         `json:"brick,omitempty"` // hot brick behind it
	}
	Reached struct {
		Temp unit.Celsius `json:"-"`
	}
	Out struct {
		Temp unit.Celsius `json:"-"`
	}
)

// TorchLit is the flame of the bench: which torch, by the smith's name for it, and
// whether the hearth has hot brick behind the work.
type TorchLit struct {
	Torch string `json:"torch,omitempty"`
	Brick bool   `json:"brick,omitempty"`
}

// Quenched is the piece cooled in liquid, FoundCool the piece checked to be cool
// enough to touch. Pickled and Rinsed are the pickle, Fluxed is a coat of flux over
// the piece that keeps the air from it in the next heats. TorchOut is the flame put
// out. Soft and Springy are the two ends of
// a bend check. CrackSeen, CrackFiled and CrackIgnored are the life of a crack.
// Dressed is edges rounded or filed smooth, without a change of section.
type (
	Quenched     struct{}
	FoundCool    struct{}
	Pickled      struct{}
	Fluxed       struct{}
	Rinsed       struct{}
	TorchOut     struct{}
	Soft         struct{}
	Springy      struct{}
	CrackSeen    struct{}
	CrackFiled   struct{}
	CrackIgnored struct{}
	Dressed      struct{}
)

// Filed is metal taken off by file, scraper or shears: a new section without strain.
type Filed struct {
	Reading Reading `json:"-"`
}

// Shown keeps the advice that was shown after a pass, so that a later table
// never rewrites what was said.
type Shown struct {
	After   ID      `json:"after"` // the pass
	Verdict Verdict `json:"verdict"`
	Zone    string  `json:"zone"`
	Worked  float64 `json:"worked"`
	Spent   float64 `json:"spent"`
	Limit   float64 `json:"limit"` // strain
	Table   string  `json:"table"` // version of the alloy table
}

// Raised is an alert; its cause names what it is about. Acknowledged ends one.
type (
	Raised struct {
		Cause   string  `json:"cause"`
		Verdict Verdict `json:"verdict"`
		What    string  `json:"what,omitempty"` // in words, where it is more than the verdict
	}
	Acknowledged struct {
		Alert ID `json:"alert"`
	}
)

// Note is free text.
type Note struct {
	Text string `json:"text"`
}

// Void takes an entry back.
type Void struct {
	Target ID `json:"target"`
}

// Unknown is an entry this version cannot read: a kind or version to come, or a
// body that is damaged. The row is kept whole.
type Unknown struct {
	Row Row
	Why string
}

func (Started) Kind() Kind      { return KindStarted }
func (Pass) Kind() Kind         { return KindPass }
func (Measured) Kind() Kind     { return KindMeasured }
func (Begun) Kind() Kind        { return KindBegun }
func (Reached) Kind() Kind      { return KindReached }
func (Out) Kind() Kind          { return KindOut }
func (Quenched) Kind() Kind     { return KindQuenched }
func (FoundCool) Kind() Kind    { return KindCool }
func (Pickled) Kind() Kind      { return KindPickled }
func (Fluxed) Kind() Kind       { return KindFluxed }
func (Rinsed) Kind() Kind       { return KindRinsed }
func (TorchLit) Kind() Kind     { return KindTorchLit }
func (TorchOut) Kind() Kind     { return KindTorchOut }
func (Soft) Kind() Kind         { return KindSoft }
func (Springy) Kind() Kind      { return KindSpringy }
func (CrackSeen) Kind() Kind    { return KindCrackSeen }
func (CrackFiled) Kind() Kind   { return KindCrackFiled }
func (CrackIgnored) Kind() Kind { return KindCrackIgnored }
func (Filed) Kind() Kind        { return KindFiled }
func (Dressed) Kind() Kind      { return KindDressed }
func (Shown) Kind() Kind        { return KindShown }
func (Raised) Kind() Kind       { return KindRaised }
func (Acknowledged) Kind() Kind { return KindAcknowledged }
func (Note) Kind() Kind         { return KindNote }
func (Void) Kind() Kind         { return KindVoid }
func (u Unknown) Kind() Kind    { return Kind(u.Row.Kind) }
