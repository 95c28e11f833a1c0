package calibrate

import (
	"math"
	"testing"
)

// TestWrongReadingHasNoSize: a reading left out is no parameter; a range of 0 to
// 0 would say that it is known exactly.
func TestWrongReadingHasNoSize(t *testing.T) {
	m := &model{readings: []Reading{{Name: "main in saw"}}}
	if e := m.estimate(&attempt{reading: 0}); !math.IsInf(e.Sigma, 1) {
		t.Errorf("sigma %g", e.Sigma)
	}
}
