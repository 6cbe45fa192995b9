package schedule

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// struck is courses that were not read, on metal that was worked before them: their
// sum is made in what they would have given soft metal.
type struck struct {
	courses []coldwork.Process
	from    float64 // strain
	hand    func(coldwork.Process) coldwork.Hand
}

// kinds are the processes of the courses, each once.
func (s struck) kinds() []coldwork.Process {
	return slices.Compact(slices.Sorted(slices.Values(s.courses)))
}

func (s struck) number(p coldwork.Process) (n int) {
	for _, q := range s.courses {
		if q == p {
			n++
		}
	}
	return n
}

// value is the strain that they put in.
func (s struck) value() float64 {
	soft := unit.Strain(0)
	for _, p := range s.kinds() {
		soft += s.hand(p).PerCourse() * unit.Strain(s.number(p))
	}
	from := unit.Strain(s.from)
	return float64(coldwork.Given(coldwork.Effort(from)+soft) - from)
}

// write gives the sum in words, and what it comes to with the figures as printed.
func (s struck) write(d int) (string, float64) {
	text, soft := s.onSoft(d)
	from := printed(s.from, d)
	effort := printed(float64(coldwork.Effort(unit.Strain(from))), d+1)
	redone := float64(coldwork.Given(unit.Strain(effort+soft))) - from
	if s.from == 0 {
		return fmt.Sprintf("%s on soft metal, which stiffens on the way: 2 x (sqrt(1 + %s) - 1) = %s", text, fixed(soft, d+1), fixed(s.value(), d)), redone
	}
	return fmt.Sprintf("%s on soft metal; the %s before them counts %s there: 2 x (sqrt(1 + %s + %s) - 1) - %s = %s",
		text, fixed(s.from, d), effortSum(s.from, d), fixed(effort, d+1), fixed(soft, d+1), fixed(s.from, d), fixed(s.value(), d)), redone
}

// onSoft writes "2 x 0.1135 + 1 x 0.2064 = 0.4334".
func (s struck) onSoft(d int) (string, float64) {
	var parts []string
	sum := 0.0
	for _, p := range s.kinds() {
		n, per := s.number(p), float64(s.hand(p).PerCourse())
		each := d + 1 + len(strconv.Itoa(n)) // so that n times its rounding stays under the last digit
		parts = append(parts, fmt.Sprintf("%d x %s", n, fixed(per, each)))
		sum += float64(n) * printed(per, each)
	}
	sum = printed(sum, d+1)
	return strings.Join(parts, " + ") + " = " + fixed(sum, d+1), sum
}

// effortSum writes "0.400 + 0.400²/4 = 0.4400", strain as effort.
func effortSum(strain float64, d int) string {
	return fmt.Sprintf("%s + %s²/4 = %s", fixed(strain, d), fixed(strain, d), fixed(effortOf(strain, d), d+1))
}

// effortOf is the effort of a strain that is printed with d decimals, as it is printed.
func effortOf(strain float64, d int) float64 {
	return printed(float64(coldwork.Effort(unit.Strain(printed(strain, d)))), d+1)
}

// names are the processes in words.
func (s struck) names() string {
	var names []string
	for _, p := range s.kinds() {
		names = append(names, string(p))
	}
	return strings.Join(names, ", ")
}

// how says where the means of the courses are from.
func (s struck) how() string {
	seen := 0
	for _, p := range s.kinds() {
		seen += s.hand(p).Seen()
	}
	if seen == 0 {
		return "assumed, a judgement: none of this hand is measured"
	}
	return "by this hand, " + count(seen, "course") + " measured"
}

// term is that of courses since the last reading.
func (s struck) term() term {
	return term{head: "unread", value: s.value(), write: func(d int) (string, float64) {
		text, redone := s.write(d)
		return fmt.Sprintf("%s (%s) since the last reading, %s: %s; the next reading corrects it",
			count(len(s.courses), "course"), s.names(), s.how(), text), redone
	}}
}
