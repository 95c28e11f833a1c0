package core

import "math"

// pressRounds is how often press goes through all runs.
const pressRounds = 10

// press changes options at any cost until a plan meets everything: run by run
// it takes the option with which the fourth powers of what the states need, as
// a share of what there is, add up to least. Unlike repair it sees what a state
// that is met has to spare. It reports false where it is stuck.
func (l *local) press(pick []int) bool {
	score := func(s int) float64 {
		x := max(0, 1+l.excess(pick, s))
		return x * x * x * x
	}
	for s := range l.miss {
		l.miss[s] = score(s)
	}
	for range pressRounds {
		changed := false
		for i := range pick {
			if l.stopped() {
				return false
			}
			best, sum := pick[i], 0.0
			for _, s := range l.affects[i] {
				sum += l.miss[s]
			}
			for o := range l.e.p.Runs[i].Options {
				pick[i] = o
				x := 0.0
				for _, s := range l.affects[i] {
					if x += score(s); x >= sum {
						break
					}
				}
				if x < sum*(1-1e-9) {
					best, sum = o, x
				}
			}
			if pick[i] = best; sum == 0 {
				continue
			}
			for _, s := range l.affects[i] {
				if x := score(s); x != l.miss[s] {
					l.miss[s], changed = x, true
				}
			}
		}
		if l.met() {
			return true
		}
		if !changed {
			return false
		}
	}
	return false
}

// penaltyRounds is how often penalise raises the price of what is missed.
const penaltyRounds = 30

// penalise changes options until a plan meets everything: run by run it takes
// the option with the least sum of cost and price times what the states miss,
// and raises the price until nothing is missed. It is quicker than repair and
// looks at cost, unlike press. It reports false where it is stuck.
func (l *local) penalise(pick []int, price float64) bool {
	for s := range l.miss {
		l.miss[s] = l.judge(pick, s)
	}
	for range penaltyRounds {
		for i := range pick {
			if l.stopped() {
				return false
			}
			best := l.cheapest(pick, i, price)
			if best != pick[i] {
				pick[i] = best
				for _, s := range l.affects[i] {
					l.miss[s] = l.judge(pick, s)
				}
			}
		}
		if l.missed() == 0 {
			return true
		}
		price *= 1.5
	}
	return false
}

// cheapest is the option of run i with the least cost and price of what is
// missed, all else as it is.
func (l *local) cheapest(pick []int, i int, price float64) int {
	old, best, least, missed := pick[i], pick[i], 0.0, 0.0
	for _, s := range l.affects[i] {
		missed += l.miss[s]
	}
	for o := range l.e.p.Runs[i].Options {
		if o == old {
			continue
		}
		x := float64(l.delta(pick, i, o)) - price*missed
		pick[i] = o
		for _, s := range l.affects[i] {
			if x >= least {
				break
			}
			x += price * l.judge(pick, s)
		}
		pick[i] = old
		if x < least {
			best, least = o, x
		}
	}
	return best
}

// met reports whether no score of press says that something is missed.
func (l *local) met() bool {
	for _, m := range l.miss {
		if m > math.Pow(1+grain, 4) {
			return false
		}
	}
	return true
}
