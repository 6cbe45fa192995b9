package unit_test

import (
	"fmt"

	"dullred/alloys/unit"
)

func ExampleParseLength() {
	for _, text := range []string{"12,5", "1/2in", "20ga", "20swg"} {
		length, err := unit.ParseLength(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(length)
	}
	// Output:
	// 12.5 mm
	// 12.7 mm
	// 0.811821 mm
	// "20swg": SWG is another table than the B&S gauge, so give the size in mm
}

func ExampleParseSize() {
	for _, text := range []string{"8 x 6.5mm", "ø3", "12x1 tube", "1.2", "8x-6"} {
		size, err := unit.ParseSize(text, unit.Sheet) // the piece has been a sheet so far
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(size)
	}
	// Output:
	// 8x6.5 mm
	// 3 mm round
	// 12x1 mm tube
	// 1.2 mm sheet
	// "8x-6": expected a size such as 8x8, 8 x 6.5mm, 3 round, 1.2 sheet or 20ga round
}

// The same half is less strain in drawn wire than in rolled strip.
func ExampleParseReduction() {
	for _, text := range []string{"50%", "0.5 area"} {
		r, err := unit.ParseReduction(text, unit.ThicknessKind)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(r, "is strain", r.Strain())
	}
	// Output:
	// 50 % of thickness is strain 0.8
	// 50 % of area is strain 0.693
}

func ExampleStrain_Worked() {
	strip := unit.ThicknessReduction(0.20).Strain()
	wire := unit.AreaReduction(0.30).Strain()
	fmt.Println((strip + wire).Worked())
	// Output: 41.3 % of thickness
}

func ExampleFormatDuration() {
	d, err := unit.ParseDuration("6:12")
	fmt.Println(unit.FormatDuration(d), err)
	// Output: 6 min 12 s <nil>
}
