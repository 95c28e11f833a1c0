package core

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"
)

var milp = flag.String("milp", "", "folder into which TestMILP writes linear models and our answers")

// linear is a problem with given flows, so that it is a linear model.
type linear struct {
	name string
	p    *Problem
}

// linears are the published branched tree, n generated trees with one loading
// and half as many with three.
func linears(t testing.TB, n int) []linear {
	list := []linear{{"branched", branched(t)}}
	for k := range n {
		list = append(list, linear{fmt.Sprintf("fixed%02d", k), class("fixed", k)})
	}
	for k := range n / 2 {
		list = append(list, linear{fmt.Sprintf("loads%02d", k), class("loadings", k)})
	}
	return list
}

// TestMILP writes problems with given flows as mixed-integer programs in the
// CPLEX LP format, and what Solve finds, for testdata/peers/milp: the seconds
// are the least of three calls of Solve, nothing else.
func TestMILP(t *testing.T) {
	if *milp == "" {
		t.Skip("-milp not given")
	}
	ours, err := os.Create(filepath.Join(*milp, "ours.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer ours.Close()
	fmt.Fprintln(ours, "name,runs,loadings,status,cost,nodes,seconds")
	for _, m := range linears(t, *take) {
		if err := writeLP(filepath.Join(*milp, m.name+".lp"), m.p); err != nil {
			t.Fatal(err)
		}
		least := math.Inf(1)
		var r *Result
		for range 3 {
			ctx, cancel := context.WithTimeout(context.Background(), *limit)
			start := time.Now()
			r, err = Solve(ctx, m.p, nil)
			least = min(least, time.Since(start).Seconds())
			cancel()
			if err != nil {
				t.Fatal(err)
			}
		}
		fmt.Fprintf(ours, "%s,%d,%d,%v,%d,%d,%.6f\n", m.name, len(m.p.Runs), len(m.p.Loadings), r.Status, r.Cost, r.Nodes, least)
	}
}

// BenchmarkLinear solves the models of testdata/peers/milp, all in one go.
func BenchmarkLinear(b *testing.B) {
	list := linears(b, 50)
	nodes := 0
	for b.Loop() {
		nodes = 0
		for _, m := range list {
			r, err := Solve(context.Background(), m.p, nil)
			if err != nil || r.Status != Optimal {
				b.Fatal(m.name, r, err)
			}
			nodes += r.Nodes
		}
	}
	b.ReportMetric(float64(nodes), "nodes/op")
	b.ReportMetric(float64(len(list)), "models/op")
}

// writeLP writes: one option per run, and up to every limit the losses added
// up, in parts of the limit.
func writeLP(name string, p *Problem) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	defer f.Close()
	w := bufio.NewWriter(f)
	fmt.Fprint(w, "Minimize\n obj:")
	for i, r := range p.Runs {
		for o, opt := range r.Options {
			fmt.Fprintf(w, " + %d x%d_%d\n", opt.Cost, i, o)
		}
	}
	fmt.Fprint(w, "Subject To\n")
	for i, r := range p.Runs {
		fmt.Fprintf(w, " one%d:", i)
		for o := range r.Options {
			fmt.Fprintf(w, " + x%d_%d", i, o)
		}
		fmt.Fprint(w, " = 1\n")
	}
	law := newLaw(p.Exponent)
	for l, ld := range p.Loadings {
		for i, limit := range ld.Limit {
			if math.IsInf(limit, 1) {
				continue
			}
			fmt.Fprintf(w, " way%d_%d:", l, i)
			for j := i; j >= 0; j = p.Runs[j].Parent {
				for o, opt := range p.Runs[j].Options {
					fmt.Fprintf(w, " + %.15g x%d_%d\n", opt.Resistance*law.pow(ld.Flow[j])/limit, j, o)
				}
			}
			fmt.Fprint(w, " <= 1\n")
		}
	}
	fmt.Fprint(w, "Binary\n")
	for i, r := range p.Runs {
		for o := range r.Options {
			fmt.Fprintf(w, " x%d_%d\n", i, o)
		}
	}
	fmt.Fprint(w, "End\n")
	return w.Flush()
}
