package picture

import "math"

// drawMarker draws a marker about a spot. Hollow ones are white within.
func drawMarker(m Marker, at spot, to pen) {
	thin := style{wide: ruleWide}
	switch m {
	case NoMarker:
	case Cross:
		r := markerBig * 0.8
		to.path([]spot{{at.x - r, at.y - r}, {at.x + r, at.y + r}}, style{wide: lineWide})
		to.path([]spot{{at.x - r, at.y + r}, {at.x + r, at.y - r}}, style{wide: lineWide})
	case Ring:
		shape := outline(m, at)
		to.area(shape, white)
		to.path(append(shape, shape[0]), thin)
	case Disc, Square, Triangle, Diamond:
		to.area(outline(m, at), black)
	}
}

// outline is the edge of a marker.
func outline(m Marker, at spot) []spot {
	corners, turn, r := 24, 0.0, float64(markerBig)
	switch m {
	case Square:
		corners, turn, r = 4, math.Pi/4, markerBig*1.25
	case Triangle:
		corners, turn, r = 3, -math.Pi/2, markerBig*1.3
	case Diamond:
		corners, turn, r = 4, 0, markerBig*1.25
	}
	all := make([]spot, corners)
	for i := range all {
		sin, cos := math.Sincos(turn + 2*math.Pi*float64(i)/float64(corners))
		all[i] = spot{at.x + r*cos, at.y + r*sin}
	}
	return all
}
