package plots_test

import (
	"fmt"

	"wyewright/plots"
)

// The pressures are invented.
func ExampleLossWaterfall() {
	fig, err := plots.LossWaterfall(plots.WaterfallData{
		Title: "Where the pressure goes: lathe",
		Unit:  "Pa",
		Steps: []plots.Step{
			{Label: "entry of lathe", Kind: plots.StepEntry, Pressure: 310},
			{Label: "lathe hose, straight", Kind: plots.StepStraight, Pressure: 420},
			{Label: "wye 1", Kind: plots.StepWye, Pressure: -35},
			{Label: "main 1, straight", Kind: plots.StepStraight, Pressure: 180},
			{Label: "filter", Kind: plots.StepFilter, Pressure: 350},
			{Label: "fan", Kind: plots.StepTotal, Pressure: 1225},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	width, height := fig.Size()
	fmt.Printf("%s: %.1f cm × %.1f cm\n", fig.Title(), width, height)
	// Output: Where the pressure goes: lathe: 17.0 cm × 5.6 cm
}
