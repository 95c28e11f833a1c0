package cli

import (
	"cmp"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
)

// sheetForm is the form, its numbers in SI and in words.
type sheetForm struct {
	Shop     string       `json:"shop"`
	Depth    string       `json:"traverse_unit"`
	Meter    string       `json:"meter"`
	Holes    []sheetHole  `json:"holes"`
	Undrawn  []string     `json:"hose_only,omitempty"` // runs with no pipe to drill
	Blocks   []sheetBlock `json:"states"`
	LeftOut  int          `json:"left_out"`
	Cautions []string     `json:"cautions"`
	Notes    []string     `json:"notes"`
}

// sheetBlock is one operating state.
type sheetBlock struct {
	State string     `json:"state"`
	Title string     `json:"title"`
	Set   string     `json:"set"`
	Mind  string     `json:"mind,omitempty"`
	Rows  []sheetRow `json:"readings"`
}

// sheetRow is one reading to take.
type sheetRow struct {
	Hole      int     `json:"hole"`
	Place     string  `json:"place"`
	Quantity  string  `json:"quantity"`
	Value     float64 `json:"expected_si"` // m/s on the centre line, or Pa
	Low       float64 `json:"low_si"`
	High      float64 `json:"high_si"`
	Expected  string  `json:"expected"`
	Mark      string  `json:"mark,omitempty"`
	Collector string  `json:"collector,omitempty"`
}

// allShut is the name that files of readings have for the state in which
// nothing is open.
const allShut = "none"

// sheetForm solves the shop as it stands, with the collector that stands there
// first, and fills the form.
func (a *app) sheetForm(ctx context.Context, p *project.Project, o *sheetOptions, m *meter) (*sheetForm, error) {
	n, err := network.New(p.File.Spec)
	if err != nil {
		return nil, err
	}
	all := slices.Clone(p.File.States)
	switch {
	case slices.ContainsFunc(all, func(s network.State) bool { return s.Name == allShut }):
	case slices.ContainsFunc(n.Spec().Collectors, fixedFlow):
		a.note("nothing for all gates shut: the file gives a fan of one flow, which says nothing of that\n")
	default:
		all = slices.Insert(all, 0, network.State{Name: allShut})
	}
	asked, err := pickStates(n, all, &solveOptions{states: o.states})
	if err != nil {
		return nil, err
	}
	solved, err := solveStates(ctx, n, asked, project.Limits(p.File))
	if err != nil {
		return nil, err
	}
	if stands := n.Spec().Collectors[0].ID; stands != p.Network.Spec().Collectors[0].ID {
		a.note("expected with %q, the collector that stands there first, not with the one that the redesign assumes\n", stands)
	}
	return m.form(n, cmp.Or(p.File.Name, filepath.Base(o.file)), solved, o.rows), nil
}

// form fills a form with the most useful readings that find room.
func (m *meter) form(n *network.Network, shop string, solved []optimize.StateResult, rows int) *sheetForm {
	wishes, undrawn := readingWishes(n, solved)
	slices.SortStableFunc(wishes, func(a, b readingWish) int { return a.turn - b.turn })
	for keep := min(rows, len(wishes)); ; keep-- {
		f := &sheetForm{Shop: shop, Depth: units.Length(0).DiameterUnit(m.sys), Meter: m.least + " to " + m.most, Undrawn: undrawn,
			LeftOut: len(wishes) - keep, Cautions: sheetCautions, Notes: sheetNotes(m.sys)}
		f.fill(m, n, solved, wishes[:keep])
		if keep <= 1 || f.height() <= pageRoom {
			return f
		}
	}
}

// fill sets the holes and the blocks of the chosen readings, both in the order
// of the shop.
func (f *sheetForm) fill(m *meter, n *network.Network, solved []optimize.StateResult, chosen []readingWish) {
	numbers := map[string]int{}
	number := func(h sheetHole) int {
		key := h.Place + "\n" + h.Drill // a collector may be named as a run is
		if numbers[key] == 0 {
			h.Number = len(numbers) + 1
			numbers[key] = h.Number
			f.Holes = append(f.Holes, h)
		}
		return numbers[key]
	}
	chosen = slices.Clone(chosen)
	slices.SortStableFunc(chosen, func(a, b readingWish) int { return a.order - b.order })
	for _, w := range chosen { // number the holes from the collector outward
		number(w.hole(n, m.sys))
	}
	for i, s := range solved {
		b := m.block(s)
		for _, w := range chosen {
			if w.state != i {
				continue
			}
			row := w.row(m, n, s.Solution)
			row.Hole = number(w.hole(n, m.sys))
			b.Rows = append(b.Rows, row)
		}
		if len(b.Rows) > 0 {
			f.Blocks = append(f.Blocks, b)
		}
	}
}

// block is a state with what to set, still without readings.
func (m *meter) block(s optimize.StateResult) sheetBlock {
	b := sheetBlock{State: s.State.Name, Title: s.State.Name, Set: "Open " + strings.Join(s.State.Running, ", ") + "; shut all other gates."}
	shut := allIsShut(&s.State)
	more := settings(&s.State, "")
	switch {
	case shut && s.State.Name == allShut:
		b.Title, b.Set = "All gates shut", "Shut every gate."
	case len(s.State.Running) == 0:
		b.Set = "No tool runs: shut all gates."
	}
	if more != "" {
		b.Set += " With it: " + more + "."
	}
	suction := units.Pressure(0)
	for i := range s.Solution.Collectors {
		suction = max(suction, s.Solution.Collectors[i].Static)
	}
	if shut && suction > 0 {
		b.Mind = fmt.Sprintf("On thin pipe keep one gate open: shut, the duct bears %s of suction and can collapse.", suction.Text(m.sys))
	}
	return b
}

// allIsShut reports whether no tool runs and nothing else is opened.
func allIsShut(s *network.State) bool { return len(s.Running)+len(s.Open)+len(s.OpenGates) == 0 }
