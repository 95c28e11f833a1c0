// Command trees makes duct trees for a comparison with a general hydraulic
// engine: it writes each as an input file of EPANET, times our own solver on
// it, and prints one line of JSON per tree with the times and all flows.
//
//	go run ./testdata/peers/trees OUTDIR
package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"time"

	"wyewright/network"
	"wyewright/network/networktest"
)

// result is one line of the output. Flows are in ft³/s, the engine's own unit,
// per run in the order of the file's pipes R1, R2, …
type result struct {
	Runs int     `json:"runs"`
	File string  `json:"file"`
	Cold float64 `json:"cold_us"`
	Warm float64 `json:"warm_us"`
	// The same with wyes, bends and changes of size.
	WholeCold float64   `json:"whole_cold_us"`
	WholeWarm float64   `json:"whole_warm_us"`
	Steps     [2]int    `json:"steps"` // Newton steps, cold and warm
	Loaded    []float64 `json:"loaded"`
	Clean     []float64 `json:"clean"`
	Filters   filters   `json:"filters"`
}

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: trees OUTDIR")
		os.Exit(2)
	}
	if err := all(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// all makes and times the trees.
func all(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	out := json.NewEncoder(os.Stdout)
	for _, runs := range []int{20, 200, 2000} {
		spec := tree(runs)
		file := fmt.Sprintf("tree%d.inp", runs)
		if err := os.WriteFile(filepath.Join(dir, file), input(&spec), 0o644); err != nil {
			return err
		}
		// The flows to compare come from the engine's own friction law, the
		// times from ours; the whole physics is timed for itself.
		own, whole := spec, networktest.Tree(rand.New(rand.NewPCG(uint64(runs), 20)), runs)
		own.Friction = network.Colebrook
		var all [3]*result
		for i, s := range []network.Spec{spec, own, whole} {
			var err error
			if all[i], err = timed(s); err != nil {
				return fmt.Errorf("tree of %d runs: %w", runs, err)
			}
		}
		r := all[0]
		r.Cold, r.Warm, r.Steps = all[1].Cold, all[1].Warm, all[1].Steps
		r.WholeCold, r.WholeWarm = all[2].Cold, all[2].Warm
		r.File, r.Filters = file, filterHeads(&spec)
		if err := out.Encode(r); err != nil {
			return err
		}
	}
	return nil
}

// tree is the tree that BenchmarkTree of package network solves, without what
// the engine has no law for: losses that depend on the split of flow at a wye,
// and another friction formula than Swamee and Jain's.
func tree(runs int) network.Spec {
	spec := networktest.Tree(rand.New(rand.NewPCG(uint64(runs), 20)), runs)
	spec.Friction = network.SwameeJain
	none := network.Override(0)
	for i := range spec.Runs {
		spec.Runs[i].K = network.Overrides{Bends: none, Junction: none, Steps: none}
	}
	return spec
}

// timed solves a tree with the loaded and the clean filter in turn, cold and
// warm.
func timed(spec network.Spec) (*result, error) {
	n, err := network.New(spec)
	if err != nil {
		return nil, err
	}
	state := network.State{}
	for _, tool := range spec.Tools {
		state.Running = append(state.Running, tool.ID)
	}
	loaded, err := n.Case(state)
	if err != nil {
		return nil, err
	}
	clean := loaded.Clone()
	clean.Filter = network.Clean

	r := &result{Runs: len(spec.Runs)}
	solver := network.NewSolver(n, nil)
	cases := [2]*network.Case{loaded, clean}
	for i, flows := range []*[]float64{&r.Loaded, &r.Clean} {
		if status := solver.Run(context.Background(), cases[i]); !status.OK() {
			return nil, errors.New(status.String())
		}
		for run := range spec.Runs {
			*flows = append(*flows, solver.RunFlow(run)/cubicFoot)
		}
	}
	solves := [2]func(context.Context, *network.Case) network.Status{solver.Run, solver.Again}
	for i, solve := range solves {
		us, err := median(r.Runs, cases, solve)
		if err != nil {
			return nil, err
		}
		r.Steps[i] = solver.Snapshot(clean).Iterations
		if i == 0 {
			r.Cold = us
		} else {
			r.Warm = us
		}
	}
	return r, nil
}

// median is the median time of one solve over 201 batches, in µs. A batch has
// an even number of solves, half of them with either filter, so that it lasts
// about a millisecond whatever the size of the tree; one batch is for warming
// up. bench.mjs does the same.
func median(runs int, cases [2]*network.Case, solve func(context.Context, *network.Case) network.Status) (float64, error) {
	const batches = 201
	batch := max(2, 4000/runs)
	var us []float64
	for b := -1; b < batches; b++ {
		start := time.Now()
		for i := range batch {
			if status := solve(context.Background(), cases[i&1]); !status.OK() {
				return 0, errors.New(status.String())
			}
		}
		if b >= 0 {
			us = append(us, time.Since(start).Seconds()*1e6/float64(batch))
		}
	}
	slices.Sort(us)
	return us[batches/2], nil
}
