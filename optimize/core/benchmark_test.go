package core

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

const benchmarks = "../../testdata/reference/benchmarks"

// records reads a CSV file without its head.
func records(t testing.TB, name string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(benchmarks, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all[1:]
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// branched is the published branched water network: the flows are given, the
// heads at the nodes have least values. Losses by the Hazen–Williams formula in
// SI units, 10.667·L·(Q/C)^1.852 / D^4.871 m.
func branched(t testing.TB) *Problem {
	const dir = "tree_branched_6/"
	type place struct{ level, least float64 }
	at := map[string]place{}
	for _, r := range records(t, dir+"nodes.csv") {
		at[r[0]] = place{number(t, r[2]), number(t, r[4])}
	}
	into := map[string]int{"source": -1} // per node: the pipe that feeds it
	p := &Problem{Exponent: 1.852, Loadings: []Loading{{}}}
	ld := &p.Loadings[0]
	for i, r := range records(t, dir+"pipes.csv") {
		length, flow, c := number(t, r[3]), number(t, r[4])/3600, number(t, r[5])
		run := Run{Parent: into[r[1]]}
		into[r[2]] = i
		for _, o := range records(t, dir+"sizes.csv") {
			run.Options = append(run.Options, Option{Cost: int64(number(t, o[2]) * length),
				Resistance: 10.667 * length / (math.Pow(c, 1.852) * math.Pow(number(t, o[1])/1000, 4.871))})
		}
		p.Runs = append(p.Runs, run)
		ld.Flow = append(ld.Flow, flow)
		ld.Limit = append(ld.Limit, at["source"].level-at[r[2]].level-at[r[2]].least)
	}
	return p
}

// TestBranched: the published optimum is 73,800 (testdata/README.md). Its heads
// were computed by the EPANET engine (epanet-js 0.9.0), as verification.json says.
func TestBranched(t *testing.T) {
	p := branched(t)
	r, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if r.Status != Optimal || r.Cost != 73800 {
		t.Errorf("%v at %d, published 73800", r.Status, r.Cost)
	}
	for i, row := range records(t, "tree_branched_6/optimum.csv") {
		if want, got := number(t, row[3]), p.Runs[i].Options[r.Pick[i]].Cost; float64(got) != want {
			t.Errorf("pipe %s costs %d, published %v", row[0], got, want)
		}
	}
	e := NewEvaluator(p)
	e.overload(r.Pick, 0)
	for i, head := range []float64{291.6771, 276.6834, 253.7399, 233.9634, 279.0879, 248.3793} { // verification.json: a b c v1 v2 v3
		if got := 300 - e.spent[i]; math.Abs(got-head) > 0.02 {
			t.Errorf("head behind pipe %d is %.4f m, computed by EPANET %.4f", i+1, got, head)
		}
	}
	if want := brute14(p); want != 73800 {
		t.Errorf("enumeration gives %d", want)
	}
}

// brute14 enumerates the branched tree with the losses added up on the way.
func brute14(p *Problem) int64 {
	ld, best := &p.Loadings[0], int64(math.MaxInt64)
	law := newLaw(p.Exponent)
	spent := make([]float64, len(p.Runs))
	var visit func(i int, cost int64)
	visit = func(i int, cost int64) {
		if i == len(p.Runs) {
			best = min(best, cost)
			return
		}
		for _, o := range p.Runs[i].Options {
			spent[i] = o.Resistance * law.pow(ld.Flow[i])
			if q := p.Runs[i].Parent; q >= 0 {
				spent[i] += spent[q]
			}
			if spent[i] <= ld.Limit[i] && cost+o.Cost < best {
				visit(i+1, cost+o.Cost)
			}
		}
	}
	visit(0, 0)
	return best
}
