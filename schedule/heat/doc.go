// Package heat reckons what fire does to a piece of metal: how it glows and
// whether that is seen, how long a flame takes, whether it is soft, how hot it may
// get, and how long it burns whoever touches it.
//
// A [Body] is metal of a size with a [Surface]. A [Heating] or a [Cooling] of it
// is one temperature for the whole piece (lumped capacity, which the Biot number
// allows for anything a smith anneals by hand) and so one integral, dt = C dT /
// q(T), by quadrature; the closed forms hold it to account. Evenness along the
// piece is another matter and is said apart, because it rules: see [Evenness].
//
// [GlowAt] is Planck's law through the eye of the CIE 1931 observer, and
// [Eye.Sees] holds it against the room. [Kinetics] is softening, as a band between
// what published observations allow. [CeilingOf] is what must not be reached.
//
// The package computes. It reads no clock and no record, and knows no entries.
package heat
