package optimize

import (
	"context"
	"math/rand/v2"
	"testing"
)

// TestRulesHold: whatever passes the judge in an opening keeps every rule of
// that opening, over all domains and over some of them; and the rules exclude
// some of what does not pass.
func TestRulesHold(t *testing.T) {
	problems := 240
	if testing.Short() {
		problems = 60
	}
	kept, passed, struck, failed := 0, 0, 0, 0
	for seed := range problems {
		rng := rand.New(rand.NewPCG(uint64(seed), 5))
		p := generate(t, rng)
		x, err := newSearch(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if seed%2 == 1 { // some of the domains
			for i := range x.dom {
				if d := x.dom[i] & rng.Uint64(); d != 0 {
					x.dom[i] = d
				}
			}
		}
		x.install()
		for s := range x.judge.openings {
			for o := range x.judge.openings[s] {
				op := &x.judge.openings[s][o]
				if !x.buildable(op) || !x.judge.box.Possible(op.c, p.limits(s), 1) {
					continue
				}
				rules := x.judge.box.PathRows()
				if power, ok := x.judge.box.PowerRow(); ok {
					rules = append(rules, power)
				}
				eachPlan(p, func(pick []int) {
					if !x.within(pick) || !p.offered(op, pick) || rng.IntN(4) > 0 {
						return
					}
					ok, broken := x.judge.holds(s, o, pick), -1
					for k := range rules {
						sum := 0.0
						for j, run := range rules[k].Runs {
							a := 0
							if c := p.runChoice[run]; c >= 0 {
								a = pick[c]
							}
							sum += rules[k].Loss[j][a]
						}
						if sum > rules[k].Limit {
							broken = k
						}
					}
					switch {
					case ok && broken >= 0:
						t.Fatalf("seed %d, state %d, opening %d: plan %v passes and breaks rule %d of %d: %+v", seed, s, o, pick, broken, len(rules), rules[broken])
					case ok:
						passed++
						kept++
					case broken >= 0:
						struck++
					default:
						failed++
					}
				})
			}
		}
	}
	t.Logf("%d plans pass and keep all rules; of %d that do not pass %d break one", passed, struck+failed, struck)
	if passed < 1000 || struck*20 < struck+failed {
		t.Errorf("the rules are idle")
	}
}
