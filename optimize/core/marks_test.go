package core

import (
	"context"
	_ "embed"
	"flag"
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

var (
	mark  = flag.String("mark", "", "measure a class of generated problems: alone, flows, leaks, fixed, loadings, pairs, pairs-dust, large, large-pairs, plant, plant-flows, plant-leaks, front")
	first = flag.Int("first", 0, "first problem to measure")
	take  = flag.Int("take", 40, "problems to measure")
	limit = flag.Duration("limit", 15*time.Second, "time for one problem")
)

// stretches say how much more head the fan has than the least that will do: 2 %
// more head is about 1 % more flow.
var stretches = []float64{1.01, 1.03, 1.1, 1.5}

// class makes problem k of a class: 15 to 30 runs, 14 options each; about 300
// runs in the large ones and the plants.
func class(name string, k int) *Problem {
	if strings.HasPrefix(name, "plant") {
		return plant(uint64(k), name, 300)
	}
	rng := rand.New(rand.NewPCG(uint64(k), 77))
	sh := shape{tools: 8 + k%8, options: 14, alone: true, transport: 18, stretch: stretches[k/2%4], series: k % 2}
	switch name {
	case "alone":
	case "flows": // no transport, so that fronts are long
		sh.transport, sh.series = 0, 1+k%2*2
	case "leaks":
		sh.leak = 0.04
	case "pairs": // transport where a tool runs alone, flows alone in pairs
		sh.pairs = sh.tools
	case "pairs-dust":
		sh.pairs, sh.pairTransport = sh.tools, 18
	case "fixed":
		sh.fixed, sh.stretch = 1, []float64{1.3, 2, 4, 8}[k/2%4]
	case "loadings":
		sh.fixed, sh.stretch = 3, []float64{1.3, 2, 4, 8}[k/2%4]
	case "large-pairs": // the head of large times 1.6 to 2.4
		sh.tools, sh.series, sh.pairs, name = 130+rng.IntN(20), 20, 40, "large"
		sh.stretch *= 1.6
	case "large":
		sh.tools, sh.series = 130+rng.IntN(20), 20
	default:
		panic("no class " + name)
	}
	stretch := sh.stretch
	if sh.fixed == 0 {
		sh.stretch = 1
	}
	p := generate(uint64(1000+k), sh)
	if sh.stretch = stretch; sh.fixed == 0 {
		tighten(p, sh, factor(name, k, p, sh))
	}
	return p
}

//go:embed testdata/heads.csv
var heads string

// factor is read from testdata/heads.csv, so that the problems stay the same
// when the search changes; where that lacks it, it is computed.
func factor(name string, k int, p *Problem, sh shape) float64 {
	head := fmt.Sprintf("%s,%d,", name, k)
	for line := range strings.Lines(heads) {
		if text, ok := strings.CutPrefix(strings.TrimSpace(line), head); ok {
			x, err := strconv.ParseFloat(text, 64)
			if err != nil {
				panic(err)
			}
			return x
		}
	}
	x := leastFactor(p, sh)
	fmt.Printf("head,%s%.6f\n", head, x)
	return x
}

// TestMark measures; nothing is asserted but that answers are consistent.
func TestMark(t *testing.T) {
	if *mark == "" || *mark == "front" {
		t.Skip("-mark not given")
	}
	var took []time.Duration
	var gaps []float64
	proved, decided := 0, 0
	for k := *first; k < *first+*take; k++ {
		p := class(*mark, k)
		runtime.GC()
		ctx, cancel := context.WithTimeout(context.Background(), *limit)
		start := time.Now()
		r, err := Solve(ctx, p, nil)
		d := time.Since(start)
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		if r.Pick != nil && (!NewEvaluator(p).Meets(r.Pick) || p.Cost(r.Pick) != r.Cost || r.Bound > r.Cost) {
			t.Errorf("problem %d: the answer is wrong", k)
		}
		took = append(took, d)
		if r.Status == Optimal || r.Status == Infeasible {
			decided++
			proved++
		} else {
			gaps = append(gaps, r.Gap())
		}
		fmt.Printf("%-10s %3d runs %3d states %2d %-10v cost %8d bound %8d gap %6.3f%% nodes %6d %8.3f s\n", *mark, k, len(p.Runs),
			len(p.States)+len(p.Loadings), r.Status, r.Cost, r.Bound, 100*r.Gap(), r.Nodes, d.Seconds())
	}
	slices.Sort(took)
	slices.Sort(gaps)
	fmt.Printf("%s: %d of %d proved, median %.4f s, worst %.3f s, gaps left %.4f\n", *mark, proved, *take,
		took[len(took)/2].Seconds(), took[len(took)-1].Seconds(), gaps)
}
