package parts

import (
	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Joint gives the lines for what joins the runs at a joint, given the runs as
// they will be; inlet is the name of the collector's inlet size, for a joint
// whose Common is −1, and nil stands for a run that the joint does not have. A
// nil main with a branch means that the common duct goes on.
//
// changed says for main, branch and common whether the end that meets here is
// not as built. If none is, the joint stays: no lines, and sold is true
// whatever stands there. Otherwise all of it is new, since a wye is kept only
// with its three sizes: the wye in the common duct's family (in the main's or
// the branch's where the common duct is hose), elbows for the bends, reducers (in the branch leg too,
// where the wye is not sold with so small a branch), adapters, a hanger, seals and labour, with "cut branch into main" where the
// main or the common duct stays.
//
// sold is false where the family has no such wye or reducer; the lines are
// then of no use.
func (b *Builder) Joint(j network.Joint, main, branch, common *network.Run, inlet string, changed [3]bool) (lines []Line, sold bool) {
	if !(main != nil && changed[0] || branch != nil && changed[1] || common != nil && changed[2]) {
		return nil, true
	}
	l := b.at(j.Point, 24)
	var down end
	to := ""
	if common != nil {
		down, to = b.end(&common.Pieces[0]), common.ID
	} else {
		down = spigot(inlet, 0)
	}
	if branch == nil {
		if main == nil {
			return nil, true
		}
		l.runs = [2]string{main.ID, to}
		sold = l.connect(b.last(main), j.MainBend, down)
		return l.lines, sold
	}
	side := b.last(branch)
	body, ok := b.body(main, &side, &down)
	if !ok {
		return nil, false
	}
	f := body.family
	spur, ok := spur(f, body.size, &side)
	if !ok {
		return nil, false
	}
	l.runs = [2]string{branch.ID, to}
	l.buy(price.Wye, f.Name, 1, body.size, spur.Name)
	l.buy(price.Hanger, "", 1)
	if main != nil && !changed[0] || common != nil && !changed[2] {
		l.work(price.Cut, 1, "each", body.d)
	} else {
		l.work(price.Fit, 1, "each", body.d)
	}
	l.runs = [2]string{branch.ID}
	from := len(l.lines)
	sold = l.connect(side, j.BranchBend, fitting(f, spur))
	from = l.mark(from, BranchLeg)
	if main != nil {
		l.runs = [2]string{main.ID}
		sold = l.connect(b.last(main), j.MainBend, body) && sold
		l.mark(from, MainLeg)
		l.runs = [2]string{"", to}
		sold = l.connect(body, 0, down) && sold
		return l.lines, sold
	}
	// A further wye in the same line. The one before it meets the common duct
	// in its lines; here there is the joint between the two, and a second one
	// where the common duct that stays is cut open.
	l.runs = [2]string{"", to}
	joints := 1
	if common != nil && !changed[2] {
		joints = 2
	}
	l.joints(joints, body.d)
	switch f.Joint {
	case catalog.Sleeve:
		l.buy(price.Coupling, f.Name, 1, body.size)
	case catalog.Clamp:
		l.buy(price.Coupling, f.Name, float64(joints), body.size)
	}
	return l.lines, sold
}

// spur is the branch of the wye on a common duct: of the size of the duct that
// enters, or, where no such wye is sold, the next larger one that is, with a
// reducer in the branch leg.
func spur(f *catalog.Family, common string, side *end) (catalog.Size, bool) {
	mate, ok := f.Mate(side.size)
	if ok && f.Wye("", mate.Name, common) {
		return mate, true
	}
	for _, s := range f.Branches(common) {
		if s.Nominal > side.nominal && (!ok || f.Reducer(mate.Name, s.Name)) {
			return s, true
		}
	}
	return catalog.Size{}, false
}

func (b *Builder) last(r *network.Run) end { return b.end(&r.Pieces[len(r.Pieces)-1]) }

// body finds the wye's own end: in the family of the common duct and of its
// size, or, where that is hose or a spigot, in that of the main or branch.
func (b *Builder) body(main *network.Run, side, down *end) (end, bool) {
	if f := down.family; f != nil && !f.Hose {
		return end{size: down.size, d: down.d, nominal: down.nominal, family: f, fitting: true}, true
	}
	near := *side
	if main != nil {
		if m := b.last(main); m.family != nil && !m.hose() {
			near = m
		}
	}
	f := near.family
	if f == nil || f.Hose {
		return end{}, false
	}
	s, ok := f.Mate(down.size)
	if !ok {
		s, ok = f.Size(near.size)
	}
	return fitting(f, s), ok
}

// BleedInlet gives the lines for a gated inlet of clean air of that size, set
// on the duct at a point by a saddle, whose price does not depend on the duct:
// saddle, gate, screen against chips and hands, and a cap for the time when it
// is not wanted (common practice). It is bought once and opened per state.
func (b *Builder) BleedInlet(size, family, point string) []Line {
	l := b.at(point, 8)
	l.buy(price.Saddle, family, 1, size)
	l.buy(price.Gate, family, 1, size)
	l.buy(price.Screen, family, 1, size)
	l.buy(price.Cap, family, 1, size)
	var d units.Length
	if s, err := catalog.ParseSize(size); err == nil {
		d = s
	}
	l.work(price.Cut, 1, "each", d)
	l.work(price.FitGate, 1, "each", d)
	l.joints(2, d)
	return l.lines
}

// NewGate gives the lines for a gate of that size and family in duct.
func (b *Builder) NewGate(where, size, family string) []Line {
	l := b.list(where, 0, 2)
	l.buy(price.Gate, family, 1, size)
	var d units.Length
	if s, err := catalog.ParseSize(size); err == nil {
		d = s
	}
	l.work(price.FitGate, 1, "each", d)
	return l.lines
}

// mark says which leg the lines from an index on belong to, and returns the
// index behind them.
func (l *list) mark(from int, leg Leg) int {
	for i := from; i < len(l.lines); i++ {
		l.lines[i].Leg = leg
	}
	return len(l.lines)
}

// Seal gives the lines for closing a leak: a seal kit, priced under the leak's
// own name where the user gave such a price (price.SealKit with the leak's ID
// for its family), and the time for one joint of small duct.
func (b *Builder) Seal(leak network.Leak) []Line {
	l := b.at(leak.At, 2)
	l.buy(price.SealKit, leak.ID, 1)
	l.work(price.Reseal, 1, "joint", 0)
	return l.lines
}

// Repair gives the lines for making a leaking gate of that size tight again at
// a point: a gate seal and the time to fit a gate.
func (b *Builder) Repair(where, size string) []Line {
	l := b.at(where, 2)
	l.buy(price.GateSeal, "", 1, size)
	var d units.Length
	if s, err := catalog.ParseSize(size); err == nil {
		d = s
	}
	l.work(price.FitGate, 1, "each", d)
	return l.lines
}

// Blank gives the lines for shutting the openings that a run leaves behind at
// points where ducts go on without it: a cap of a size and family on each, and
// its joint. The run itself stays where it is, cut off.
func (b *Builder) Blank(size, family string, at []string) []Line {
	var out []Line
	var d units.Length
	if s, err := catalog.ParseSize(size); err == nil {
		d = s
	}
	for _, point := range at {
		l := b.at(point, 4)
		l.buy(price.Cap, family, 1, size)
		l.work(price.Fit, 1, "each", d)
		l.joints(1, d)
		out = append(out, l.lines...)
	}
	return out
}
