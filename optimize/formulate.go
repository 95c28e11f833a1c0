package optimize

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

const (
	// defaultTail is the hose left at a tool whose hose becomes pipe
	// (common practice).
	defaultTail units.Length = 0.8
	// defaultBleedK is the loss of a bleed inlet's screen and gate on its own
	// velocity pressure (common practice).
	defaultBleedK = 1.5
	// shortenWorth is the least hose worth cutting off.
	shortenWorth units.Length = 0.3
)

// defaultBleeds are the nominal sizes offered for a bleed inlet.
var defaultBleeds = []units.Length{0.100, 0.125, 0.160}

// Formulate makes a Problem. The states must name tools of n; what may be
// opened with them is added by the search.
func Formulate(n *network.Network, states []network.State, o Options, b *parts.Builder) (*Problem, error) {
	if len(states) == 0 {
		return nil, errors.New("optimize: no operating state: nothing to design for")
	}
	if o.Tail == 0 {
		o.Tail = defaultTail
	}
	if o.BleedK == 0 {
		o.BleedK = defaultBleedK
	}
	if o.Piece == nil {
		o.Piece = func(family, size string, length units.Length) (network.Piece, error) {
			fam, err := b.Catalog.Lookup(family)
			if err != nil {
				return network.Piece{}, err
			}
			return fam.Piece(size, length)
		}
	}
	f := &formulator{n: n, o: o, b: b}
	p := &Problem{States: slices.Clone(states), Limits: o.Limits, Companions: o.Companions, builder: b}
	f.p = p
	if err := f.checkNames(); err != nil {
		return nil, err
	}
	if err := f.bleeds(); err != nil {
		return nil, err
	}
	f.later()
	if err := f.runs(); err != nil {
		return nil, err
	}
	if err := f.leaks(); err != nil {
		return nil, err
	}
	if err := f.take(); err != nil {
		return nil, err
	}
	f.companions()
	for i := range p.Choices {
		p.settle(&p.Choices[i])
	}
	p.joints = f.joints()
	return p, nil
}

type formulator struct {
	n *network.Network
	o Options
	b *parts.Builder
	p *Problem
	// built is the number of bleeds that are there already.
	built int
}

// checkNames reports every name of the options that the shop does not know.
func (f *formulator) checkNames() error {
	var errs []error
	for _, id := range f.o.Keep {
		if _, ok := f.n.RunIndex(id); !ok {
			errs = append(errs, fmt.Errorf("optimize: no run %q to keep", id))
		}
	}
	for _, id := range slices.Sorted(maps.Keys(f.o.Fix)) {
		if _, ok := f.n.RunIndex(id); !ok {
			errs = append(errs, fmt.Errorf("optimize: no run %q to settle", id))
		}
	}
	for _, name := range f.o.Families {
		if _, err := f.b.Catalog.Lookup(name); err != nil {
			errs = append(errs, err)
		}
	}
	for _, st := range f.p.States {
		if len(st.Running) == 0 {
			errs = append(errs, fmt.Errorf("optimize: state %q runs no tool", st.Name))
		}
		for _, id := range st.Running {
			if _, ok := f.n.ToolIndex(id); !ok {
				errs = append(errs, fmt.Errorf("optimize: state %q: no tool %q", st.Name, id))
			}
		}
	}
	return errors.Join(errs...)
}

// bleeds puts every bleed that may be built into the base, shut and tight,
// with one choice per point.
func (f *formulator) bleeds() error {
	spec := *f.n.Spec()
	f.built = len(spec.Bleeds)
	spec.Bleeds = slices.Clone(spec.Bleeds)
	if f.o.Bleed {
		for _, at := range f.o.Bleeds {
			if err := f.bleedAt(&spec, at); err != nil {
				return err
			}
		}
	}
	base, err := network.New(spec)
	if err != nil {
		return err
	}
	f.n, f.p.Base = base, base
	return nil
}

func (f *formulator) bleedAt(spec *network.Spec, at string) error {
	family, err := f.bleedFamily(spec, at)
	if err != nil {
		return err
	}
	var sizes []catalog.Size
	for _, name := range f.o.BleedSizes {
		s, err := family.Lookup(name)
		if err != nil {
			return err
		}
		sizes = append(sizes, s)
	}
	if len(sizes) == 0 {
		for _, d := range defaultBleeds {
			if s := family.Nearest(d); len(sizes) == 0 || sizes[len(sizes)-1].Name != s.Name {
				sizes = append(sizes, s)
			}
		}
	}
	c := Choice{Kind: BleedChoice, ID: at, Run: -1, Alternatives: []Alternative{{Label: "no bleed inlet"}}}
	for _, s := range sizes {
		index := len(spec.Bleeds)
		spec.Bleeds = append(spec.Bleeds, network.Bleed{ID: fmt.Sprintf("bleed %s %s", at, s.Name), At: at, Size: s.Name,
			Diameter: s.Diameter, K: f.o.BleedK})
		lines := f.b.BleedInlet(s.Name, family.Name, at)
		cost, unpriced := f.b.Cost(lines)
		label := s.Name + " bleed inlet"
		if len(unpriced) > 0 {
			f.drop(at, label, "no price for "+strings.Join(unpriced, "; "))
			continue
		}
		c.Alternatives = append(c.Alternatives, Alternative{Label: label, Lines: lines, Cost: cost,
			Changes: []network.Change{network.SetBleed{Bleed: index, Leak: f.o.BleedLeak}}})
		f.p.Companion = append(f.p.Companion, Companion{Name: spec.Bleeds[index].ID, Tool: -1, Bleed: index,
			Choice: len(f.p.Choices), Alternative: len(c.Alternatives) - 1})
	}
	if len(c.Alternatives) > 1 {
		f.p.Choices = append(f.p.Choices, c)
	}
	return nil
}

func (f *formulator) bleedFamily(spec *network.Spec, at string) (*catalog.Family, error) {
	if f.o.BleedFamily != "" {
		return f.b.Catalog.Lookup(f.o.BleedFamily)
	}
	names := slices.Clone(f.o.Families)
	for i := range spec.Runs {
		if spec.Runs[i].From == at {
			names = append([]string{spec.Runs[i].Pieces[0].Make.Family}, names...)
		}
	}
	for _, name := range names {
		if fam, ok := f.b.Catalog.Family(name); ok && !fam.Hose {
			return fam, nil
		}
	}
	return nil, fmt.Errorf("optimize: no duct family for the bleed inlet at %q", at)
}

func (f *formulator) drop(id, label, why string) {
	f.p.Dropped = append(f.p.Dropped, fmt.Sprintf("%s: %s: %s", id, label, why))
}

// runs makes the choices of the runs. The error joins those of all runs.
func (f *formulator) runs() error {
	spec := f.n.Spec()
	f.p.runChoice = make([]int, len(spec.Runs))
	var faults []error
	for i := range spec.Runs {
		f.p.runChoice[i] = -1
		if f.stays(&spec.Runs[i]) && !f.o.comesLater(spec.Runs[i].ID) {
			continue
		}
		alts, build := f.alternatives(i), f.o.variant.builds(spec.Runs[i].ID)
		barred, err := f.bar(&spec.Runs[i], alts)
		if faults = append(faults, err); len(alts) < 2 && !build {
			continue
		}
		f.p.runChoice[i] = len(f.p.Choices)
		f.p.Choices = append(f.p.Choices, Choice{Kind: RunChoice, ID: spec.Runs[i].ID, Run: i, Alternatives: alts, Build: build, Later: f.o.comesLater(spec.Runs[i].ID), barred: barred})
	}
	return errors.Join(faults...)
}

// leaks makes the choices of seals and repairs.
func (f *formulator) leaks() error {
	spec := f.n.Spec()
	if f.o.Seal {
		for i := range spec.Leaks {
			l := &spec.Leaks[i]
			if s, ok := f.o.Seals[l.ID]; ok && l.Area > s.Leaves {
				f.mend(SealChoice, l.ID, "seal", f.b.Seal(*l), s, network.SetLeak{Leak: i, Area: s.Leaves})
			}
		}
	}
	if !f.o.Repair {
		return nil
	}
	for _, r := range f.o.Repairs {
		k, ok := f.n.ToolIndex(r.Tool)
		if !ok || r.Port >= len(spec.Tools[k].Ports) || spec.Tools[k].Ports[r.Port].Gate == nil {
			return fmt.Errorf("optimize: no gate to repair at port %d of tool %q", r.Port, r.Tool)
		}
		port := &spec.Tools[k].Ports[r.Port]
		if port.Gate.Leak > r.Leaves {
			id := r.Tool
			if len(spec.Tools[k].Ports) > 1 {
				id += " at " + port.At
			}
			f.mend(RepairChoice, id, "repair gate", f.b.Repair(port.At, port.Size), r.Seal,
				network.SetGate{Tool: k, Port: r.Port, Leak: r.Leaves})
		}
	}
	return nil
}

// mend adds a choice of leaving an opening or closing it. A price from the
// file stands for the material; the book's work comes on top.
func (f *formulator) mend(kind Kind, id, label string, lines []parts.Line, s Seal, change network.Change) {
	if s.Priced {
		own := parts.Lump(label+" at "+lines[0].Where, lines[0].Where, s.Cost)
		own.Point = lines[0].Point
		lines = append([]parts.Line{own}, slices.DeleteFunc(lines, func(l parts.Line) bool { return l.Action == parts.Buy })...)
	}
	cost, unpriced := f.b.Cost(lines)
	if len(unpriced) > 0 {
		f.drop(id, label, "no price for "+strings.Join(unpriced, "; "))
		return
	}
	f.p.Choices = append(f.p.Choices, Choice{Kind: kind, ID: id, Run: -1, Alternatives: []Alternative{
		{Label: leaveIt}, {Label: label, Lines: lines, Cost: cost, Changes: []network.Change{change}}}})
}

// leaveIt is the label of an opening that nothing is done about.
const leaveIt = "leave"

// companions lists what may stand open with the running tools: gates that are
// there before bleeds, bleeds that are there before those to be built.
func (f *formulator) companions() {
	spec := f.n.Spec()
	var there []Companion
	for k := range spec.Tools {
		gated := len(spec.Tools[k].Ports) > 0
		for _, port := range spec.Tools[k].Ports {
			gated = gated && port.Gate != nil
		}
		if gated && !slices.Contains(f.o.Later.Tools, spec.Tools[k].ID) {
			there = append(there, Companion{Name: spec.Tools[k].ID, Tool: k, Bleed: -1, Choice: -1})
		}
	}
	for k := range spec.Bleeds {
		if k < f.built {
			there = append(there, Companion{Name: spec.Bleeds[k].ID, Tool: -1, Bleed: k, Choice: -1})
		}
	}
	f.p.Companion = append(there, f.p.Companion...)
}

// joint is the cost of what joins the runs at a network joint, for every
// combination of their alternatives.
type joint struct {
	network.Joint
	// choice of main, branch and common, −1 where nothing is to choose.
	main, branch, common int
	nm, nb, nc           int
	remade               [3]bool       // ends that are made anew whatever is chosen
	cost                 []price.Money // unsold where not offered
}

// unsold marks a combination that the families do not sell.
const unsold price.Money = -1

func (j *joint) at(m, b, c int) price.Money { return j.cost[(m*j.nb+b)*j.nc+c] }

func (f *formulator) joints() []joint {
	var out []joint
	for _, nj := range f.n.Joints() {
		j := joint{Joint: nj, main: f.choiceOf(nj.Main), branch: f.choiceOf(nj.Branch), common: f.choiceOf(nj.Common)}
		j.nm, j.nb, j.nc = f.count(j.main), f.count(j.branch), f.count(j.common)
		if j.remade = f.o.variant.remakes(f.n, nj); j.nm*j.nb*j.nc == 1 && j.remade == [3]bool{} {
			continue
		}
		j.cost = make([]price.Money, j.nm*j.nb*j.nc)
		for m := range j.nm {
			for b := range j.nb {
				for c := range j.nc {
					j.cost[(m*j.nb+b)*j.nc+c] = f.jointCost(&j, m, b, c)
				}
			}
		}
		out = append(out, j)
	}
	return out
}

func (f *formulator) jointCost(j *joint, m, b, c int) price.Money {
	lines, sold := f.p.jointLines(j, m, b, c)
	if !sold {
		return unsold
	}
	cost, unpriced := f.b.Cost(lines)
	if len(unpriced) > 0 {
		return unsold
	}
	return cost
}

// jointLines are the parts of a joint for one combination.
func (p *Problem) jointLines(j *joint, m, b, c int) ([]parts.Line, bool) {
	main, branch, common := p.runAt(j.Joint.Main, j.main, m), p.runAt(j.Joint.Branch, j.branch, b), p.runAt(j.Joint.Common, j.common, c)
	changed := [3]bool{main.remade() || j.remade[0], branch.remade() || j.remade[1], common.a != nil && common.a.fresh || j.remade[2]}
	if main.stands() && !changed[1] && !changed[2] || branch.stands() && !changed[0] && !changed[2] {
		lines, sold := p.builder.Joint(j.Joint, main.run, branch.run, common.run, p.inlet(&j.Joint), changed)
		return p.legLater(&j.Joint, lines), sold
	}
	if changed == [3]bool{} {
		return p.bentEnds(j, main, branch), true
	}
	lines, sold := p.builder.Joint(j.Joint, main.run, branch.run, common.run, p.inlet(&j.Joint), changed)
	return p.capped(&j.Joint, lines), sold
}

// runEnd is a run at a joint under an alternative.
type runEnd struct {
	index int
	run   *network.Run
	// a is nil where the run stays as it is.
	a *Alternative
}

// remade reports whether the run's downstream end is not as built.
func (e runEnd) remade() bool { return e.a != nil && (e.a.fresh || e.a.rejoined) }

// runAt is a run under an alternative; its run is nil where there is none.
func (p *Problem) runAt(run, choice, alternative int) runEnd {
	if run < 0 {
		return runEnd{index: run}
	}
	e := runEnd{index: run, run: &p.Base.Spec().Runs[run]}
	if choice < 0 {
		return e
	}
	e.a = &p.Choices[choice].Alternatives[alternative]
	if !e.a.fresh && !e.a.bent {
		return e
	}
	v := *e.run
	if v.Pieces = e.a.Pieces; e.a.fresh {
		v.K, v.New = network.Overrides{}, true
	}
	e.run = &v
	return e
}

func (f *formulator) choiceOf(run int) int {
	if run < 0 {
		return -1
	}
	return f.p.runChoice[run]
}

func (f *formulator) count(choice int) int {
	if choice < 0 {
		return 1
	}
	return len(f.p.Choices[choice].Alternatives)
}
