package alloys_test

import (
	"fmt"

	"dullred/alloys"
	"dullred/alloys/unit"
)

func ExampleFind() {
	_, err := alloys.Find("silver")
	fmt.Println(err)
	// Output: no alloy is called "silver"; the nearest names are fine silver, Britannia silver, sterling silver
}

func ExampleAlloy_Default() {
	silver, _ := alloys.Find("sterling")
	limit, _ := silver.Default(alloys.Limit, alloys.Wrought)
	source, _ := alloys.SourceOf(limit.Source)
	strain, _ := limit.LimitStrain()
	fmt.Println(limit.Low, limit.Unit, limit.School, strain, source.Author)
	// Output: 45 pct_thickness compress-45 0.69 C. Lewton-Brain, Ganoksin forum
}

func ExampleCurve_At() {
	silver, _ := alloys.Find("sterling")
	curve, _ := silver.Curve(alloys.Hardness, alloys.Strip)
	low, high, ok := curve.At(unit.ThicknessReduction(0.25).Strain())
	fmt.Printf("%.0f to %.0f HV, %v\n", low, high, ok)
	_, _, ok = curve.At(unit.ThicknessReduction(0.60).Strain())
	fmt.Println(ok)
	// Output:
	// 96 to 107 HV, true
	// false
}

func ExampleFindSolder() {
	easy, _ := alloys.FindSolder("easy")
	flow, ok := easy.Default(alloys.Flow)
	fmt.Println(flow.Low, flow.Unit, ok)
	_, ok = easy.Default(alloys.Solidus)
	fmt.Println("solidus:", ok)
	// Output:
	// 718 C true
	// solidus: false
}
