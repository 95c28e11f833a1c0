package core

import (
	"context"
	"flag"
	"fmt"
	"os"
	"runtime"
	"testing"
	"time"
)

var (
	growth  = flag.Bool("growth", false, "measure plants of growing size and write testdata/growth.csv")
	machine = flag.String("machine", "2 shared cores", "what testdata/growth.csv says of the machine")
)

// growthNodes is the limit of work for one plant.
const growthNodes = 5000

// TestGrowth measures plants of 20 to 1,000 runs: the time to the first plan
// (one node), and time and gap at the limit of work.
func TestGrowth(t *testing.T) {
	if !*growth {
		t.Skip("-growth not given")
	}
	f, err := os.Create("testdata/growth.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	fmt.Fprintf(f, "# Measured by go test ./optimize/core -run Growth -growth on %s, %s, %s: one thread, %d nodes or 40 s, class plant.\n",
		*machine, runtime.Version(), time.Now().Format(time.DateOnly), growthNodes)
	fmt.Fprintln(f, "runs,tools,states,first_s,first_gap,status,nodes,time_s,cost,bound,gap")
	for _, runs := range []int{20, 50, 100, 200, 300, 500, 1000} { // growth.csv holds the first five so far
		p := plant(1, "plant", runs)
		measure := func(nodes int) (*Result, float64) {
			runtime.GC()
			ctx, cancel := context.WithTimeout(context.Background(), 40*time.Second)
			defer cancel()
			start := time.Now()
			r, err := Solve(ctx, p, &Settings{MaxNodes: nodes})
			if err != nil {
				t.Fatal(err)
			}
			if r.Pick != nil && (!NewEvaluator(p).Meets(r.Pick) || r.Bound > r.Cost) {
				t.Errorf("%d runs: the answer is wrong", runs)
			}
			return r, time.Since(start).Seconds()
		}
		first, firstTook := measure(1)
		r, took := measure(growthNodes)
		fmt.Fprintf(f, "%d,%d,%d,%.3f,%.4f,%v,%d,%.3f,%d,%d,%.4f\n", len(p.Runs), len(p.Tools), len(p.States), firstTook, first.Gap(),
			r.Status, r.Nodes, took, r.Cost, r.Bound, r.Gap())
		t.Logf("%d runs: first plan %.2f s (gap %.4f), %v after %d nodes, %.2f s, gap %.4f", len(p.Runs), firstTook, first.Gap(), r.Status, r.Nodes, took, r.Gap())
	}
}
