package optimize

import (
	"context"
	"math"
	"testing"
	"time"

	"wyewright/network"
)

// leastOf is the least share of a flow over states.
func leastOf(states []StateResult) float64 {
	least := math.Inf(1)
	for _, s := range states {
		least = min(least, s.Verdict.FlowRatio())
	}
	return least
}

// TestAsPlanned: a plan is judged as the search judged it, the plan of no change
// as the shop as found, and the points of a trade-off reach what they say.
func TestAsPlanned(t *testing.T) {
	ctx := context.Background()
	p, r := feasible(t, 11)
	front, err := Front(ctx, p, nil, r.Best, 6, nil)
	if err != nil {
		t.Fatal(err)
	}
	found, err := p.AsFound(ctx)
	if err != nil {
		t.Fatal(err)
	}
	type judged struct {
		name string
		plan *Plan
		want float64
	}
	all := []judged{{"best", r.Best, leastOf(r.States)}, {"as found", &Plan{Pick: make([]int, len(p.Choices))}, leastOf(found)}}
	for _, f := range front {
		all = append(all, judged{"trade-off", f.Plan, f.Flow})
	}
	for _, j := range all {
		states, err := p.AsPlanned(ctx, j.plan)
		if err != nil {
			t.Fatal(err)
		}
		if got := leastOf(states); math.Abs(network.OnGrid(got)-network.OnGrid(j.want)) > 1e-5 {
			t.Errorf("%s: judged at %g, want %g", j.name, got, j.want)
		}
		if len(states) != len(p.States) {
			t.Errorf("%s: %d states, want %d", j.name, len(states), len(p.States))
		}
	}
}

// TestFrontSharesItsTime: the points up to the plan leave half of the time to
// those beyond it. The clock jumps at every look, so that the time is up soon.
func TestFrontSharesItsTime(t *testing.T) {
	p, r := feasible(t, 38)
	all, err := Front(context.Background(), p, nil, r.Best, 30, nil)
	if err != nil {
		t.Fatal(err)
	}
	below, beyond := 0, 0
	for _, f := range all {
		if f.Target > 1 {
			beyond++
		} else {
			below++
		}
	}
	if below < 2 || beyond < 1 {
		t.Fatalf("%d points up to the plan and %d beyond it: another problem is needed", below, beyond)
	}
	now := time.Unix(0, 0)
	first := true
	slow := &Settings{TimeLimit: time.Hour, Clock: func() time.Time {
		if !first {
			now = now.Add(time.Second)
		}
		first = false
		return now
	}}
	got, err := Front(context.Background(), p, slow, r.Best, 30, func(f FrontPoint) {
		if f.Target <= 1 {
			now = now.Add(40 * time.Minute) // more than half of the hour
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(got) < 2 || got[0].Target > 1 || got[1].Target <= 1 {
		t.Errorf("%d points, want one up to the plan and then those beyond it", len(got))
	}
}
