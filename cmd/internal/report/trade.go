package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
)

// Trade is cost against air.
type Trade struct {
	Lead, Currency string
	// Points are the plans in any order, at least one; AsFound is the flow of the
	// shop before any work, per cent, with words beside it.
	Points       []TradePoint
	AsFound      float64
	AsFoundLabel string
	Notes        []string
}

// TradePoint is one plan.
type TradePoint struct {
	Cost float64
	// Flow is that of the tool served worst, per cent of what it needs.
	Flow               float64
	CostText, FlowText string
	Changes            string
	// Proved says that no plan with as much air is cheaper; Status says it in words.
	Proved bool
	Status string
	Chosen bool
	// Differs says what it does otherwise than the chosen plan.
	Differs string
}

// Measures of the picture.
const (
	tradeWide, tradeHigh = 720.0, 440.0
	tradeLeft, tradeTop  = 64.0, 34.0
	tradeRight           = 24.0
	tradeFoot            = 52.0
)

// Chart is the picture of a Trade: places in its own units.
type Chart struct {
	Wide, High               float64
	Left, Right, Top, Bottom float64
	Costs, Flows             []Tick
	// Broken says that the axis of flows does not start at zero.
	Broken bool
	Need   float64 // where 100 % is
	Line   string  // the path through the plans that none beats
	Points []ChartPoint
	Found  ChartPoint
	Chosen int
}

// Tick is a mark on an axis.
type Tick struct {
	At   float64
	Text string
}

// ChartPoint is a plan with its place.
type ChartPoint struct {
	TradePoint
	X, Y float64
}

// Chart lays the picture out, the plans by cost.
func (t *Trade) Chart() Chart {
	c := Chart{Wide: tradeWide, High: tradeHigh, Left: tradeLeft, Right: tradeWide - tradeRight, Top: tradeTop, Bottom: tradeHigh - tradeFoot}
	points := slices.Clone(t.Points)
	slices.SortStableFunc(points, func(a, b TradePoint) int { return cmp.Or(cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Flow, b.Flow)) })
	dear, low, high := 0.0, math.Min(100, t.AsFound), math.Max(100, t.AsFound)
	for _, p := range points {
		dear, low, high = max(dear, p.Cost), min(low, p.Flow), max(high, p.Flow)
	}
	costs := ticks(0, dear)
	flows := ticks(low, high)
	c.Broken = flows[0] > 0
	x := func(v float64) float64 { return round(c.Left + across(v, costs[len(costs)-1])*(c.Right-c.Left)) }
	y := func(v float64) float64 {
		return round(c.Bottom - across(v-flows[0], flows[len(flows)-1]-flows[0])*(c.Bottom-c.Top))
	}
	for _, v := range costs {
		c.Costs = append(c.Costs, Tick{x(v), plain(v)})
	}
	for _, v := range flows {
		c.Flows = append(c.Flows, Tick{y(v), plain(v)})
	}
	c.Need = y(100)
	best := math.Inf(-1)
	for i, p := range points {
		at := ChartPoint{p, x(p.Cost), y(p.Flow)}
		c.Points = append(c.Points, at)
		if p.Chosen {
			c.Chosen = i
		}
		if p.Flow > best {
			if best = p.Flow; c.Line == "" {
				c.Line = fmt.Sprintf("M%g,%g", at.X, at.Y)
			} else {
				c.Line += fmt.Sprintf("H%gV%g", at.X, at.Y)
			}
		}
	}
	if c.Line != "" {
		c.Line += fmt.Sprintf("H%g", c.Right)
	}
	c.Found = ChartPoint{X: x(0), Y: y(t.AsFound)}
	return c
}

// mostTicks is how many steps an axis has at most.
const mostTicks = 5

// ticks are round numbers from at or below the least to at or above the most:
// the finest steps of 1, 2 or 5 times a power of ten that are not too many.
func ticks(least, most float64) []float64 {
	if !(most > least) {
		most = least + 1
	}
	power := math.Pow(10, math.Floor(math.Log10((most-least)/mostTicks)))
	for _, by := range []float64{1, 2, 5, 10, 20} {
		step := by * power
		from, to := math.Floor(least/step), math.Ceil(most/step)
		if to-from > mostTicks {
			continue
		}
		var out []float64
		for k := from; k <= to; k++ {
			out = append(out, k*step)
		}
		return out
	}
	return []float64{least, most}
}

// plain prints a number of an axis: ten digits are more than any has, and hide
// what binary fractions add.
func plain(v float64) string {
	short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 10, 64), 64)
	return strconv.FormatFloat(short, 'f', -1, 64)
}

// round cuts a place of a picture to a tenth of its unit.
func round(v float64) float64 { return math.Round(10*v) / 10 }
