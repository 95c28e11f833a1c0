package lsq_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"wyewright/network/lsq"
)

var update = flag.Bool("update", false, "write the table of digits anew")

// observed is what the model predicts: the logarithm for Nelson.
func (ref *reference) observed() []float64 {
	if ref.name != "Nelson" {
		return ref.y
	}
	out := make([]float64, len(ref.y))
	for i, y := range ref.y {
		out[i] = math.Log(y)
	}
	return out
}

// digits is the log relative error of the worst value, −log10 |q − c|/|c|,
// between 0 and the 11 digits that are certified.
func digits(got, want []float64) float64 {
	worst := 11.0
	for i, c := range want {
		if i >= len(got) {
			return 0
		}
		lre := -math.Log10(math.Abs(got[i]-c) / math.Abs(c))
		if math.IsNaN(lre) {
			return 0
		}
		worst = min(worst, lre)
	}
	return max(0, worst)
}

// reached is what one fit came to.
type reached struct {
	b, sd  float64
	status lsq.Status
	evals  int
}

func (ref *reference) reach(t *testing.T, start int, exact bool) reached {
	t.Helper()
	res, err := lsq.Solve(t.Context(), ref.problem(exact), ref.starts[start], nil)
	if err != nil {
		t.Logf("%s from start %d: %v", ref.name, start+1, err)
		return reached{}
	}
	t.Logf("%s start %d exact %v: %v it %d ev %d offset %.2g rank %d x %v ssr %.10g want %.10g", ref.name, start+1, exact, res.Status, res.Iterations, res.Evaluations, res.Offset, res.Rank, res.X, res.SSR, ref.ssr)
	return reached{digits(res.X, ref.value), digits(res.StandardErrors(res.Variance()), ref.sd), res.Status, res.Evaluations}
}

const head = `# Digits reached on the nonlinear problems of NIST StRD

Written by the test of package lsq with -update. Digits: whole certified digits reached by the worst parameter and by the worst
standard deviation, −log10 of the relative error, at most 11. *Differences*: second-order differences, as for the duct model.
*Exact*: dual numbers. Evaluations are of the fit with differences. A row with fewer than 6 digits of a parameter has FAILED.

`

// The certified values are *published*: NIST Statistical Reference Datasets,
// nonlinear regression.
func TestReference(t *testing.T) {
	var b strings.Builder
	b.WriteString(head)
	b.WriteString("| problem | level | start | differences: parameters | deviations | evaluations | exact: parameters | deviations | ends |\n|---|---|---|---|---|---|---|---|---|\n")
	var count [2]int
	for _, ref := range references(t) {
		for start := range 2 {
			d, e := ref.reach(t, start, false), ref.reach(t, start, true)
			ends := fmt.Sprintf("%v, %v", d.status, e.status)
			if d.b < 6 || e.b < 6 {
				ends += ": FAILED"
			}
			if d.b >= 6 {
				count[start]++
			}
			fmt.Fprintf(&b, "| %s | %s | %d | %d | %d | %d | %d | %d | %s |\n", ref.name, ref.level, start+1, int(d.b), int(d.sd), d.evals, int(e.b), int(e.sd), ends)
			if (d.b < 6 || d.sd < 4) && start == 1 && ref.level != "higher" {
				t.Errorf("%s from start 2: %.1f digits of the parameters, %.1f of their deviations", ref.name, d.b, d.sd)
			}
		}
	}
	fmt.Fprintf(&b, "\nSix digits with differences: %d of 19 from start 1, %d of 19 from start 2.\n", count[0], count[1])
	golden(t, b.String())
}

// golden compares the table with the committed one. Other processors fuse
// multiplication and addition, which may turn a digit.
func golden(t *testing.T, got string) {
	t.Helper()
	name := filepath.Join(folder, "digits.md")
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) && runtime.GOARCH == "amd64" {
		t.Errorf("digits.md differs: run with -update and look at the change\n%s", got)
	}
}
