package sheet

// words explains what stands in a sheet to somebody who never held a hammer; it is at
// the foot of every page and PDF.
var words = []fact{
	{"Course", "Once over the metal with the hammer, or once through the rolls or the drawplate."},
	{"Zone", "A part of the piece that is followed by itself."},
	{"Strain", "How far a step reshaped the metal while it was cold, as a true strain: about 0.1 is a bar drawn a tenth longer, 0.69 one drawn to twice its length."},
	{"Strain since soft", "The strain that has added up since the metal was last soft. Only a heat that was proved soft sets it back to 0."},
	{"Limit spent", "That sum as a share of the strain after which this metal must be made soft again (annealed), by the tables of today or by the smith's own limit. " +
		"Past 100 % it is likelier to split. A casting has less to spend at first, and so has a piece that cracked."},
	{"Proved", "After a heat the smith bends the metal. Soft: it gave, and the anneal is done. Springy: it sprang back, and is not soft. " +
		"Never proved: nobody bent it before it was worked or heated again."},
	{"Flux", "A coat that keeps the air from the hot metal. Without it, silver that holds copper stains below its surface (fire-stain)."},
}
