package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/collapse"
	"wyewright/network/units"
)

// strain is what one run bears with all gates shut, in its piece that stands it
// worst: one above its limit, else one without a limit, else the one nearest to
// its limit.
type strain struct {
	run     int
	piece   network.Piece
	suction units.Pressure
	limit   collapse.Limit
}

// rank orders strains by how bad they are: the greater the worse.
func (s *strain) rank() float64 {
	if !s.limit.Known() {
		return 1
	}
	r := float64(s.suction / s.limit.Suction)
	if s.limit.Holds(s.suction) {
		return r // up to 1
	}
	return 1 + r
}

// verdict says in words how a run does with all gates shut.
func (s *strain) verdict() string {
	switch {
	case !s.limit.Known():
		return "not checked: no limit or wall stated for " + s.piece.Make.Family
	case s.limit.Holds(s.suction):
		return "holds"
	}
	return "exceeds the limit: may collapse with all gates shut"
}

// strained is a shop with all gates shut. Unknown says why nothing could be
// reckoned, "" where it could.
type strained struct {
	shut    *network.ShutOff
	runs    []strain
	unknown string
}

// strains solves a shop with all gates shut and compares every run with what
// its duct is said to stand.
func strains(ctx context.Context, f *project.Project, n *network.Network) strained {
	shut, err := shutOff(ctx, f, n)
	switch {
	case err != nil:
		return strained{unknown: "the network does not settle with all gates shut"}
	case shut.Fixed:
		return strained{unknown: "a collector is given by a fixed flow, so that its shut-off suction is not known"}
	}
	out := strained{shut: shut}
	for i, r := range n.Spec().Runs {
		worst := strain{run: -1}
		for k, p := range r.Pieces {
			s := strain{i, p, shut.Pieces[i][k], f.File.Stands(p)}
			if worst.run < 0 || s.rank() > worst.rank() {
				worst = s
			}
		}
		out.runs = append(out.runs, worst)
	}
	return out
}

// shutOff solves a shop with all gates shut, with the collector in place and with
// every other one that a state names.
func shutOff(ctx context.Context, f *project.Project, n *network.Network) (*network.ShutOff, error) {
	out, err := n.ShutOff(ctx)
	var tried []string
	for _, s := range f.File.States {
		i := slices.IndexFunc(n.Spec().Collectors, func(c network.Collector) bool { return c.ID == s.Collector })
		if err != nil || i <= 0 || slices.Contains(tried, s.Collector) {
			continue
		}
		tried = append(tried, s.Collector)
		var other *network.ShutOff
		if other, err = n.WithCollector(i).ShutOff(ctx); err == nil {
			out.Raise(other)
		}
	}
	return out, err
}

// strain finds out what the ducts bear with all gates shut, planned and as found.
func (o *outcome) strain(ctx context.Context) {
	if o.found == nil {
		o.found = o.problem
	}
	o.bears, o.bore = strains(ctx, o.p, o.result.Network), strains(ctx, o.p, o.found.Base)
}

// exceeded are the strains above their limit.
func (s *strained) exceeded() []strain {
	return slices.DeleteFunc(slices.Clone(s.runs), func(x strain) bool { return !x.limit.Known() || x.limit.Holds(x.suction) })
}

// relief says what to do against collapse.
const relief = "keep one gate open whenever the fan runs, or build in a relief inlet, stiffening rings or thicker duct; local codes come first"

// lines say in words how the runs do, one line for each verdict and limit.
func (s *strained) lines(n *network.Network, sys units.System) []string {
	if s.unknown != "" {
		return []string{"duct collapse with all gates shut: not checked: " + s.unknown}
	}
	head := fmt.Sprintf("duct collapse with all gates shut, filter clean, suction up to %s", s.shut.Most.Text(sys))
	if s.shut.Open > 0 {
		head += fmt.Sprintf(" (%s without a gate: always open)", count(s.shut.Open, "port"))
	}
	var whats []string
	var runs [][]string
	rough := false
	var unknown []string
	for i := range s.runs {
		x := &s.runs[i]
		if !x.limit.Known() {
			unknown = append(unknown, x.piece.Make.Family)
			continue
		}
		rough = rough || x.limit.Basis == collapse.Estimated
		what := x.verdict() + fmt.Sprintf(" (%s %s, limit %s, %s)", x.piece.Size, x.piece.Make.Family, x.limit.Suction.Text(sys), x.limit.Basis)
		k := slices.Index(whats, what)
		if k < 0 {
			k, whats, runs = len(whats), append(whats, what), append(runs, nil)
		}
		runs[k] = append(runs[k], n.Spec().Runs[x.run].ID)
	}
	var out []string
	for k, what := range whats {
		in := strings.Join(runs[k], ", ")
		if len(whats) == 1 && len(unknown) == 0 {
			in = "every run"
		}
		out = append(out, fmt.Sprintf("%s: %s: %s", head, in, what))
		head = "collapse"
	}
	if len(s.exceeded()) > 0 {
		out = append(out, "against collapse: "+relief)
	}
	if len(unknown) > 0 {
		out = append(out, fmt.Sprintf("%s: not checked for %s, of which the file states no wall and no limit: state one under defaults, such as %s", head, strings.Join(distinct(unknown), " and "), s.state(sys)))
	}
	if rough {
		out = append(out, fmt.Sprintf("an estimated limit is the buckling of a thin tube over %g, for seams and dents; the maker's figure goes first: defaults.collapse in the file", collapse.Factor))
	}
	return out
}

// state is an example of what the file may state of the families that nothing is
// known of, "" where all are known.
func (s *strained) state(sys units.System) string {
	wall, bear := "0.5 mm", "2500 Pa"
	if sys == units.US {
		wall, bear = "26 ga", "10 in wg"
	}
	var walls, limits []string
	for i := range s.runs {
		x := &s.runs[i]
		family := x.piece.Make.Family
		switch {
		case x.limit.Known():
		case x.piece.Make.Hose():
			limits = append(limits, family+": "+bear)
		default:
			walls = append(walls, family+": "+wall)
		}
	}
	var parts []string
	if len(walls) > 0 {
		parts = append(parts, "wall: {"+strings.Join(distinct(walls), ", ")+"}")
	}
	if len(limits) > 0 {
		parts = append(parts, "collapse: {"+strings.Join(distinct(limits), ", ")+"}")
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, " and ")
}

// collapseLines say how the planned ducts do, and what was so as found.
func (o *outcome) collapseLines() []string {
	out := o.bears.lines(o.result.Network, o.sys)
	old := 0
	for _, x := range o.bore.exceeded() {
		id := o.found.Base.Spec().Runs[x.run].ID
		if !slices.ContainsFunc(o.bears.exceeded(), func(y strain) bool { return o.result.Network.Spec().Runs[y.run].ID == id }) {
			old++
		}
	}
	if old > 0 {
		out = append(out, fmt.Sprintf("as found, %s more exceeded the limit for collapse", count(old, "run")))
	}
	var fresh []string
	for _, x := range o.bears.exceeded() {
		if r := o.result.Network.Spec().Runs[x.run]; r.New {
			fresh = append(fresh, r.ID)
		}
	}
	if len(fresh) > 0 {
		out = append(out, "new duct that may collapse with all gates shut: "+strings.Join(fresh, ", ")+": buy thicker duct, or ask its maker for the suction it stands")
	}
	return out
}

// The JSON of the check.
type (
	jsonCollapse struct {
		// Suction is the most that any run bears with all gates shut.
		Suction    float64      `json:"shut_off_suction_pa,omitempty"`
		Open       int          `json:"ports_without_gate,omitempty"`
		NotChecked string       `json:"not_checked,omitempty"`
		Runs       []jsonStrain `json:"runs"`
	}
	jsonStrain struct {
		Run     string  `json:"run"`
		Family  string  `json:"family"`
		Size    string  `json:"size"`
		Suction float64 `json:"suction_pa"`
		Limit   float64 `json:"limit_pa,omitempty"`
		Basis   string  `json:"basis"` // stated, estimated or unknown
		Verdict string  `json:"verdict"`
	}
)

// json gives the check to programs.
func (s *strained) json(n *network.Network) *jsonCollapse {
	out := &jsonCollapse{NotChecked: s.unknown, Runs: []jsonStrain{}}
	if s.shut != nil {
		out.Suction, out.Open = float64(s.shut.Most), s.shut.Open
	}
	for i := range s.runs {
		x := &s.runs[i]
		out.Runs = append(out.Runs, jsonStrain{n.Spec().Runs[x.run].ID, x.piece.Make.Family, x.piece.Size, float64(x.suction),
			float64(x.limit.Suction), x.limit.Basis.String(), x.verdict()})
	}
	return out
}
