package plots_test

import (
	"fmt"

	"wyewright/plots"
)

// The suctions are invented.
func ExamplePressureProfile() {
	fig, err := plots.PressureProfile(plots.ProfileData{
		Title: "Suction along the way: lathe", Pressure: "Pa", Length: "m",
		Stations: []plots.Station{
			{Name: "lathe"},
			{Distance: 0, Total: 310, Static: 520}, // entry
			{Distance: 3.5, Total: 730, Static: 940},
			{Name: "wye 1", Distance: 3.5, Total: 695, Static: 860}, // the wye gives pressure back
			{Name: "fan inlet", Distance: 9, Total: 875, Static: 1040},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	width, height := fig.Size()
	fmt.Printf("%s: %.1f cm × %.1f cm\n", fig.Title(), width, height)
	// Output: Suction along the way: lathe: 17.0 cm × 11.4 cm
}
