package cli

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/ui"
	"wyewright/network/units"
)

// writeGauges writes the part of the gate card about gauges.
func writeGauges(b *strings.Builder, rows []gaugeRow, sys units.System) {
	if len(rows) == 0 {
		return
	}
	several := len(collectors(rows)) > 1
	filter := slices.ContainsFunc(rows, func(r gaugeRow) bool { return r.filter })
	b.WriteString("\n## Gauges\n\n" + gaugesHead(filter) + "\n\n")
	t, dull := gaugeTable(rows, sys)
	fmt.Fprintf(b, "Unit: %s.\n\n", units.Pressure(0).Unit(sys))
	head, rule := "|", "|"
	for _, c := range t.Columns() {
		head += " " + c.Head + " |"
		rule += map[bool]string{true: "---:|", false: "---|"}[c.Number]
	}
	fmt.Fprintf(b, "%s\n%s\n", head, rule)
	for _, row := range t.Rows() {
		b.WriteString("|")
		for _, c := range row {
			b.WriteString(" " + cell(c) + " |")
		}
		b.WriteString("\n")
	}
	if dull {
		b.WriteString("\n" + dullWords + "\n")
	}
	for _, name := range collectors(rows) {
		if r := most(rows, name); r.filter {
			at := ""
			if several {
				at = " of " + cell(name)
			}
			fmt.Fprintf(b, "\nMarks for the dial across the filter%s, read in state \"%s\", which moves the most air:\n\n", at, cell(r.state))
			writeMarks(b, r, sys)
		}
	}
	b.WriteString(gaugeWords)
}

// collectors are those that the rows tell of, in order.
func collectors(rows []gaugeRow) []string {
	var out []string
	for _, r := range rows {
		out = append(out, r.collector)
	}
	return distinct(out)
}

// gaugesHead says where the gauges go.
func gaugesHead(filter bool) string {
	s := "One gauge for the suction at the collector's inlet: a tap of 2 mm, square and free of burr, in the wall of straight duct close before the inlet. "
	if filter {
		return s + "A second one across the filter: one side before it, the other behind it or open to the room where the filter blows into the room."
	}
	return s + "The file does not describe the filter, so nothing is foretold for a gauge across it."
}

// dullWords go with a table in which a mark is missing.
const dullWords = `Where the suction has no mark "stop", a blockage raises it too little to tell: watch the gauge across the filter, and the air at the tools.`

// gaugeTable lists what the gauges should show in each state; dull says that a
// mark is missing, since a blockage would hardly move the gauge.
func gaugeTable(rows []gaugeRow, sys units.System) (t *ui.Table, dull bool) {
	several := len(collectors(rows)) > 1
	filter := slices.ContainsFunc(rows, func(r gaugeRow) bool { return r.filter })
	cols := []ui.Column{ui.Word("state")}
	if several {
		cols = append(cols, ui.Word("collector"))
	}
	for _, head := range []string{"suction, filter new", "suction, filter loaded", "suction, stop above"} {
		cols = append(cols, ui.Num(head, ""))
	}
	if filter {
		for _, head := range []string{"over the filter, new", "over the filter, clean it", "over the filter, stop"} {
			cols = append(cols, ui.Num(head, ""))
		}
	}
	t = ui.NewTable(cols...)
	for i := range rows {
		r := &rows[i]
		row := []string{r.state}
		if several {
			row = append(row, r.collector)
		}
		blocked := r.blocked
		if r.dull() {
			blocked, dull = 0, true
		}
		values := []units.Pressure{r.clean, r.loaded, blocked}
		if filter {
			values = append(values, r.fresh, r.due, r.stop)
		}
		for _, v := range values {
			row = append(row, dialMark(v, sys))
		}
		t.Row(row...)
	}
	return t, dull
}

// writeMarks writes the marks of a dial across the filter.
func writeMarks(b *strings.Builder, r *gaugeRow, sys units.System) {
	due := fmt.Sprintf("- **filter new**: %s\n- **clean the filter**: %s\n", r.fresh.Text(sys), r.due.Text(sys))
	if r.due <= r.fresh {
		due = fmt.Sprintf("- **clean the filter**: %s (the file gives one loss for the filter new and loaded: state both for a mark \"filter new\")\n", r.due.Text(sys))
	}
	fmt.Fprintf(b, "%s- **stop: check the filter or a blockage**: %s\n", due, r.stop.Text(sys))
}

// dull reports whether a blockage raises the suction by less than gauges and
// model are fine, a tenth.
func (r *gaugeRow) dull() bool { return !(r.blocked > 1.1*r.clean) }

// gaugeWords say what readings mean.
const gaugeWords = `
| suction at the inlet | over the filter | what it means |
|---|---|---|
| between new and loaded | between new and clean the filter | as planned |
| low | high | the filter is clogged: clean it; above "stop" check it |
| low | a little high | too much air comes in: a gate too many is open, or there is a leak |
| high | low | a blockage, or a gate is shut that should be open; above "stop" a fifth of the air is gone |
| low | low | the fan is weak (belt, speed, turning the wrong way), or a hole lets air past the tap or the filter |

Call a reading low or high only where it is off by more than a tenth: gauges and model are no finer. The figures come from the model, the fan's curve and the filter's losses in the shop file. The marks "stop" are our choice: a blockage has taken a fifth of the air; the filter takes half as much again as loaded. What the makers of filter and collector state goes first. Read both gauges once with a new filter, and shift the marks by what they differ.
`

// dialMark prints a pressure for a dial, a dash where it is not known.
func dialMark(v units.Pressure, sys units.System) string {
	if !(v > 0) {
		return "–"
	}
	return pressure(v, sys)
}

// distinct lists texts once, in order.
func distinct(all []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range all {
		if !seen[s] {
			out = append(out, s)
		}
		seen[s] = true
	}
	return out
}
