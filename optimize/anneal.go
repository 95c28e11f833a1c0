package optimize

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
)

const (
	// annealSteps is the number of trial changes of one annealing run.
	annealSteps = 6000
	// annealRuns is the largest number of runs, each with its own generator.
	annealRuns = 4
	// The temperature falls from hot to cold, as shares of the money scale.
	annealHot, annealCold = 0.3, 0.003
	// missWeight is what a miss of 1 costs, in money scales.
	missWeight = 40
)

// anneal looks for a plan that meets every state by simulated annealing
// (Kirkpatrick, Gelatt & Vecchi 1983, Science 220:671): a random change of
// one choice is taken if it lowers cost plus penalty, and now and then if it
// does not. The generator is seeded by the run's number, so that the same
// problem gives the same plans.
func (x *search) anneal(start []int, run int) {
	rng := rand.New(rand.NewPCG(1, uint64(run)))
	var free []int
	scale := 0.0
	for i := range x.dom {
		if x.dom[i]&(x.dom[i]-1) != 0 {
			free = append(free, i)
			for a := range x.p.Choices[i].Alternatives {
				scale = max(scale, float64(x.p.Choices[i].Alternatives[a].Cost))
			}
		}
	}
	if len(free) == 0 || scale == 0 {
		return
	}
	pick := slices.Clone(start)
	energy, _ := x.energy(pick, scale)
	for step := range annealSteps {
		if x.halted() {
			return
		}
		heat := annealHot * math.Pow(annealCold/annealHot, float64(step)/annealSteps)
		i := free[rng.IntN(len(free))]
		a := nth(x.dom[i], rng.IntN(bits.OnesCount64(x.dom[i])))
		u := rng.Float64()
		if a == pick[i] {
			continue
		}
		old := pick[i]
		pick[i] = a
		next, miss := x.energy(pick, scale)
		if next > energy && u >= math.Exp((energy-next)/heat) {
			pick[i] = old
			continue
		}
		energy = next
		if miss == 0 {
			x.offer(pick)
		} else {
			x.note(pick, miss)
		}
	}
}

// energy is cost plus penalty of a plan in units of scale.
func (x *search) energy(pick []int, scale float64) (e, miss float64) {
	w := x.weightOf(pick)
	if w >= never {
		return math.Inf(1), 1
	}
	w += x.bill(pick)
	miss = x.judge.miss(pick)
	return float64(w.money())/scale + missWeight*miss, miss
}

// nth is the n-th set bit of a domain.
func nth(d uint64, n int) int {
	for range n {
		d &= d - 1
	}
	return bits.TrailingZeros64(d)
}
