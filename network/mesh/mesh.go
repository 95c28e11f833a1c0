// Package mesh solves the steady flow in a network of any shape: loops,
// cross-links, several fans, links in which the flow turns round, junctions
// whose loss depends on two flows at once, leaks.
//
// The unknowns are the flow of every link and the total pressure of every
// node; the equations are the fall of pressure along every link and the
// balance of flow at every node:
//
//	P_from − P_to = Δp(Q) + Σ Δp(Q, Q_common)
//	Σ Q_in + Σ leaks(P) = Σ Q_out + demand
//
// They are solved together by Newton's method with analytic slopes. Each step
// is a sparse LU elimination in a fixed order of least degree, so that what
// hangs on the network like a tree costs time in proportion to its size. The
// nodes-and-links form is that of Todini & Pilati, "A gradient method for the
// analysis of pipe networks" (1987), from memory; the elimination order is that
// of Rose, "A graph-theoretic study of the numerical solution of sparse positive
// definite systems of linear equations" (1972), from memory.
//
// Units are SI: m³/s and Pa. Room is the open air at pressure 0.
package mesh

// Room is the open air: a node of total pressure 0 that gives and takes any
// flow.
const Room = -1

// Law is what a link loses: the fall of total pressure along its direction at
// flow q, Pa, and the slope by q. A fan is a link with a negative fall.
type Law interface {
	Loss(q float64) (dp, slope float64)
}

// Link joins two nodes; flow counts from From to To.
type Link struct {
	From, To int
	Law      Law
	// Guess is a usual flow of the link, m³/s, for the first point.
	Guess float64
}

// PairLaw is a loss that depends on the own flow q of a link and on the flow
// qc of another, with both slopes.
type PairLaw interface {
	Loss(q, qc float64) (dp, byQ, byC float64)
}

// Pair adds such a loss to a link. Back and CommonBack say that the law counts
// the flow of the link, or of the common one, against the link's direction.
type Pair struct {
	Link, Common     int
	Back, CommonBack bool
	Law              PairLaw
}

// SeepLaw is the inflow of a leak at a static pressure, m³/s, and its slope by
// that pressure, which is not above 0.
type SeepLaw interface {
	Inflow(static float64) (q, slope float64)
}

// Seep is a leak at a node. Its static pressure is that of a duct:
// P − C·q|q|, with the flow q of Link (Room: none).
type Seep struct {
	Node, Link int
	C          float64
	Law        SeepLaw
}

// Net is a network as the solver takes it.
type Net struct {
	Nodes int
	Links []Link
	Pairs []Pair
	Seeps []Seep
	// Demand is the flow taken out of each node from outside, m³/s; nil
	// means none.
	Demand []float64
}

// Mask says what is open in one solve; nil slices mean everything.
type Mask struct{ Links, Seeps []bool }

func (m *Mask) link(i int) bool { return m.Links == nil || m.Links[i] }
func (m *Mask) seep(i int) bool { return m.Seeps == nil || m.Seeps[i] }

// Status says why a solve stopped. Values are only ever added at the end.
type Status int

// Statuses of a solve.
const (
	NotSolved Status = iota
	Converged
	IterationLimit
	Stalled
	Interrupted
)

// String names the status in words.
func (s Status) String() string {
	switch s {
	case NotSolved:
		return "not solved"
	case Converged:
		return "converged"
	case IterationLimit:
		return "iteration limit"
	case Stalled:
		return "stalled"
	case Interrupted:
		return "interrupted"
	}
	return "unknown status"
}

// OK reports whether the answer may be used.
func (s Status) OK() bool { return s == Converged }
