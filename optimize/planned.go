package optimize

import "context"

// AsPlanned judges the shop under a plan in every state, each with the allowed
// companions that serve it best.
func (p *Problem) AsPlanned(ctx context.Context, pl *Plan) ([]StateResult, error) {
	x, err := newSearch(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	return x.states(pl.Pick, p.Network(pl.Pick))
}
