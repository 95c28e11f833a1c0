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

// TestMILP writes problems with given flows as mixed-integer programs in the
// CPLEX LP format, and what Solve finds, for testdata/peers/milp.
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
	one := func(name string, p *Problem) {
		if err := writeLP(filepath.Join(*milp, name+".lp"), p); err != nil {
			t.Fatal(err)
		}
		ctx, cancel := context.WithTimeout(context.Background(), *limit)
		defer cancel()
		start := time.Now()
		r, err := Solve(ctx, p, nil)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(ours, "%s,%d,%d,%v,%d,%d,%.6f\n", name, len(p.Runs), len(p.Loadings), r.Status, r.Cost, r.Nodes, time.Since(start).Seconds())
	}
	one("branched", branched(t))
	for k := range *take {
		one(fmt.Sprintf("fixed%02d", k), class("fixed", k))
	}
	for k := range *take / 2 {
		one(fmt.Sprintf("loads%02d", k), class("loadings", k))
	}
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
