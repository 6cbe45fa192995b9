package desktop

import (
	"context"
	"sync"
)

// desk is a desktop for tests: it notes the notices given to it and the faults.
type desk struct {
	lock   sync.Mutex
	came   []Notice
	faults []error
	most   int // calls at once
	now    int
}

// options open a channel to the desk whose calls do what is given.
func (d *desk) options(call func(context.Context) error) Options {
	return Options{Fault: d.fault, send: func(ctx context.Context, n Notice) error {
		d.enter(n)
		defer d.leave()
		return call(ctx)
	}}
}

func (d *desk) enter(n Notice) {
	d.lock.Lock()
	defer d.lock.Unlock()
	d.came = append(d.came, n)
	d.now++
	d.most = max(d.most, d.now)
}

func (d *desk) leave() {
	d.lock.Lock()
	defer d.lock.Unlock()
	d.now--
}

func (d *desk) fault(err error) {
	d.lock.Lock()
	defer d.lock.Unlock()
	d.faults = append(d.faults, err)
}

func (d *desk) busiest() int {
	d.lock.Lock()
	defer d.lock.Unlock()
	return d.most
}

func (d *desk) titles() (titles []string) {
	d.lock.Lock()
	defer d.lock.Unlock()
	for _, n := range d.came {
		titles = append(titles, n.Title)
	}
	return titles
}

func (d *desk) sentences() (sentences []string) {
	d.lock.Lock()
	defer d.lock.Unlock()
	for _, err := range d.faults {
		sentences = append(sentences, err.Error())
	}
	return sentences
}
