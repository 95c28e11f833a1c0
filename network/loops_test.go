package network_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"wyewright/network"
	"wyewright/network/networktest"
)

// solved is the file of answers that testdata/peers/loops made: expected values
// computed by SciPy 1.10.1.
type solved struct {
	SciPy    string
	Networks []struct {
		Name   string
		States []solvedState
	}
}

// solvedState is SciPy's answer for a state: flows of the runs, m³/s, total
// pressures at the points, Pa. Starts says to which answer each start came, null
// for none; Directions counts the legs of wyes by the way their air goes.
type solvedState struct {
	State  string
	Answer int
	Starts struct {
		ByWyes     []*int `json:"by_wyes"`
		ByHomotopy []*int `json:"by_homotopy"`
		Ours       *int
	}
	Flows      []float64
	Pressures  []float64
	Directions map[string]int
}

// TestLoopsAgainstSciPy holds the general solver against SciPy's general root
// finder on the same looped networks, with the physics stated anew in Python.
// Found: 4e-13 m³/s and 6e-10 Pa apart; the limits leave room for another
// machine's rounding.
func TestLoopsAgainstSciPy(t *testing.T) {
	const flowTol, pressureTol = 1e-9, 1e-6
	text, err := os.ReadFile("../testdata/reference/loops_scipy.json")
	if err != nil {
		t.Fatal(err)
	}
	var want solved
	if err := json.Unmarshal(text, &want); err != nil {
		t.Fatal(err)
	}
	shops := networktest.Loops()
	if want.SciPy == "" || len(want.Networks) != len(shops) {
		t.Fatalf("%d networks by SciPy %q, want %d", len(want.Networks), want.SciPy, len(shops))
	}
	compared, parting := 0, 0
	directions := map[string]int{}
	worstQ, worstP := 0.0, 0.0
	for i := range shops {
		s := &shops[i].Spec
		n, err := network.New(*s)
		if err != nil {
			t.Fatalf("%s: %v", s.Name, err)
		}
		if w := &want.Networks[i]; w.Name != s.Name || len(w.States) != len(shops[i].States) {
			t.Fatalf("%d states of %q, want %d of %q", len(w.States), w.Name, len(shops[i].States), s.Name)
		}
		solver, parts := network.NewSolver(n, &network.Settings{PressureTol: 1e-9, MassTol: 1e-12}), false
		for k, st := range shops[i].States {
			w := &want.Networks[i].States[k]
			sol, err := solver.Solve(t.Context(), st)
			if err != nil {
				t.Fatalf("%s, %s: %v", s.Name, st.Name, err)
			}
			w.check(t, s.Name, st.Name)
			q, p := w.apart(t, sol)
			if !(q <= flowTol && p <= pressureTol) {
				t.Errorf("%s, %s: %.3g m³/s and %.3g Pa from SciPy's answer", s.Name, st.Name, q, p)
			}
			worstQ, worstP = max(worstQ, q), max(worstP, p)
			parts = parts || len(sol.Parting) > 0
			for way, legs := range w.Directions {
				directions[way] += legs
			}
		}
		if len(s.Runs) >= len(s.Points) { // more than a tree has
			compared++
		}
		if parts {
			parting++
		}
	}
	if compared < 12 || parting < 3 || len(directions) != 6 {
		t.Errorf("%d networks with loops compared, air against a wye in %d, ways through a wye: %v", compared, parting, directions)
	}
	t.Logf("%d networks with loops, air against a wye in %d; at most %.1e m³/s and %.1e Pa apart; legs of wyes by direction: %v",
		compared, parting, worstQ, worstP, directions)
}

// check demands that SciPy came to its answer from at least three starts of its
// own, and to no other from any.
func (w *solvedState) check(t *testing.T, name, state string) {
	t.Helper()
	came := 0
	for _, a := range append(w.Starts.ByWyes, w.Starts.ByHomotopy...) {
		if a == nil {
			continue
		}
		if came++; *a != w.Answer {
			t.Errorf("%s, %s: SciPy has two answers", name, state)
		}
	}
	if came < 3 || w.State != state {
		t.Errorf("%s, %s: SciPy came to an answer from %d starts of its own, for state %q", name, state, came, w.State)
	}
}

// apart returns the largest differences of flow and pressure.
func (w *solvedState) apart(t *testing.T, sol *network.Solution) (q, p float64) {
	t.Helper()
	if len(w.Flows) != len(sol.Runs) || len(w.Pressures) != len(sol.Points) {
		t.Fatalf("%d flows and %d pressures, want %d and %d", len(w.Flows), len(w.Pressures), len(sol.Runs), len(sol.Points))
	}
	for i := range sol.Runs {
		q = max(q, math.Abs(float64(sol.Runs[i].Flow)-w.Flows[i]))
	}
	for i := range sol.Points {
		p = max(p, math.Abs(float64(sol.Points[i].Total)-w.Pressures[i]))
	}
	return q, p
}
