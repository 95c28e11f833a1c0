package plots

import (
	"image/color"
	"testing"
)

// TestPaletteInGrey: the colours keep their order and distance in grey
// (luma of ITU-R BT.601).
func TestPaletteInGrey(t *testing.T) {
	luma := func(c color.NRGBA) float64 { return 0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B) }
	order := []color.NRGBA{ink, navy, rust, slate, sand, mist, white}
	for i := 1; i < len(order); i++ {
		if luma(order[i])-luma(order[i-1]) < 15 {
			t.Errorf("colours %d and %d are %.0f apart in grey", i-1, i, luma(order[i])-luma(order[i-1]))
		}
	}
}
