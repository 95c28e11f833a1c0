package cli

import (
	"context"
	"fmt"
	"slices"

	"wyewright/cmd/internal/project"
	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/network/units"
)

// chance is how a tool fares in a state over shops drawn from the doubt of a
// fit: the share in which it meets its flow, and the flow's 5, 50 and 95 % points.
type chance struct {
	State    string  `json:"state"`
	Tool     string  `json:"tool"`
	Required float64 `json:"required_m3s"`
	Low      float64 `json:"flow_5_m3s"`
	Middle   float64 `json:"flow_50_m3s"`
	High     float64 `json:"flow_95_m3s"`
	Meets    float64 `json:"probability"`
	Verdict  string  `json:"verdict"`
}

// Least probabilities of the words.
const (
	surely  = 0.95
	tooFew  = 20    // draws
	tooMany = 20000 // draws
)

// confidence fits the shop to its readings and solves shops drawn from the doubt
// that is left.
func (a *app) confidence(ctx context.Context, p *project.Project, o *solveOptions, states []network.State, sys units.System) error {
	if o.draws < tooFew || o.draws > tooMany {
		return fail(Usage, fmt.Errorf("--draws %d", o.draws), fmt.Sprintf("from %d to %d", tooFew, tooMany))
	}
	r, err := a.fitted(ctx, p, &fitOptions{file: o.file})
	if err != nil {
		return err
	}
	if !r.Converged {
		return fail(NotConverged, fmt.Errorf("the fit to the readings did not settle"), "run fit and look at what it says")
	}
	limits := project.Limits(p.File)
	flows := map[[2]int][]float64{}
	shops, err := r.Variations(o.draws, 1)
	if err != nil {
		return err
	}
	for _, s := range shops {
		n, err := network.New(s)
		if err != nil {
			return err
		}
		if n, err = pickCollector(n, pickedName(p, o)); err != nil {
			return err
		}
		for i, st := range states {
			sol, err := network.Solve(ctx, n, st)
			if err != nil {
				return err
			}
			for k := range sol.Tools {
				if sol.Tools[k].Running {
					flows[[2]int{i, k}] = append(flows[[2]int{i, k}], float64(sol.Tools[k].Flow))
				}
			}
		}
	}
	var out []chance
	spec := p.Network.Spec()
	for i, st := range states {
		for k := range spec.Tools {
			q := flows[[2]int{i, k}]
			if len(q) == 0 {
				continue
			}
			slices.Sort(q)
			at := func(share float64) float64 { return q[min(len(q)-1, int(share*float64(len(q))))] }
			c := chance{State: st.Name, Tool: spec.Tools[k].ID, Required: p.Network.Required(k, &limits), Low: at(0.05), Middle: at(0.5), High: at(0.95)}
			for _, x := range q {
				if network.Meets(x / c.Required) {
					c.Meets += 1 / float64(len(q))
				}
			}
			c.Verdict = chanceWord(c.Meets)
			out = append(out, c)
		}
	}
	if a.json {
		err = a.writeJSON(struct {
			Draws  int      `json:"draws"`
			Chance []chance `json:"tools"`
		}{o.draws, out})
	} else {
		err = a.printChance(o.draws, out, sys)
	}
	if err == nil && slices.ContainsFunc(out, func(c chance) bool { return c.Verdict != "meets" }) {
		return fail(NotMet, nil, "")
	}
	return err
}

// pickedName is the collector in place: the one asked for, else the one that the
// project has in the first place.
func pickedName(p *project.Project, o *solveOptions) string {
	if o.collector != "" {
		return o.collector
	}
	return p.Network.Spec().Collectors[0].ID
}

// chanceWord is the verdict of a probability.
func chanceWord(p float64) string {
	switch {
	case p >= surely:
		return "meets"
	case p <= 1-surely:
		return "misses"
	}
	return "uncertain"
}

func (a *app) printChance(draws int, all []chance, sys units.System) error {
	unit := units.Flow(0).Unit(sys)
	flow := func(x float64) string { return number(units.Flow(x).In(sys), 0) }
	fmt.Fprintf(a.Out, "The shop fitted to its readings, and %d shops drawn from the doubt that they leave\n", draws)
	t := ui.NewTable(ui.Word("state"), ui.Word("tool"), ui.Num("needs", unit), ui.Num("5 %", unit), ui.Num("middle", unit), ui.Num("95 %", unit),
		ui.Num("meets in", "%"), ui.Word("verdict"))
	for _, c := range all {
		t.Row(c.State, c.Tool, flow(c.Required), flow(c.Low), flow(c.Middle), flow(c.High), number(100*c.Meets, 0), c.Verdict)
	}
	if _, err := t.WriteTo(a.Out); err != nil {
		return err
	}
	_, err := fmt.Fprintln(a.Out, "\nA verdict is \"meets\" from 95 % on, \"misses\" up to 5 %, else \"uncertain\". The doubt is that of the fit: ducts, machines, gates,\nleaks, fan speed and filter. The lengths, widths and fittings of the file and the shape of the fan curve are taken as right; that a\nreading is wrong, where fit names that as a rival, is not among it.")
	return err
}
