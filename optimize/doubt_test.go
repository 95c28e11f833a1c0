package optimize

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/network/units"
)

// vary makes the same redesign of shops that differ from a problem's in fan
// speed, roughness of what stands there and in openings.
func vary(t testing.TB, p *Problem, rng *rand.Rand, shops int) []*Problem {
	t.Helper()
	var out []*Problem
	for range shops {
		spec := *p.Base.Spec()
		spec.Collectors = slices.Clone(spec.Collectors)
		spec.Collectors[0].Spin(1 + 0.03*rng.NormFloat64())
		spec.Leaks = slices.Clone(spec.Leaks)
		for i := range spec.Leaks {
			spec.Leaks[i].Area *= units.Area(0.3 + 2*rng.Float64())
		}
		spec.Runs = slices.Clone(spec.Runs)
		for i := range spec.Runs {
			spec.Runs[i].Pieces = slices.Clone(spec.Runs[i].Pieces)
			spec.Runs[i].Pieces[0].K += 0.3 * rng.Float64()
		}
		n, err := network.New(spec)
		if err != nil {
			t.Fatal(err)
		}
		q, err := p.In(n, nil)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, q)
	}
	return out
}

// TestDoubtEqualsBruteForce: with shops in doubt the search finds what
// enumeration with the same judge finds, and a plan that it finds is met in as
// many shops as asked when each is solved by itself.
func TestDoubtEqualsBruteForce(t *testing.T) {
	problems := 24
	if testing.Short() {
		problems = 12
	}
	met, none, dearer := 0, 0, 0
	for seed := range problems {
		rng := rand.New(rand.NewPCG(uint64(seed), 5))
		p := generate(t, rng)
		d := &Doubt{Problems: vary(t, p, rng, 10), Share: []float64{0.5, 0.8, 0.9, 1}[rng.IntN(4)]}
		x, err := newSearch(context.Background(), p, &Settings{Doubt: d})
		if err != nil {
			t.Fatal(err)
		}
		want, _ := brute(p, x.judge)
		plain, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, bare := range []bool{false, true} {
			y, err := newSearch(context.Background(), p, &Settings{Doubt: d, Known: [][]int{plain.Best.Pick}})
			if err != nil {
				t.Fatal(err)
			}
			r := proved(t, seed, y, bare, want)
			if r == nil {
				continue
			}
			states, tools, err := d.Shares(context.Background(), p, r)
			if err != nil {
				t.Fatal(err)
			}
			for s := range states {
				if states[s] < d.Share-1e-9 {
					t.Fatalf("seed %d: state %d holds in %g of the shops, asked %g", seed, s, states[s], d.Share)
				}
				for k, share := range tools[s] {
					if runs := slices.Contains(p.States[s].Running, p.Base.Spec().Tools[k].ID); runs != !math.IsNaN(share) || share < states[s]-1e-9 {
						t.Fatalf("seed %d: tool %d gets its flow in %g of the shops, the state holds in %g", seed, k, share, states[s])
					}
				}
			}
		}
		if want >= never {
			none++
			continue
		}
		met++
		if plain.Status == Optimal && want > weigh(plain.Best.Cost, plain.Best.Changed) {
			dearer++
		}
	}
	t.Logf("%d met, %d dearer than without doubt, %d cannot be met", met, dearer, none)
	if met < problems/8 || dearer < 1 || none < 1 {
		t.Errorf("the generator is one-sided: %d met, %d dearer, %d none", met, dearer, none)
	}
}

// TestDoubtIsChecked: a doubt of another redesign is refused.
func TestDoubtIsChecked(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 5))
	p := generate(t, rng)
	for _, d := range []*Doubt{{}, {Problems: []*Problem{p}}, {Problems: []*Problem{p}, Share: 2}, {Problems: []*Problem{generate(t, rng)}, Share: 0.9}} {
		if _, err := Solve(context.Background(), p, &Settings{Doubt: d}); !errors.Is(err, ErrDoubt) {
			t.Errorf("%+v: %v", d, err)
		}
	}
}
