package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wyewright/network/calibrate"
	"wyewright/network/units"
)

// verdict says in words what was found, how large it is and where to look.
func (t *fitPrinter) verdict(f *calibrate.Finding) string {
	s := &t.p.File.Spec
	span := func(of func(float64) string) string {
		return fmt.Sprintf("%s (90 %%: %s to %s)", of(f.Value), of(f.Low), of(f.High))
	}
	area := func(x float64) string { return number(x*1e4, 1) + " cm2" }
	factor := func(x float64) string { return number(x, 2) }
	if f.Reading >= 0 {
		return f.Name + ": contradicts the others and was left out"
	}
	switch f.Kind {
	case calibrate.LeakArea:
		point := s.Points[f.Index].ID
		return fmt.Sprintf("%s: air comes in %s through %s, %s in state %q", f.Name, t.where(point), span(area), units.Flow(f.Inflow).Text(t.sys), f.State)
	case calibrate.GateLeft:
		d := float64(s.Tools[f.Index].Ports[f.Port].Diameter)
		return fmt.Sprintf("%s: it lets air through %s where it should be shut, %s %% of its port", f.Name, span(area), number(100*f.Value/(math.Pi/4*d*d), 0))
	case calibrate.ExtraLoss:
		return fmt.Sprintf("%s: K %s beyond what its length, bends and fittings lose: look for chips, a crushed hose, a gate not fully open", f.Name, span(factor))
	case calibrate.Bore:
		return t.bore(f)
	case calibrate.Reckoned:
		return t.reckoned(f)
	case calibrate.FanSpeed:
		if f.Value < 1 {
			return fmt.Sprintf("%s: it turns as if at %s of the speed of its curve, with %s of its pressure: look at belt, wheel, direction of rotation, supply, leaks of its own casing",
				f.Name, span(factor), number(f.Value*f.Value, 2))
		}
		return fmt.Sprintf("%s: it does more than its curve says, as if at %s of its speed: is it the curve of this fan and wheel?", f.Name, span(factor))
	case calibrate.Filter:
		if f.Value > 1 {
			return fmt.Sprintf("%s: it takes %s times what the file says: clean it, or correct the file", f.Name, span(factor))
		}
		return fmt.Sprintf("%s: it takes %s times what the file says: a torn bag, air past its seat, or a newer filter than the file has", f.Name, span(factor))
	case calibrate.Hose:
		return fmt.Sprintf("%s: %s times what the file says: not pulled straight, crushed, or another hose than the file names", f.Name, span(factor))
	case calibrate.Entry:
		return fmt.Sprintf("%s: the machine loses %s times what the file says: chips in its hood, a part taken off, or a guess to be corrected", f.Name, span(factor))
	case calibrate.Shut:
		return fmt.Sprintf("%s: %s times what the file says", f.Name, span(factor))
	}
	return fmt.Sprintf("%s: %s times what the file says", f.Name, span(factor))
}

// where says between which runs a point lies.
func (t *fitPrinter) where(point string) string {
	var runs []string
	for _, r := range t.p.File.Spec.Runs {
		if r.From == point || r.To == point {
			runs = append(runs, r.ID)
		}
	}
	switch len(runs) {
	case 0:
		return "at " + point
	case 1:
		return "at the end of " + runs[0]
	}
	return "between " + strings.Join(runs[:len(runs)-1], ", ") + " and " + runs[len(runs)-1]
}

// bore says how wide a run seems, and which duct of its family that would be.
func (t *fitPrinter) bore(f *calibrate.Finding) string {
	r := &t.p.File.Spec.Runs[f.Index]
	last := r.Pieces[len(r.Pieces)-1]
	seems := float64(last.Diameter) * f.Value
	text := func(x float64) string { return units.Length(x).DiameterText(t.sys) }
	out := fmt.Sprintf("%s: the air runs as if it were %s wide inside (90 %%: %s to %s), not %s", f.Name, text(seems),
		text(float64(last.Diameter)*f.Low), text(float64(last.Diameter)*f.High), text(float64(last.Diameter)))
	var near []string
	for _, name := range t.p.Catalog.Names() {
		fam, _ := t.p.Catalog.Family(name)
		for _, size := range fam.Sizes {
			if d := float64(size.Diameter); d >= float64(last.Diameter)*f.Low && d <= float64(last.Diameter)*f.High && (name == last.Make.Family || math.Abs(float64(size.Nominal/last.Diameter)-1) < 0.02) {
				near = append(near, fmt.Sprintf("%s of %s has %s", size.Name, name, text(d)))
			}
		}
	}
	if len(near) > 0 {
		out += "; " + strings.Join(near[:min(len(near), 3)], ", ")
	}
	return out + ": measure the inside, the trade's size is not it"
}

// reckoned says with which width flows seem to have been worked out.
func (t *fitPrinter) reckoned(f *calibrate.Finding) string {
	s := &t.p.File.Spec
	var inside units.Length
	var size string
	if f.Port < 0 {
		p := s.Runs[f.Index].Pieces[len(s.Runs[f.Index].Pieces)-1]
		inside, size = p.Diameter, p.Size
	} else {
		p := s.Tools[f.Index].Ports[f.Port]
		inside, size = p.Diameter, p.Size
	}
	seems := inside * units.Length(math.Sqrt(f.Value))
	out := fmt.Sprintf("%s: they fit if they were worked out for a width of %s (90 %%: %s to %s), where the inside is %s", f.Name, seems.DiameterText(t.sys),
		(inside * units.Length(math.Sqrt(f.Low))).DiameterText(t.sys), (inside * units.Length(math.Sqrt(f.High))).DiameterText(t.sys), inside.DiameterText(t.sys))
	if d, err := units.ParseLength(size); err == nil && math.Abs(float64(seems/d)-1) < 0.02 {
		out += "; " + size + " is the trade's size"
	}
	return out + ": write the speeds down, or flows worked out with the true inside"
}

// evidence names the readings that speak most for a finding.
func (t *fitPrinter) evidence(f *calibrate.Finding) []string {
	var out []string
	if f.Hint != "" {
		out = append(out, f.Hint)
	}
	for _, w := range f.Speaks {
		r := &t.r.Readings[w.Reading]
		mark := map[calibrate.Bound]string{calibrate.AtLeast: "more than ", calibrate.AtMost: "less than "}[r.Bound]
		out = append(out, fmt.Sprintf("%s: read %s%s; the model shows %s without this finding, %s with it", r.Name, mark, readText(&r.Reading, r.Value, t.sys),
			readText(&r.Reading, w.Before, t.sys), readText(&r.Reading, w.After, t.sys)))
	}
	return out
}

// params are the parameters of estimates.
func params(es []calibrate.Estimate) []calibrate.Param {
	out := make([]calibrate.Param, len(es))
	for i := range es {
		out[i] = es[i].Param
	}
	return out
}

// names lists explanations, those of a kind together.
func (t *fitPrinter) names(ps []calibrate.Param) string {
	s := &t.p.File.Spec
	var points, gates, losses, widths, rest []string
	add := func(to *[]string, name string) {
		if !slices.Contains(*to, name) {
			*to = append(*to, name)
		}
	}
	for _, p := range ps {
		switch {
		case p.Kind == calibrate.GateLeft:
			add(&gates, s.Tools[p.Index].ID)
		case p.Kind == calibrate.LeakArea && strings.HasPrefix(p.Name, "leak at the gate of "):
			add(&gates, strings.TrimPrefix(p.Name, "leak at the gate of "))
		case p.Kind == calibrate.LeakArea:
			add(&points, s.Points[p.Index].ID)
		case p.Kind == calibrate.ExtraLoss:
			add(&losses, s.Runs[p.Index].ID)
		case p.Kind == calibrate.Bore:
			add(&widths, s.Runs[p.Index].ID)
		default:
			add(&rest, p.Name)
		}
	}
	var out []string
	for _, g := range []struct {
		before, after string
		names         []string
	}{{"an opening at ", "", points}, {"the gate of ", " (leaking, or not shut)", gates}, {"an extra loss in ", "", losses}, {"another width of ", "", widths}} {
		switch n := len(g.names); n {
		case 0:
		case 1:
			out = append(out, g.before+g.names[0]+g.after)
		default:
			out = append(out, g.before+strings.Join(g.names[:n-1], ", ")+" or "+g.names[n-1]+g.after)
		}
	}
	return strings.Join(append(out, rest...), "; ")
}
