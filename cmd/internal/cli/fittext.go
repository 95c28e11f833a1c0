package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/cmd/internal/ui"
	"wyewright/network/calibrate"
	"wyewright/network/units"
)

// fitPrinter prints what a fit says.
type fitPrinter struct {
	*app
	p   *project.Project
	r   *calibrate.Report
	sys units.System
}

func (t *fitPrinter) print(flows []calibrate.Flowing) error {
	r := t.r
	bounds := 0
	for i := range r.Readings {
		if r.Readings[i].Bound != calibrate.Exact {
			bounds++
		}
	}
	fmt.Fprintf(t.Out, "%s, %d of them bounds. %s\n", count(len(r.Readings), "reading"), bounds, fitWord(r))
	if !r.Converged {
		fmt.Fprintln(t.Out, "A fit did not settle: do not rely on what follows.")
	}
	t.clashes()
	t.findings()
	if err := t.gains(); err != nil {
		return err
	}
	fmt.Fprintln(t.Out)
	if _, err := t.estimates().WriteTo(t.Out); err != nil {
		return err
	}
	if len(t.r.Findings) > 0 {
		fmt.Fprintln(t.Out, "  The ranges hold if what was found is what is wrong; of the rivals named above each has sizes of its own.")
	}
	t.unseen()
	t.together()
	fmt.Fprintln(t.Out)
	if _, err := readTable(r, t.sys).WriteTo(t.Out); err != nil {
		return err
	}
	if err := t.flows(flows); err != nil {
		return err
	}
	t.next()
	return nil
}

// fitWord says how well the model reproduces the readings: the sum of squared
// misses is about the number of readings where the doubts are right.
func fitWord(r *calibrate.Report) string {
	n := float64(len(r.Readings))
	sum := fmt.Sprintf("sum of squared misses %.0f for %d readings", r.After, len(r.Readings))
	if len(r.Findings) > 0 {
		sum += fmt.Sprintf(", %.0f before the findings", r.Before)
	}
	switch {
	case r.After > n+4*math.Sqrt(2*n):
		return "The model does not reproduce them (" + sum + ")."
	case len(r.Findings) > 0:
		return "With the findings below the model reproduces them (" + sum + ")."
	}
	return "The model reproduces them (" + sum + ")."
}

// clashes names pairs of readings that cannot both be right.
func (t *fitPrinter) clashes() {
	for _, c := range t.r.Clashes {
		a, b := &t.r.Readings[c.A], &t.r.Readings[c.B]
		fmt.Fprintf(t.Out, "Cannot both be right: %s reads %s (%s) and %s (%s), %s apart by their own doubts. Read it again.\n", a.Name,
			readText(&a.Reading, a.Value, t.sys), a.Source, readText(&b.Reading, b.Value, t.sys), b.Source, number(c.Sigmas, 1)+" σ")
	}
}

// findings are the verdicts with their evidence.
func (t *fitPrinter) findings() {
	r := t.r
	if len(r.Findings) == 0 {
		fmt.Fprintln(t.Out, "\nNothing is wrong with the shop that these readings could show, beyond what the file says.")
		return
	}
	fmt.Fprintln(t.Out, "\nFound, the strongest evidence first (10 is strong)")
	air := false
	for i := range r.Findings {
		f := &r.Findings[i]
		fmt.Fprintf(t.Out, "  %d. %s; evidence %.0f\n", i+1, t.verdict(f), f.Evidence)
		for _, line := range t.evidence(f) {
			fmt.Fprintf(t.Out, "     %s\n", line)
		}
		if len(f.Rivals) > 0 {
			fmt.Fprintf(t.Out, "     the readings cannot tell it from: %s\n", t.names(params(f.Rivals)))
		}
		air = air || f.Reading < 0 && f.Kind == calibrate.LeakArea
	}
	if air {
		fmt.Fprintln(t.Out, "  Where less air flows toward the machine than toward the fan it comes in between: friction takes pressure,\n  never air.")
	}
}

// gains lists where air comes in that the file knows nothing of, by the readings
// alone.
func (t *fitPrinter) gains() error {
	table := ui.NewTable(ui.Word("from"), ui.Word("to"), ui.Num("comes in", units.Flow(0).Unit(t.sys)), ui.Num("±", ""), ui.Num("by the file", ""))
	rows, lost := 0, false
	for _, g := range t.r.Gains {
		if math.Abs(g.Flow-g.Believed) < 2*g.Sigma {
			continue
		}
		var above []string
		for _, k := range g.Above {
			place, _ := strings.CutSuffix(t.r.Readings[k].Name, " in "+t.r.Readings[k].State.Name)
			above = append(above, place)
		}
		if len(above) == 0 {
			above = []string{"shut ends"}
		}
		flow := func(x float64) string { return number(units.Flow(x).In(t.sys), 0) }
		table.Row(strings.Join(above, " + "), t.r.Readings[g.Below].Name, flow(g.Flow), flow(g.Sigma), flow(g.Believed))
		rows++
		lost = lost || g.Flow < -2*g.Sigma
	}
	if rows == 0 {
		return nil
	}
	fmt.Fprintln(t.Out, "\nAir that comes in on the way, by the readings alone")
	_, err := table.WriteTo(t.Out)
	if lost {
		fmt.Fprintln(t.Out, "  Air cannot vanish on its way: where less flows on than came, a reading is wrong, or a duct is not as wide as written.")
	}
	return err
}

// estimates lists what is never quite known, and the faults.
func (t *fitPrinter) estimates() *ui.Table {
	table := ui.NewTable(ui.Word("fitted"), ui.Num("value", ""), ui.Num("90 % from", ""), ui.Num("to", ""), ui.Num("expected", ""), ui.Num("±", ""), ui.Word(""))
	for i := range t.r.Estimates {
		e := &t.r.Estimates[i]
		if unseen(e) {
			continue
		}
		prior, doubt := "", ""
		if e.Doubt > 0 {
			prior, doubt = e.Text(e.Prior), e.Text(e.Doubt)
		}
		table.Row(e.Name, e.Text(e.Value), e.Text(e.Low), e.Text(e.High), prior, doubt, seenWord(e))
	}
	return table
}

// unseen reports whether the readings say next to nothing of a parameter.
func unseen(e *calibrate.Estimate) bool {
	return e.Doubt > 0 && !e.Released && e.AtBound == 0 && e.Sigma > 0.97*e.Doubt && math.Abs(e.Value-e.Prior) < 0.1*e.Doubt
}

// unseen names what the readings say next to nothing of.
func (t *fitPrinter) unseen() {
	var names []string
	for i := range t.r.Estimates {
		if e := &t.r.Estimates[i]; unseen(e) {
			names = append(names, e.Name)
		}
	}
	if len(names) > 0 {
		fmt.Fprintf(t.Out, "  Not seen by the readings, and so as expected: %s.\n", strings.Join(names, ", "))
	}
}

// Shares of the prior's doubt that the readings leave, for words.
const (
	hardly = 0.9
	little = 0.6
)

// seenWord says how well the readings see a parameter.
func seenWord(e *calibrate.Estimate) string {
	switch {
	case e.AtBound != 0:
		return "at its bound"
	case math.IsInf(e.Sigma, 0):
		return "not seen by the readings"
	case e.Doubt > 0 && e.Sigma > hardly*e.Doubt:
		return "hardly seen by the readings"
	case e.Doubt > 0 && e.Sigma > little*e.Doubt:
		return "little seen by the readings"
	}
	return ""
}

// handInHand is the correlation from which two estimates are named together.
const handInHand = 0.8

// together names estimates that the readings see only in combination.
func (t *fitPrinter) together() {
	c := t.r.Correlations()
	if c == nil {
		return
	}
	for i := range t.r.Estimates {
		for j := range i {
			if x := c.At(i, j); math.Abs(x) >= handInHand {
				way := "the more of one, the more of the other"
				if x < 0 {
					way = "the more of one, the less of the other"
				}
				fmt.Fprintf(t.Out, "  The readings see %s and %s only together: %s (correlation %s).\n", t.r.Estimates[j].Name, t.r.Estimates[i].Name, way, number(x, 2))
			}
		}
	}
}

// readTable holds each reading against the model.
func readTable(r *calibrate.Report, sys units.System) *ui.Table {
	t := ui.NewTable(ui.Word("reading"), ui.Num("read", ""), ui.Num("model", ""), ui.Num("miss", "σ"), ui.Word(""))
	for i := range r.Readings {
		x := &r.Readings[i]
		mark := map[calibrate.Bound]string{calibrate.AtLeast: ">", calibrate.AtMost: "<"}[x.Bound]
		t.Row(x.Name, mark+readText(&x.Reading, x.Value, sys), readText(&x.Reading, x.Model, sys), number(x.Miss, 1), missWord(x))
	}
	return t
}

// readText prints a value of a reading's quantity with its unit.
func readText(r *calibrate.Reading, x float64, sys units.System) string {
	switch r.Quantity {
	case calibrate.Current:
		return number(x, 1) + " A"
	case calibrate.Flow:
		return units.Flow(x).Text(sys)
	case calibrate.Suction:
		return units.Pressure(x).Text(sys)
	}
	return units.Velocity(x).Text(sys)
}

// missWord says how a reading fits.
func missWord(x *calibrate.Shown) string {
	switch z := math.Abs(x.Miss); {
	case x.Rejected:
		return "left out"
	case z >= 3:
		return "odd"
	case z >= 2:
		return "doubtful"
	case x.Bound != calibrate.Exact:
		return "holds"
	}
	return "fits"
}

// flows lists what the fitted shop lets flow.
func (t *fitPrinter) flows(all []calibrate.Flowing) error {
	if len(all) == 0 {
		return nil
	}
	s := &t.p.File.Spec
	fmt.Fprintln(t.Out, "\nFlows of the fitted shop, with the range that holds them in 9 of 10 cases")
	table := ui.NewTable(ui.Word("state"), ui.Word(""), ui.Num("flow", units.Flow(0).Unit(t.sys)), ui.Num("from", ""), ui.Num("to", ""),
		ui.Num("speed", units.Velocity(0).Unit(t.sys)), ui.Num("from", ""), ui.Num("to", ""))
	flow := func(x float64) string { return number(units.Flow(x).In(t.sys), 0) }
	for i := range all {
		f := &all[i]
		if f.Tool >= 0 && !f.Running || f.High < float64(units.CubicMetrePerHour) {
			continue
		}
		low, high := max(0, f.Low), f.High
		if f.Tool >= 0 {
			table.Row(f.State, s.Tools[f.Tool].ID, flow(f.Flow), flow(low), flow(high))
			continue
		}
		// Of a run whose flow is nothing the speed has no range to scale.
		speed := func(x float64) string {
			if f.Flow <= 0 {
				return ""
			}
			return velocity(units.Velocity(f.Speed*x/f.Flow), t.sys)
		}
		table.Row(f.State, s.Runs[f.Run].ID, flow(f.Flow), flow(low), flow(high), speed(f.Flow), speed(low), speed(high))
	}
	_, err := table.WriteTo(t.Out)
	return err
}

// next says which readings are worth taking.
func (t *fitPrinter) next() {
	settles := slices.IndexFunc(t.r.Next, func(n calibrate.Proposal) bool { return n.Tool != "" })
	if settles < 0 {
		settles = len(t.r.Next)
	}
	if settles > 0 {
		fmt.Fprintln(t.Out, "\nTo tell them apart, read next")
	}
	for i := range t.r.Next {
		n := &t.r.Next[i]
		if i == settles {
			fmt.Fprintln(t.Out, "\nTo settle whether a tool meets its flow, read next")
		}
		state := fmt.Sprintf("in state %q", n.State.Name)
		if len(n.State.Running)+len(n.State.Open) == 0 {
			state = "with all gates shut"
		}
		var words string
		if i < settles {
			words = t.under(n)
		} else {
			words = fmt.Sprintf("expect about %s; it cuts the doubt of %s in state %q from ±%s to ±%s", readText(&n.Reading, n.Value, t.sys), n.Tool, n.For,
				units.Flow(n.From).Text(t.sys), units.Flow(n.To).Text(t.sys))
		}
		fmt.Fprintf(t.Out, "  %d. %s %s: %s\n", i+1, n.Name, state, words)
	}
	if len(t.r.Next) > 0 {
		fmt.Fprintln(t.Out, "  Velocities are those on the centre line. Keep one gate open on thin pipe; lock the fan off before drilling.")
	}
}

// under says what each explanation predicts; those that predict the same stand
// together.
func (t *fitPrinter) under(n *calibrate.Proposal) string {
	var values []string
	var who [][]calibrate.Param
	for _, u := range n.Under {
		v := readText(&n.Reading, u.Value, t.sys)
		k := slices.Index(values, v)
		if k < 0 {
			k = len(values)
			values, who = append(values, v), append(who, nil)
		}
		who[k] = append(who[k], u.Param)
	}
	var out []string
	for k, v := range values {
		out = append(out, v+" if "+t.names(who[k]))
	}
	return strings.Join(out, "; ")
}
