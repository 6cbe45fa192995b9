// Package benchcard makes cards for the wall above a bench: a heat of a metal, or the
// plan of a piece, on one A4 page in letters that are read from the anvil.
//
//	c, err := benchcard.OfMetal(benchcard.Metal{Start: start})
//	out, err := c.PDF()
//
// A card holds what a smith looks up with the torch in his hand, by schedule.CardOf
// and schedule.Plan: temperatures in °C, the colour in each light, the hold, the
// quench, when it can be touched, and the cautions. What others do and where the
// figures are from stand in the long card that its foot names.
//
// A card goes on one page, whatever it is about. Where it is too long, what is good to
// know goes first; then the later steps of a plan stand in one row of small letters; and
// where even that is too much the card says that there are more steps, or more cautions.
package benchcard
