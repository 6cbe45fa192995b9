package schedule_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/schedule"
)

// hazards are what can hurt at this bench. Each has its caution in the safety text, under
// its heading, with a source: words of its row in the list, or of the label that stands
// for one.
var hazards = []struct{ name, section, caution, source string }{
	{"what burns near", "Torch and fire", "nearer than 35 ft", "1910.252"},
	{"fire after the flame", "Torch and fire", "Watch for 60 minutes after the last flame", "NFPA 51B"},
	{"the floor of the watch", "Torch and fire", "The floor in US law is 30 minutes", "1910.252"},
	{"nobody to put it out", "Torch and fire", "The watcher has an extinguisher or water to hand", "1910.252"},
	{"the wrong extinguisher", "Torch and fire", "Water or foam for wood and paper", "(common practice)"},
	{"a flame that goes back", "Torch and fire", "Flashback arrestors and hose check valves", "(all common practice)"},
	{"oil and oxygen", "Torch and fire", "No oil or grease on oxygen fittings, ever.", "(all common practice)"},
	{"a cylinder that falls", "Torch and fire", "Cylinders upright and chained.", "(all common practice)"},
	{"acetylene", "Torch and fire", "above 15 psi", "1910.253"},
	{"gas that sinks", "Torch and fire", "Propane and butane are heavier than air.", "liquefied petroleum gas"},
	{"a leak", "Torch and fire", "Leak fluid finds a leak, never a flame.", "fireball"},
	{"no instruction", "Torch and fire", "Read the free HSE leaflet on gas torches", "INDG297"},
	{"a torch left alone", "Torch and fire", "Never walk away from a lit torch", "(common practice)"},
	{"a telephone", "Torch and fire", "put the torch down and OUT. Then answer", "(common practice)"},
	{"hydrogen in copper", "Torch and fire", "Hydrogen that enters it hot makes steam inside", "tough-pitch copper"},
	{"clothes", "Before anything", "No synthetic cloth", "(common practice)"},
	{"black heat", "Hot metal that no longer glows", "Most of the cooling cannot be seen", "(common practice)"},
	{"no glow", "Hot metal that no longer glows", "The first dull red shows at about 525 °C", "Draper"},
	{"skin", "Hot metal that no longer glows", "Water at 60 °C can burn skin deeply", "Burn Foundation"},
	{"white when red hot", "Hot metal that no longer glows", "can look white, not red", "Ganoksin"},
	{"taken for quenched", "Hot metal that no longer glows", "pieces they thought were quenched", "Blogs"},
	{"a drop in the lap", "Hot metal that no longer glows", "dropped in a lap burned the cloth", "Blogs"},
	{"quenched too hot", "Hot metal that no longer glows", "Before a quench let the glow go.", "capewatch"},
	{"the drop test", "Hot metal that no longer glows", "A drop of water dances: still too hot.", "Ganoksin"},
	{"steam", "Hot metal that no longer glows", "Slow plunge, long tongs, face back", "(common practice)"},
	{"hollow form", "Hot metal that no longer glows", "A hollow form needs a real vent.", "Ganoksin"},
	{"a joint lets go", "Hot metal that no longer glows", "A soldered joint can let go at annealing heat.", "(common practice)"},
	{"alcohol", "Alcohol quench (some white golds)", "Ethanol vapour lights from about 13 °C up", "CAMEO"},
	{"an oven that does not glow", "Ageing oven and kiln", "Take all in it as hot.", "Ganoksin"},
	{"water shut in", "Ageing oven and kiln", "turns to steam", "(from memory)"},
	{"one left behind", "Several pieces at one heat (common practice)", "The one left behind is black and hot.", "(common practice)"},
	{"fume of a lead", "Probe, leads and laptop", "PTFE above 265 °C gives poisonous fume", "Fluke"},
	{"mains", "Probe, leads and laptop", "Laptop on its battery, not the mains", "(common practice)"},
	{"acid that spits", "Pickle and acids", "Add acid to water. Never water to acid", "(common practice)"},
	{"safety pickle", "Pickle and acids", "bisulphate in water is sulphuric acid", "class handout"},
	{"too strong", "Pickle and acids", "sulphuric acid 1 part to 15 of water", "Copper Work"},
	{"eyes, hands, fume", "Pickle and acids", "Goggles, gloves, apron. A lid on it. Extraction", "(common practice)"},
	{"quench in pickle", "Pickle and acids", "Never quench hot metal in pickle", "Ganoksin"},
	{"iron", "Pickle and acids", "No iron or steel in the bath", "Ganoksin"},
	{"acid left on", "Pickle and acids", "then in baking soda and water", "(common practice)"},
	{"poison in the bath", "Pickle and acids", "Keep lead, pewter, zinc and cadmium scrap out", "(common practice)"},
	{"nitric acid", "Pickle and acids", "Nitric acid: leave it out of a class.", "(from memory)"},
	{"zinc", "Fumes and dust by metal", "OSHA 5 mg/m³; NIOSH 5, and 10 for 15 minutes", "zinc oxide fume"},
	{"a limit is no comfort", "Fumes and dust by metal", "Of 12 people 10 had mild fever", "metal fume fever"},
	{"cadmium", "Fumes and dust by metal", "It can wreck lungs and give little warning", "cadmium in silver soldering"},
	{"cadmium in law", "Fumes and dust by metal", "OSHA 5 µg/m³, duties from 2.5", "1910.1027"},
	{"lead", "Fumes and dust by metal", "OSHA and NIOSH 50 µg/m³", "Lead exposure limits"},
	{"beryllium", "Fumes and dust by metal", "do not file, grind or heat it", "rule of 2017"},
	{"nickel", "Fumes and dust by metal", "cancer, and skin allergy", "nickel, metal"},
	{"antimony", "Fumes and dust by metal", "OSHA and NIOSH 0.5 mg/m³", "antimony"},
	{"copper fume", "Fumes and dust by metal", "fume, OSHA and NIOSH 0.1 mg/m³", "copper fume"},
	{"acid mist", "Fumes and dust by metal", "OSHA 1 mg/m³, secondary", "sulfuric acid"},
	{"fluoride", "Fumes and dust by metal", "OSHA and NIOSH 2.5 mg/m³", "fluorides"},
	{"still air", "Fumes and dust by metal", "local extraction, filtered and tested yearly", "Glasgow"},
	{"children", "Fumes and dust by metal", "under 12, no metal jewellery work", "McCann"},
	{"pregnancy", "Fumes and dust by metal", "keep away from metal fumes", "McCann"},
	{"schools", "Fumes and dust by metal", "BS 4163 and CLEAPSS sheets", "Bradford"},
	{"the flame's light", "Eyes", "soldering 2, brazing 3", "1910.133"},
	{"a filter dims the glow", "Eyes", "so the metal is hotter than it looks", "(from memory)"},
	{"what flies", "Eyes", "Glasses with side guards for every blow", "1910.133"},
	{"noise", "Ears", "T = 480/2^((L-85)/3)", "noise recommended exposure limit"},
	{"blows", "Ears", "more than steady noise of the same energy", "impact noise"},
	{"peaks", "Ears", "peaks of 120 to 125 dB", "AIHA"},
	{"a hammer forge", "Ears", "blows to 148 dB", "Semin. Hear."},
	{"metal that splits", "Cracks and splinters", "Metal worked too far can split at a blow", "common practice"},
	{"a burn", "First aid", "cool running water at once, for 20 minutes", "Burns first aid"},
	{"a burn made worse", "First aid", "No ice, butter or cream.", "First aid for burns"},
	{"a large burn", "First aid", "larger than the palm", "Burns and scalds"},
	{"acid on skin", "First aid", "then water 20 minutes or more", "Burns and scalds"},
	{"hydrofluoric acid", "First aid", "Fluoride or hydrofluoric acid needs special care", "(from memory)"},
	{"carbon monoxide", "Charcoal hearth and carbon monoxide", "OSHA 50 ppm; NIOSH 35 ppm", "NIOSH criteria"},
	{"a tent", "Charcoal hearth and carbon monoxide", "Never in a tent", "Charcoal"},
	{"embers", "Charcoal hearth and carbon monoxide", "A bed that looks dead", "barbecues"},
	{"no smell", "Charcoal hearth and carbon monoxide", "Fit a carbon monoxide alarm", "(common practice)"},
	{"struck hot", "What the metal does not bear", "silver above about 550 °C", "alloys/rules.csv"},
}

// Outside check (standard): what can hurt has its caution in the safety text, with the law,
// the standard or the limit that says so.
func TestEveryHazardHasItsCautionAndSource(t *testing.T) {
	for _, h := range hazards {
		t.Run(h.name, func(t *testing.T) {
			require.NoError(t, cautioned(schedule.Safety(), h.section, h.caution, h.source))
		})
	}
}

// The search tells a text that lost a caution, its source or its place from one that has them.
func TestCautionedCanTell(t *testing.T) {
	const text = "# S\n\n## Fire\n\n- Watch for\n  60 minutes [1].\n- Never run.\n\n## Water\n\n- Wet [2].\n\n## Sources\n\n- [1] NFPA\n- [2] Well\n"
	require.NoError(t, cautioned(text, "Fire", "Watch for 60 minutes", "NFPA"))
	require.ErrorContains(t, cautioned(text, "Air", "Watch for 60 minutes", "NFPA"), "no heading")
	require.ErrorContains(t, cautioned(text, "Water", "Watch for 60 minutes", "NFPA"), "no caution")
	require.ErrorContains(t, cautioned(text, "Fire", "Watch for 60 minutes", "Well"), "no source")
	require.ErrorContains(t, cautioned(text, "Fire", "Never run.", "NFPA"), "no source")
}

var itemStart = regexp.MustCompile(`(?m)^(- |$)`)

// cautioned says what is lacking of a caution: its heading, its words in one item under
// it, or its source there.
func cautioned(text, section, caution, source string) error {
	_, rest, found := strings.Cut(text, "\n## "+section+"\n")
	if !found {
		return lacking("no heading " + section)
	}
	part, _, _ := strings.Cut(rest, "\n## ")
	_, list, _ := strings.Cut(text, sourcesHeading)
	for _, item := range itemStart.Split(part, -1) {
		item = strings.Join(strings.Fields(item), " ")
		if strings.Contains(item, caution) {
			return sourced(item, list, source, section, part)
		}
	}
	return lacking("no caution " + caution)
}

// sourced looks for a source among the rows that an item cites, and for a label in the
// item, its heading or, where that is said of all, its section.
func sourced(item, list, source, heading, section string) error {
	if strings.Contains(item+heading, source) || strings.Contains(section, "All of this section is "+source) {
		return nil
	}
	for _, n := range numbersOf(citation, item) {
		_, row, _ := strings.Cut(list, "- ["+strconv.Itoa(n)+"] ")
		row, _, _ = strings.Cut(row, "\n- [")
		if strings.Contains(strings.Join(strings.Fields(row), " "), source) {
			return nil
		}
	}
	return lacking("no source " + source + " of " + item)
}

type lacking string

func (l lacking) Error() string { return string(l) }

// raised are the cautions of the advice, by how each begins, with what the safety text
// says of the same; "-" marks one that is of the work and hurts nobody.
var raised = map[string]string{
	"Torch lit: eyes covered":                 "Eyes covered, hair tied",
	"HOT, not glowing":                        "Black metal burns.",
	"If it is quenched: a slow plunge":        "Never quench hot metal in pickle",
	"Pickle is acid":                          "Add acid to water. Never water to acid",
	"Take it as hot until":                    "pieces they thought were quenched",
	"Split metal is sharp and can fly":        "Split edges cut.",
	"Local rules for flames and gas":          "Local codes and licensed or qualified practice come first",
	"It will split: eyes covered":             "Metal worked too far can split at a blow, and the piece flies.",
	"Heating does not heal a crack":           "Heat does not heal a crack.",
	"Look at the edges and ends":              "Your bar may split sooner.",
	"A joint of unknown solidus may let go: ": "A soldered joint can let go at annealing heat.",
	". Old or unknown solder may hold cadm":   "Cadmium (old low-melting silver solder): do not use it.",
	"Thin ends heat %.0f times as fast":       "the thin one melts first",
	"Iron is or was in this pickle":           "No iron or steel in the bath: it coppers everything",
	"This pickle is spent":                    "Add acid to water. Never water to acid",
	"No advice is not a carry on":             "If screen and metal disagree, believe the metal and stop.",
}

func TestEveryCautionIsInTheSafetyText(t *testing.T) {
	text := strings.Join(strings.Fields(schedule.Safety()), " ")
	found := map[string]bool{}
	for _, said := range slices.Concat(sentencesOf(t, "caution.go", "cautions", "ofHeat"), sentencesOf(t, "bath.go", "Caution"), sentencesOf(t, "advice.go", "")) {
		for begins, words := range raised {
			if strings.HasPrefix(said, begins) {
				found[said], found[begins] = true, true
				require.Contains(t, text, words, said)
			}
		}
		require.True(t, found[said], "the safety text is asked for nothing about: %q", said)
	}
	for begins := range raised {
		require.True(t, found[begins], "nothing raises %q", begins)
	}
}

// sentencesOf are the sentences that functions of a file may say; with no function named,
// those that begin with "No advice".
func sentencesOf(t *testing.T, file string, functions ...string) (out []string) {
	t.Helper()
	tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	require.NoError(t, err)
	for _, d := range tree.Decls {
		f, ok := d.(*ast.FuncDecl)
		if !ok {
			continue
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				said, _ := strconv.Unquote(lit.Value)
				if functions[0] == "" && strings.HasPrefix(said, "No advice") || said != "" && strings.Contains(strings.Join(functions, " "), f.Name.Name) {
					out = append(out, said)
				}
			}
			return true
		})
	}
	require.NotEmpty(t, out)
	return out
}

// ruled is what the safety text says of what the rules of the alloys warn of, by a word
// or two of the rule; the first that fits counts.
var ruled = []struct{ rule, words string }{
	{`cadmium`, "Cadmium (old low-melting silver solder): do not use it."},
	{`zinc oxide|Zinc boils|Zinc-coated`, "Zinc (brass, zinc solders): metal fume fever"},
	{`speck|eat pits|eats a pit|lead or tin|Lead or solder|filings away`, "A speck of pewter, tin, lead or solder eats a pit into hot silver"},
	{`lead`, "Lead (old pewter, some solders, leaded brass)"},
	{`Never for food`, "Never on things for food."},
	{`no longer glows can still burn`, "Black metal burns."},
	{`hollow form`, "A hollow form needs a real vent."},
	{`start to melt|starts to melt|eutectic melts|it melts at|can melt from|melts without`, "It can melt before it looks it."},
	{`heal a crack`, "Heat does not heal a crack."},
	{`Nickel`, "cancer, and skin allergy"},
	{`cools slowly|cracks in the anneal|fire-crack`, "some cracks in a sudden flame, some in the quench, some when it cools slowly"},
	{`glare`, "Their glare hurts"},
	{`takes up carbon|Carbon and sulphur|reducing flame|flame clean`, "a clean flame with air to spare, no charcoal, no sulphur"},
	{`fuel-rich flame`, "Hydrogen that enters it hot makes steam inside"},
	{`Scale flies`, "Scale jumps off copper in the quench."},
	{`struck hot|[Hh]ammer|Work it cold|brittle hot|forged hot|worked hot`, "Struck hot it can break"},
	{`no lead added`, "Lead (old pewter"},
	{`in the pickle: iron`, "No iron or steel in the bath"},
}

func TestEveryRuleThatWarnsIsInTheSafetyText(t *testing.T) {
	text := strings.Join(strings.Fields(schedule.Safety()), " ")
	rules := 0
	for _, a := range alloys.All() {
		for _, kind := range []alloys.RuleKind{alloys.RuleHazard, alloys.RuleHot, alloys.RuleGas, alloys.RuleSlow} {
			for _, r := range a.Rules(kind) {
				if r.Use == alloys.UseDefault {
					rules++
					require.Contains(t, text, wordsFor(r.Text), "%s: %s", a.ID, r.Text)
					_, known := alloys.SourceOf(r.Source)
					require.True(t, known, "%s of %s is in no list", r.Source, a.ID)
				}
			}
		}
	}
	require.Greater(t, rules, 80)
}

func wordsFor(rule string) string {
	for _, r := range ruled {
		if regexp.MustCompile(r.rule).MatchString(rule) {
			return r.words
		}
	}
	return "nothing: " + rule
}
