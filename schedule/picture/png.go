package picture

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// dotsPerInch of a PNG. It is 1260 dots wide.
const dotsPerInch = 200

const dotsPerMM = dotsPerInch / 25.4

// PNG is a figure as a grey image of 200 dots to the inch, which stands in it, as do
// its title and description (PNG 1.2, pHYs and iTXt). It fails only where the letters
// cannot be read.
func PNG(f Figure) ([]byte, error) {
	all, err := faces()
	if err != nil {
		return nil, err
	}
	p := layOut(f)
	high := int(math.Ceil(min(p.high, mostPaper) * dotsPerMM))
	to := &pngPen{fonts: all, page: image.NewRGBA(image.Rect(0, 0, int(math.Ceil(paperWide*dotsPerMM)), high)), faces: map[cut]font.Face{}}
	draw.Draw(to.page, to.page.Bounds(), image.White, image.Point{}, draw.Src)
	drawFigure(f, p, to)
	if to.err != nil {
		return nil, to.err
	}
	var out bytes.Buffer
	if err := png.Encode(&out, grey(to.page)); err != nil {
		return nil, fmt.Errorf("the picture: %w", err)
	}
	return described(out.Bytes(), f), nil
}

// mostPaper is the highest image, in mm: a figure of more lines than that is cut.
const mostPaper = 600

// grey is an image of greys in one byte a dot.
func grey(from *image.RGBA) *image.Gray {
	to := image.NewGray(from.Bounds())
	for i := range to.Pix {
		to.Pix[i] = from.Pix[4*i]
	}
	return to
}

// described puts the scale, the title and the description behind the head of a PNG.
func described(file []byte, f Figure) []byte {
	const head = 8 + 4 + 4 + 13 + 4 // the signature and the first chunk
	scale := binary.BigEndian.AppendUint32(nil, uint32(math.Round(1000*dotsPerMM)))
	scale = append(binary.BigEndian.AppendUint32(scale, uint32(math.Round(1000*dotsPerMM))), 1) // to the metre
	out := append([]byte{}, file[:head]...)
	out = chunk(out, "pHYs", scale)
	out = chunk(out, "iTXt", append([]byte("Title\x00\x00\x00\x00\x00"), plain(f.Title)...))
	out = chunk(out, "iTXt", append([]byte("Description\x00\x00\x00\x00\x00"), plain(f.Desc)...))
	return append(out, file[head:]...)
}

// chunk adds one with its length and checksum.
func chunk(to []byte, kind string, data []byte) []byte {
	to = binary.BigEndian.AppendUint32(to, uint32(len(data)))
	body := append([]byte(kind), data...)
	return binary.BigEndian.AppendUint32(append(to, body...), crc32.ChecksumIEEE(body))
}

// pngPen fills dots.
type pngPen struct {
	page   *image.RGBA
	fonts  [2]*sfnt.Font
	faces  map[cut]font.Face
	raster vector.Rasterizer
	err    error
}

// cut is a face at a size.
type cut struct {
	size float64
	bold bool
}

func (g *pngPen) area(points []spot, grey int) { g.fill([][]spot{points}, grey) }

// path strokes each dash as an area of its own: a bar, with round ends where lines meet.
func (g *pngPen) path(points []spot, s style) {
	var parts [][]spot
	for _, run := range dashed(points, s.dash) {
		for i := 1; i < len(run); i++ {
			parts = append(parts, barOf(run[i-1], run[i], s.wide))
			if i > 1 {
				parts = append(parts, jointOf(run[i-1], s.wide))
			}
		}
	}
	for _, part := range parts {
		g.fill([][]spot{part}, s.grey)
	}
}

// fill fills outlines, in no more of the raster than they need.
func (g *pngPen) fill(outlines [][]spot, grey int) {
	low, high := spot{math.Inf(1), math.Inf(1)}, spot{math.Inf(-1), math.Inf(-1)}
	for _, o := range outlines {
		for _, p := range o {
			low = spot{min(low.x, p.x*dotsPerMM), min(low.y, p.y*dotsPerMM)}
			high = spot{max(high.x, p.x*dotsPerMM), max(high.y, p.y*dotsPerMM)}
		}
	}
	whole := g.page.Bounds()
	if !(high.x >= low.x) || low.x < -1 || low.y < -1 || high.x > float64(whole.Max.X)+1 || high.y > float64(whole.Max.Y)+1 {
		return
	}
	r := image.Rect(int(math.Floor(low.x)), int(math.Floor(low.y)), int(math.Ceil(high.x))+1, int(math.Ceil(high.y))+1)
	g.raster.Reset(r.Dx(), r.Dy())
	for _, o := range outlines {
		for i, p := range o {
			x, y := float32(p.x*dotsPerMM-float64(r.Min.X)), float32(p.y*dotsPerMM-float64(r.Min.Y))
			if i == 0 {
				g.raster.MoveTo(x, y)
			} else {
				g.raster.LineTo(x, y)
			}
		}
		g.raster.ClosePath()
	}
	g.raster.Draw(g.page, r, image.NewUniform(color.Gray{uint8(grey)}), image.Point{})
}

// face is that of a size, read once for each.
func (g *pngPen) face(c cut) font.Face {
	if g.faces[c] != nil {
		return g.faces[c]
	}
	f := g.fonts[0]
	if c.bold {
		f = g.fonts[1]
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: c.size / 25.4 * 72, DPI: dotsPerInch, Hinting: font.HintingNone})
	if err != nil {
		g.err = fmt.Errorf("the letters of the picture: %w", err)
		return nil
	}
	g.faces[c] = face
	return face
}

func (g *pngPen) text(t lettering) {
	face := g.face(cut{t.size, t.bold})
	if face == nil {
		return
	}
	text := g.shown(plain(t.text))
	wide := float64(font.MeasureString(face, text)) / 64
	shift := wide * [...]float64{fromLeft: 0, inMiddle: 0.5, toRight: 1}[t.side]
	x, y := t.at.x*dotsPerMM, t.at.y*dotsPerMM
	if t.turned {
		g.turned(face, text, spot{x, y + shift})
		return
	}
	d := font.Drawer{Dst: g.page, Src: image.Black, Face: face, Dot: fixed.Point26_6{X: fixed.Int26_6((x - shift) * 64), Y: fixed.Int26_6(y * 64)}}
	d.DrawString(text)
}

// turned writes a text upwards from the left end of its foot, in dots.
func (g *pngPen) turned(face font.Face, text string, at spot) {
	wide, high := font.MeasureString(face, text).Ceil()+2, face.Metrics().Height.Ceil()
	foot := face.Metrics().Ascent.Ceil()
	flat := image.NewAlpha(image.Rect(0, 0, wide, high+foot))
	d := font.Drawer{Dst: flat, Src: image.Opaque, Face: face, Dot: fixed.P(0, foot)}
	d.DrawString(text)
	for y := range flat.Rect.Dy() {
		for x := range wide {
			if a := flat.AlphaAt(x, y).A; a > 0 {
				g.ink(int(at.x)+y-foot, int(at.y)-x, a)
			}
		}
	}
}

// ink darkens one dot.
func (g *pngPen) ink(x, y int, a uint8) {
	if !(image.Point{x, y}).In(g.page.Rect) {
		return
	}
	was := g.page.RGBAAt(x, y)
	shade := uint8(int(was.R) * (255 - int(a)) / 255)
	g.page.SetRGBA(x, y, color.RGBA{shade, shade, shade, 255})
}

// shown is a text in the letters of the fonts; one that they lack stands as its number.
func (g *pngPen) shown(text string) string {
	var buf sfnt.Buffer
	out := make([]rune, 0, len(text))
	for _, r := range text {
		if i, err := g.fonts[0].GlyphIndex(&buf, r); (err != nil || i == 0) && !unicode.IsSpace(r) {
			out = append(out, []rune(fmt.Sprintf("[U+%04X]", r))...)
			continue
		}
		out = append(out, r)
	}
	return string(out)
}
