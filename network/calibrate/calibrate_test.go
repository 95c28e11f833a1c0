package calibrate_test

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/calibrate"
	"wyewright/network/fan"
	"wyewright/network/networktest"
	"wyewright/network/units"
)

var shops = flag.Int("shops", 4, "how many shops TestCoverage makes, half of them healthy")

// truth is a shop as it is, beside the shop as its owner believes it to be.
type truth struct {
	believed, real network.Spec
	probe          float64
	values         map[string]float64 // of the parameters by name
}

// shop makes a shop; the real one differs from the believed by what a fit always
// asks for, drawn from its priors, and by faults.
func shop(t *testing.T, rng *rand.Rand, faults int) truth {
	t.Helper()
	out := truth{believed: networktest.Random(rng, networktest.Options{Tools: 4, Extra: 2, Placed: true, GateLeak: 1e-4}), values: map[string]float64{}}
	s := out.believed
	s.Runs, s.Collectors, s.Tools = slices.Clone(s.Runs), slices.Clone(s.Collectors), slices.Clone(s.Tools)
	draw := func(name string, mean, sd, lo, hi float64) float64 {
		x := max(lo, min(hi, mean+sd*rng.NormFloat64()))
		out.values[name] = x
		return x
	}
	out.probe = draw("probe factor", 0.87, 0.05, 0.75, 0.99)
	hose := draw("friction of hose", 1, 0.3, 0.5, 1.9)
	rough := draw("roughness of steel", 1, 0.5, 0.1, 2.5)
	shut := draw("leakage of shut gates", 1, 0.5, 0.1, 2.5)
	for i := range s.Runs {
		s.Runs[i].Pieces = slices.Clone(s.Runs[i].Pieces)
		for k := range s.Runs[i].Pieces {
			if m := &s.Runs[i].Pieces[k].Make; m.Hose() {
				m.Multiple *= hose
			} else {
				m.Roughness *= units.Length(rough)
			}
		}
	}
	for i := range s.Tools {
		entry := draw("entry of "+s.Tools[i].ID, 1, 0.3, 0.3, 1.9)
		s.Tools[i].Ports = slices.Clone(s.Tools[i].Ports)
		for k := range s.Tools[i].Ports {
			p := &s.Tools[i].Ports[k]
			p.Entry *= entry
			p.Gate = &network.Gate{Open: p.Gate.Open, Leak: p.Gate.Leak * units.Area(shut)}
		}
	}
	c := &s.Collectors[0]
	speed := draw("fan of unit", 1, 0.03, 0.9, 1.1)
	var pts []fan.Point
	lo, hi := c.Curve.Range()
	for i := range 21 {
		q := lo + (hi-lo)*float64(i)/20
		p, _ := c.Curve.Pressure(q)
		pts = append(pts, fan.Point{Flow: units.Flow(q * speed), Pressure: units.Pressure(p * speed * speed)})
	}
	curve, err := fan.NewTable(pts)
	if err != nil {
		t.Fatal(err)
	}
	c.Curve = curve
	filter := draw("filter of unit", 1, 0.3, 0.2, 1.8)
	c.Filter.Clean, c.Filter.Loaded = c.Filter.Clean*filter, c.Filter.Loaded*filter
	for k := range faults {
		if (k+rng.IntN(2))%2 == 0 {
			at := fmt.Sprintf("J%d", 1+rng.IntN(strings.Count(names(&s), "trunk ")))
			area := (6 + 14*rng.Float64()) * 1e-4
			s.Leaks = append(slices.Clone(s.Leaks), network.Leak{ID: fmt.Sprintf("hole %d", k), At: at, Area: units.Area(area)})
			out.values["opening at "+at] += area
		} else {
			i := rng.IntN(len(s.Runs))
			extra := 3 + 7*rng.Float64()
			s.Runs[i].Pieces[len(s.Runs[i].Pieces)-1].K += extra
			out.values["extra loss in "+s.Runs[i].ID] += extra
		}
	}
	out.real = s
	return out
}

func names(s *network.Spec) string {
	var b strings.Builder
	for _, r := range s.Runs {
		b.WriteString(r.ID + "\n")
	}
	return b.String()
}

// read takes readings of the real shop: every run that carries air and the
// suction at the fan, with all gates shut, each tool alone and a pair; with
// scatter of the stated doubt, and a meter that ends at 30 m/s.
func read(t *testing.T, rng *rand.Rand, x *truth, scatter float64) []calibrate.Reading {
	t.Helper()
	n, err := network.New(x.real)
	if err != nil {
		t.Fatal(err)
	}
	states := []network.State{{Name: "none"}}
	for _, tool := range x.real.Tools {
		states = append(states, network.State{Name: tool.ID, Running: []string{tool.ID}})
	}
	states = append(states, network.State{Name: "pair", Running: []string{x.real.Tools[0].ID, x.real.Tools[1].ID}})
	var out []calibrate.Reading
	const limit = 30.0
	for _, st := range states {
		sol, err := network.Solve(t.Context(), n, st)
		if err != nil {
			t.Fatal(err)
		}
		for i, r := range sol.Runs {
			if r.Fast < 1 {
				continue
			}
			v := float64(r.Fast) / x.probe
			c := calibrate.Reading{Name: x.real.Runs[i].ID + " in " + st.Name, State: st, Index: i, Centre: true, Doubt: 0.04}
			if c.Value = v * (1 + scatter*c.Doubt*rng.NormFloat64()); c.Value > limit {
				c.Value, c.Bound = limit, calibrate.AtLeast
			}
			out = append(out, c)
		}
		suction := float64(sol.Collector.Static)
		out = append(out, calibrate.Reading{Name: "suction in " + st.Name, State: st, Place: calibrate.AtFan, Quantity: calibrate.Suction,
			Value: suction * (1 + scatter*0.02*rng.NormFloat64())})
		// Hood static pressure of what runs: the suction at its port.
		for _, tool := range x.real.Tools {
			if slices.Contains(st.Running, tool.ID) {
				k := slices.IndexFunc(x.real.Points, func(p network.Point) bool { return p.ID == tool.Ports[0].At })
				hood := -float64(sol.Points[k].Static)
				out = append(out, calibrate.Reading{Name: "suction at " + tool.ID + " in " + st.Name, State: st, Place: calibrate.AtPoint, Index: k, Quantity: calibrate.Suction,
					Value: hood * (1 + scatter*0.02*rng.NormFloat64())})
			}
		}
	}
	return out
}

func find(t *testing.T, x *truth, rs []calibrate.Reading) *calibrate.Report {
	t.Helper()
	r, err := calibrate.Find(t.Context(), &x.believed, rs, calibrate.Need{})
	if err != nil {
		t.Fatal(err)
	}
	if !r.Converged {
		t.Error("a fit did not settle")
	}
	return r
}

// TestFindsWhatIsWrong: from readings without scatter the one fault is found
// with its size, or named as a rival of one that looks the same from there.
func TestFindsWhatIsWrong(t *testing.T) {
	for seed := range 6 {
		rng := rand.New(rand.NewPCG(uint64(seed), 77))
		x := shop(t, rng, 1)
		r := find(t, &x, read(t, rng, &x, 0))
		if len(r.Findings) == 0 {
			t.Errorf("seed %d: nothing found of %v", seed, x.values)
			continue
		}
		hit := false
		f := &r.Findings[0]
		for _, e := range append([]calibrate.Estimate{f.Estimate}, f.Rivals...) {
			if want, ok := x.values[e.Name]; ok && math.Abs(e.Value-want) < max(2*e.Sigma, 0.1*want) {
				hit = true
			}
		}
		if !hit {
			t.Errorf("seed %d: found %s %s, the truth is %v", seed, f.Name, f.Text(f.Value), x.values)
		}
	}
}

// TestWrongReading: one reading typed in the wrong unit is named, and left out.
func TestWrongReading(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 77))
	x := shop(t, rng, 0)
	rs := read(t, rng, &x, 0.5)
	bad := slices.IndexFunc(rs, func(r calibrate.Reading) bool {
		return r.Bound == calibrate.Exact && r.Quantity == calibrate.Velocity && r.Value > 10
	})
	rs[bad].Value /= 3
	r := find(t, &x, rs)
	if len(r.Findings) != 1 || r.Findings[0].Reading != bad || !r.Readings[bad].Rejected {
		t.Errorf("%+v", r.Findings)
	}
}

// TestUnitSlips: a speed of m/s written as fpm, and a suction of Pa written as in
// wg, are left out with a hint.
func TestUnitSlips(t *testing.T) {
	for k, c := range []struct {
		quantity calibrate.Quantity
		by       float64
		hint     string
	}{{calibrate.Velocity, 0.00508, "written as fpm"}, {calibrate.Suction, 1 / 249.08891, "written as Pa"}} {
		rng := rand.New(rand.NewPCG(uint64(k)+11, 77))
		x := shop(t, rng, 0)
		rs := read(t, rng, &x, 0.5)
		bad := slices.IndexFunc(rs, func(r calibrate.Reading) bool {
			return r.Bound == calibrate.Exact && r.Quantity == c.quantity && r.Value > 8
		})
		rs[bad].Value *= c.by
		r := find(t, &x, rs)
		if i := slices.IndexFunc(r.Findings, func(f calibrate.Finding) bool { return f.Reading == bad }); i < 0 || !strings.Contains(r.Findings[i].Hint, c.hint) {
			t.Errorf("%v: %+v", c.hint, r.Findings)
		}
	}
}

// TestOverRange: a reading over the meter's range binds from below only.
func TestOverRange(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 77))
	x := shop(t, rng, 0)
	rs := read(t, rng, &x, 0)
	for i := range rs {
		if rs[i].Quantity == calibrate.Velocity && rs[i].Value > 15 {
			rs[i].Value, rs[i].Bound = 0.8*rs[i].Value, calibrate.AtLeast
		}
	}
	if r := find(t, &x, rs); len(r.Findings) != 0 {
		t.Errorf("bounds that hold asked for %v", r.Findings[0].Name)
	}
	i := slices.IndexFunc(rs, func(r calibrate.Reading) bool { return r.Bound == calibrate.AtLeast })
	rs[i].Value *= 2.5
	if r := find(t, &x, rs); len(r.Findings) == 0 {
		t.Error("a bound that is broken was not noticed")
	}
}

// TestVariations: shops drawn from the doubt of a fit scatter as its covariance
// says, by the flow of a tool too, and the same seed draws the same.
func TestVariations(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 77))
	x := shop(t, rng, 1)
	r := find(t, &x, read(t, rng, &x, 1))
	state := network.State{Name: "T1", Running: []string{"T1"}}
	flow := func(s network.Spec) float64 {
		n, err := network.New(s)
		if err != nil {
			t.Fatal(err)
		}
		sol, err := network.Solve(t.Context(), n, state)
		if err != nil {
			t.Fatal(err)
		}
		return float64(sol.Tools[0].Flow)
	}
	const draws = 400
	best, sum, squares := flow(r.Fitted()), 0.0, 0.0
	again, err := r.Variations(draws, 1)
	if err != nil {
		t.Fatal(err)
	}
	shops, err := r.Variations(draws, 1)
	if err != nil {
		t.Fatal(err)
	}
	var fans []float64
	for k, s := range shops {
		q := flow(s)
		if k == 0 && q != flow(again[0]) {
			t.Error("the same seed draws another shop")
		}
		sum, squares = sum+q, squares+q*q
		p, _ := s.Collectors[0].Curve.Pressure(0)
		fans = append(fans, p)
	}
	mean := sum / draws
	spread := math.Sqrt(squares/draws - mean*mean)
	if math.Abs(mean/best-1) > 0.01 || spread < 0.001*best || spread > 0.1*best {
		t.Errorf("flows of %.4g ± %.2g about %.4g", mean, spread, best)
	}
	// The fan's pressure goes with the square of its speed.
	i := slices.IndexFunc(r.Estimates, func(e calibrate.Estimate) bool { return e.Kind == calibrate.FanSpeed })
	e := r.Estimates[i]
	slices.Sort(fans)
	low, high := fans[draws*16/100], fans[draws*84/100]
	if share := (math.Sqrt(high) - math.Sqrt(low)) / (math.Sqrt(high) + math.Sqrt(low)) * e.Value; math.Abs(share/e.Sigma-1) > 0.25 {
		t.Errorf("the fan's speed scatters by %.4g, its standard error is %.4g", share, e.Sigma)
	}
}

func TestNoReadings(t *testing.T) {
	x := shop(t, rand.New(rand.NewPCG(1, 1)), 0)
	if _, err := calibrate.Find(t.Context(), &x.believed, nil, calibrate.Need{}); !errors.Is(err, calibrate.ErrNoReadings) {
		t.Error(err)
	}
}

// TestCoverage makes shops with no fault and with one or two, reads them with
// scatter, and counts how often the 90 % intervals hold the truth, how often a
// healthy shop is called ill, and how often a fault is found:
//
//	go test ./network/calibrate -run Coverage -v -shops 200 -timeout 1h
func TestCoverage(t *testing.T) {
	within, intervals, alarms, healthy, hits, faults := 0, 0, 0, 0, 0, 0
	within2, intervals2 := 0, 0
	for seed := range *shops {
		rng := rand.New(rand.NewPCG(uint64(seed), 200))
		ill := 0
		if seed%2 == 1 {
			ill = 1 + rng.IntN(2)
		}
		x := shop(t, rng, ill)
		r := find(t, &x, read(t, rng, &x, 1))
		if ill == 0 {
			healthy++
			if len(r.Findings) > 0 {
				alarms++
				t.Logf("seed %d: %s in a healthy shop, evidence %.1f", seed, r.Findings[0].Name, r.Findings[0].Evidence)
			}
		}
		held, all := foretold(t, &x, r)
		within2, intervals2 = within2+held, intervals2+all
		for name, want := range x.values {
			if strings.HasPrefix(name, "opening") || strings.HasPrefix(name, "extra") {
				faults++
				if slices.ContainsFunc(r.Findings, func(f calibrate.Finding) bool {
					return f.Name == name || slices.ContainsFunc(f.Rivals, func(e calibrate.Estimate) bool { return e.Name == name })
				}) {
					hits++
				}
			}
			for _, e := range r.Estimates {
				if e.Name == name && e.AtBound == 0 {
					intervals++
					if e.Low <= want && want <= e.High {
						within++
					}
				}
			}
		}
	}
	t.Logf("%d shops: %d of %d intervals of 90 %% hold the truth (%.0f %%), %d of %d healthy shops called ill, %d of %d faults found or named as a rival",
		*shops, within, intervals, 100*float64(within)/float64(intervals), alarms, healthy, hits, faults)
	t.Logf("of %d flows of a tool running alone %d lie in their 90 %% intervals (%.0f %%)", intervals2, within2, 100*float64(within2)/float64(intervals2))
	if share := float64(within2) / float64(intervals2); share < 0.7 {
		t.Errorf("%.0f %% of the intervals of flows hold the truth", 100*share)
	}
	if share := float64(within) / float64(intervals); share < 0.7 {
		t.Errorf("%.0f %% of the intervals hold the truth", 100*share)
	}
	if alarms*4 > healthy+2 {
		t.Errorf("%d of %d healthy shops called ill", alarms, healthy)
	}
}

// foretold counts the true flows of tools running alone that lie in the
// intervals foretold.
func foretold(t *testing.T, x *truth, r *calibrate.Report) (held, all int) {
	t.Helper()
	var states []network.State
	for _, tool := range x.real.Tools {
		states = append(states, network.State{Name: tool.ID, Running: []string{tool.ID}})
	}
	flows, err := r.Predict(states)
	if err != nil {
		t.Fatal(err)
	}
	n, err := network.New(x.real)
	if err != nil {
		t.Fatal(err)
	}
	for k, st := range states {
		sol, err := network.Solve(t.Context(), n, st)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range flows {
			if f.State == st.Name && f.Tool == k {
				all++
				if q := float64(sol.Tools[k].Flow); f.Low <= q && q <= f.High {
					held++
				}
			}
		}
	}
	return held, all
}
