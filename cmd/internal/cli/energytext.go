package cli

import (
	"fmt"

	"wyewright/cmd/internal/ui"
	"wyewright/network/fan"
	"wyewright/optimize"
	"wyewright/optimize/price"
	"wyewright/plots"
)

// lifeLine is the verdict of a search with energy: it follows the plan's own.
func (o *outcome) lifeLine() string {
	c, r := o.p.Currency, o.result
	s := fmt.Sprintf("With %s of energy over the years that is %s", c.Text(r.Best.Energy), c.Text(r.Best.Total()))
	switch {
	case r.Status == optimize.Optimal:
		return s + ". Status: optimal, no plan costs less together."
	case r.Bound == 0:
		return s + ". Status: best found; no lower bound was proved, so a plan that costs less together is not ruled out."
	}
	return fmt.Sprintf("%s. Status: best found; none can cost less than %s together (gap %.1f %%).", s, c.Text(r.Bound), 100*r.Gap)
}

// perKWh prints a price of energy.
func perKWh(c price.Currency, minor float64) string {
	for range c.Digits {
		minor /= 10
	}
	return fmt.Sprintf("%.6g %s/kWh", minor, c.Code)
}

// terms are what energy is reckoned with, in words.
func (l *lifetime) terms(c price.Currency) string {
	s := fmt.Sprintf("%.4g years of %.6g running hours at %s", l.energy.Years, l.energy.Hours, perKWh(c, l.energy.Price))
	if l.energy.Interest > 0 {
		s += fmt.Sprintf(", %.3g %% interest", 100*l.energy.Interest)
	}
	return s
}

// basis says what the fan power rests on.
func basis(e *optimize.Energy, use *optimize.EnergyUse) string {
	drive := e.Drive
	from := "as the file has it"
	if drive == 0 {
		drive, from = optimize.DefaultDrive, "assumed"
	}
	s := fmt.Sprintf("Fan power is that at the shaft, with the filter that flows are judged at (loaded); motor %.3g %%, %s", 100*float64(drive), from)
	if use != nil && use.Estimated() {
		s += fmt.Sprintf("; the file knows no power of the fan in some state, so that %.3g %% from shaft to air is assumed there", 100*float64(fan.DefaultEfficiency))
	}
	return s
}

// printLife prints what the plan costs over the years, beside the least purchase
// and the shop as found.
func (a *app) printLife(o *outcome) error {
	l, c := o.life, o.p.Currency
	fmt.Fprintf(a.Out, "Over the years: %s\n", l.terms(c))
	if _, err := o.lifeTable().WriteTo(a.Out); err != nil {
		return err
	}
	_, err := fmt.Fprintf(a.Out, "%s\n%s\n", o.lifeCompared(), basis(l.energy, l.use)+"; "+l.note+".")
	return err
}

// lifeTable is what a plan costs over the years.
func (o *outcome) lifeTable() *ui.Table {
	l, c := o.life, o.p.Currency
	t := ui.NewTable(ui.Word("cost"), ui.Num("amount", c.Code))
	t.Row("purchase: materials with waste on pipe", c.Number(o.bill.Materials))
	t.Row("labour", c.Number(o.bill.Labour))
	t.Row(fmt.Sprintf("energy, %.0f kWh a year", l.use.Yearly), c.Number(l.use.Money))
	t.Row("together, which the search goes by", c.Number(o.result.Best.Total()))
	return t
}

// lifeCompared holds a plan against the least purchase and the shop as found.
func (o *outcome) lifeCompared() string {
	l, c := o.life, o.p.Currency
	least := l.least.Best.Cost + l.leastUse.Money
	line := fmt.Sprintf("The least purchase, %s (%s), would draw %.0f kWh a year and cost %s together", c.Text(l.least.Best.Cost), l.least.Status, l.leastUse.Yearly, c.Text(least))
	switch d := least - o.result.Best.Total(); {
	case d > 0:
		line += ", " + c.Text(d) + " more"
	case l.least.Best.Cost == o.result.Best.Cost:
		line += ": it is no dearer"
	}
	return fmt.Sprintf("%s. As found the shop draws %.0f kWh a year.", line, l.foundUse.Yearly)
}

// printPower lists the front of cost against fan power.
func (a *app) printPower(o *outcome) error {
	fmt.Fprintf(a.Out, "Cost against fan power, each point at least %.3g %% below the one before\n", 100*powerDrop)
	if _, err := o.powerTable().WriteTo(a.Out); err != nil {
		return err
	}
	line := powerEnd(o.power.Ends) + "."
	if o.life == nil { // else it was said already
		line += "\n" + basis(o.powerBasis, nil) + "; " + o.powerNote + "."
	}
	_, err := fmt.Fprintln(a.Out, line)
	return err
}

// powerTable lists the plans of the front of cost against fan power.
func (o *outcome) powerTable() *ui.Table {
	c := o.p.Currency
	t := ui.NewTable(ui.Num("power", "W"), ui.Num("planning cost", c.Code), ui.Num("changes", ""), ui.Word("status"))
	for _, f := range o.power.Points {
		t.Row(number(float64(f.Power), 0), c.Number(f.Plan.Cost), fmt.Sprint(f.Plan.Changed), f.Status.String())
	}
	return t
}

// powerEnd says why a walk along the front ended.
func powerEnd(s optimize.Status) string {
	switch s {
	case optimize.Infeasible:
		return fmt.Sprintf("No plan that meets the rules draws %.3g %% less than the last (proved)", 100*powerDrop)
	case optimize.NotSearched:
		return "There may be more points: --power-front asks for more"
	}
	return "The time ended before it was known whether a plan draws less: --power-time gives more"
}

// powerFigure draws the front of cost against fan power.
func (o *outcome) powerFigure() (*plots.Figure, error) {
	d := plots.PowerFrontData{Currency: o.p.Currency.Code, Unit: "W"}
	for _, f := range o.power.Points {
		pt := plots.PowerPoint{Cost: o.major(f.Plan.Cost), Power: float64(f.Power), Bound: o.major(f.Bound)}
		if f.Status != optimize.Optimal {
			pt.Proof = plots.Limited
		}
		if o.life == nil && f.Plan.Cost == o.result.Best.Cost {
			pt.Label, pt.Chosen = "this plan", true
		}
		d.Points = append(d.Points, pt)
	}
	if o.life != nil {
		pt := plots.PowerPoint{Label: "this plan", Cost: o.major(o.result.Best.Cost), Power: float64(o.life.use.Mean), Chosen: true}
		if o.result.Status != optimize.Optimal {
			pt.Proof = plots.Gap
		}
		d.Points = append(d.Points, pt)
	}
	return plots.PowerFront(d)
}

// major is an amount in units of the currency.
func (o *outcome) major(m price.Money) float64 {
	x := float64(m)
	for range o.p.Currency.Digits {
		x /= 10
	}
	return x
}
