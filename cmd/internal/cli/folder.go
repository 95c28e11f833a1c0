package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/optimize"
)

// writeFolder writes everything a redesign leaves behind and returns the
// names of the files.
func (a *app) writeFolder(o *outcome, opt *redesignOptions) ([]string, error) {
	if err := os.MkdirAll(opt.dir, 0o755); err != nil {
		return nil, err
	}
	var names []string
	put := func(name string, data []byte, err error) error {
		if err == nil {
			err = writeFile(filepath.Join(opt.dir, name), data)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		names = append(names, name)
		return nil
	}
	shop, err := o.shopFile()
	if err := put("shop.yaml", shop, err); err != nil {
		return nil, err
	}
	plan, err := json.MarshalIndent(o.planJSON(), "", "  ")
	if err := put("plan.json", append(plan, '\n'), err); err != nil {
		return nil, err
	}
	var csv, md bytes.Buffer
	err = o.bill.WriteCSV(&csv)
	if err := put("parts.csv", csv.Bytes(), err); err != nil {
		return nil, err
	}
	err = o.bill.WriteMarkdown(&md)
	if err := put("parts.md", md.Bytes(), err); err != nil {
		return nil, err
	}
	if err := put("gate-card.md", o.gateCard(), nil); err != nil {
		return nil, err
	}
	if opt.noPlots {
		return names, nil
	}
	for _, pic := range o.pictures() {
		fig, err := pic.draw()
		if err != nil {
			return nil, fmt.Errorf("picture %s: %w", pic.name, err)
		}
		svg, err := fig.SVG()
		if err := put(pic.name+".svg", svg, err); err != nil {
			return nil, err
		}
		png, err := fig.PNG(pictureDPI)
		if err := put(pic.name+".png", png, err); err != nil {
			return nil, err
		}
	}
	return names, nil
}

// pictureDPI is the resolution of the PNG pictures.
const pictureDPI = 144

// shopFile is the redesigned shop as a file. It is read and solved again: what
// it says must be what the plan says.
func (o *outcome) shopFile() ([]byte, error) {
	head := "Redesigned by wyewright: " + o.verdictLine()
	text, err := o.p.File.Rewrite(project.Edits(o.problem, o.result, head))
	if err != nil {
		return nil, err
	}
	f, err := shopfile.Decode("shop.yaml", text, o.p.Catalog)
	if err != nil {
		return nil, err
	}
	p, err := project.New(f, o.p.Catalog, o.p.Folder)
	if err != nil {
		return nil, err
	}
	limits := project.Limits(f)
	for i, s := range o.result.States {
		c, err := p.Network.Case(s.State)
		if err != nil {
			return nil, err
		}
		sol, v, err := network.NewSolver(p.Network, nil).Check(context.Background(), c, &limits)
		if err != nil {
			return nil, err
		}
		if v.Meets() != s.Verdict.Meets() || !close(float64(sol.Collector.Flow), float64(o.result.States[i].Solution.Collector.Flow)) {
			return nil, fmt.Errorf("state %q: the file written gives %s, the plan %s: please report this", s.State.Name,
				sol.Collector.Flow.Text(o.sys), s.Solution.Collector.Flow.Text(o.sys))
		}
	}
	return text, nil
}

// close reports whether two flows agree to a millionth.
func close(a, b float64) bool { return a-b <= 1e-6*b && b-a <= 1e-6*b }

// gateCard is the card to hang in the shop.
func (o *outcome) gateCard() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# Gate card: %s\n\nOpen the gates in the last column together with those of the running tools.\n\n", o.p.File.Name)
	b.WriteString("| state | running | open as well | meets |\n|---|---|---|---|\n")
	for _, s := range o.result.States {
		meets := "yes"
		if !s.Verdict.Meets() {
			meets = "no"
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", s.State.Name, strings.Join(s.State.Running, ", "), companions(s), meets)
	}
	b.WriteString("\nAll other gates stay shut. \"Meets\" speaks of the flows and velocities set in the shop file; it is no proof of clean air.\n")
	return []byte(b.String())
}

// planJSON is the machine-readable plan.
func (o *outcome) planJSON() map[string]any {
	var changes []map[string]any
	for _, c := range o.changes {
		changes = append(changes, map[string]any{"what": c.What, "from": c.From, "to": c.To, "why": c.Why, "cost_minor": int64(c.Cost)})
	}
	pick := map[string]string{}
	for i, a := range o.result.Best.Pick {
		if a > 0 {
			pick[choiceKey(o.problem, i)] = o.problem.Choices[i].Alternatives[a].Label
		}
	}
	var states []jsonState
	for _, s := range o.result.States {
		states = append(states, stateJSON(o.result.Network, s))
	}
	out := map[string]any{"shop": o.p.File.Name, "status": o.result.Status.String(), "currency": o.p.Currency.Code,
		"planning_cost_minor": int64(o.result.Best.Cost), "bound_minor": int64(o.result.Bound), "gap": o.result.Gap,
		"shelf_total_minor": int64(o.bill.Shelf), "changes": changes, "pick": pick, "states": states,
		"nodes": o.result.Stats.Nodes, "judged": o.result.Stats.Judged, "stopped": o.result.Stats.Stopped}
	if s := o.result.Short; s != nil {
		out["short"] = map[string]any{"state": s.State, "tool": s.Tool, "run": s.Run, "ratio": s.Ratio, "limit": s.Limit}
	}
	return out
}

// choiceKey names a choice in plan.json.
func choiceKey(p *optimize.Problem, i int) string {
	kind := [...]string{"run", "seal", "repair", "bleed"}[p.Choices[i].Kind]
	return kind + ": " + p.Choices[i].ID
}
