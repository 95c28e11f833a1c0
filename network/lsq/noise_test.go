package lsq_test

import (
	"math"
	"testing"

	"wyewright/network/lsq"
)

// A model that is itself solved to a tolerance is rough at a small scale. With
// differences to match, the fit of a·exp(−b·t) to its own values plus a misfit
// comes close to that of the smooth model, *computed by* this package.
func TestRoughModel(t *testing.T) {
	const rough = 1e-7
	p := &lsq.Problem{N: 2, M: 9, Residuals: func(x, r []float64) error {
		for i := range r {
			at := float64(i) / 2
			v := x[0] * math.Exp(-x[1]*at)
			r[i] = math.Round(v/rough)*rough - 2*math.Exp(-0.7*at) - 0.01*math.Cos(9*at)
		}
		return nil
	}}
	fine := *p
	fine.Residuals = func(x, r []float64) error {
		for i := range r {
			at := float64(i) / 2
			r[i] = x[0]*math.Exp(-x[1]*at) - 2*math.Exp(-0.7*at) - 0.01*math.Cos(9*at)
		}
		return nil
	}
	want := solve(t, &fine, 1, 1)
	res, err := lsq.Solve(t.Context(), p, []float64{1, 1}, &lsq.Settings{Difference: math.Cbrt(rough)})
	if err != nil {
		t.Fatal(err)
	}
	for k, v := range want.X {
		near(t, "rough fit", res.X[k], v, 1e-5)
		se := want.StandardErrors(1)[k]
		near(t, "rough error", res.StandardErrors(1)[k]/se, 1, 1e-4)
	}
	if want.Status != lsq.Converged || !(res.Offset < 1e-3) {
		t.Errorf("fine: %v, rough: %v at offset %g", want.Status, res.Status, res.Offset)
	}
}
