// Package probe takes the readings of a thermocouple: one temperature a line,
// from a serial port, a pipe or a file.
//
// Follow turns such a source into a channel of events and opens it again when it
// was unplugged. A Recorder makes a Trace of the readings, the curve of one heat,
// whose Encode is a short text to be kept:
//
//	recorder := probe.NewRecorder(begun)
//	for e := range probe.Follow(ctx, open, time.Now) {
//		if r, ok := e.(probe.Reading); ok {
//			recorder.Add(r)
//		}
//	}
//	text := recorder.Trace().Encode()
//
// # What a line may be
//
//	[LABEL = or :] NUMBER [UNIT] [, or ; and anything]
//
// as in 650, 650.5, 650,5, 650 C, 1200F, T=650.2 and Probe 1: 650.25 °C; ok. A
// line ends with CR, LF or both. A bare number is in °C. What could be read in two
// ways is not read: 1,650 may be a thousand or a fraction, 650 23 two probes. A
// label must name a temperature, and not that of the board or of a target; one
// that ends in F or K needs a unit behind the number, since K may be the type of
// the thermocouple. The label of the first reading is the one that is followed,
// until it is silent or lost. All else is noise: it is counted, and nothing else
// comes of it.
//
// # What is not believed
//
// OPEN, NaN and such, and figures that a broken thermocouple gives, are a Fault. A
// jump of more than MaxJump is held back until the next reading agrees with it.
// The line that a serial port is in the middle of when it is opened may be half a
// number: FromNextLine leaves it out. Nothing here makes a temperature true: a
// junction that does not touch the metal reads the flame or the air.
//
// The limits of this package are judgements unless a source stands beside them.
package probe
