// Package alloys knows the metals: what they weigh, where they melt, how hard
// they get when they are worked, how far they may be worked between two
// anneals, how hot to anneal them, and what a smith must not do to them.
//
//	silver, err := alloys.Find("sterling")
//	window, ok := silver.Default(alloys.Anneal, "")            // 593-649 °C
//	curve, ok := silver.Curve(alloys.Hardness, alloys.Strip)   // HV against strain
//	low, high, ok := curve.At(unit.ThicknessReduction(0.25).Strain())
//
// # The tables
//
// Everything stands in five embedded text tables with one figure a row and the
// source of each beside it: alloys.csv, solders.csv, figures.csv, rules.csv and
// sources.csv. Read reads them, and ReadOwn a user's own in the same format, to
// stand beside them (Book.With); whatever is wrong is an error that names file,
// line and column, and a set of tables is taken whole or not at all.
//
// A figure has a use. The program computes with a default; an also is another
// published figure, shown beside the default and, for limits, selectable as
// another school; a never is shown with the reason why nothing may be computed
// with it. It also has a confidence: read in the source named, computed from
// figures that were read, recalled from memory, judgement, or common practice.
// A figure that nobody published is absent, not zero. Where a metal has no
// solidus of its own, one that is known to lie lower stands in and its note
// begins with "stand-in"; without either there is no default window to heat to.
//
// The most work between two anneals (Limit) and the least work before one
// (LeastWork) are two properties, and neither is ever read as the other: a
// minimum taken for a maximum splits the piece.
//
// An emissivity is of a skin, which its condition names: clean, oxidised or
// fluxed. Few are published for alloys; those that borrow from a main metal or
// from its oxide are judgements, say so, and are as wide as they are uncertain.
//
// # Mixtures
//
// Mix reckons metals that are melted together: their fineness always, their
// density for silver with copper only, since other metals take up more or less
// room together than alone.
//
// # Curves
//
// The rows of one property, form and source that have a place on the reduction
// axis make a curve. Strip is placed by thickness and wire by area, and the two
// are kept apart: a temper of the same name has had nearly twice the strain in
// wire (see Temper). Both ends of the published scatter are followed by a
// monotone cubic (F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5,
// 300-304, 1984) against equivalent strain. Outside the published points there
// is no number.
package alloys
