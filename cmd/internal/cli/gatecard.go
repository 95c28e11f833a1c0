package cli

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/optimize"
)

// printGateCard says what to open with what.
func (a *app) printGateCard(o *outcome) error {
	fmt.Fprintln(a.Out, "Gate card: what to open with what (all other gates stay shut)")
	_, err := gateTable(o).WriteTo(a.Out)
	return err
}

// gateTable lists what each state opens with its running tools, and why.
func gateTable(o *outcome) *ui.Table {
	t := ui.NewTable(ui.Word("state"), ui.Word("running"), ui.Word("open as well"), ui.Word("why"))
	for i, s := range o.result.States {
		t.Row(o.stateName(&s), strings.Join(s.State.Running, ", "), companions(s), o.why(i))
	}
	return t
}

func companions(s optimize.StateResult) string {
	return settings(&s.State, "nothing else")
}

// settings are what a state opens, shuts and switches off beside the running
// tools.
func settings(s *network.State, none string) string {
	words := slices.Clone(s.Open)
	for _, r := range s.OpenGates {
		words = append(words, "gate in "+r)
	}
	for _, r := range s.ShutGates {
		words = append(words, "gate in "+r+" shut")
	}
	for _, c := range s.Off {
		words = append(words, c+" off")
	}
	if len(words) == 0 {
		return none
	}
	return strings.Join(words, ", ")
}

// gateCard is the card to hang in the shop.
func (o *outcome) gateCard() []byte {
	return o.cardText(o.p.File.Name, strings.TrimSpace(o.closest()))
}

// cardText is a gate card with a note above it, "" for none.
func (o *outcome) cardText(name, note string) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# Gate card: %s\n\n", name)
	if note != "" {
		fmt.Fprintf(&b, "**%s**\n\n", note)
	}
	b.WriteString("With the running tools open the gates in the third column too.\n\n| state | running | open as well | why | meets |\n|---|---|---|---|---|\n")
	for i, s := range o.result.States {
		meets := "yes"
		if !s.Verdict.Meets() {
			meets = "no"
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", cell(o.stateName(&s)), cell(strings.Join(s.State.Running, ", ")), cell(companions(s)), cell(o.why(i)), meets)
	}
	b.WriteString("\nAll other gates stay shut. \"Meets\" speaks of the flows and velocities set in the shop file; it is no proof of clean air.\n")
	writeGauges(&b, o.gauges, o.sys)
	return []byte(b.String())
}

// cell keeps a name from breaking a table of Markdown.
func cell(s string) string { return strings.NewReplacer("|", `\|`, "\n", " ").Replace(s) }
