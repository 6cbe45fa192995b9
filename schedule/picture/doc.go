// Package picture draws the making of a piece: the strain between its heats, its
// hardness, the heats that a thermocouple read and its shape before and after; and
// the heats of a class and the trial of a simulated shop.
//
//	story := picture.Of(picture.Source{Name: "spoon", Entries: entries})
//	figure := story.Strain()
//	svg := picture.SVG(figure)
//	png, err := picture.PNG(figure)
//	fmt.Print(picture.Text(figure, picture.Terminal{Columns: 78}))
//
// A [Story] is one replay of the entries. A [Figure] is the one description of a
// picture, in figures of the metal; SVG, PNG and Text draw it and add nothing. A
// figure tells things apart by dashes and markers, never by colour, and its letters
// are no smaller than 8 points where it is printed at its own width of 160 mm.
//
// What is not known is not drawn, and the picture says so in words.
//
// # Why the pens are our own
//
// gonum.org/v1/plot v0.17.0 was measured first (Go 1.26, linux/amd64, stripped; a
// picture of one line and 60 points). Its packages need 3.5 to 5.5 ms before main
// starts, whatever the command, where 1 ms was allowed; they add 7.5 MB; a picture
// takes 0.4 ms as SVG and 26 to 56 ms as PNG at 150 dpi. A rasteriser and the Go
// fonts (golang.org/x/image) need 0.1 ms, add 0.5 MB and take 13 to 35 ms, and the
// fonts are in the program for its pages on paper.
package picture
