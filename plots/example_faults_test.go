package plots_test

import (
	"fmt"

	"wyewright/plots"
)

// The shop and its faults are invented.
func ExampleFaultMap() {
	fig, err := plots.FaultMap(plots.FaultData{
		AreaUnit: "cm2",
		Plan: plots.PlanData{
			Title: "Lathe shop, what was found", Unit: "m", Collector: plots.PlanMark{Name: "unit"},
			Runs:  []plots.PlanRun{{Name: "main", Path: [][3]float64{{6, 0, 3}, {0, 0, 3}}, Diameter: 160}},
			Tools: []plots.PlanMark{{Name: "lathe", At: [3]float64{6, 0, 3}}},
		},
		Faults: []plots.Fault{
			{Letter: "A", Place: plots.FaultPlace{Kind: plots.FaultLoss, Run: "main"}, Size: 3.2, Doubt: 0.4,
				Rivals: []plots.FaultPlace{{Kind: plots.FaultOpening, At: [3]float64{6, 0, 3}}}},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	width, height := fig.Size()
	fmt.Printf("%s: %.1f cm × %.1f cm\n", fig.Title(), width, height)
	// Output: Lathe shop, what was found: 17.0 cm × 5.7 cm
}

// The correlations are invented.
func ExampleCorrelation() {
	fig, err := plots.Correlation(plots.CorrelationData{
		Names: []string{"probe factor", "fan of unit"},
		R:     [][]float64{{1, -0.8}, {-0.8, 1}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	width, height := fig.Size()
	fmt.Printf("%s: %.1f cm × %.1f cm\n", fig.Title(), width, height)
	// Output: What the readings cannot tell apart: 17.0 cm × 5.2 cm
}
