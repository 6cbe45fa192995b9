package published

// Unchecked is what no test compares with anything outside: a folder that has no such
// check, or a file of a folder that has some, and why.
var Unchecked = []struct{ Where, What string }{
	{"schedule/batchheat.go", "which pieces share a heat: equal to trying every pairing on small days, and never worse than the greedy one; no printed day was found"},
	{"schedule/doubt.go", "which entries are doubted: the bounds are judgements"},
	{"schedule/fold.go", "what an entry means: properties and stories of our own"},
	{"schedule/limitlearned.go", "how far a stock moves its limit: simulated, and no record of a real stock was found"},
	{"schedule/planbowl.go", "the courses of a bowl: equal to the sums of coldwork; no printed plan with readings was found"},
	{"schedule/plansearch.go", "the plan: equal to trying everything on small jobs; that it suits a smith is tried by nobody"},
	{"schedule/benchcard", "the layout of the cards; its figures are those of the packages above"},
	{"schedule/board", "which piece is nearest to splitting: an order of figures that are checked or not where they come from"},
	{"schedule/class", "who anneals early or late: held against a count made another way"},
	{"schedule/demo", "an invented class"},
	{"schedule/drill", "the simulated bar of a lesson: how it rings, springs and splits is a judgement"},
	{"schedule/exchange", "a format of our own, read back to the byte"},
	{"schedule/paper", "the PDF by itself; what is printed with it is read by poppler in schedule/sheet"},
	{"schedule/picture", "figures drawn to the scale that they state, read back from our own drawing"},
	{"schedule/share", "what is carried between records: held by sums of our own against every fault that was thought of"},
	{"schedule/totals", "sums of entries, made a second way"},
	{"schedule/trial/shop.go", "the simulated shop: that smiths scatter, misread and stiffen their metal as it says was measured by nobody"},
	{"cmd/dullred-share", "a fleet of benches, counted by our own programs"},
	{"cmd/internal/place", "where the files are: the rules of the system, read and not tried on every system"},
	{"cmd/internal/say", "sentences"},
	{"schedule/alert/desktop", "notices: a real message bus, on which our own recorder listens"},
}

// UncheckedList is what is in it, a line each.
func UncheckedList() string {
	var lines []string
	for _, u := range Unchecked {
		lines = append(lines, "`"+u.Where+"`: "+u.What+".")
	}
	return List(lines)
}
