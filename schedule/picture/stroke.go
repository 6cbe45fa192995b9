package picture

import "math"

// barOf is the outline of a straight line of a width.
func barOf(a, b spot, wide float64) []spot {
	long := math.Hypot(b.x-a.x, b.y-a.y)
	if long == 0 {
		return jointOf(a, wide)
	}
	x, y := -(b.y-a.y)/long*wide/2, (b.x-a.x)/long*wide/2
	return []spot{{a.x + x, a.y + y}, {b.x + x, b.y + y}, {b.x - x, b.y - y}, {a.x - x, a.y - y}}
}

// jointOf rounds where two lines meet.
func jointOf(at spot, wide float64) []spot {
	const corners = 8
	all := make([]spot, corners)
	for i := range all {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		all[i] = spot{at.x + wide/2*cos, at.y + wide/2*sin}
	}
	return all
}

// dashed cuts a line into its dashes; without any it is one.
func dashed(points []spot, dash []float64) (all [][]spot) {
	if len(dash) == 0 || len(points) < 2 {
		return [][]spot{points}
	}
	on, k, left := true, 0, dash[0]
	run := []spot{points[0]}
	for i := 1; i < len(points); i++ {
		from, to := points[i-1], points[i]
		long := math.Hypot(to.x-from.x, to.y-from.y)
		for done := 0.0; long-done > 1e-9; {
			step := min(left, long-done)
			done, left = done+step, left-step
			at := spot{from.x + (to.x-from.x)*done/long, from.y + (to.y-from.y)*done/long}
			if on {
				run = append(run, at)
			}
			if left > 1e-9 {
				continue
			}
			if on {
				all = append(all, run)
			}
			on, k = !on, (k+1)%len(dash)
			left, run = dash[k], []spot{at}
		}
	}
	if on && len(run) > 1 {
		all = append(all, run)
	}
	return all
}
