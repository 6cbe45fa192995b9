package stock_test

import (
	"fmt"

	"dullred/schedule/stock"
)

func ExampleParseShape() {
	s, err := stock.ParseShape("0:6x3 95:18x3 190:6x3")
	if err != nil {
		fmt.Println(err)
		return
	}
	area, at := s.Largest(0, s.Length())
	fmt.Println(s.Volume(), "of metal, at most", area, "at", at)
	fmt.Println("half way to the end:", s.At(142.5))
	// Output:
	// 6840 mm³ of metal, at most 54 mm² at 95 mm
	// half way to the end: 12x3
}

func ExampleJob_Forward() {
	s, _ := stock.ParseShape("0:6x3 95:18x3 190:6x3")
	bar, _ := stock.ParseSection("10x10")
	j := stock.Job{
		Volume:  s.Volume(),
		Density: stock.Spread{Value: 10.36, Low: 10.36, High: 10.36},
		Losses:  []stock.Loss{stock.NewLoss(stock.Work, 0.025), stock.NewLoss(stock.Crop, 0.05)},
		Bar:     bar,
	}
	m, err := j.Forward()
	fmt.Printf("%.2f g finished, %.1f g to cast, a bar of %.2f mm, %v\n", float64(m.Finished), float64(m.Cast), float64(m.BarLength), err)
	// Output: 70.86 g finished, 76.5 g to cast, a bar of 73.85 mm, <nil>
}
