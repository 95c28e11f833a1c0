package loss_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"

	"wyewright/network/loss"
)

// The friction of nine runs of new round galvanised duct of 8 in (Huebscher
// 1947) against Colebrook with several roughnesses: what a roughness does to a
// prediction. The default of steel duct here is 0.09 mm; the errors are of the
// pressure lost by friction alone. The table is pinned.
func ExampleFriction_measured() {
	text, err := os.Open("../../testdata/reference/friction_measured_1947.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer text.Close()
	rows, err := csv.NewReader(text).ReadAll()
	if err != nil {
		fmt.Println(err)
		return
	}
	column := func(name string) int { return slices.Index(rows[0], name) }
	number := func(row []string, name string) float64 {
		x, _ := strconv.ParseFloat(row[column(name)], 64)
		return x
	}
	fmt.Println("roughness   mean error   least   most      rms")
	for _, mm := range []float64{0, 0.0074, 0.03, 0.045, 0.06, 0.09, 0.12, 0.15} {
		var n, sum, squares float64
		least, most := math.Inf(1), math.Inf(-1)
		for _, row := range rows[1:] {
			if row[0] != "measured_friction_factor" {
				continue
			}
			f, _ := loss.Friction(number(row, "Re"), mm*1e-3/(number(row, "D_in")*0.0254))
			e := 100 * (f/number(row, "value") - 1)
			n, sum, squares = n+1, sum+e, squares+e*e
			least, most = min(least, e), max(most, e)
		}
		fmt.Printf("%6.4f mm   %+7.1f %%  %+6.1f  %+5.1f  %5.1f %%\n", mm, sum/n, least, most, math.Sqrt(squares/n))
	}
	// Output:
	// roughness   mean error   least   most      rms
	// 0.0000 mm      -1.3 %    -6.1   +3.1    2.9 %
	// 0.0074 mm      +0.6 %    -2.0   +4.1    1.9 %
	// 0.0300 mm      +5.7 %    +1.0   +8.1    6.2 %
	// 0.0450 mm      +8.6 %    +2.5  +13.4    9.4 %
	// 0.0600 mm     +11.3 %    +4.0  +18.1   12.3 %
	// 0.0900 mm     +16.2 %    +6.8  +26.1   17.5 %
	// 0.1200 mm     +20.5 %    +9.4  +32.9   22.1 %
	// 0.1500 mm     +24.4 %   +11.9  +38.9   26.3 %
}
