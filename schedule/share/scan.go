package share

import (
	"fmt"
	"slices"
	"time"

	"dullred/schedule"
	"dullred/schedule/record"
)

// scan finds what was written to the record, or is no longer in it. When there are as
// many rows as are known, that is all, but for the first time, when the record may be
// another. Else what happened in the last minutes is looked at. When the counts differ
// still, the ids that come after those that the bench wrote before are, and when they do
// even then, because a clock was put back or entries were merged, all.
func (c *Carrier) scan() error {
	if err := c.whose(); err != nil {
		return err
	}
	if err := c.recent(); err != nil {
		return err
	}
	for range 3 { // the bench may log between the look and the count
		same, err := c.counted()
		if err != nil || same && c.looked {
			return err
		}
		mark, err := c.Ledger.mark(bound(c.now().Add(time.Hour)))
		if err != nil {
			return err
		}
		if mark == "" && same {
			break // no row of its own
		}
		differed, err := c.walk(mark)
		if err != nil {
			return err
		}
		c.looked = true
		if mark == "" || same && !differed {
			return nil // that was all of them
		}
	}
	same, err := c.counted()
	c.looked = true
	if err != nil || same {
		return err
	}
	_, err = c.walk("")
	return err
}

// recently is how far back the record is looked at first. Most entries are found as soon
// as they are written, and few are said to be of an earlier time.
const recently = 10 * time.Minute

// recent finds what was written to the record and happened in the last minutes.
func (c *Carrier) recent() error {
	if !c.looked {
		return nil // that comes next, and to count a long record twice is felt
	}
	same, err := c.counted()
	if err != nil || same {
		return err
	}
	ids, err := c.Local.Since(c.now().Add(-recently).UnixMicro(), mostSteps)
	if err != nil {
		return err
	}
	known, err := c.Ledger.digests(ids)
	if err != nil {
		return err
	}
	ids = slices.DeleteFunc(ids, func(id string) bool { _, here := known[id]; return here })
	return c.discover(ids, nil)
}

// bound is an id that comes after all that carry an earlier time, and before the others.
func bound(t time.Time) string {
	ms := min(max(t.UnixMilli(), 0), 1<<48-1)
	digits := fmt.Sprintf("%012x", ms)
	return digits[:8] + "-" + digits[8:]
}

func (c *Carrier) counted() (same bool, err error) {
	here, err := c.Local.Count()
	if err != nil {
		return false, err
	}
	known, err := c.Ledger.total()
	return int64(here) == known.Count, err
}

// walk compares the ids of the record with those of the ledger from one on, in steps, so
// that no reading of the record lasts. It reports whether they differed.
func (c *Carrier) walk(from string) (differed bool, err error) {
	begun, err := c.Ledger.ids("", 1)
	if err != nil {
		return false, err
	}
	var hands map[string]bool
	if len(begun) == 0 && len(c.told) == 0 {
		hands = map[string]bool{}
	}
	for more := true; more; {
		here, err := c.Local.IDs(from, mostSteps)
		if err != nil {
			return differed, err
		}
		known, err := c.Ledger.ids(from, mostSteps)
		if err != nil {
			return differed, err
		}
		here, known, from, more = step(here, known)
		if slices.Equal(here, known) {
			continue
		}
		differed = true
		if err := c.differ(here, known, hands); err != nil {
			return differed, err
		}
	}
	return differed, c.firstLook(hands)
}

// step cuts two runs of ids where the first of them was cut, and gives the last id that
// both cover, and whether there is more.
func step(here, known []string) (h, k []string, upto string, more bool) {
	for _, run := range [][]string{here, known} {
		if n := len(run); n == mostSteps && (upto == "" || run[n-1] < upto) {
			upto = run[n-1]
		}
	}
	if upto == "" {
		return here, known, "", false
	}
	return cut(here, upto), cut(known, upto), upto, true
}

func cut(ids []string, upto string) []string {
	n := len(ids)
	for n > 0 && ids[n-1] > upto {
		n--
	}
	return ids[:n]
}

// mostFound is how many rows that are new are read and taken down at once. The more, the
// less often the sums of a piece are written.
const mostFound = 2500

// differ takes down which ids of a run are only here, and which only in the ledger.
func (c *Carrier) differ(here, known []string, hands map[string]bool) error {
	var fresh, gone []string
	for len(here) > 0 || len(known) > 0 {
		switch {
		case len(known) == 0 || len(here) > 0 && here[0] < known[0]:
			fresh, here = append(fresh, here[0]), here[1:]
		case len(here) == 0 || known[0] < here[0]:
			gone, known = append(gone, known[0]), known[1:]
		default:
			here, known = here[1:], known[1:]
		}
	}
	if err := c.discover(fresh, hands); err != nil {
		return err
	}
	c.shrunk = c.shrunk || len(gone) > 0
	return c.Ledger.drop(gone)
}

// discover takes down the rows with some ids that were found in the record.
func (c *Carrier) discover(ids []string, hands map[string]bool) error {
	for some := range slices.Chunk(ids, mostFound) {
		rows, err := c.Local.Rows(some...)
		if err != nil {
			return err
		}
		if err := c.found(rows, hands); err != nil {
			return err
		}
	}
	return nil
}

// found takes down rows that were found in the record. Whose they are is asked after they
// were read, since the first of a bench are stored together with its label.
func (c *Carrier) found(rows []schedule.Row, hands map[string]bool) error {
	if err := c.whose(); err != nil {
		return err
	}
	if hands != nil {
		for _, r := range rows {
			hands[r.Hand] = true
		}
	}
	c.owes = true
	return c.Ledger.add(rows, c.own)
}

// whose finds the id of the bench, which it has with its first entry. A record is asked
// for the names of benches alone, which are few.
func (c *Carrier) whose() (err error) {
	if c.own != "" {
		return nil
	}
	if r, ok := c.Local.(beside); ok {
		c.own, err = r.own()
		return err
	}
	labels, err := c.Local.Labels()
	c.own = ownBench(labels)
	return err
}

// own is the id of the bench that the record belongs to, "" before its first entry.
func (b beside) own() (string, error) {
	label, _, err := b.LabelNamed(record.BenchClass, OwnBench)
	if err != nil || label.Text != OwnBench { // the look-up does not tell upper from lower case
		return "", err
	}
	return label.ID, nil
}

// firstLook takes down, when a ledger is new, which labels a record has, and which hands
// have none: they were forgotten, and stay so.
func (c *Carrier) firstLook(hands map[string]bool) error {
	if hands == nil {
		return nil
	}
	labels, err := c.Local.Labels()
	if err != nil {
		return err
	}
	first := map[string]told{}
	for hand := range hands {
		first[hand] = told{class: "hand", had: true}
	}
	for _, l := range labels {
		first[l.ID] = told{class: l.Class, had: true}
	}
	return c.remember(first)
}
