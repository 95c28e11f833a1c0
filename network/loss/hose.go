package loss

// The friction factor of flexible hose as a multiple of smooth pipe at the
// same Reynolds number, f_hose = M·f_smooth(Re). Published multiples run from
// 1.6 to 5.8, so that one number is a choice (common practice) and the band
// belongs beside every result that rests on it.
const (
	// HoseMultiple is the default M of a hose pulled straight.
	HoseMultiple = 3
	// HoseMultipleLow is the low end of the honest band.
	HoseMultipleLow = 2
	// HoseMultipleHigh is the high end of the honest band.
	HoseMultipleHigh = 5
	// HoseSlack multiplies the loss of a hose that is not pulled straight
	// (common practice).
	HoseSlack = 1.5
)

// HawthorneHose returns the Darcy friction factor of a corrugated hose of
// inner diameter d and corrugation pitch S (same unit), each corrugation
// taken as an abrupt expansion (Hawthorne & von Helms 1963):
//
//	f = (D/S)·[1 − (D/(D + 0.438 S))²]²
//
// It does not depend on the Reynolds number and knows nothing of sag or
// bends. It returns 0 where either size is not positive.
func HawthorneHose(d, pitch float64) float64 {
	if !(d > 0 && pitch > 0) {
		return 0
	}
	r := d / (d + 0.438*pitch)
	e := 1 - r*r
	return d / pitch * e * e
}
