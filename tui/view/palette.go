package view

import (
	"fmt"
	"math"
)

// RGB is a colour of the sRGB space, 8 bits a channel.
type RGB struct{ R, G, B uint8 }

func hex(rgb uint32) RGB { return RGB{uint8(rgb >> 16), uint8(rgb >> 8), uint8(rgb)} }

// String is the colour as "#rrggbb".
func (c RGB) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Luminance is the relative luminance of WCAG 2.x, 0 for black to 1 for white. (Its
// first text has the knee at 0.03928 instead of 0.04045; no 8-bit channel lies
// between them.)
func (c RGB) Luminance() float64 {
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

func linear(channel uint8) float64 {
	v := float64(channel) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// flare is the light that the screen throws back, in ContrastRatio.
const flare = 0.05

// ContrastRatio is the contrast of WCAG 2.x, 1 (the same) to 21 (black and white);
// the order of the two does not matter.
func ContrastRatio(a, b RGB) float64 {
	la, lb := a.Luminance(), b.Luminance()
	return (max(la, lb) + flare) / (min(la, lb) + flare)
}

// middleLuminance has the same contrast with black as with white: the square root
// of 1.05 x 0.05, less 0.05. Above it a ground counts as light.
const middleLuminance = 0.1791

// paint is the coloured part of an ink.
type paint struct {
	fg, bg   uint32
	fg8, bg8 int8
}

// The pages of the themes.
const (
	darkPage     = 0x101012
	lightPage    = 0xf7f5f0
	contrastPage = 0x000000
	hearthPage   = 0x000000
)

// palettes hold every role but the swatches. A state and the one that follows from
// it share a colour, first as ink and then as ground: soon and act, fire and hot.
var palettes = [themeCount][roleCount]paint{
	Dark: {
		Plain: {0xe6e6e6, darkPage, 7, 0},
		Dim:   {0x9a9a9a, darkPage, 7, 0},
		Bold:  {0xffffff, darkPage, 7, 0},
		Title: {0xf2f2f2, 0x2b3440, 7, 4},
		Calm:  {0x8fd0ff, darkPage, 6, 0},
		Soon:  {0xffb020, darkPage, 3, 0},
		Act:   {darkPage, 0xffb020, 0, 3},
		Fire:  {0xff9e6e, darkPage, 5, 0},
		Hot:   {darkPage, 0xff9e6e, 0, 5},
		Ask:   {0xe8e4ff, 0x3a2f7a, 7, 4},
		Fault: {0xffffff, 0x8b0000, 7, 1},
		Full:  {0xffd27a, darkPage, 3, 0},
		Over:  {0xffffff, 0x8b0000, 7, 1},
		Rest:  {0x707074, darkPage, 7, 0},
		Tick:  {0xb0b0b4, darkPage, 7, 0},
		Key:   {0xffffff, 0x33333a, 0, 7},
		Mark:  {0xf0d0ff, 0x4a2060, 7, 4},
		Alarm: {darkPage, 0xffffff, 0, 7},
		Toast: {0xffffff, 0x26303a, 7, 4},
		Field: {0xe6e6e6, 0x24242a, 7, 0},
		Focus: {darkPage, 0x8fd0ff, 0, 6},
	},
	Light: {
		Plain: {0x1a1a1a, lightPage, 0, 7},
		Dim:   {0x5c5c5c, lightPage, 0, 7},
		Bold:  {0x000000, lightPage, 0, 7},
		Title: {0xffffff, 0x26303a, 7, 4},
		Calm:  {0x0b3d66, lightPage, 4, 7},
		Soon:  {0x7a2e00, lightPage, 1, 7},
		Act:   {0xffffff, 0x7a2e00, 7, 1},
		Fire:  {0x6a1552, lightPage, 0, 7},
		Hot:   {0xffffff, 0x6a1552, 0, 6},
		Ask:   {0x2a2266, 0xdcdaf5, 7, 4},
		Fault: {0x000000, 0xf0b400, 0, 3},
		Full:  {0x5a3a00, lightPage, 1, 7},
		Over:  {0xffffff, 0x7a0000, 7, 1},
		Rest:  {0x808080, lightPage, 0, 7},
		Tick:  {0x606060, lightPage, 0, 7},
		Key:   {0x000000, 0xd8d6d0, 7, 0},
		Mark:  {0x3d0a5c, 0xead8f5, 7, 4},
		Alarm: {0xffffff, 0x000000, 7, 0},
		Toast: {0x000000, 0xdde6ee, 7, 4},
		Field: {0x1a1a1a, 0xe6e4de, 0, 7},
		Focus: {0xffffff, 0x0b3d66, 7, 4},
	},
	Contrast: {
		Plain: {0xffffff, contrastPage, 7, 0},
		Dim:   {0xc8c8c8, contrastPage, 7, 0},
		Bold:  {0xffffff, contrastPage, 7, 0},
		Title: {0x000000, 0xd8d8d8, 0, 7},
		Calm:  {0x7fe0ff, contrastPage, 6, 0},
		Soon:  {0xffff00, contrastPage, 3, 0},
		Act:   {0x000000, 0xffff00, 0, 3},
		Fire:  {0xffc890, contrastPage, 7, 0},
		Hot:   {0x000000, 0xffc890, 0, 6},
		Ask:   {0xffffff, 0x0000a0, 7, 4},
		Fault: {0xffffff, 0x8b0000, 7, 1},
		Full:  {0xffff00, contrastPage, 3, 0},
		Over:  {0xffffff, 0x8b0000, 7, 1},
		Rest:  {0xa0a0a0, contrastPage, 7, 0},
		Tick:  {0xffffff, contrastPage, 7, 0},
		Key:   {0x000000, 0xffffff, 0, 7},
		Mark:  {0x000000, 0xe0b0ff, 7, 4},
		Alarm: {0x000000, 0xffffff, 0, 7},
		Toast: {0xffffff, 0x0000a0, 7, 4},
		Field: {0xffffff, 0x202020, 7, 0},
		Focus: {0x000000, 0x7fe0ff, 0, 6},
	},
	// 7:1 on black needs a luminance of 0.30, which pure red (0.21) does not reach:
	// every ink carries some green, and none goes far above that floor. With 8 colours
	// there are red and yellow on black and no more: yellow on red is 1.5:1 on the
	// Linux console, whose yellow is brown.
	Hearth: {
		Plain: {0xc89000, hearthPage, 3, 0},
		Dim:   {0xa06c00, hearthPage, 3, 0},
		Bold:  {0xe68c00, hearthPage, 3, 0},
		Title: {0xe68c00, 0x180800, 3, 0},
		Calm:  {0xbe9400, hearthPage, 3, 0},
		Soon:  {0xe68200, hearthPage, 3, 0},
		Act:   {0xff8414, 0x300000, 1, 0},
		Fire:  {0xff6800, hearthPage, 3, 0},
		Hot:   {0xff7800, 0x280000, 1, 0},
		Ask:   {0xd28c1e, hearthPage, 3, 0},
		Fault: {0xff8028, 0x380000, 1, 0},
		Full:  {0xe68200, hearthPage, 3, 0},
		Over:  {0xff8028, 0x380000, 1, 0},
		Rest:  {0x8a5000, hearthPage, 3, 0},
		Tick:  {0xa06c00, hearthPage, 3, 0},
		Key:   {0xe68c00, 0x180800, 3, 0},
		Mark:  {0xff8414, 0x200800, 3, 0},
		Alarm: {0xff8c00, 0x400000, 1, 0},
		Toast: {0xe68c00, 0x100400, 3, 0},
		Field: {0xd29600, 0x100400, 3, 0},
		Focus: {0xff8c00, 0x300000, 1, 0},
	},
}

// glows are labels and not matches: the light of metal at annealing heats is redder
// than any red of sRGB, and a screen cannot show how dim it is. These only rise in
// order, from nearly black by deep red to orange; the steps are a judgement. With
// 8 colours three of them are left.
var glows = [...]paint{
	{0x140606, 0, 0, 0},
	{0x460000, 0, 1, 0},
	{0x7a0800, 0, 1, 0},
	{0xac1400, 0, 1, 0},
	{0xde3200, 0, 1, 0},
	{0xff6e00, 0, 3, 0},
}
