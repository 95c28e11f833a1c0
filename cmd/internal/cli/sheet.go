package cli

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/calibrate"
	"wyewright/network/units"
	"wyewright/optimize"
)

type sheetOptions struct {
	file, out          string
	states             []string
	meterMin, meterMax string
	html, csv          bool
}

func newSheet(a *app, run runFunc[sheetOptions]) *cobra.Command {
	var o sheetOptions
	c := &cobra.Command{
		Use:   "sheet FILE",
		Short: "Print a form for measuring in the shop: where to drill, what to expect, blanks to fill in",
		Long: "sheet prints a form to carry into the shop: for all gates shut and for every operating state\n" +
			"the places to read, where to drill, what the model of the shop as it stands expects on the\n" +
			"centre line, and a blank for the value. It comes as Markdown, as a page to print (--html), or\n" +
			"as a table of readings to fill in, which the shop file can name under readings (--csv).",
		Args: takes(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			return a.into(o.out, func() error { return run.or(a.sheet)(cmd.Context(), &o) })
		},
	}
	f := c.Flags()
	f.StringArrayVar(&o.states, "state", nil, "only this operating `state` (may be repeated); none is all gates shut")
	f.StringVar(&o.meterMin, "meter-min", "0.3 m/s", "the least `speed` that your meter shows")
	f.StringVar(&o.meterMax, "meter-max", "30 m/s", "the highest `speed` that your meter shows")
	f.BoolVar(&o.html, "html", false, "write a page to print, HTML")
	f.BoolVar(&o.csv, "csv", false, "write a table of readings without values, CSV")
	outFlag(c, &o.out)
	return c
}

// sheetForm is the form, its numbers in SI and in words.
type sheetForm struct {
	Shop   string       `json:"shop"`
	Notes  []string     `json:"notes"`
	Blocks []sheetBlock `json:"states"`
}

// sheetBlock is one operating state.
type sheetBlock struct {
	State string     `json:"state"`
	Title string     `json:"title"`
	Mind  string     `json:"mind,omitempty"`
	Rows  []sheetRow `json:"readings"`
}

// sheetRow is one reading to take.
type sheetRow struct {
	Place     string  `json:"place"`
	Drill     string  `json:"drill"`
	Diameter  string  `json:"diameter"`
	Quantity  string  `json:"quantity"`
	Value     float64 `json:"expected_si"` // m/s on the centre line, or Pa
	Low       float64 `json:"low_si"`
	High      float64 `json:"high_si"`
	Expected  string  `json:"expected"`
	Mark      string  `json:"mark,omitempty"`
	Collector string  `json:"collector,omitempty"`
}

func (a *app) sheet(ctx context.Context, o *sheetOptions) error {
	if o.html && o.csv || a.json && (o.html || o.csv) {
		return fail(Usage, errors.New("more than one of --html, --csv and --json"), "give one")
	}
	m, err := meterRange(o)
	if err != nil {
		return err
	}
	p, err := a.open(o.file)
	if err != nil {
		return err
	}
	if m.sys, err = a.units(p.File); err != nil {
		return err
	}
	form, err := a.sheetForm(ctx, p, o, m)
	switch {
	case err != nil:
		return err
	case a.json:
		return a.writeJSON(form)
	case o.html:
		return sheetHTML.Execute(a.Out, form)
	case o.csv:
		return form.csv(a.Out)
	}
	return form.markdown(a.Out)
}

// meter is the range of an air-speed meter, and the units of the form.
type meter struct {
	low, high   units.Velocity
	least, most string // as the user wrote them
	sys         units.System
}

func meterRange(o *sheetOptions) (*meter, error) {
	m := meter{least: strings.TrimSpace(o.meterMin), most: strings.TrimSpace(o.meterMax)}
	var err error
	if m.low, err = units.ParseVelocity(m.least); err != nil {
		return nil, fail(Usage, fmt.Errorf("--meter-min: %w", err), "")
	}
	if m.high, err = units.ParseVelocity(m.most); err != nil {
		return nil, fail(Usage, fmt.Errorf("--meter-max: %w", err), "")
	}
	if m.low < 0 || m.high <= m.low {
		return nil, fail(Usage, fmt.Errorf("no meter reads from %s to %s", m.least, m.most), "--meter-max must lie above --meter-min, and neither below 0")
	}
	return &m, nil
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
	if !slices.ContainsFunc(all, func(s network.State) bool { return s.Name == allShut }) {
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
	form := &sheetForm{Shop: p.File.Name, Notes: sheetNotes(m)}
	for _, s := range solved {
		form.Blocks = append(form.Blocks, m.block(n, s))
	}
	return form, nil
}

// block lists what to read in a state.
func (m *meter) block(n *network.Network, s optimize.StateResult) sheetBlock {
	b := sheetBlock{State: s.State.Name}
	shut := len(s.State.Running)+len(s.State.Open) == 0
	switch running := strings.Join(s.State.Running, ", "); {
	case shut && s.State.Name == allShut:
		b.Title = "All gates shut"
	case running == s.State.Name:
		b.Title = running + " alone"
	case running == "":
		b.Title = s.State.Name + ": nothing runs"
	default:
		b.Title = s.State.Name + ": " + running
	}
	if more := settings(&s.State, ""); more != "" {
		b.Title += "; with it: " + more
	}
	suction := units.Pressure(0)
	for i := range s.Solution.Collectors {
		suction = max(suction, s.Solution.Collectors[i].Static)
	}
	if shut && suction > 0 {
		b.Mind = fmt.Sprintf("Keep one gate open on thin pipe: with every gate shut the duct bears the fan's suction, %s here, and thin pipe can collapse. "+
			"What flows now comes in by leaks and by ports without a gate.", suction.Text(m.sys))
	}
	for _, run := range sheetRuns(n, s, shut) {
		b.Rows = append(b.Rows, m.speedRow(n, s.Solution, run))
	}
	for i := range s.Solution.Collectors {
		b.Rows = append(b.Rows, m.suctionRow(n, &s.Solution.Collectors[i]))
	}
	return b
}

// still is the air speed that prints as nothing.
const still units.Velocity = 0.005

// sheetRuns are the runs to read in a state: of the trunk those that carry air
// (all of them where everything is shut: air that should not be there shows a
// leak), then one for every port of a running tool.
func sheetRuns(n *network.Network, s optimize.StateResult, shut bool) []int {
	var out []int
	spec := n.Spec()
	moves := func(run int) bool { return max(s.Solution.Runs[run].Fast, -s.Solution.Runs[run].Fast) >= still }
	for i := range spec.Runs {
		if trunk(n, i) && (shut || moves(i)) {
			out = append(out, i)
		}
	}
	for _, name := range s.State.Running {
		k, _ := n.ToolIndex(name)
		for _, port := range spec.Tools[k].Ports {
			if best := dropRun(n, port.At); best >= 0 && moves(best) && !slices.Contains(out, best) {
				out = append(out, best)
			}
		}
	}
	return out
}

// trunk reports whether a run belongs to the trunk: the file calls it main, it
// ends at a collector, or the air of no tool or of several passes it.
func trunk(n *network.Network, run int) bool {
	spec := n.Spec()
	r := &spec.Runs[run]
	tools := 0
	for k := range spec.Tools {
		if n.ToolsUpstream(run, k) {
			tools++
		}
	}
	return r.Main || tools != 1 || slices.ContainsFunc(spec.Collectors, func(c network.Collector) bool { return c.At == r.To })
}

// dropRun is the run between a port and the trunk that is read best: the one
// with the longest straight pipe, counted in diameters; −1 where the port stands
// at the trunk itself.
func dropRun(n *network.Network, at string) int {
	spec := n.Spec()
	best, most := -1, math.Inf(-1)
	for range spec.Runs { // no way is longer
		i := slices.IndexFunc(spec.Runs, func(r network.Run) bool { return r.From == at })
		if i < 0 || trunk(n, i) {
			break
		}
		h := holeIn(n, i)
		if x := float64(h.straight / h.diameter); x > most {
			best, most = i, x
		}
		at = spec.Runs[i].To
	}
	return best
}

// hole is where to drill into a run.
type hole struct {
	diameter units.Length
	straight units.Length // of the straight pipe; 0 where there is none
	behind   units.Length // from the fitting upstream of it
	distance units.Length // from the upstream end of the run
	bends    bool         // known where they are
}

// Diameters of straight pipe behind a fitting, and before the next one (common
// practice).
const (
	leastBehind  = 4
	wantedBehind = 7.5
	wantedBefore = 1.5
)

// holeIn finds the place to read a run: in the longest straight part of its
// narrowest pipe, which is the one that a reading of a run speaks of. It is in
// the middle, or further down where that is too near to the fitting behind it.
func holeIn(n *network.Network, run int) hole {
	pieces, route := n.Spec().Runs[run].Pieces, n.Route(run)
	h := hole{diameter: pieces[0].Diameter, bends: route.Placed}
	total := units.Length(0)
	for _, p := range pieces {
		h.diameter = min(h.diameter, p.Diameter)
		total += p.Length
	}
	// Where straight parts end: the bends of the route, drawn to the length of
	// the run, and the ends of the pieces.
	var ends []units.Length
	along := units.Length(0)
	for i := 1; i < len(route.Path); i++ {
		a, b := route.Path[i-1], route.Path[i]
		along += units.Length(math.Hypot(math.Hypot(b.X-a.X, b.Y-a.Y), b.Z-a.Z))
		ends = append(ends, along/route.Length*total)
	}
	start := units.Length(0)
	for _, p := range pieces {
		end := start + p.Length
		if !p.Make.Hose() && p.Diameter == h.diameter {
			from := start
			for _, to := range append(ends, end) {
				if to = min(to, end); to-from > h.straight {
					h.straight, h.distance = to-from, from
				}
				from = max(from, to)
			}
		}
		start = end
	}
	d := h.diameter
	h.behind = max(h.straight/2, min(wantedBehind*d, h.straight-wantedBefore*d))
	h.distance += h.behind
	return h
}

// words say where to drill, and what to mind there.
func (h *hole) words(from string, sys units.System) (drill, mark string) {
	if h.straight == 0 {
		return "nowhere: its narrowest part is hose", "set in a straight pipe of this width to read in"
	}
	drill = fmt.Sprintf("%s from %s", h.distance.Text(sys), from)
	if !h.bends {
		drill += ", if straight: the file has no bends"
	}
	switch x := float64(h.behind / h.diameter); {
	case x < leastBehind:
		mark = fmt.Sprintf("very short, under %d diameters: read twice, and doubt it", leastBehind)
	case x < wantedBehind-1e-9:
		mark = "short: read twice"
	}
	return drill, mark
}

// Mean speed over the speed on the centre line, and its doubt: between the 0.82
// of a power-law profile behind long straight pipe and about 0.9 near entries
// (common practice); and what one reading at one point is in doubt by (common
// practice).
const (
	probeFactor  = 0.87
	probeDoubt   = 0.05
	readingDoubt = 0.10
)

// speedRow is a reading of air speed on the centre line. The two doubts are
// added up, not taken as independent.
func (m *meter) speedRow(n *network.Network, s *network.Solution, run int) sheetRow {
	r, h := &n.Spec().Runs[run], holeIn(n, run)
	mean := s.Runs[run].Fast
	backward := mean < 0
	if backward {
		mean = -mean
	}
	v, low, high := mean/probeFactor, mean/(probeFactor+probeDoubt)*(1-readingDoubt), mean/(probeFactor-probeDoubt)*(1+readingDoubt)
	drill, mark := h.words(r.From, m.sys)
	marks := []string{mark}
	switch {
	case mean < still:
		marks = append(marks, "no air here by the file: any speed shows a leak")
	case v < m.low:
		marks = append(marks, "under the range of the meter: write <"+m.least)
	case v > m.high:
		marks = append(marks, "over the range of the meter: read in a wider run, or write >"+m.most)
	case high > m.high:
		marks = append(marks, "may go over the range of the meter: then write >"+m.most)
	}
	if backward {
		marks = append(marks, "runs backward, by the model")
	}
	row := sheetRow{Place: r.ID, Drill: drill, Diameter: h.diameter.DiameterText(m.sys), Quantity: "velocity", Value: float64(v), Low: float64(low), High: float64(high),
		Expected: fmt.Sprintf("%s (%s to %s) %s", velocity(v, m.sys), velocity(low, m.sys), velocity(high, m.sys), v.Unit(m.sys)),
		Mark:     strings.Join(slices.DeleteFunc(marks, func(w string) bool { return w == "" }), "; ")}
	if len(s.Collectors) > 0 {
		row.Collector = s.Collector.ID
	}
	return row
}

// suctionRow is a reading of the suction at a collector's inlet, with two
// standard deviations of a manometer.
func (m *meter) suctionRow(n *network.Network, c *network.CollectorResult) sheetRow {
	p := c.Static
	doubt := units.Pressure(2 * (&calibrate.Reading{Quantity: calibrate.Suction, Value: float64(p)}).Sigma())
	return sheetRow{Place: "collector", Drill: "tap in the wall of the inlet of " + c.ID, Diameter: n.Spec().Collectors[c.Collector].Inlet.DiameterText(m.sys),
		Quantity: "suction", Value: float64(p), Low: float64(p - doubt), High: float64(p + doubt), Collector: c.ID,
		Expected: fmt.Sprintf("%s (%s to %s) %s", pressure(p, m.sys), pressure(p-doubt, m.sys), pressure(p+doubt, m.sys), p.Unit(m.sys))}
}
