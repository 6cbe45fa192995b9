package schedule

// Unremembered is the state without what it only remembers so as not to reckon it again.
func Unremembered(s State) State {
	s.memo = nil
	return s
}
