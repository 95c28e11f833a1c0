package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/network/units"
)

func newCheck(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "check FILE",
		Short: "Read a shop file, list every fault, and sum up what it says",
		Args:  cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := a.open(args[0])
			if err != nil {
				return err
			}
			sys, err := a.units(p.File)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(checkJSON(p))
			}
			return a.printCheck(p, sys)
		},
	}
}

func checkJSON(p *project.Project) map[string]any {
	s := &p.File.Spec
	var warnings []string
	for _, w := range p.File.Warnings {
		warnings = append(warnings, w.Error())
	}
	return map[string]any{"name": p.File.Name, "points": len(s.Points), "runs": len(s.Runs), "tools": len(s.Tools),
		"leaks": len(s.Leaks), "states": len(p.File.States), "collectors": len(s.Collectors),
		"density_kg_m3": float64(s.Air.Density), "warnings": warnings}
}

func (a *app) printCheck(p *project.Project, sys units.System) error {
	s := &p.File.Spec
	fmt.Fprintf(a.Out, "%s: %d points, %d runs, %d tools, %d leaks, %d operating states, %d warnings\n\n", p.File.Name, len(s.Points),
		len(s.Runs), len(s.Tools), len(s.Leaks), len(p.File.States), len(p.File.Warnings))
	tools := ui.NewTable(ui.Word("tool"), ui.Num("needs", units.Flow(0).Unit(sys)), ui.Word("basis"), ui.Word("dust"),
		ui.Num("transport", units.Velocity(0).Unit(sys)), ui.Num("ports", ""))
	for _, t := range s.Tools {
		tools.Row(t.ID, number(t.Flow.In(sys), 0), t.Basis, t.Dust, velocity(t.Transport, sys), fmt.Sprint(len(t.Ports)))
	}
	if _, err := tools.WriteTo(a.Out); err != nil {
		return err
	}
	fmt.Fprintln(a.Out)
	runs := ui.NewTable(ui.Word("run"), ui.Word("from"), ui.Word("to"), ui.Word("made of"), ui.Num("length", units.Length(0).Unit(sys)), ui.Num("bends", ""))
	for i, r := range p.Network.Spec().Runs {
		var made []string
		length := units.Length(0)
		for _, pc := range r.Pieces {
			made = append(made, pc.Size+" "+pc.Make.Family)
			length += pc.Length
		}
		bends := fmt.Sprint(len(p.Network.Route(i).Corners))
		if r.K.Bends != nil {
			bends = fmt.Sprintf("K %.2f", *r.K.Bends)
		}
		runs.Row(r.ID, r.From, r.To, strings.Join(made, " + "), number(length.In(sys), 1), bends)
	}
	if _, err := runs.WriteTo(a.Out); err != nil {
		return err
	}
	fmt.Fprintln(a.Out, "\nIn force:")
	friction := map[network.Friction]string{network.Colebrook: "Colebrook", network.SwameeJain: "Swamee-Jain", network.Frictionless: "none"}
	fmt.Fprintf(a.Out, "  air %s, friction by %s\n", s.Air.Density.Text(sys), friction[s.Friction])
	for _, c := range s.Collectors {
		motor := "motor not described, so not checked"
		if c.Motor != nil {
			motor = "motor " + c.Motor.Rating.Text(sys)
		}
		fmt.Fprintf(a.Out, "  collector %s: inlet %s, %s\n", c.ID, c.Inlet.DiameterText(sys), motor)
	}
	for _, note := range p.Notes {
		fmt.Fprintf(a.Out, "  %s\n", note)
	}
	fmt.Fprintln(a.Out, "  friction tables read rougher than clean new duct; hose is three times smooth pipe where nothing better is known (2 to 5)")
	return nil
}

// number prints a number with a fixed count of decimals.
func number(x float64, decimals int) string { return fmt.Sprintf("%.*f", decimals, x) }

// velocity prints a velocity without its unit.
func velocity(v units.Velocity, sys units.System) string {
	if sys == units.US {
		return number(v.In(sys), 0)
	}
	return number(v.In(sys), 1)
}

// pressure prints a pressure without its unit.
func pressure(p units.Pressure, sys units.System) string {
	if sys == units.US {
		return number(p.In(sys), 2)
	}
	return number(p.In(sys), 0)
}
