package layout

import (
	"errors"
	"fmt"
	"math"

	"wyewright/optimize/core"
)

// ErrProblem is what every error about a wrong problem or graph wraps.
var ErrProblem = errors.New("layout: problem")

// Limits of a problem.
const (
	// MaxServed is the largest number of points with terminals, root apart, for
	// Solve, whose work grows as 3^terminals.
	MaxServed = 14
	// MaxTerminals is the same for Trees.
	MaxTerminals = 20
	// maxCost is the largest sum of all costs, so that sums are exact in float64.
	maxCost = 1 << 52
)

// Problem asks for the cheapest tree of edges, each with one of its options,
// that joins every terminal to the root. Units are the caller's, as long as
// pressure = resistance · flow^Exponent and velocity = flow / area.
//
// A terminal is served alone: with only its own flow q on its way to the root,
// (sum of resistances) · q^Exponent ≤ Fan.Pressure(q) at q = the larger of its
// Flow and Transport · (the largest area on its way). As the loss rises and the
// fan falls with the flow, its flow is then at least that. With Together all
// terminals flow at once instead, each edge carries the sum of those behind it,
// and the losses on the way of a terminal add up to no more than its Budget.
type Problem struct {
	Points, Root int
	Edges        []Edge
	Terminals    []Terminal
	// Exponent n of the loss R·q^n, 1…3.
	Exponent float64
	// Fan and Transport (least velocity, 0 for none) are for terminals alone.
	Fan       core.Fan
	Transport float64
	Together  bool
}

// Edge joins two points. Duct in it flows toward the root either way, or with
// OneWay from A to B only. Options need an Area only where Transport is asked.
type Edge struct {
	A, B    int
	OneWay  bool
	Options []core.Option
}

// Terminal is a tool or consumer at a point. It need not be a leaf of the tree.
type Terminal struct {
	Point int
	// Flow is what it needs, above 0.
	Flow float64
	// Budget is the loss that its way may have, for Together.
	Budget float64
}

// Pick is an edge of a tree with its option; Reverse where it flows from B to A.
type Pick struct {
	Edge    int
	Reverse bool
	Option  int
}

func bad(format string, a ...any) error {
	return fmt.Errorf("%w: "+format, append([]any{ErrProblem}, a...)...)
}

func finite(x float64) bool { return x >= 0 && !math.IsInf(x, 1) }

// Validate reports what is wrong with a problem, nil if nothing is.
func (p *Problem) Validate() error {
	if !(p.Exponent >= 1 && p.Exponent <= 3) {
		return bad("exponent %v is not in 1…3", p.Exponent)
	}
	if err := checkRoot(p.Points, p.Root); err != nil {
		return err
	}
	sum := 0.0
	for i, e := range p.Edges {
		if err := checkEnds(i, e.A, e.B, p.Points); err != nil {
			return err
		}
		if len(e.Options) == 0 {
			return bad("edge %d has no options", i)
		}
		for _, o := range e.Options {
			if o.Cost < 0 || !finite(o.Resistance) || !finite(o.Area) || o.Resistance == 0 && !p.Together {
				return bad("edge %d has the option %v", i, o)
			}
			sum += float64(o.Cost)
		}
	}
	if sum > maxCost {
		return bad("the costs are too large")
	}
	at := make([]int, len(p.Terminals))
	for k, t := range p.Terminals {
		if !finite(t.Flow) || t.Flow == 0 || math.IsNaN(t.Budget) || math.IsInf(t.Budget, 0) {
			return bad("terminal %d needs flow %v within %v", k, t.Flow, t.Budget)
		}
		at[k] = t.Point
	}
	if err := checkTerminals(at, p.Points, p.Root, MaxServed); err != nil {
		return err
	}
	if f := p.Fan; !p.Together && (!finite(f.Head) || !finite(f.Slope) || !finite(f.Curve) || !finite(p.Transport)) {
		return bad("the fan is %v, the transport velocity %v", f, p.Transport)
	}
	return nil
}

func checkRoot(points, root int) error {
	if root < 0 || root >= points {
		return bad("the root is point %d of %d", root, points)
	}
	return nil
}

func checkEnds(i, a, b, points int) error {
	if a < 0 || b < 0 || a >= points || b >= points || a == b {
		return bad("edge %d joins points %d and %d", i, a, b)
	}
	return nil
}

func checkTerminals(at []int, points, root, most int) error {
	taken := map[int]bool{}
	for k, v := range at {
		if v < 0 || v >= points {
			return bad("terminal %d stands at point %d", k, v)
		}
		taken[v] = true
	}
	if delete(taken, root); len(taken) > most {
		return bad("%d points have terminals, more than %d", len(taken), most)
	}
	return nil
}
