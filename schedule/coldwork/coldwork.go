// Package coldwork reckons what hammering, rolling, drawing, bending and
// twisting do to a piece of metal: how much strain is in it since it was last
// soft, how hard it has become, how much of the limit before it splits is
// spent, and how many courses are left.
//
// # The model
//
// Volume is constant in plastic flow, so two measured sides of a section give
// the change of length. The strain of one change of section is the von Mises
// equivalent
//
//	e = sqrt(2/3 (et² + ew² + el²)),   et = ln(t1/t0), ew = ln(w1/w0), el = -(et + ew)
//
// and it is summed from reading to reading: a strip that is lengthened and then
// widened back to its old section has been worked twice (Dieter, Mechanical
// Metallurgy, ch. 3 and 15). Von Mises strain sums hardening, not cracking:
// edges and the core of a casting go first.
//
// Every reading has an error. It is carried through to the result as
// independent errors in quadrature, and changes too small for the calliper to
// see are netted end to end instead of being summed.
//
// # The policy
//
// No figure is invented: outside its published points a hardness curve is
// silent, and an alloy without a limit gets none. Where a choice is open the
// cautious end is taken, so that the advice errs early.
package coldwork
