package network

import (
	"math"
	"slices"

	"wyewright/network/units"
)

// LossKind says what takes pressure from the air.
type LossKind uint8

// Kinds of loss, in the order in which the air meets them.
const (
	EntryLoss     LossKind = iota // machine, gate of the port and the step behind it
	StraightLoss                  // friction of rigid duct
	HoseLoss                      // friction of hose
	BendLoss                      // bends of the route and before wyes
	SizeLoss                      // changes of size
	GateLoss                      // gates in runs
	OwnLoss                       // what the file gives a piece of its own, or a joint as built
	WyeLoss                       // wyes; below 0 where the other stream drives this one
	InletLoss                     // what a curve taken at the inlet's wall counts beside the total suction
	SeparatorLoss                 // the separator, where the curve does not include it
	FilterLoss                    // the filter, beyond what the curve includes
	DischargeLoss                 // ducts behind the fan
)

// String names the kind in words.
func (k LossKind) String() string {
	return [...]string{"machine and gate", "straight duct", "hose", "bends", "changes of size", "gate", "as built", "wye", "inlet",
		"separator", "filter", "ducts behind the fan"}[k]
}

// LossStep is one loss on the way from a tool to the fan. Run is the run it is
// in, −1 at the tool and behind the collector's inlet; At is the point of a wye.
type LossStep struct {
	Kind LossKind
	Run  int
	At   string
	Loss units.Pressure
}

// Way is the way of the air from a port to the fan, and what it loses there:
// the steps add up to the pressure of the fan's curve.
type Way struct {
	Tool, Port int
	Runs       []int
	Steps      []LossStep
	// Collector is the index into Solution.Collectors of the one at its end,
	// −1 where the air comes to none.
	Collector int
}

// Way follows the air of a port through a solution; where it parts, the way
// with the larger flow. Where no air goes in, it is empty.
func (n *Network) Way(s *Solution, tool, port int) *Way {
	w := &Way{Tool: tool, Port: port, Collector: -1}
	if s.Tools[tool].Ports[port] < stillFlow {
		return w // nothing goes in there
	}
	at := n.point[n.spec.Tools[tool].Ports[port].At]
	w.add(EntryLoss, -1, "", -s.Points[at].Total)
	seen := make([]bool, len(n.spec.Points))
	for !seen[at] {
		seen[at] = true
		if i := n.fanAt(s, at); i >= 0 {
			w.Collector = i
			if parts := s.Collectors[i].Total + s.Points[at].Total; math.Abs(float64(parts)) > leastWye {
				w.add(WyeLoss, -1, n.spec.Points[at].ID, parts)
			}
			n.fanSteps(s, w)
			break
		}
		run, to := n.next(s, at)
		if run < 0 {
			break
		}
		w.Runs = append(w.Runs, run)
		n.runSteps(s, w, run, at, to)
		at = to
	}
	return w
}

func (w *Way) add(kind LossKind, run int, at string, loss units.Pressure) {
	if loss != 0 {
		w.Steps = append(w.Steps, LossStep{kind, run, at, loss})
	}
}

// fanAt is the running collector at a point, as an index into the solution's.
func (n *Network) fanAt(s *Solution, point int) int {
	return slices.IndexFunc(s.Collectors, func(c CollectorResult) bool { return n.homes[c.Collector] == point })
}

// next is the run by which most air leaves a point, and where it leads.
func (n *Network) next(s *Solution, at int) (run, to int) {
	run, to = -1, -1
	most := units.Flow(stillFlow)
	for _, r := range n.outs[at] {
		if q := s.Runs[r].Flow; q > most {
			run, to, most = r, n.to[r], q
		}
	}
	for _, r := range n.in[at] {
		if q := -s.Runs[r].Flow; q > most {
			run, to, most = r, n.from[r], q
		}
	}
	return run, to
}

// runSteps splits what the air loses from one point to the next. The losses of
// friction and fixed coefficients follow from the flow; what is left is that of
// the wyes at the run's end, the later ones of the point included.
func (n *Network) runSteps(s *Solution, w *Way, run, from, to int) {
	q := math.Abs(float64(s.Runs[run].Flow))
	var sum [DischargeLoss + 1]units.Pressure
	shares := n.shares(run)
	for k := range n.pieces[run] {
		c := n.pieces[run][k]
		dyn := units.Pressure(c.c * q * q)
		sh := shares[k]
		sum[BendLoss] += dyn * units.Pressure(sh.bend)
		sum[SizeLoss] += dyn * units.Pressure(sh.size)
		sum[GateLoss] += dyn * units.Pressure(sh.gate)
		sum[OwnLoss] += dyn * units.Pressure(sh.own+sh.joint)
		c.k = 0
		rub, _ := c.loss(q, n.spec.Friction)
		if n.spec.Runs[run].Pieces[k].Make.Hose() {
			sum[HoseLoss] += units.Pressure(rub)
		} else {
			sum[StraightLoss] += units.Pressure(rub)
		}
	}
	start := units.Pressure(0)
	if n.web != nil {
		if start = s.Runs[run].Start; s.Runs[run].Flow < 0 {
			start = -s.Runs[run].End
		}
		if math.Abs(float64(start)) > leastWye {
			w.add(WyeLoss, run, n.spec.Points[from].ID, start)
		}
	}
	rest := s.Points[from].Total - s.Points[to].Total - start
	for kind := StraightLoss; kind <= OwnLoss; kind++ {
		rest -= sum[kind]
		w.add(kind, run, "", sum[kind])
	}
	if math.Abs(float64(rest)) > leastWye {
		w.add(WyeLoss, run, n.spec.Points[to].ID, rest)
	}
}

// leastWye is the pressure, Pa, below which what is left of a run's loss is
// rounding.
const leastWye = 1e-5

// shares are the fixed coefficients of a run's pieces by what they stand for.
func (n *Network) shares(run int) []share {
	r := &n.spec.Runs[run]
	out := make([]share, len(r.Pieces))
	n.ownShares(run, func(piece int, s share) { out[piece].plus(s) })
	last := len(out) - 1
	rho := float64(n.spec.Air.Density)
	if n.web == nil {
		if i := n.runNode[run]; n.jointOf[i] >= 0 {
			out[last].plus(n.meeting(n.jointOf[i], n.nodePoint[n.parent[i]], run, rho).share)
		}
		return out
	}
	for i := range n.web.joints {
		j := &n.web.joints[i]
		switch {
		case j.run != run:
		case j.splits:
			out[0].bend += n.leaveBend(j)
		default:
			out[last].plus(n.meeting(j.joint, n.point[n.joints[j.joint].Point], run, rho).share)
		}
	}
	return out
}

func (s *share) plus(o share) {
	s.bend, s.size, s.joint, s.gate, s.own = s.bend+o.bend, s.size+o.size, s.joint+o.joint, s.gate+o.gate, s.own+o.own
}

// fanSteps splits what the collector itself takes from the fan's pressure.
func (n *Network) fanSteps(s *Solution, w *Way) {
	c := &s.Collectors[w.Collector]
	m := n.moverOf(c.Collector, s.State.Filter)
	if m.fixed {
		return
	}
	q, rho := float64(c.Flow), float64(n.spec.Air.Density)
	col := &n.spec.Collectors[c.Collector]
	if col.Meaning == SuctionAtInlet {
		v := q / circle(col.Inlet)
		w.add(InletLoss, -1, "", units.Pressure(rho/2*v*v))
	}
	if sep := col.Separator; sep != nil {
		v := q / float64(sep.Inlet)
		w.add(SeparatorLoss, -1, "", units.Pressure(sep.Heads*rho/2*v*v))
	}
	w.add(FilterLoss, -1, "", units.Pressure(m.linear*q))
	for i := range m.discharge {
		dp, _ := m.discharge[i].loss(q, m.friction)
		w.add(DischargeLoss, -1, "", units.Pressure(dp))
	}
}

// Working is where a fan stands on its curve: the flow at which its pressure
// peaks (0 where it falls all the way) and that at which nothing is left of it.
func Working(curve interface {
	Pressure(q float64) (p, dpdq float64)
	Range() (lo, hi float64)
}) (peak, free units.Flow) {
	lo, hi := curve.Range()
	const samples = 400
	best, _ := curve.Pressure(lo)
	at := func(i int) float64 { return lo + (hi-lo)*float64(i)/samples }
	for i := 1; i <= samples; i++ {
		if p, _ := curve.Pressure(at(i)); p > best*(1+1e-9) {
			best, peak = p, units.Flow(at(i))
		}
	}
	// Beyond its last point the curve is drawn on downward.
	a, b := hi, hi
	for p, _ := curve.Pressure(b); p > 0 && b < 10*hi; p, _ = curve.Pressure(b) {
		a, b = b, 1.1*b
	}
	for range 60 {
		mid := (a + b) / 2
		if p, _ := curve.Pressure(mid); p > 0 {
			a = mid
		} else {
			b = mid
		}
	}
	return peak, units.Flow((a + b) / 2)
}
