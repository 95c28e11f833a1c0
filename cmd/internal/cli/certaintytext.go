package cli

import (
	"fmt"
	"math"

	"wyewright/cmd/internal/ui"
)

// printCertainty says what the confidence rests on and what it costs.
func (a *app) printCertainty(out *outcome) error {
	s := out.certain
	fmt.Fprintf(a.Out, "\nConfidence: %s\n", s.heldLine())
	if line := out.certaintyCost(); line != "" {
		fmt.Fprintln(a.Out, line)
	}
	fmt.Fprintf(a.Out, "Held against %d other shops drawn from the same doubt\n", proofShops)
	if _, err := out.certaintyTable().WriteTo(a.Out); err != nil {
		return err
	}
	for _, n := range s.notes {
		fmt.Fprintf(a.Out, "  %s\n", n)
	}
	_, err := fmt.Fprintf(a.Out, "  %s\n", certaintyRest)
	return err
}

// certaintyRest says what the doubt leaves out.
const certaintyRest = "The doubt is that of the fit; what the file says of lengths, fittings and the fan's curve is taken as right."

// heldLine says with what confidence a plan was found.
func (s *certainty) heldLine() string {
	none := fmt.Sprintf("no plan was found whose every state meets all its rules in %.0f %% of %d shops drawn from the doubt that the\nreadings leave", 100*s.share, searchShops)
	const advice = "Take the readings that fit proposes: they narrow the doubt."
	switch s.held {
	case s.share:
		return fmt.Sprintf("every state meets all its rules in at least %.0f %% of %d shops drawn from the doubt that the readings leave.", 100*s.share, searchShops)
	case 0:
		return fmt.Sprintf("%s, nor in %.0f %%. %s", none, 100*s.tried, advice)
	}
	return fmt.Sprintf("%s; this one does in %.0f %%. %s", none, 100*s.held, advice)
}

// certaintyCost says what the confidence costs, "" where that is not known.
func (o *outcome) certaintyCost() string {
	s := o.certain
	if !solved(s.plain) || !solved(o.result) {
		return ""
	}
	c := o.p.Currency
	return fmt.Sprintf("Without it the cheapest plan for the fitted shop costs %s (%s): the confidence costs %s.", c.Text(s.plain.Best.Cost), s.plain.Status,
		c.Text(o.result.Best.Cost-s.plain.Best.Cost))
}

// certaintyTable lists in how many shops that the search has not seen each state
// holds.
func (o *outcome) certaintyTable() *ui.Table {
	s := o.certain
	t := ui.NewTable(ui.Word("state"), ui.Num("this plan holds in", "%"), ui.Num("±", ""), ui.Num("without confidence", "%"))
	for i, share := range s.states {
		// The standard error of a share of so many draws.
		t.Row(o.problem.States[i].Name, number(100*share, 0), number(100*math.Sqrt(share*(1-share)/proofShops), 1), number(100*s.plainStates[i], 0))
	}
	return t
}
