package network

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"wyewright/network/loss"
)

// Network is a compiled Spec. It is immutable and may be shared between
// goroutines; With makes variants of it cheaply.
type Network struct {
	spec Spec
	*topology

	pieces [][]coef // per run
	rootAt []int    // first piece of each run, and the number of pieces
	legs   []leg    // per node: what its link loses at the joint it enters
	tees   []tee    // the same in a network that is no tree, per joint of its web
	inlets []inlet
	leaks  []leakLaw
	// inletsAt and leaksAt index inlets and leaks by node.
	inletsAt, leaksAt [][]int
	openingsUp        [][]int   // per run, in a network that is no tree: openings whose air can pass it
	leaveC            []float64 // ½ρ/A² of the duct that leaves each node
	discharge         [][]coef  // behind each collector
	rise              []float64 // per collector: the flow up to which its curve rises somewhere, 0 for never
	gates             []float64 // closed resistance of a run's gate, Pa/(m³/s)²; 0 = no gate
}

// coef is a piece as the solver sees it: Δp = c·(k + f·lod)·Q|Q| with
// c = ½ρ/A², Re = re·|Q|.
type coef struct{ c, k, lod, re, rel, area float64 }

type legKind uint8

const (
	legNone legKind = iota
	legThrough
	legBranch
)

// leg is the loss at the end of a link, on the velocity pressure of the
// common duct: Δp = K(Qb/Qc)·c·Qc².
type leg struct {
	kind legKind
	c    float64
	wye  loss.Wye
}

// inlet is an opening to the room: Δp = r·Q|Q|.
type inlet struct {
	node, point int
	tool, bleed int // −1 where it is not one
	port        int
	r           float64
	gated       bool
	leak        int // index into leaks: what it lets in when closed, −1 none
}

// leakLaw is an opening that only leaks: an orifice, or a surface.
type leakLaw struct {
	node      int
	point     int
	cd, area  float64 // orifice
	surface   float64 // C·area of the surface, 0 for an orifice
	whenShut  int     // inlet whose closed gate this is, −1 for a leak
	spec      int     // index into Spec.Leaks, −1 for gates and surfaces
	sourceRun int     // run whose surface this is, −1
}

// New checks a Spec and compiles it. All faults come at once, joined; each is
// a *SpecError.
func New(s Spec) (*Network, error) { return compile(s, false) }

// compile is New; general asks for the general solver also where the network
// is a tree.
func compile(s Spec, general bool) (*Network, error) {
	var f faults
	s = clone(s)
	t := &topology{}
	t.index(&s, &f)
	t.connect(&s, &f)
	checkValues(&s, t, &f)
	if len(f) > 0 {
		return nil, errors.Join(f...)
	}
	t.routes = make([]Route, len(s.Runs))
	for i := range s.Runs {
		t.routes[i] = route(&s.Runs[i], &s.Points[t.from[i]], &s.Points[t.to[i]])
	}
	t.connected(&s, &f)
	if len(f) > 0 {
		return nil, errors.Join(f...)
	}
	if general || !t.isTree() {
		if err := t.refuse(&s); err != nil {
			return nil, err
		}
		t.chooseOut(&s)
		t.spread(&s)
	} else {
		t.expand(&s, t.order())
	}
	t.upstream(&s)
	n := &Network{spec: s, topology: t, rise: rises(&s)}
	for i := range s.Runs {
		if err := n.fillLengths(i); err != nil {
			f = append(f, err)
		}
	}
	if len(f) > 0 {
		return nil, errors.Join(f...)
	}
	n.build()
	return n, nil
}

func clone(s Spec) Spec {
	s.Collectors = slices.Clone(s.Collectors)
	s.Points = slices.Clone(s.Points)
	s.Runs = slices.Clone(s.Runs)
	for i := range s.Runs {
		s.Runs[i].Pieces = slices.Clone(s.Runs[i].Pieces)
	}
	s.Tools = slices.Clone(s.Tools)
	for i := range s.Tools {
		s.Tools[i].Ports = slices.Clone(s.Tools[i].Ports)
	}
	s.Leaks = slices.Clone(s.Leaks)
	s.Bleeds = slices.Clone(s.Bleeds)
	return s
}

// fillLengths gives a piece without a length what its run's route leaves.
func (n *Network) fillLengths(i int) error {
	r := &n.spec.Runs[i]
	open, sum := -1, 0.0
	for k := range r.Pieces {
		if r.Pieces[k].Length > 0 {
			sum += float64(r.Pieces[k].Length)
		} else if open >= 0 {
			return &SpecError{"runs/" + r.ID, "two pieces have no length", "give all but one a length"}
		} else {
			open = k
		}
	}
	if open < 0 {
		return nil
	}
	left := float64(n.routes[i].Length) - sum
	if !n.routes[i].Placed || left <= 0 {
		return &SpecError{fmt.Sprintf("runs/%s/pieces/%d", r.ID, open), "has no length",
			"give a length, or coordinates for both ends"}
	}
	r.Pieces[open].Length += unitsLength(left)
	return nil
}

// build computes every coefficient from the spec.
func (n *Network) build() {
	s := &n.spec
	rho, nu := float64(s.Air.Density), s.Air.Kinematic()
	n.pieces = make([][]coef, len(s.Runs))
	n.gates = make([]float64, len(s.Runs))
	total := 0
	for i := range s.Runs {
		total += len(s.Runs[i].Pieces)
	}
	pool := make([]coef, total)
	n.rootAt = make([]int, len(s.Runs)+1)
	for i := range s.Runs {
		k := len(s.Runs[i].Pieces)
		n.pieces[i], pool = pool[:k:k], pool[k:]
		n.rootAt[i+1] = n.rootAt[i] + k
		n.buildRun(i, rho, nu)
	}
	n.discharge = make([][]coef, len(s.Collectors))
	for i := range s.Collectors {
		for k := range s.Collectors[i].Discharge {
			n.discharge[i] = append(n.discharge[i], n.pieceCoef(&s.Collectors[i].Discharge[k], rho, nu))
		}
	}
	n.buildJoints(rho)
	n.buildInlets(rho)
}

// buildRun computes the pieces of a run: friction data, own coefficients,
// bends of the route and changes of size inside.
func (n *Network) buildRun(i int, rho, nu float64) {
	r := &n.spec.Runs[i]
	cs := n.pieces[i]
	for k := range r.Pieces {
		cs[k] = n.pieceCoef(&r.Pieces[k], rho, nu)
	}
	n.ownShares(i, func(piece int, s share) { cs[piece].k += s.bend + s.size + s.gate })
	if r.Gate != nil {
		n.gates[i] = math.Inf(1)
		if g := loss.OrificeCd * float64(r.Gate.Leak); g > 0 {
			n.gates[i] = rho / 2 / (g * g)
		}
	}
}

// ownShares gives the fixed coefficients of a run but those of its ends, piece
// by piece.
func (n *Network) ownShares(i int, give func(piece int, s share)) {
	r := &n.spec.Runs[i]
	last := len(r.Pieces) - 1
	for k := range r.Pieces {
		if own := r.Pieces[k].K; own != 0 {
			give(k, share{own: own})
		}
	}
	if r.K.Bends != nil {
		give(last, share{bend: *r.K.Bends})
	} else {
		for _, deg := range n.routes[i].Corners {
			give(last, share{bend: elbow(r.Pieces[last].Make, deg)})
		}
	}
	if r.K.Steps != nil {
		give(last, share{size: *r.K.Steps})
	} else {
		for k := 1; k <= last; k++ {
			// The coefficient stands on the small duct, whichever it is.
			on := k
			if r.Pieces[k-1].Diameter < r.Pieces[k].Diameter {
				on = k - 1
			}
			give(on, share{size: stepLoss(&r.Pieces[k-1], &r.Pieces[k])})
		}
	}
	if r.Gate != nil {
		give(last, share{gate: r.Gate.Open})
	}
}

// pieceCoef is the friction data of a piece and its own coefficient.
func (n *Network) pieceCoef(p *Piece, rho, nu float64) coef {
	d := float64(p.Diameter)
	a := math.Pi / 4 * d * d
	m := max(1, p.Make.Multiple)
	if n.spec.Friction == Frictionless {
		m = 0
	}
	return coef{c: rho / 2 / (a * a), k: p.K, lod: m * float64(p.Length) / d,
		re: d / (a * nu), rel: float64(p.Make.Roughness) / d, area: a}
}

// elbow is the coefficient of a bend of any angle in the family's style.
func elbow(m Make, degrees float64) float64 {
	if degrees <= straightDegrees {
		return 0
	}
	k, _ := loss.Elbow(m.Elbow, m.ElbowRD, degrees)
	return k
}

// defaultTaper is the included angle of reducers, degrees (common practice).
const defaultTaper = 30

// stepLoss is the coefficient of a taper between two pieces on the velocity
// pressure of the smaller one.
func stepLoss(a, b *Piece) float64 {
	return taperLoss(float64(a.Diameter), float64(b.Diameter), max(a.Make.TaperDegrees, b.Make.TaperDegrees))
}

func taperLoss(from, to, degrees float64) float64 {
	if from == to {
		return 0
	}
	if degrees == 0 {
		degrees = defaultTaper
	}
	return loss.Taper(from, to, degrees)
}

// defaultWye is the branch angle of a wye where the family says nothing.
const defaultWye = 45
