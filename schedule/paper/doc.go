// Package paper lays text and tables out on A4 pages and writes them as a PDF.
//
//	d := paper.New(paper.Head{Title: "Making record of spoon", Made: last})
//	d.Part("spoon")
//	d.Heading("Making record of spoon")
//	d.Table(paper.Table{Caption: "Work", Heads: heads, Rows: rows})
//	out, err := d.Bytes()
//
// A Poster is one page in large letters, for a wall. Fits tells before whether all of it
// goes on.
//
// A part begins on a new page and has page numbers of its own. The margins are wide
// enough that the same page prints at full size on Letter, centred or from the top.
// All is black on white and no letter is smaller than 8 points; lengths in this
// package are points (1/72 inch).
//
// The letters are the Go fonts, which have Latin, Greek and Cyrillic. A letter that
// they lack is shown by its number, as [U+4E2D], never dropped; so is one that turns
// the direction of a text or does not print. Words of a script that is written from
// right to left stand as such numbers in the order in which they are stored.
//
// The same calls give the same bytes: the date in the file is what Head says, and no
// clock is read. A file has a title and no author; there is no link, script or action
// in it.
package paper
