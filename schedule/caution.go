package schedule

import (
	"fmt"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// cautions are what can hurt now, most pressing first. The whole text is Safety.
func (w words) cautions() []string {
	var out []string
	switch w.advice.Verdict {
	case VerdictHeating, VerdictSoak:
		out = append(out, "Torch lit: eyes covered, nothing that burns near, water or extinguisher at hand.")
	case VerdictWait:
		out = append(out, "HOT, not glowing: it burns you and what it touches long after the red has gone.",
			"If it is quenched: a slow plunge in water, never in pickle; a hollow piece needs a vent or steam bursts it.")
	case VerdictPickle:
		out = append(out, "Pickle is acid: eyes and hands covered, lid on, air moving; acid into water, never water into acid.")
	case VerdictProve:
		out = append(out, "Take it as hot until you know it is cool.")
	case VerdictFileCrack:
		out = append(out, "Split metal is sharp and can fly: eyes covered.")
	case VerdictAnnealNow, VerdictAnnealSoon:
		out = append(out, "Local rules for flames and gas come first; see the safety page before lighting up.")
	}
	if w.state.Test && w.advice.Verdict == VerdictCarryOn {
		out = append(out, "It will split: eyes covered, nobody else near, fingers clear of its ends.")
	}
	if w.zone.Crack == CrackOpen {
		out = append(out, "Heating does not heal a crack.")
	}
	if w.advice.Verdict == VerdictCarryOn || w.advice.Verdict == VerdictNoAnneal {
		out = append(out, "Look at the edges and ends: they go first, and this sum does not see them.")
	}
	if w.heats() {
		out = append(out, w.ofHeat()...)
	}
	for _, r := range w.state.Alloy.Rules(alloys.RuleHazard) {
		if r.Use == alloys.UseDefault && w.heats() {
			out = append(out, r.Text)
		}
	}
	for _, r := range w.state.Alloy.Rules(alloys.RuleHot) {
		if r.Use == alloys.UseDefault && w.hot() {
			out = append(out, r.Text)
		}
	}
	return out
}

// heats reports whether the advice is about giving a heat, or the metal has none
// to be given and its hazards are of the bench.
func (w words) heats() bool {
	switch w.advice.Verdict {
	case VerdictAnnealNow, VerdictAnnealSoon, VerdictHeating, VerdictSoak, VerdictNoAnneal:
		return true
	}
	return false
}

func (w words) hot() bool {
	switch w.advice.Verdict {
	case VerdictHeating, VerdictSoak, VerdictWait:
		return true
	}
	return false
}

// ofHeat is what to mind of this piece before it is heated: joints, metal that was
// hardly worked, and what the metal does not bear.
func (w words) ofHeat() (out []string) {
	for _, text := range w.state.Unsure {
		out = append(out, "A joint of unknown solidus may let go: "+text+". Old or unknown solder may hold cadmium.")
	}
	if ratio, risk := heat.TipsFirst(w.state.sections()); risk {
		out = append(out, fmt.Sprintf("Thin ends heat %.0f times as fast as the thick part: flame on the thick part, tips last, or they melt.", ratio))
	}
	if text := heat.Spare(w.advice.Done.Strain); text != "" {
		out = append(out, text)
	}
	for _, kind := range []alloys.RuleKind{alloys.RuleSlow, alloys.RuleGas} {
		for _, r := range w.state.Alloy.Rules(kind) {
			if r.Use == alloys.UseDefault {
				out = append(out, r.Text)
			}
		}
	}
	return out
}

// sections are those of all zones.
func (s *State) sections() (all []unit.Size) {
	for _, z := range s.Zones {
		all = append(all, unit.Size(z.Tally.Section()))
	}
	return all
}
