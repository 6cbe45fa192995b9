package alloys

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"dullred/alloys/unit"
)

// Symbols of the elements that are reckoned with by name.
const (
	Silver = "Ag"
	Gold   = "Au"
	Copper = "Cu"
)

// FineMetal is the fineness, 0 to 1, of the fine metal that is added to raise a
// fineness: 999, as it is sold.
const FineMetal = 0.999

// Shares are mass fractions, 0 to 1, by element symbol. What they leave to 1 is
// not known.
type Shares map[string]float64

// sum adds up in the order of the symbols, so that it never differs.
func (s Shares) sum() float64 {
	total := 0.0
	for _, element := range slices.Sorted(maps.Keys(s)) {
		total += s[element]
	}
	return total
}

// share is compiled when it is first asked for: most runs of a program mix nothing.
var share = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`([0-9]+(?:\.[0-9]+)?) % ([A-Z][a-z]?)\b`)
})

// Shares are the parts that the composition of the alloy states, such as 0.925
// silver and 0.075 copper. It is false if it states none, or more than 101 %.
func (a Alloy) Shares() (Shares, bool) {
	s := Shares{}
	for _, m := range share().FindAllStringSubmatch(a.Composition, -1) {
		percent, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			return nil, false
		}
		s[m[2]] += percent / 100
	}
	return s, len(s) > 0 && s.sum() <= 1.01
}

// Part is some metal that goes into a mixture.
type Part struct {
	Mass unit.Gram
	Of   Shares
}

func (p Part) check() error {
	if !(p.Mass > 0 && p.Mass <= unit.MaxMass) {
		return fmt.Errorf("a part of %v g cannot be melted", float64(p.Mass))
	}
	for element, x := range p.Of {
		if !(x >= 0 && x <= 1) {
			return fmt.Errorf("%v of %s is no share of 1", x, element)
		}
	}
	if total := p.Of.sum(); total > 1.01 {
		return fmt.Errorf("the shares of a part come to %v, more than the whole", total)
	}
	return nil
}

// Mixture is what parts give when they are melted together and nothing is lost.
type Mixture struct {
	Mass      unit.Gram
	Of        Shares
	Density   unit.Density // 0 where it is refused
	NoDensity string       // why it is refused
}

// Mix reckons parts that are melted together.
func Mix(parts []Part) (Mixture, error) {
	if len(parts) == 0 {
		return Mixture{}, errors.New("there is nothing to mix")
	}
	m := Mixture{Of: Shares{}}
	for _, p := range parts {
		if err := p.check(); err != nil {
			return Mixture{}, err
		}
		m.Mass += p.Mass
		for element, x := range p.Of {
			m.Of[element] += x * float64(p.Mass)
		}
	}
	for element := range m.Of {
		m.Of[element] /= float64(m.Mass)
	}
	m.Density, m.NoDensity = m.Of.density()
	return m, nil
}

// Densities of silver and copper in g/cm³ as they are mixed: silver from AG_ASM,
// copper that of the element.
const (
	silverDensity = 10.49
	copperDensity = 8.96
)

// trace is the share of other or unnamed metal that changes no density that is
// printed.
const trace = 0.002

// density mixes silver and copper by volume: 1/Σ(share/density). Sterling comes
// to 10.357 where 10.36 is published. Other metals take up more or less room
// together than alone, so with them there is no density but the reason.
func (s Shares) density() (unit.Density, string) {
	known := s[Silver] + s[Copper]
	if known >= 1-trace {
		return unit.Density(known / (s[Silver]/silverDensity + s[Copper]/copperDensity)), ""
	}
	var others []string
	for _, element := range slices.Sorted(maps.Keys(s)) {
		if element != Silver && element != Copper && s[element] > 0 {
			others = append(others, element)
		}
	}
	if len(others) == 0 || s.sum() < 1-trace {
		others = append(others, "metal that is not named")
	}
	return 0, fmt.Sprintf("it holds %s, and only silver with copper can be reckoned by volume: "+
		"brass of 30 %% zinc would come to 8.32 g/cm³ where 8.53 is published", strings.Join(others, " and "))
}

// Precious is the metal by which a mixture is stamped: gold if it holds any, else
// silver; empty if it holds neither.
func (m Mixture) Precious() string {
	for _, metal := range []string{Gold, Silver} {
		if m.Of[metal] > 0 {
			return metal
		}
	}
	return ""
}

// Addition is what is added to a mixture to change its fineness; one of the two.
type Addition struct {
	Fine   unit.Gram // of the precious metal, FineMetal fine
	Copper unit.Gram
}

// Reach says what to add so that the precious metal becomes a fineness, 0 to 1:
// fine metal to raise it, copper to lower it. It refuses a fineness that fine
// metal does not reach, and a mixture with nothing precious.
func (m Mixture) Reach(fineness float64) (Addition, error) {
	metal := m.Precious()
	if metal == "" {
		return Addition{}, errors.New("there is no silver or gold in it, so it has no fineness")
	}
	if !(fineness > 0 && fineness <= 1) {
		return Addition{}, fmt.Errorf("%v in a thousand is no fineness", fineness*1000)
	}
	now, mass := m.Of[metal], float64(m.Mass)
	switch {
	case math.Abs(fineness-now) < 1e-9:
		return Addition{}, nil
	case fineness < now:
		return addable(Addition{Copper: unit.Gram(mass * (now/fineness - 1))})
	case fineness >= FineMetal:
		return Addition{}, fmt.Errorf("fine metal is %v in a thousand, so adding it never reaches %v", FineMetal*1000, fineness*1000)
	}
	return addable(Addition{Fine: unit.Gram(mass * (fineness - now) / (FineMetal - fineness))})
}

// addable refuses an addition that no bench melts.
func addable(a Addition) (Addition, error) {
	if !(a.Fine+a.Copper <= unit.MaxMass) {
		return Addition{}, fmt.Errorf("more than %v would have to be added", unit.MaxMass)
	}
	return a, nil
}
