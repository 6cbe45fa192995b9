package alloys

// RuleKind says what a rule is about.
type RuleKind string

// The kinds of rule, in the order of the tables.
const (
	RuleQuench  RuleKind = "quench"  // how to cool it
	RuleCooling RuleKind = "cooling" // the advised quench rule in one of the words of Cooling
	RulePickle  RuleKind = "pickle"  // which pickle it may go into, and how hot that is
	RuleAnneal  RuleKind = "anneal"  // how to heat it
	RuleSlow    RuleKind = "slow"    // that it must be heated slowly, and why
	RuleGas     RuleKind = "gas"     // which flame spoils it
	RuleAge     RuleKind = "age"     // how to harden it by a low heat, and what that does to a soldered piece
	RuleHot     RuleKind = "hot"     // whether it may be hammered hot
	RuleHazard  RuleKind = "hazard"  // what hurts the smith or spoils the piece
	RuleHammer  RuleKind = "hammer"  // when to stop hammering
)

// RuleKinds are the kinds of rule, in the order of the tables.
func RuleKinds() []RuleKind {
	return []RuleKind{RuleQuench, RuleCooling, RulePickle, RuleAnneal, RuleSlow, RuleGas, RuleAge, RuleHot, RuleHazard, RuleHammer}
}

// Rule is one short sentence or two of advice. A default rule is what is
// advised; an also is a dissent or an aside; a never is a practice that is
// named in order to warn of it.
type Rule struct {
	Alloy      ID
	Kind       RuleKind
	Text       string
	Use        Use
	Source     string // key of a Source
	Confidence Confidence
}

// Source is where figures and rules were read.
type Source struct {
	Key     string
	Author  string // author or body
	Title   string
	Year    string // "n.d." where none is printed
	Locator string // table, page, thread
}
