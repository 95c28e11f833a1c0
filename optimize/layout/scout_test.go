package layout

import (
	"context"
	"testing"

	"wyewright/optimize/core"
)

// TestScout: a fan that is too weak is found out in fewer labels than costs
// would take (38,000 against 127,000; pinned), and one that is strong enough
// gets a tree.
func TestScout(t *testing.T) {
	p := grid(0, 5, 4, 5, 8, 18)
	setHead(p, 601)
	if r, err := Solve(context.Background(), p, &Settings{MaxLabels: 80000}); err != nil || r.Status != core.Infeasible {
		t.Errorf("%+v, %v", r, err)
	}
	s := &search{ctx: context.Background(), m: newModel(p), labelsLeft: 80000, scouting: true}
	if s.run(); s.result().Status != core.Undecided {
		t.Errorf("without a scout: %v", s.result().Status)
	}
	setHead(p, 660)
	s = &search{ctx: context.Background(), m: newModel(p), labelsLeft: 80000, tried: map[string]bool{}}
	s.cost = s.m.allCosts()
	if none := s.scout(scoutTries); none || s.best == nil || !p.Meets(s.best) || p.Cost(s.best) != s.cost {
		t.Errorf("none %v, %v", none, s.best)
	}
}
