package schedule

import "slices"

// Kindles reports whether an entry of a kind puts a zone into a new fire, by the phase
// that it was in before and is in after it: any step of a heat on cold metal, or the
// flame again on metal that had been taken out of it.
func (k Kind) Kindles(was, is Phase) bool {
	again := k == KindBegun && (was == OutOfFlame || was == Cooled)
	return is != Cold && (was == Cold || again)
}

// About are the names of the zones that an entry is about: all of them where it names
// none, or names the whole of a piece that has no zone of that name. A name that the
// piece does not have is left out.
func (s *State) About(e Entry) (names []string) {
	all := len(e.Zones) == 0 || s.meansAll(e.Zones)
	for _, z := range s.Zones {
		if all || slices.Contains(e.Zones, z.Name) {
			names = append(names, z.Name)
		}
	}
	return names
}
