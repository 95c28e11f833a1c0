package plots_test

import (
	"fmt"

	"wyewright/plots"
)

// The readings are invented.
func ExampleReadChart() {
	fig, err := plots.ReadChart(plots.ReadData{
		Title: "Readings and model: lathe",
		Panels: []plots.ReadPanel{
			{Quantity: "air speed", Unit: "m/s", Rows: []plots.ReadRow{
				{State: "lathe", Place: "main 1", Read: 18.2, Doubt: 0.6, Model: 18.9},
				{State: "lathe", Place: "main 2", Read: 14.1, Doubt: 0.5, Model: 17.3}, // odd
				{State: "lathe", Place: "lathe hose", Read: 30, Doubt: 0.9, Model: 31.2, Bound: plots.ReadAtLeast},
				{State: "lathe", Place: "bench hose", Read: 6.4, Doubt: 0.4, Model: 1.2, LeftOut: true},
			}},
			{Quantity: "suction", Unit: "Pa", Rows: []plots.ReadRow{
				{State: "lathe", Place: "fan inlet", Read: 1920, Doubt: 40, Model: 1955},
			}},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	width, height := fig.Size()
	fmt.Printf("%s: %.1f cm × %.1f cm\n", fig.Title(), width, height)
	// Output: Readings and model: lathe: 17.0 cm × 9.2 cm
}
