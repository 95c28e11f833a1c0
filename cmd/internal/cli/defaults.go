package cli

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// asked says in words what a redesign may do and must hold.
func asked(p *project.Project, sys units.System) []string {
	r := &p.File.Redesign
	var may []string
	for _, m := range []struct {
		allowed bool
		word    string
	}{{r.May.Resize, "change sizes"}, {r.May.ReplaceHose, "turn hose into pipe"}, {r.May.ShortenHose, "shorten hose"}, {r.May.Seal, "seal leaks"},
		{r.May.RepairGates, "repair gates"}, {r.May.Bleed, "build bleed inlets"}, {r.May.SwapFittings, "swap elbows and joints"},
		{r.May.Routes, "lay duct along corridors"}, {r.May.Collector, "change the collector"}} {
		if m.allowed {
			may = append(may, m.word)
		}
	}
	if len(may) == 0 {
		may = []string{"change nothing (the file allows nothing under redesign.may)"}
	}
	out := []string{"may " + strings.Join(may, ", ") + "; opens " + beside(r.May.Companions)}
	if line := hoseStays(p); line != "" {
		out = append(out, line)
	}
	if len(r.Families) > 0 {
		out = append(out, "buys "+strings.Join(r.Families, ", "))
	}
	var way, put []string
	for _, c := range p.File.Corridors {
		way = append(way, c.ID)
	}
	for _, o := range p.File.CollectorOptions {
		put = append(put, o.Label+" ("+p.Currency.Text(price.Money(o.Cost.Minor))+")")
	}
	if len(way) > 0 {
		out = append(out, "has corridors: "+strings.Join(way, ", "))
	}
	if len(put) > 0 {
		out = append(out, "has for the collector: "+strings.Join(put, ", "))
	}
	if len(r.Keep) > 0 {
		out = append(out, "keeps "+strings.Join(r.Keep, ", "))
	}
	transport := "the transport velocity of each tool's dust"
	if !r.Limits.TransportByDust {
		transport = r.Limits.Transport.Text(sys) + " in every run with dust"
	}
	margin := ""
	if r.Limits.Margin != 0 {
		margin = fmt.Sprintf(" %+.0f %%", 100*r.Limits.Margin)
	}
	hold := fmt.Sprintf("holds every tool's flow%s, and %s", margin, transport)
	if r.Limits.Risers > 0 {
		hold += fmt.Sprintf(", %+.0f %% in risers", 100*r.Limits.Risers)
	}
	if r.Limits.Ceiling > 0 {
		hold += ", and no more than " + r.Limits.Ceiling.Text(sys)
	}
	return append(out, hold)
}

// beside says how many companions a state may have.
func beside(most int) string {
	switch most {
	case 0:
		return "nothing beside the running tools"
	case 1:
		return "at most one gate or bleed inlet beside the running tools"
	}
	return fmt.Sprintf("at most %d gates or bleed inlets beside the running tools", most)
}

// inForce says in words what the model takes, whether the file says it or is
// silent.
func inForce(p *project.Project, sys units.System) []string {
	s := &p.File.Spec
	friction := map[network.Friction]string{network.Colebrook: "Colebrook", network.SwameeJain: "Swamee-Jain", network.Frictionless: "none"}
	out := []string{fmt.Sprintf("air %s, friction by %s", s.Air.Density.Text(sys), friction[s.Friction])}
	if from := tables(p.File); from != "" {
		out = append(out, from)
	}
	for _, c := range s.Collectors {
		motor := "motor not described, so not checked"
		if c.Motor != nil {
			motor = "motor " + c.Motor.Rating.Text(sys)
			if c.Motor.Efficiency == 0 && len(c.Motor.Points) == 0 {
				motor += ", not checked without its efficiency or its power at points"
			}
		}
		out = append(out, fmt.Sprintf("collector %s: inlet %s, %s, %s", c.ID, c.Inlet.DiameterText(sys), filterText(&c, sys), motor))
	}
	out = append(out, "flow and transport velocity are held with the loaded filter (clean where a state says so), ceiling and motor with the clean one")
	out = append(out, makes(p, sys)...)
	out = append(out, classes(p, sys)...)
	out = append(out, gates(s)...)
	if fitted := p.File.FittedWords(); len(fitted) > 0 {
		out = append(out, "fitted to readings, and in the numbers above: "+strings.Join(fitted, ", "))
	}
	if len(p.File.BleedPoints) > 0 {
		out = append(out, fmt.Sprintf("bleed inlets that may be built: K %.2g of screen and gate on their own velocity pressure", p.File.Redesign.Bleed.K))
	}
	if line := unplaced(p); line != "" {
		out = append(out, line)
	}
	out = append(append(out, project.LaterNotes(p.File)...), p.Notes...)
	return append(out, "the friction tables read rougher than clean new duct; of hose no more is known than 2 to 5 times smooth pipe")
}

// unplaced says which runs are taken as straight because nothing tells their
// bends, "" where there are none.
func unplaced(p *project.Project) string {
	var names []string
	for i, r := range p.Network.Spec().Runs {
		if !p.Network.Route(i).Placed && r.K.Bends == nil {
			names = append(names, r.ID)
		}
	}
	if len(names) == 0 {
		return ""
	}
	which := strings.Join(names, ", ")
	if len(names) == len(p.Network.Spec().Runs) {
		which = "all runs"
	}
	return "no coordinates, so taken as straight: " + which + "; elbows there now go under k: {bends: 0.3}, about that for each, but new duct in their place counts none"
}

// nothingMay says so where a file lets a redesign change nothing but gates.
func nothingMay(p *project.Project) string {
	m := &p.File.Redesign.May
	if (m.Resize || m.ReplaceHose) && len(p.File.Redesign.Families) > 0 || m.ShortenHose || m.Seal || m.RepairGates || m.Bleed || m.SwapFittings || m.Routes || m.Collector {
		return ""
	}
	return "The file lets nothing be changed but which gates are open. Say under redesign what may be: redesign: {families: [dust spiral, hose], may: [resize, replace hose]}."
}

// hoseStays says which hose no permission of the file lets be resized, "" where
// there is none.
func hoseStays(p *project.Project) string {
	r := &p.File.Redesign
	if !r.May.Resize || r.May.ReplaceHose {
		return ""
	}
	var names []string
	for _, run := range p.File.Spec.Runs {
		hose := slices.ContainsFunc(run.Pieces, func(x network.Piece) bool { return x.Make.Hose() })
		if hose && !slices.Contains(r.Keep, run.ID) {
			names = append(names, run.ID)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "resize is for pipe: hose keeps its size in " + strings.Join(names, ", ") + " (replace hose under redesign.may lets it change too)"
}

// tables says which tables beside the shop file its runs and points come from.
func tables(f *shopfile.File) string {
	var out []string
	if f.RunsPath != "" {
		out = append(out, "runs from "+f.RunsPath)
	}
	if f.PointsPath != "" {
		out = append(out, "points from "+f.PointsPath)
	}
	return strings.Join(out, ", ")
}

// filterText says what a filter takes at a round flow; its loss is linear in the
// flow.
func filterText(c *network.Collector, sys units.System) string {
	if c.Filter.Clean == 0 && c.Filter.Loaded == 0 {
		return "filter not described, so no loss is taken for it"
	}
	at := 1000 * units.CubicMetrePerHour
	if sys == units.US {
		at = 1000 * units.CubicFootPerMinute
	}
	take := func(k float64) string { return units.Pressure(k * float64(at)).Text(sys) }
	out := fmt.Sprintf("filter %s loaded and %s clean at %.0f %s", take(c.Filter.Loaded), take(c.Filter.Clean), at.In(sys), at.Unit(sys))
	if c.CleanIncluded {
		out += " (the fan curve holds the clean filter already)"
	}
	return out
}

// makes says how each family in use is reckoned, in the order of the runs.
func makes(p *project.Project, sys units.System) []string {
	var out []string
	for _, r := range p.File.Spec.Runs {
		for _, pc := range r.Pieces {
			m := pc.Make
			rough := fmt.Sprintf("roughness %.3g mm", 1000*float64(m.Roughness))
			if sys == units.US {
				rough = fmt.Sprintf("roughness %.2g in", float64(m.Roughness)/float64(units.Inch))
			}
			if m.Hose() {
				rough = fmt.Sprintf("friction %.2g times smooth pipe", m.Multiple)
			}
			line := fmt.Sprintf("%s: %s, elbows %s of R/D %.3g, wyes %.0f degrees, tapers %.0f degrees", m.Family, rough, m.Elbow, m.ElbowRD, m.WyeDegrees, m.TaperDegrees)
			if !slices.Contains(out, line) {
				out = append(out, line)
			}
		}
	}
	return out
}

// classes lists the kinds of dust with the velocity in force and the range
// that published tables give.
func classes(p *project.Project, sys units.System) []string {
	var out []string
	for _, t := range p.File.Spec.Tools {
		line := fmt.Sprintf("dust %q moves at %s", t.Dust, t.Transport.Text(sys))
		if c, ok := p.Catalog.Class(t.Dust); ok {
			line += fmt.Sprintf(" (published: %s to %s %s)", velocity(c.Low, sys), velocity(c.High, sys), c.Low.Unit(sys))
		}
		if !slices.Contains(out, line) {
			out = append(out, line)
		}
	}
	return out
}

// gates counts the gates and says what they leak.
func gates(s *network.Spec) []string {
	ports, none, leaking := 0, 0, 0
	for _, t := range s.Tools {
		for _, p := range t.Ports {
			ports++
			switch {
			case p.Gate == nil:
				none++
			case p.Gate.Leak > 0:
				leaking++
			}
		}
	}
	return []string{fmt.Sprintf("gates: %s, %d without a gate and so always open, %d leaking when shut", count(ports, "port"), none, leaking)}
}
