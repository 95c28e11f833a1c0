package optimize

import (
	"context"
	"errors"
	"fmt"
	"time"

	"wyewright/network"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// ErrStages refuses to part a plan into stages.
var ErrStages = errors.New("optimize: no stages")

// StageOptions say into which stages a plan is to be parted.
type StageOptions struct {
	// Budgets are the sums of money of the stages, in order; what one stage
	// leaves is there for the next. What they do not pay for is one more stage,
	// Stage.Rest.
	Budgets []price.Money
	// Count is the number of stages where there are no Budgets, in each of them
	// something: as many as that, or as can be bought apart.
	Count int
	// Found is the problem of the shop as found, where the plan takes ways or a
	// collector as decided; nil is the problem itself.
	Found *Problem
	// Once leaves out Staged.Twice.
	Once bool
}

// Staged is a plan in stages. Every stage is a shop that can be built and
// used: the plan is its last.
//
// Two promises hold. Whatever a rule asked for in a state and was met before a
// stage, with the gates of the card of that time, is met after it, with those of
// its own card: flow of each tool, transport velocity of each run (but see
// Slower), ceiling, direction, motor. And every joint of ducts is made once at
// most, so that nothing is bought that a later stage throws away, no work is
// done twice, and the stages together cost just what the plan costs (in Twice
// this second promise is given up). Ways and a collector that the plan takes come
// with the first stage that buys anything.
//
// Of all such orders this one meets most for longest. What a shop counts is the
// number of flows met (a tool in a state counts one) and of states in which
// all other rules hold, then the mean share of flow and of transport velocity
// up to 1, in steps of 1e-6. With budgets the stages last equally long: the sum
// of what they count is the largest there is. By number the money comes in
// evenly, and each stage lasts until the next one is saved for: the sum of what
// is missed times the cost of the next stage is the least there is. Ties go to
// money spent later. The gates of a state are those that serve it best, as
// everywhere, among those that keep what was met.
type Staged struct {
	// Status is Optimal where no other order does better, Feasible where a
	// limit or the number of parts (above exactUnits) left some untried.
	Status Status
	Before []StateResult
	// Start says how the shop as found does, as Stage.Does.
	Start  Does
	Stages []Stage
	// Parts is the number of parts that can be bought apart.
	Parts int
	// Slower says that no order, or none that buys anything before the end,
	// keeps the transport velocity of every run that had it: then only flows,
	// ceiling, direction and motor are kept.
	Slower bool
	// Worth is what the stages count together, the rest apart, or below zero what
	// is missed: it compares orders of one plan, the larger the better.
	Worth int64
	// Extra is what the stages together cost beyond the plan.
	Extra price.Money
	// Twice is the best order where joints may be made anew in every stage;
	// nil where that allows no other orders, or was not asked for.
	Twice *Staged
	Stats Stats
}

// Does says in numbers how a stage does.
type Does struct {
	// Met of Asked flows are met: one for each tool and state. Held of States
	// keep all other rules.
	Met, Asked, Held, States int
	// Mean is the mean share of the required flows, each up to 1; Least the
	// least share.
	Mean, Least float64
}

// Stage is one stage.
type Stage struct {
	// Budget is the money that may be spent in it, 0 where there are no budgets;
	// Cost what it costs; Spent all that was spent with it.
	Budget, Cost, Spent price.Money
	// Rest says that the budgets do not pay for this stage.
	Rest bool
	// Taken says that it puts in the ways and the collector of the plan; Changes
	// lists all that it changes, without a why.
	Taken   bool
	Changes []ChangeNote
	// Lines are what it buys and does; Thrown what it takes out of what earlier
	// stages bought.
	Lines, Thrown []parts.Line
	// Problem and Result are the shop after it: the plan so far, its network
	// and how each state does.
	Problem *Problem
	*Result
	Does Does
	// Slowed lists the runs that lose their transport velocity by it; there are
	// some only where Staged.Slower says so.
	Slowed []Slowed
	// Needs is, for a stage that buys nothing, the least sum in hand that would
	// buy something that counts; 0 where nothing would, or it is not known.
	Needs price.Money
}

// Slowed is a run that no longer holds its transport velocity in a state. Ratio
// is its velocity over that.
type Slowed struct {
	State, Run string
	Ratio      float64
}

// Empty reports whether a stage changes nothing.
func (s *Stage) Empty() bool { return len(s.Changes) == 0 }

// StageParts is the number of parts of a plan that can be bought apart, so that
// every joint is made once at most.
func StageParts(p *Problem, pl *Plan) int { return len(p.apart(pl)) }

// Stages parts a plan that meets every rule into stages; see Staged. The error
// is ErrStages for a plan that meets not everything, that changes nothing, or
// for options that cannot be followed. MaxNodes limits the number of shops
// that are tried.
func Stages(ctx context.Context, p *Problem, pl *Plan, o *StageOptions, s *Settings) (*Staged, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	g, err := newStager(ctx, p, pl, o, s)
	if err != nil {
		return nil, err
	}
	single := p.singles(pl)
	if o.Once || len(single) == len(g.units) || len(single) > mostUnits {
		return g.best()
	}
	g.set.TimeLimit = (g.set.TimeLimit + 1) / 2
	out, err := g.best()
	if err != nil {
		return nil, err
	}
	twice, err := newStager(ctx, p, pl, o, &g.set)
	if err != nil {
		return nil, err
	}
	twice.units, twice.o.Count = single, min(o.Count, len(single))
	if out.Twice, err = twice.best(); errors.Is(err, ErrStages) {
		err = nil
	}
	return out, err
}

// check reports what is wrong with the options.
func (o *StageOptions) check() error {
	for _, m := range o.Budgets {
		if m <= 0 {
			return fmt.Errorf("%w: a budget of nothing or less", ErrStages)
		}
	}
	if len(o.Budgets) == 0 && o.Count < 1 {
		return fmt.Errorf("%w: neither budgets nor a number of stages", ErrStages)
	}
	return nil
}

// newStager prepares the order of a plan's parts, each made once.
func newStager(ctx context.Context, p *Problem, pl *Plan, o *StageOptions, s *Settings) (*stager, error) {
	units := p.apart(pl)
	g := &stager{ctx: ctx, p: p, plan: pl, o: *o, found: o.Found, units: units, exact: exactUnits, steps: map[jointStep]stepCost{},
		evals: map[uint64]*shopEval{}, metID: map[string]int{}, cards: map[[2]int]card{}}
	if g.found == nil {
		g.found = p
	}
	if s != nil {
		g.set = *s
	}
	if g.o.Count = min(o.Count, len(units)); len(units) == 0 {
		return nil, fmt.Errorf("%w: the plan changes nothing", ErrStages)
	}
	if len(p.Later.Tools) > 0 {
		return nil, fmt.Errorf("%w: a tool comes later", ErrStages)
	}
	if len(g.units) > mostUnits {
		return nil, fmt.Errorf("%w: a plan of more than %d parts", ErrStages, mostUnits)
	}
	var err error
	if g.judge, err = newJudge(p, &g.stats); err != nil {
		return nil, err
	}
	if !g.judge.meets(pl.Pick) {
		return nil, fmt.Errorf("%w: the plan does not meet every rule", ErrStages)
	}
	if g.before, err = g.found.AsFound(ctx); err != nil {
		return nil, err
	}
	g.solver = network.NewSolver(p.Base, nil)
	if g.set.Clock != nil {
		g.start = g.set.Clock()
	}
	g.list()
	return g, nil
}

// stager looks for the best order.
type stager struct {
	ctx   context.Context
	p     *Problem
	plan  *Plan
	o     StageOptions
	set   Settings
	found *Problem
	judge *judge
	stats Stats
	start time.Time
	units []unit
	exact int // the number of units up to which all orders are tried
	// before is the shop as found.
	before []StateResult
	states []stateItems
	solver *network.Solver
	steps  map[jointStep]stepCost
	evals  map[uint64]*shopEval // by parts done; nil where no such shop is sold or settles
	family []*partial           // the shops that may be stages, the one as found first
	mets   [][]string           // per ID what is met in each state
	metID  map[string]int
	cards  map[[2]int]card
	slower bool
}

// halted reports whether a limit or the caller ends the search.
func (g *stager) halted() bool {
	if g.set.MaxNodes > 0 && g.stats.Nodes >= g.set.MaxNodes || g.ctx.Err() != nil ||
		g.set.Clock != nil && g.set.TimeLimit > 0 && g.set.Clock().Sub(g.start) > g.set.TimeLimit {
		g.stats.Stopped = true
	}
	return g.stats.Stopped
}
