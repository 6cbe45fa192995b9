package record

// Changed reports whether anybody else has committed since the last call, or
// since Open: another program, or another open Record of this one. What this
// Record writes itself does not count, and neither does its Backup. True may
// also mean that another only emptied the log; false is never wrong. Who reads
// the record after asking, not before, misses nothing.
//
// It costs some 15 µs, but waits for an Append or Forget of this Record that
// is under way. ErrGone says that the path leads to another file or to none:
// what others write now cannot be seen from here.
func (r *Record) Changed() (bool, error) {
	r.writing.Lock()
	defer r.writing.Unlock()
	before := r.version
	if err := r.look(); err != nil {
		return false, r.fail("read", err)
	}
	return r.version != before, nil
}

// look takes down the number that changes when another connection commits.
// SQLite does not say how it changes, only that it differs.
func (r *Record) look() error {
	if r.mayCommit() != 0 {
		return ErrGone
	}
	return r.pen.QueryRow(`PRAGMA data_version`).Scan(&r.version)
}
