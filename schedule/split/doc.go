// Package split learns at what strain the metal of one stock splits, from what
// became of it between one anneal and the next.
//
//	k := split.Prior(published).Learn(intervals)
//	limit := split.Caution{Published: published, Risk: split.Risk}.Warn(k)
//
// One interval is a survival datum: the metal was worked to a strain and annealed
// whole, so that it would have split later if at all, or it split there. The
// model is the Weibull law of the weakest place (Weibull, J. Appl. Mech. 18,
// 1951, 293; the formula is from memory): of the intervals of one stock the
// share exp(-(e/scale)^shape) survives a strain e. Scale and shape differ from
// stock to stock.
//
// What is assumed before anything was seen is a judgement throughout: that the
// published limit is the strain that 2 % of intervals would not survive, that
// stocks of one alloy differ by about a fifth, and that one interval differs from
// the next on the same stock by about a ninth. It follows that metal is taken to
// split on average at 1.7 times the published limit. There is one
// figure to hold against that: brass, which a textbook problem (Callister, 8th
// ed., design problems of chapter 8) takes to crack at 65 % off the thickness
// where the table lets the hand take 40 %, is 2.05 times, within the spread. The
// first interval that is logged starts to overrule all of it.
//
// The prior is all that speaks of strains to which the stock never went. A warning
// therefore follows what was learned downwards at once, and upwards only if the
// smith says so and no further than the metal has gone.
//
// The logarithm of the scale is normal before the data and the shape is one of
// a few values. For each shape the data come down to one sum of powers, the
// number of splits and their mean logarithm, so that a hundred thousand
// intervals cost no more to reckon with than ten, and it does not matter in how
// many parts they are learned.
package split
