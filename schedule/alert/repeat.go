package alert

import "time"

// Repeats says how often an alert that nobody has acknowledged sounds again.
// Danger sounds every ten seconds; a call every thirty, four times, and then with
// each course that is logged; a notice every five minutes, three times. The
// intervals lie within those that are published for medical alarms (2.5 to 15 s
// for high priority: IEC 60601-1-8, as quoted) for danger, and are judgements
// otherwise.
type repeat struct {
	every time.Duration
	most  int // after the first; 0 for without end
}

var repeats = map[Priority]repeat{
	Danger: {every: 10 * time.Second},
	Call:   {every: 30 * time.Second, most: 4},
	Notice: {every: 5 * time.Minute, most: 3},
}

// Pause is how long danger that was acknowledged is silent while it still holds.
const Pause = 2 * time.Minute

// Sounds is how many times an alert has been due to sound a while after it was
// first told, and when it is next due; ok is false when it will not sound again
// by itself.
func Sounds(p Priority, since time.Duration) (n int, next time.Duration, ok bool) {
	r, known := repeats[p]
	if !known || since < 0 {
		return 0, 0, false
	}
	n = 1 + int(since/r.every)
	if r.most > 0 && n > r.most {
		return r.most + 1, 0, false
	}
	return n, time.Duration(n)*r.every - since, true
}
