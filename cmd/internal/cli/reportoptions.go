package cli

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"wyewright/cmd/internal/report"
	"wyewright/network"
	"wyewright/optimize"
)

// options are the plans to choose from, with words on what is not among them.
func (o *outcome) options(ctx context.Context) ([]report.Option, string, error) {
	if !solved(o.result) || o.budget != nil {
		return nil, "", nil
	}
	first := o.option(o.chosenName(), o.result.Best, o.result.States, o.result.Network, o.statusWord()+", "+o.statusNote())
	first.Chosen = true
	out := []report.Option{first}
	more := o.roomierFront()
	for _, pick := range []struct {
		name string
		at   int
	}{{"Balanced", balanced(o.frontPoint(), more)}, {"Most air", len(more) - 1}} {
		if pick.at < 0 || pick.name == "Balanced" && pick.at == len(more)-1 {
			continue
		}
		f := more[pick.at]
		states, err := o.problem.AsPlanned(ctx, f.Plan)
		if err != nil {
			return nil, "", err
		}
		opt := o.option(pick.name, f.Plan, states, o.problem.Network(f.Plan.Pick), o.frontStatus(&f))
		opt.Differs = o.differences(f.Plan)
		out = append(out, opt)
	}
	return out, o.optionsNote(len(more), slices.ContainsFunc(out, func(x report.Option) bool { return x.Name == "Balanced" })), nil
}

// chosenName says what the plan of the page is.
func (o *outcome) chosenName() string {
	switch {
	case o.life != nil:
		return "Cheapest with its energy"
	case o.certain != nil:
		return "Cheapest with this confidence"
	}
	if o.result.Status != optimize.Optimal {
		return "Cheapest found that works"
	}
	return "Cheapest that works"
}

// optionsNote says how the options were come by; knee says that the balanced one
// is among them.
func (o *outcome) optionsNote(more int, knee bool) string {
	switch {
	case len(o.front) == 0:
		return "No other plans were looked for, or none was found in time."
	case more == 0:
		return "No plan with more air was found within the time for the trade-off; that is no proof that there is none."
	case o.certain != nil:
		return "The others are for the fitted shop as believed, without the confidence."
	}
	most := "Most air: the most that was found on the trade-off, which may not be all there is."
	if knee {
		return "Balanced: where more money begins to buy less air. " + most
	}
	return most
}

// option puts a plan into words.
func (o *outcome) option(name string, pl *optimize.Plan, states []optimize.StateResult, n *network.Network, status string) report.Option {
	facts := []report.Fact{
		{Name: "work", Value: count1(o.p.Builder.Bill(o.problem.Lines(pl)).Hours, "hour")},
		{Name: "changes", Value: fmt.Sprint(pl.Changed)},
		{Name: "least air", Value: percent(leastFlow(states)) + " %"},
	}
	if ratio, where := slowestRun(n, states); where != "" {
		facts = append(facts, report.Fact{Name: "slowest dust run", Value: percent(ratio) + " %", Note: where})
	}
	return report.Option{Name: name, Cost: o.p.Currency.Text(pl.Cost), Facts: append(facts, report.Fact{Name: "status", Value: status})}
}

// slowestRun is the least share of a transport velocity, and where; "" where
// no run carries dust.
func slowestRun(n *network.Network, states []optimize.StateResult) (float64, string) {
	least, where := math.Inf(1), ""
	for _, s := range states {
		for _, d := range s.Verdict.Dust {
			if d.Ratio < least {
				least, where = d.Ratio, fmt.Sprintf("of its limit: %s in %q", n.Spec().Runs[d.Run].ID, s.State.Name)
			}
		}
	}
	return least, where
}

// frontPoint is the plan of the page as a point of the trade-off.
func (o *outcome) frontPoint() optimize.FrontPoint {
	return optimize.FrontPoint{Flow: leastFlow(o.result.States), Plan: o.result.Best, Status: o.result.Status, Bound: o.result.Bound}
}

// roomierFront are the points of the trade-off with more air than the plan for
// more money, in order of air; a point that another beats in both is not there.
func (o *outcome) roomierFront() []optimize.FrontPoint {
	here := o.frontPoint()
	points := slices.Clone(o.front)
	slices.SortStableFunc(points, func(a, b optimize.FrontPoint) int {
		if a.Flow != b.Flow {
			return int(math.Copysign(1, b.Flow-a.Flow))
		}
		return int(a.Plan.Cost - b.Plan.Cost)
	})
	var out []optimize.FrontPoint
	for _, f := range points { // from the most air downward
		if n := len(out); f.Flow > here.Flow+1e-6 && f.Plan.Cost > here.Plan.Cost && (n == 0 || f.Plan.Cost < out[n-1].Plan.Cost) {
			out = append(out, f)
		}
	}
	slices.Reverse(out)
	return out
}

// balanced is the knee of the points above a plan: the one that lies farthest on
// the good side of the straight line from the plan to the last, both axes
// scaled to that line's length (Das 1999, Structural Optimization 18:107, from
// memory). −1 where none does.
func balanced(from optimize.FrontPoint, more []optimize.FrontPoint) int {
	best, farthest := -1, 1e-9
	if len(more) < 2 {
		return best
	}
	last := more[len(more)-1]
	for i, f := range more[:len(more)-1] {
		air := (f.Flow - from.Flow) / (last.Flow - from.Flow)
		money := float64(f.Plan.Cost-from.Plan.Cost) / float64(last.Plan.Cost-from.Plan.Cost)
		if d := air - money; d > farthest {
			best, farthest = i, d
		}
	}
	return best
}

// frontStatus says how sure a point of the trade-off is.
func (o *outcome) frontStatus(f *optimize.FrontPoint) string {
	switch {
	case f.Status == optimize.Optimal:
		return "optimal for its air"
	case f.Bound > 0:
		return fmt.Sprintf("best found; as much air costs at least %s", o.p.Currency.Text(f.Bound))
	}
	return "best found, not proved"
}

// mostDiffers is how many differences are listed before the rest is counted.
const mostDiffers = 6

// differences lists what a plan does otherwise than the one of the page.
func (o *outcome) differences(pl *optimize.Plan) []string {
	out := o.instead(pl)
	if n := len(out); n > mostDiffers+1 {
		out = append(out[:mostDiffers], fmt.Sprintf("and %d more", n-mostDiffers))
	}
	return out
}

// tradePoints are cost against air for the picture with the slider.
func (o *outcome) tradePoints() *report.Trade {
	if !solved(o.result) || len(o.front) == 0 {
		return nil
	}
	t := &report.Trade{Currency: o.p.Currency.Code, AsFound: 100 * leastFlow(o.before), AsFoundLabel: "as found",
		Lead: "Each mark is a plan; the line is what is bought by spending up to that much, with the air in every dust run at transport velocity throughout."}
	if o.tried > 1 {
		t.Notes = append(t.Notes, "All on the ways and with the collector of this plan.")
	}
	if !o.holdsAsFound() {
		t.AsFoundLabel = "as found (dust may settle)"
	}
	add := func(f optimize.FrontPoint, chosen bool, status string) {
		pt := report.TradePoint{Cost: o.major(f.Plan.Cost), Flow: 100 * f.Flow, CostText: o.p.Currency.Text(f.Plan.Cost), FlowText: number(math.Floor(1000*f.Flow+1e-6)/10, 1) + " %",
			Changes: fmt.Sprint(f.Plan.Changed), Proved: f.Status == optimize.Optimal, Chosen: chosen, Status: status}
		if !chosen {
			pt.Differs = strings.Join(o.differences(f.Plan), "; ")
		}
		t.Points = append(t.Points, pt)
	}
	here := o.frontPoint()
	for _, f := range o.front {
		if f.Plan.Cost != here.Plan.Cost || math.Abs(f.Flow-here.Flow) > 1e-6 {
			add(f, false, o.frontStatus(&f))
		}
	}
	add(here, true, o.statusWord()+", "+o.statusNote())
	return t
}

// holdsAsFound reports whether the shop as found keeps every rule but the flows.
func (o *outcome) holdsAsFound() bool {
	for _, s := range o.before {
		if !network.Meets(s.Verdict.DustRatio()) || len(s.Verdict.Fast) > 0 {
			return false
		}
	}
	return true
}
