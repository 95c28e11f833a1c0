package optimize

import (
	"time"

	"wyewright/network"
	"wyewright/optimize/price"
)

// Status says why a search stopped. Values are only ever added at the end.
type Status int

// Statuses of a search.
const (
	NotSearched Status = iota
	// Optimal: no cheaper plan meets every rule; valid for the full solver.
	Optimal
	// Feasible: the plan meets every rule, Bound and Gap say how much cheaper
	// one might be.
	Feasible
	// Infeasible: no plan can meet every rule.
	Infeasible
	// Undecided: a limit came before a plan or a proof.
	Undecided
)

// String names the status in words.
func (s Status) String() string {
	switch s {
	case NotSearched:
		return "not searched"
	case Optimal:
		return "optimal"
	case Feasible:
		return "best found"
	case Infeasible:
		return "cannot be met"
	case Undecided:
		return "undecided"
	}
	return "unknown status"
}

// Settings of a search; nil and zero fields mean the defaults.
type Settings struct {
	// TimeLimit stops the search with the best plan so far (default none).
	TimeLimit time.Duration
	// MaxNodes is the reproducible limit on the nodes of the tree (default
	// none).
	MaxNodes int
	// Flow is the share of every required flow that must be reached
	// (default 1); the front raises and lowers it.
	Flow float64
	// Known are plans to try first, each one alternative per choice.
	Known [][]int
	// Doubt asks that the plan holds in other shops too; nil asks for none.
	Doubt *Doubt
	// Energy lets Solve minimise planning cost and energy money together; nil
	// leaves energy out.
	Energy *Energy
	// Clock tells the time; without one there is no TimeLimit.
	Clock func() time.Time
	// Progress is called from the search's goroutine now and then.
	Progress func(Progress)
}

// Progress is a word from a running search.
type Progress struct {
	Best    price.Money
	HasBest bool
	Bound   price.Money
	Nodes   int
	Judged  int
}

// Stats counts the work of a search.
type Stats struct {
	Nodes, Judged, Solves int
	// Stopped says that a limit or an interrupt ended it.
	Stopped bool
}

// Result of a search.
type Result struct {
	Status Status
	// Best is the plan, nil when there is none. For an infeasible problem it
	// is the plan that comes closest.
	Best *Plan
	// Network and States are the plan's shop and how it does.
	Network *network.Network
	States  []StateResult
	// Bound is a valid lower bound on the planning cost of any plan that
	// meets the rules (with Settings.Energy: on its Total); Gap is
	// (Best.Total() − Bound) / Best.Total().
	Bound price.Money
	Gap   float64
	// Energy is what the plan draws; nil without Settings.Energy.
	Energy *EnergyUse
	// Short says, for an infeasible or undecided problem, what the closest
	// plan misses.
	Short *Shortfall
	Stats Stats
}

// Rule is a rule that a plan must keep in every state.
type Rule uint8

// Rules.
const (
	FlowRule      Rule = iota // a tool's required flow
	TransportRule             // a run's transport velocity
	CeilingRule               // the highest velocity in a run
	MotorRule                 // the motor's rating
	DirectionRule             // air runs toward the collector
)

// String names the rule as files and JSON have it.
func (r Rule) String() string {
	return [...]string{"flow", "transport", "ceiling", "motor", "direction"}[r]
}

// Shortfall is the worst miss of the plan that comes closest.
type Shortfall struct {
	State string
	Rule  Rule
	// Tool or Run is what misses it; both are empty for the motor.
	Tool, Run string
	// Ratio is what is reached over what is asked (limit over value for
	// ceiling and motor; 0 for air that runs backward).
	Ratio float64
	// Limit is a proven upper bound on the share of the required flows that
	// any plan can reach in every state with the transport velocities held; 0
	// says that even no flow at all leaves no plan, or that nothing was
	// proved.
	Limit float64
}
