package unit

import "errors"

var errMixed = errors.New("expected a unit with each number, since one has none and another is not in mm")

// readMeasures reads lengths with an x between them.
func readMeasures(words []string) ([]Millimetre, error) {
	readings, err := splitMeasures(words)
	if err != nil {
		return nil, err
	}
	if err := spreadUnit(readings); err != nil {
		return nil, err
	}
	var out []Millimetre
	for _, r := range readings {
		l, err := r.length()
		if err != nil {
			return nil, err
		}
		out = append(out, l)
	}
	return out, nil
}

func splitMeasures(words []string) ([]reading, error) {
	for out := []reading(nil); ; words = words[1:] {
		var r reading
		r, words = next(words)
		if r.number == "" {
			return nil, errSize
		}
		out = append(out, r)
		if len(words) == 0 {
			return out, nil
		}
		if words[0] != "x" {
			return nil, errSize
		}
	}
}

// spreadUnit gives every reading its unit, or fails where that is a guess.
func spreadUnit(readings []reading) error {
	bare, foreign := 0, false
	for _, r := range readings {
		if r.unit == "" {
			bare++
		}
		foreign = foreign || r.unit != "" && r.unit != "mm"
	}
	last := readings[len(readings)-1]
	spread := bare == len(readings)-1 && last.unit != "" && !last.isGauge()
	if bare > 0 && foreign && !spread {
		return errMixed
	}
	for i := range readings {
		if readings[i].unit == "" && spread {
			readings[i].unit = last.unit
		}
	}
	return nil
}
