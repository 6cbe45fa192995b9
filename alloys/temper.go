package alloys

import (
	"math"

	"dullred/alloys/unit"
)

// Temper is the reduction of a temper that the trade counts in Brown & Sharpe
// gauge numbers: H01 is 1 number hard, H02 2, H03 3, H04 4, H06 6, H08 8 and
// H10 10. Each number divides the gauge by 92^(1/39), since the gauge makes 39
// even steps from 0.460 in (0000) to 0.005 in (36). Strip takes the numbers on
// its thickness, 1-92^(-n/39); wire on its diameter, so that its area loses
// 1-92^(-2n/39) and the same name means a larger strain. Fewer than 0 numbers
// count as 0.
func Temper(numbers int) (strip unit.ThicknessReduction, wire unit.AreaReduction) {
	gauge := float64(max(numbers, 0)) * math.Log(92) / 39
	return unit.ThicknessReduction(-math.Expm1(-gauge)), unit.AreaReduction(-math.Expm1(-2 * gauge))
}
