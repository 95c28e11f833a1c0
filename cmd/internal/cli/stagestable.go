package cli

import (
	"fmt"
	"slices"

	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/optimize"
)

func (o *outcome) stageTable() *ui.Table {
	code := o.p.Currency.Code
	t := ui.NewTable(ui.Word("stage"), ui.Num("cost", code), ui.Num("spent so far", code), ui.Num("flows met", ""), ui.Num("mean share", "%"),
		ui.Num("least share", "%"), ui.Num("other rules", "hold in"), ui.Num("gain per 100 "+code, "% of mean share"))
	of := func(n, all int) string { return fmt.Sprintf("%d of %d", n, all) }
	row := func(name, cost, spent string, d optimize.Does, gain string) {
		t.Row(name, cost, spent, of(d.Met, d.Asked), percent(d.Mean), percent(d.Least), of(d.Held, d.States)+" states", gain)
	}
	row("as found", "", "", o.staged.Start, "")
	for i := range o.staged.Stages {
		st := &o.staged.Stages[i]
		gain := ""
		if g, ok := o.gain(i); ok {
			gain = number(g, 1)
		}
		row(stageName(o.staged, i), o.p.Currency.Number(st.Cost), o.p.Currency.Number(st.Spent), st.Does, gain)
	}
	return t
}

// shareTable lists the share of each tool over the stages.
func (o *outcome) shareTable() *ui.Table {
	cols := []ui.Column{ui.Word("tool"), ui.Num("as found", "")}
	for i := range o.staged.Stages {
		cols = append(cols, ui.Num(stageName(o.staged, i), ""))
	}
	t := ui.NewTable(cols...)
	for _, s := range o.stageShares() {
		row := []string{s.tool}
		for _, x := range s.shares {
			row = append(row, percent(x))
		}
		t.Row(row...)
	}
	return t
}

// toolShares are the least shares of a tool's flow as found and after each stage.
type toolShares struct {
	tool   string
	shares []float64
}

// stageShares are those of every tool that runs in some state.
func (o *outcome) stageShares() []toolShares {
	var out []toolShares
	for k, tool := range o.problem.Base.Spec().Tools {
		first, where := worstShare(o.staged.Before, k)
		if where == "" {
			continue
		}
		s := toolShares{tool.ID, []float64{first}}
		for i := range o.staged.Stages {
			share, _ := worstShare(o.staged.Stages[i].States, k)
			s.shares = append(s.shares, share)
		}
		out = append(out, s)
	}
	return out
}

// cardTable lists what to open in each state, over the stages; stages with the
// card of the one before are left out.
func (o *outcome) cardTable() *ui.Table {
	cols := []ui.Column{ui.Word("state"), ui.Word("as found")}
	cards := [][]string{cardOf(o.staged.Before)}
	for i := range o.staged.Stages {
		card := cardOf(o.staged.Stages[i].States)
		if !slices.Equal(card, cards[len(cards)-1]) {
			cols, cards = append(cols, ui.Word("from "+stageName(o.staged, i))), append(cards, card)
		}
	}
	if len(cols) == 2 {
		cols[1].Head = "always"
	}
	t := ui.NewTable(cols...)
	for s := range o.staged.Before {
		row := []string{o.staged.Before[s].State.Name}
		for _, c := range cards {
			row = append(row, c[s])
		}
		t.Row(row...)
	}
	return t
}

func cardOf(states []optimize.StateResult) []string {
	var out []string
	for _, s := range states {
		out = append(out, companions(s))
	}
	return out
}

// worstShare is the least share of its flow that a tool gets in any state, and
// the state; -1 where it never runs.
func worstShare(states []optimize.StateResult, tool int) (float64, string) {
	least, where := -1.0, ""
	for _, s := range states {
		for _, t := range s.Verdict.Tools {
			if t.Tool == tool && (least < 0 || t.Ratio < least) {
				least, where = t.Ratio, s.State.Name
			}
		}
	}
	return least, where
}

// leastTool is the tool that is served worst.
func leastTool(spec *network.Spec, states []optimize.StateResult) (name, state string, share float64) {
	share = -1
	for k := range spec.Tools {
		if r, where := worstShare(states, k); where != "" && (share < 0 || r < share) {
			name, state, share = spec.Tools[k].ID, where, r
		}
	}
	return name, state, share
}
