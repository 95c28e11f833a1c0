package cli

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/network/shopfile"
	"wyewright/optimize"
)

// energyOptions are the flags about energy, as typed; empty leaves it to the file.
type energyOptions struct {
	price, years, hours, interest string
	// powerFront is the number of points of the front of cost against fan power,
	// powerTime the time for all of them.
	powerFront int
	powerTime  time.Duration
}

func (o *energyOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.price, "energy", "", "count energy over the years at this `price`, such as \""+shopfile.EnergyExample+"\"; none leaves the file's out")
	f.StringVar(&o.years, "years", "", "`years` of service, with --energy")
	f.StringVar(&o.hours, "hours", "", "running `hours` a year, with --energy")
	f.StringVar(&o.interest, "interest", "", "yearly interest as a `share`, such as 3%, with --energy")
	f.IntVar(&o.powerFront, "power-front", 0, "number of `points` of cost against fan power to look for, 0 for none")
	f.DurationVar(&o.powerTime, "power-time", 30*time.Second, "time for all points of cost against fan power together")
}

// typed reports whether a flag asks for energy.
func (o *energyOptions) typed() bool {
	return o.price != "" && o.price != "none" || o.years != "" || o.hours != "" || o.interest != ""
}

// checkEnergy refuses what does not go with energy.
func checkEnergy(o *redesignOptions) error {
	e := &o.energy
	if e.powerFront < 0 || e.powerTime < 0 {
		return fail(Usage, errors.New("--power-front and --power-time cannot be negative"), "0 means no points, or no limit")
	}
	other := ""
	switch {
	case o.budget != "":
		other = "--budget"
	case o.confidence != "":
		other = "--confidence"
	}
	asked := "--energy"
	if !e.typed() {
		asked = "--power-front"
	}
	if other != "" && (e.typed() || e.powerFront > 0) {
		return fail(Usage, fmt.Errorf("%s and %s do not go together yet", asked, other), "give one of them")
	}
	if e.typed() && (o.whatIf > 0 || o.alternatives != "") {
		return fail(Usage, errors.New("--what-if and --alternatives do not reckon with energy yet"), "ask for them in a run of their own, with --energy none")
	}
	if e.price == "none" && e.typed() {
		return fail(Usage, errors.New("--energy none leaves years, hours and interest nothing to do"), "leave them out, or give a price")
	}
	return nil
}

// energyAlone refuses a file whose running time would count for nothing, because
// no price of energy is there.
func energyAlone(p *project.Project, o *redesignOptions) error {
	e := &p.File.Energy
	if e.Given || o.energy.price != "" || o.energy.typed() || o.energy.powerFront > 0 {
		return nil
	}
	var keys []string
	for _, k := range []struct {
		name string
		is   bool
	}{{"years", e.Years > 0}, {"hours", e.Hours > 0}, {"state hours", len(e.States) > 0}, {"interest", e.Interest > 0}} {
		if k.is {
			keys = append(keys, k.name)
		}
	}
	if len(keys) == 0 {
		return nil
	}
	return fail(Usage, fmt.Errorf("the file's redesign section has %s, but no price of energy is given: they would count for nothing", strings.Join(keys, ", ")),
		"add energy: "+shopfile.EnergyExample+" under prices in the file, or --energy \""+shopfile.EnergyExample+"\"; --energy none leaves energy out")
}

// wishes reads the flags about energy in the currency of a project.
func (o *energyOptions) wishes(p *project.Project) (w project.EnergyWishes, err error) {
	if o.price != "" {
		v, currency, err := shopfile.ParseEnergyPrice(o.price)
		hint := "write it like --energy \"" + shopfile.EnergyExample + "\""
		switch {
		case err != nil:
			return w, fail(Usage, fmt.Errorf("--energy %q: %w", o.price, err), hint)
		case currency != p.Currency.Code:
			return w, fail(Usage, fmt.Errorf("--energy %q: the prices are in %s", o.price, p.Currency.Code), "prices are not converted")
		}
		w.PerKWh = &v
	}
	if w.Years, err = amount("--years", o.years, "", shopfile.MostYears); err != nil {
		return w, err
	}
	if w.Hours, err = amount("--hours", o.hours, "h", shopfile.MostHours); err != nil {
		return w, err
	}
	if o.interest != "" {
		share, err := parseShare("--interest", o.interest, 0, 0.99)
		if err != nil {
			return w, err
		}
		w.Interest = &share
	}
	return w, nil
}

// amount reads a number above 0 and up to most, nil where nothing was typed.
func amount(flag, text, unit string, most float64) (*float64, error) {
	if text == "" {
		return nil, nil
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), unit)), 64)
	if err != nil || !(v > 0 && v <= most) {
		return nil, fail(Usage, fmt.Errorf("%s %q", flag, text), fmt.Sprintf("a number above 0, up to %g; without energy leave --energy out", most))
	}
	return &v, nil
}

// lifetime is what a redesign knows of energy over the years.
type lifetime struct {
	energy *optimize.Energy
	// use is what the plan draws, leastUse and foundUse what the plan of the
	// least purchase and the shop as found draw.
	use, leastUse, foundUse *optimize.EnergyUse
	// least is the least purchase, a plan of leastOf.
	least   *optimize.Result
	leastOf *optimize.Problem
	note    string
}

// overYears searches for the cheapest plan, with energy where it is asked for.
func (a *app) overYears(ctx context.Context, out *outcome, o *redesignOptions, set *optimize.Settings) error {
	e, notes, err := a.energy(out.p, &o.energy)
	if err != nil {
		return err
	}
	if e != nil && (o.whatIf > 0 || o.alternatives != "") {
		return fail(Usage, errors.New("the file has energy, with which --what-if and --alternatives do not reckon yet"), "give --energy none")
	}
	if err = a.cheapest(ctx, out, set); err != nil || e == nil {
		return err
	}
	if !solved(out.result) {
		out.p.Notes = append(out.p.Notes, "energy is not reckoned with: there is no plan that meets the rules")
		return nil
	}
	life := &lifetime{energy: e, least: out.result, leastOf: out.problem, note: strings.Join(notes, "; ")}
	with := *set
	with.Energy, with.Known = e, [][]int{life.least.Best.Pick}
	if err = a.cheapest(ctx, out, &with); err != nil {
		return err
	}
	life.use = out.result.Energy
	if life.leastUse, err = e.Use(life.leastOf, life.least.Best); err != nil {
		return err
	}
	life.foundUse, err = e.Use(out.found, &optimize.Plan{Pick: make([]int, len(out.found.Choices))})
	out.life = life
	return err
}

// from is a plan of the outcome's problem to begin a trade-off of purchases with.
func (o *outcome) from() *optimize.Plan {
	if o.life != nil && o.life.leastOf == o.problem {
		return o.life.least.Best
	}
	return o.result.Best
}

// energy is what flags and file ask for together, nil for none.
func (a *app) energy(p *project.Project, o *energyOptions) (*optimize.Energy, []string, error) {
	if o.price == "none" {
		return nil, nil, nil
	}
	w, err := o.wishes(p)
	if err != nil {
		return nil, nil, err
	}
	e, notes, err := p.Energy(w)
	if err != nil {
		return nil, nil, energyFault(err, o.typed())
	}
	return e, notes, nil
}

// energyFault says what to do about energy that cannot be reckoned with.
func energyFault(err error, typed bool) error {
	code, hint := FileInvalid, "--energy none leaves energy out"
	if typed {
		code = Usage
	}
	switch {
	case errors.Is(err, project.ErrNoYears):
		hint = "add --years 10, or years: 10 under redesign in the file"
	case errors.Is(err, project.ErrNoHours):
		hint = "add --hours 400, or hours: 400 h under redesign in the file"
	case errors.Is(err, project.ErrNoPrice):
		hint = "add --energy \"" + shopfile.EnergyExample + "\", or energy: " + shopfile.EnergyExample + " under prices in the file"
	case errors.Is(err, project.ErrHours):
		hint = "look at hours and state hours under redesign in the file"
	}
	return fail(code, err, hint)
}

// powerFront walks along the front of cost against fan power.
func (a *app) powerFront(ctx context.Context, out *outcome, o *redesignOptions, say func(string)) error {
	if o.energy.powerFront == 0 || !solved(out.result) || ctx.Err() != nil {
		return nil
	}
	var e *optimize.Energy
	var err error
	if out.life != nil {
		e, out.powerNote = out.life.energy, out.life.note
	} else if e, out.powerNote, err = out.p.Shares(); err != nil {
		return energyFault(err, false)
	}
	out.powerBasis = e
	set := &optimize.Settings{TimeLimit: o.energy.powerTime, Clock: a.Now, Energy: e}
	out.power, err = optimize.FrontPower(ctx, out.problem, set, out.from(), powerDrop, o.energy.powerFront, func(f optimize.PowerPoint) {
		say(fmt.Sprintf("fan power: %.0f W for %s", float64(f.Power), out.p.Currency.Text(f.Plan.Cost)))
	})
	return err
}

// powerDrop is by what share each point of the front draws less than the one
// before: less is not worth a line.
const powerDrop = 0.002
