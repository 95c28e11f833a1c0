// Command loops writes the looped networks of networktest.Loops as JSON for
// solve.py: the plain description of each, how its ducts are put together at
// every point, its bends, and per state our answer as one of the starts. No
// coefficient of ours goes out: solve.py computes its own.
package main

import (
	"context"
	"encoding/json"
	"log"
	"os"

	"wyewright/network"
	"wyewright/network/networktest"
)

// shop is one network.
type shop struct {
	Spec    *network.Spec
	Joints  []network.Joint
	Corners [][]float64 // bends of each run's way, degrees
	States  []state
}

// state is an operating state with our flows of the runs, m³/s, and our total
// pressures at the points, Pa.
type state struct {
	network.State
	Flows, Pressures []float64
}

func main() {
	log.SetFlags(0)
	var out []shop
	for _, l := range networktest.Loops() {
		s, err := describe(&l)
		if err != nil {
			log.Fatalf("%s: %v", l.Spec.Name, err)
		}
		out = append(out, s)
	}
	if err := json.NewEncoder(os.Stdout).Encode(out); err != nil {
		log.Fatal(err)
	}
}

// describe compiles a network, for the ways of its runs and its joints, and
// solves it.
func describe(l *networktest.Looped) (shop, error) {
	n, err := network.New(l.Spec)
	if err != nil {
		return shop{}, err
	}
	out := shop{Spec: n.Spec(), Joints: n.Joints()}
	for i := range out.Spec.Runs {
		out.Corners = append(out.Corners, n.Route(i).Corners)
	}
	for _, st := range l.States {
		sol, err := network.NewSolver(n, nil).Solve(context.Background(), st)
		if err != nil {
			return shop{}, err
		}
		s := state{State: st}
		for i := range sol.Runs {
			s.Flows = append(s.Flows, float64(sol.Runs[i].Flow))
		}
		for i := range sol.Points {
			s.Pressures = append(s.Pressures, float64(sol.Points[i].Total))
		}
		out.States = append(out.States, s)
	}
	return out, nil
}
