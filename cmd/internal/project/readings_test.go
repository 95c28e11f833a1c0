package project

import (
	"math"
	"os"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/calibrate"
	"wyewright/network/shopfile"
	"wyewright/network/units"
)

// joiner is the shop with a ring and two collectors with readings of our own.
func joiner(t *testing.T, readings string) (*Project, []calibrate.Reading) {
	t.Helper()
	p := load(t, "joiner.yaml")
	f, err := shopfile.Decode("joiner.yaml", append(p.File.Source(), []byte("\nreadings:\n"+readings)...), p.Catalog)
	if err != nil {
		t.Fatal(err)
	}
	if p, err = New(f, p.Catalog, os.DirFS("../../../testdata/shops")); err != nil {
		t.Fatal(err)
	}
	rs, err := p.Readings()
	if err != nil {
		t.Fatal(err)
	}
	return p, rs
}

// TestReadingsOfRingAndTwoCollectors: readings that are what the shop itself
// shows leave nothing to find, where a ring carries air against its run and two
// collectors run side by side or one of them alone. *Computed* by the solver,
// which has checks of its own.
func TestReadingsOfRingAndTwoCollectors(t *testing.T) {
	p, rs := joiner(t, `
  - {state: two zones, place: east unit, quantity: suction, value: 1 Pa}
  - {state: two zones, place: west unit, quantity: suction, value: 1 Pa}
  - {state: two zones, place: west unit, quantity: velocity, value: 1 m/s}
  - {state: planer and moulder, place: ring west, quantity: velocity, value: 1 m/s}
  - {state: two zones, place: ring north, quantity: flow, value: 1 m3/h}
`)
	n, err := network.New(p.File.Spec)
	if err != nil {
		t.Fatal(err)
	}
	for i := range rs {
		r := &rs[i]
		st := r.State
		st.Collector = ""
		sol, err := network.Solve(t.Context(), n, st)
		if err != nil {
			t.Fatal(err)
		}
		if r.Place == calibrate.AtRun {
			run := sol.Runs[r.Index]
			if run.Flow >= 0 {
				t.Fatalf("%s: the air runs with its run, so the test shows nothing", r.Name)
			}
			if r.Value = -float64(run.Flow); r.Quantity == calibrate.Velocity {
				r.Value = math.Abs(float64(run.Fast))
			}
			continue
		}
		for _, c := range sol.Collectors {
			if !strings.HasPrefix(r.Name, c.ID) {
				continue
			}
			if r.Value = float64(c.Static); r.Quantity == calibrate.Velocity {
				d := float64(p.File.Spec.Collectors[c.Collector].Inlet)
				r.Value = float64(c.Flow) / (math.Pi / 4 * d * d)
			}
		}
	}
	r, err := calibrate.Find(t.Context(), &p.File.Spec, rs, calibrate.Need{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Before > 1e-3 || len(r.Clashes) > 0 {
		t.Errorf("sum of squared misses %g, clashes %v", r.Before, r.Clashes)
	}
	fans := 0
	for _, e := range r.Estimates {
		if e.Kind == calibrate.FanSpeed {
			fans++
		}
	}
	if fans != 2 {
		t.Errorf("%d fans are fitted, two run", fans)
	}
}

// TestReadingOfStandingCollector: a collector that stands still shows nothing.
func TestReadingOfStandingCollector(t *testing.T) {
	p := load(t, "joiner.yaml")
	src := string(p.File.Source()) + "\nreadings:\n  - {state: planer, place: west unit, quantity: suction, value: 900 Pa}\n"
	if _, err := shopfile.Decode("joiner.yaml", []byte(src), p.Catalog); err == nil || !strings.Contains(err.Error(), "stands still") {
		t.Errorf("got %v", err)
	}
}

// TestPortsAreNamed: readings at the ports of one tool have names of their own.
func TestPortsAreNamed(t *testing.T) {
	p := load(t, "joiner.yaml")
	s := p.File.Spec
	s.Tools[0].Ports = append(s.Tools[0].Ports, network.Port{At: "TS"})
	p.File.Spec = s
	r := p.reading(&shopfile.Reading{Place: shopfile.AtPort, Name: s.Tools[0].ID, Port: 1, State: network.State{Name: "x"}})
	if want := s.Tools[0].ID + " at TS in x"; r.Name != want {
		t.Errorf("%q, want %q", r.Name, want)
	}
}

// TestTightGatesAreWritten: gates fitted as tight stay tight in the file.
func TestTightGatesAreWritten(t *testing.T) {
	p, _ := joiner(t, "  - {state: planer, place: main, quantity: velocity, value: 13 m/s}\n")
	r := &calibrate.Report{Estimates: []calibrate.Estimate{{Param: calibrate.Param{Kind: calibrate.Shut, Doubt: 0.5}, Value: 0, Sigma: 0.1}}}
	e, _ := p.FitEdits(r, "head")
	text, err := p.File.Rewrite(e)
	if err != nil {
		t.Fatal(err)
	}
	g, err := shopfile.Decode("joiner.yaml", text, p.Catalog)
	if err != nil {
		t.Fatal(err)
	}
	was, is := p.File.Spec.Tools[0].Ports[0].Gate.Leak, g.Spec.Tools[0].Ports[0].Gate.Leak
	if is > was*units.Area(0.01) {
		t.Errorf("gates fitted tight leak %g m2 as before (%g m2)", is, was)
	}
}
