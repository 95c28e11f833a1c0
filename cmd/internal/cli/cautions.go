package cli

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/network/units"
)

// sure says how far the answer can be trusted.
func (o *outcome) sure() []string {
	s := o.result.Stats
	lines := []string{fmt.Sprintf("status %s: holds for this model of the shop and these prices; %s judged by the full network solver, %s, %.1f s",
		o.result.Status, count(s.Judged, "plan"), count(s.Nodes, "node"), o.elapsed.Seconds())}
	if s.Stopped {
		lines = append(lines, "a limit or an interrupt ended the search: another run may end elsewhere")
	}
	doubt := "the model is not fitted to readings: hose (2 to 5 times smooth pipe), machine entries and leaks carry the largest doubt"
	if o.certain != nil {
		doubt = fmt.Sprintf("the model is fitted to %s; fit says how well", count(len(o.certain.fit.Readings), "reading"))
	}
	lines = append(lines, doubt, "prices: "+o.bill.Source+", "+o.bill.Date)
	lines = append(lines, o.p.Notes...)
	for _, line := range []string{o.waysLine(), o.cappedLine(), hoseStays(o.p), o.unplacedLine()} {
		if line != "" {
			lines = append(lines, line)
		}
	}
	lines = append(lines, dropped(slices.Concat(o.problem.Dropped, o.unbuildable))...)
	var opposite []string
	for _, j := range o.result.Network.Joints() {
		if j.Opposite && !slices.Contains(opposite, j.Point) {
			opposite = append(opposite, j.Point)
		}
	}
	if len(opposite) > 0 {
		lines = append(lines, "branches enter opposite each other, a fault of layout without a published coefficient, at "+strings.Join(opposite, ", "))
	}
	return lines
}

// unplacedLine says why there is no plan of the shop, "" where there is one.
func (o *outcome) unplacedLine() string {
	if _, ok := o.planData(); ok {
		return ""
	}
	return "no plan and no isometric view: the file gives no coordinates (points: {unit: m, at: {…}}); bends of runs without them count only as far as k states them"
}

// dropped lists what could not be offered, one line for each reason with the
// runs it holds for.
func dropped(all []string) []string {
	var whats, runs []string
	for _, d := range all {
		run, what, _ := strings.Cut(d, ": ")
		i := slices.Index(whats, what)
		if i < 0 {
			whats, runs = append(whats, what), append(runs, run)
			continue
		}
		runs[i] += ", " + run
	}
	var out []string
	for i := range whats {
		if whats[i] == "" {
			continue
		}
		size, rest := sized(whats[i])
		for k := i + 1; k < len(whats); k++ {
			if s, r := sized(whats[k]); size != "" && s != "" && r == rest && runs[k] == runs[i] {
				size, whats[k] = size+", "+s, ""
			}
		}
		if size != "" {
			rest = size + " " + rest
		}
		out = append(out, fmt.Sprintf("not offered: %s (for %s)", rest, runs[i]))
	}
	return out
}

// sized divides "40 mm hose: no price for hose clamp, 40 mm" into the size and
// what is said of it; the size is empty where none stands at the start.
func sized(what string) (size, rest string) {
	words := strings.SplitN(what, " ", 3)
	if len(words) < 3 || words[1] != "mm" && words[1] != "in" {
		return "", what
	}
	size = words[0] + " " + words[1]
	return size, strings.ReplaceAll(words[2], ", "+size, "")
}

// loud is the velocity above which ducts are noisy and wear (common practice).
const loud units.Velocity = 30

// cautions are the warnings that apply, once and short.
func cautions(o *outcome) []string {
	out := []string{"planning aid for airflow, not proof of clean air; local codes and licensed practice come first",
		"wood dust harms lungs and can burn or explode: bond and ground metal parts and hose wire, keep sparks out of the system",
		"lock the collector off before opening ducts; ducts full of chips are heavy"}
	spec := o.result.Network.Spec()
	plastic := false
	for _, r := range spec.Runs {
		for _, p := range r.Pieces {
			if f, ok := o.p.Catalog.Family(p.Make.Family); ok && f.Plastic {
				plastic = true
			}
		}
	}
	if plastic {
		out = append(out, "plastic duct: a wire does not earth its wall, and codes for workplaces often forbid it")
	}
	for _, j := range o.result.Network.Joints() {
		if j.Main < 0 || j.Common < 0 {
			continue
		}
		up, down := spec.Runs[j.Main].Pieces, spec.Runs[j.Common].Pieces
		if a, b := up[len(up)-1], down[0]; a.Diameter > 1.02*b.Diameter {
			out = append(out, fmt.Sprintf("the duct narrows toward the collector at %s, %s to %s: long shavings may catch there", j.Point, a.Size, b.Size))
		}
	}
	checked, motor := true, true
	var fast []string
	for _, s := range o.result.States {
		checked = checked && s.Verdict.Motor.Checked
		for _, r := range s.Verdict.Dust {
			if name := spec.Runs[r.Run].ID; r.Velocity > loud && !slices.Contains(fast, name) {
				fast = append(fast, name)
			}
		}
	}
	if len(fast) > 0 {
		out = append(out, fmt.Sprintf("above %s, with noise and wear, in some state: %s", loud.Text(o.sys), strings.Join(fast, ", ")))
	}
	for _, c := range spec.Collectors {
		motor = motor && c.Motor != nil
	}
	switch {
	case checked:
		out = append(out, "the motor's load rises when ducts get easier: motor and breaker are for an electrician")
	case motor:
		out = append(out, "motor not checked: beside its rating the file needs its efficiency, or its power at points around these flows")
	default:
		out = append(out, "motor not checked: the file does not describe it")
	}
	out = append(out, o.collapseLines()...)
	return append(out, "air drawn out must come back in: mind stoves and heaters with a flue; walls and dampers against fire are for the authority")
}
