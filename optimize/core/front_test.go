package core

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"
)

// TestFront: every point is the cheapest of its ratio (computed by Solve from
// scratch), and cost and ratio rise.
func TestFront(t *testing.T) {
	points, early := 0, 0
	for k := range 40 {
		p := small(k)
		front, stopped, err := Front(context.Background(), p, nil, 0.3, 3)
		if err != nil || stopped {
			t.Fatal(err, stopped)
		}
		for j, f := range front {
			if j > 0 && (f.Cost <= front[j-1].Cost || f.Ratio <= front[j-1].Ratio) {
				t.Errorf("problem %d: point %d is beaten by the one before", k, j)
			}
			if j%3 == 0 {
				r, err := Solve(context.Background(), p, &Settings{Scale: f.Ratio * (1 - 1e-7)})
				if err != nil || r.Cost != f.Cost {
					t.Errorf("problem %d: %d at a ratio of %v, Solve finds %d", k, f.Cost, f.Ratio, r.Cost)
				}
			}
		}
		points += len(front)
		rough, stopped, _ := Front(context.Background(), p, &Settings{MaxNodes: 1}, 0.3, 3)
		if stopped {
			early++
		}
		if slices.ContainsFunc(rough, func(f FrontPoint) bool { return f.Bound < f.Cost }) && !stopped {
			t.Errorf("problem %d: a point that is not proved, but nothing was stopped", k)
		}
	}
	if points < 200 || early < 5 || early > 35 {
		t.Errorf("%d points; %d fronts stopped at one node", points, early)
	}
}

// TestMarkFront measures whole fronts at 19 and 22 runs.
func TestMarkFront(t *testing.T) {
	if *mark != "front" {
		t.Skip("-mark front not given")
	}
	for _, name := range []string{"alone", "flows", "pairs", "leaks", "pairs-dust"} {
		for k := *first; k < *first+*take; k++ {
			p := class(name, k)
			if len(p.Runs) < 19 || len(p.Runs) > 22 {
				continue
			}
			ctx, cancel := context.WithTimeout(context.Background(), *limit)
			start := time.Now()
			front, stopped, err := Front(ctx, p, nil, 0.3, 3)
			cancel()
			if err != nil {
				t.Fatal(err)
			}
			fmt.Printf("front %-10s %2d %d runs: %d points, stopped %v, %.3f s\n", name, k, len(p.Runs), len(front), stopped, time.Since(start).Seconds())
		}
	}
}
