package coldwork_test

import (
	"fmt"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

func ExampleSum_Reckon() {
	silver, _ := alloys.Find("sterling")
	r, err := coldwork.Sum{
		Alloy:     silver,
		From:      coldwork.Section{Shape: unit.Rectangular, Thick: 8, Width: 8},
		To:        coldwork.Section{Shape: unit.Rectangular, Thick: 6.4, Width: 7.2},
		Passes:    4,
		Calliper:  0.1,
		Condition: alloys.Wrought,
	}.Reckon()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v taken off (%v to %v)\n", r.Reduction, r.ReductionLow, r.ReductionHigh)
	fmt.Printf("strain %v of %v (%s): %.0f %% spent\n", r.Strain.Strain, r.Limit.Strain, r.Limit.Text, 100*r.Spent)
	fmt.Printf("%.0f to %.0f HV\n", r.Temper.Hardness.Low, r.Temper.Hardness.High)
	fmt.Printf("%d courses left, likely %d, at most %d\n", r.Courses.Low, r.Courses.Likely, r.Courses.High)
	// Output:
	// 28 % of area taken off (26 % of area to 30 % of area)
	// strain 0.335 of 0.69 (45 % of thickness): 49 % spent
	// 93 to 110 HV
	// 3 courses left, likely 4, at most 5
}

func ExampleBetween() {
	wire := func(d unit.Millimetre) coldwork.Section {
		return coldwork.Section{Shape: unit.Round, Diameter: d}
	}
	strain := coldwork.Between(wire(3), wire(2.5))
	fmt.Println(strain, strain.AreaReduction())
	// Output: 0.365 30.6 % of area
}
