package cli

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// bought is what a redesign with a budget knows beside its plan.
type bought struct {
	money price.Money
	// closed says that the file leaves ways or collector open, and that they were
	// not searched.
	closed bool
	*optimize.Bought
}

// parseBudget reads a sum in the currency of the shop's prices.
func parseBudget(text string, c price.Currency) (price.Money, error) {
	return parseSum("--budget", text, "write it like --budget \""+c.Text(price.Money(80000))+"\"", c)
}

// parseSum reads a sum of a flag.
func parseSum(flag, text, example string, c price.Currency) (price.Money, error) {
	number, code, two := strings.Cut(strings.TrimSpace(text), " ")
	if two && strings.TrimSpace(code) != c.Code {
		return 0, fail(Usage, fmt.Errorf("%s %q: the prices are in %s", flag, text, c.Code), example+"; prices are not converted")
	}
	m, err := c.Parse(number)
	if err != nil || m < 0 {
		return 0, fail(Usage, fmt.Errorf("%s %q: not a sum", flag, text), example)
	}
	return m, nil
}

// spend finds what a budget buys.
func (a *app) spend(ctx context.Context, p *project.Project, o *redesignOptions, set *optimize.Settings) (*outcome, error) {
	money, err := parseBudget(o.budget, p.Currency)
	if err != nil {
		return nil, err
	}
	out := &outcome{p: p}
	if out.problem, err = p.Problem(); err != nil {
		return nil, fail(FileInvalid, err, problemHint(err))
	}
	b, err := optimize.Budget(ctx, out.problem, set, money)
	if err != nil {
		return nil, err
	}
	if b.Result == nil {
		return nil, fail(NotMet, errors.New("no plan for "+p.Currency.Text(money)+" keeps the air in every dust run at transport velocity in every state, whatever the flows"),
			"without --budget redesign says what the cheapest plan costs, or which rules cannot be met")
	}
	out.budget, out.result = &bought{money, p.Open(), b}, b.Result
	return out, nil
}

// meets reports whether a budget buys all the flows asked for.
func (b *bought) meets() bool { return network.Meets(b.Share) }

// line says in one sentence what the budget buys.
func (b *bought) line(c price.Currency) string {
	buys := fmt.Sprintf("%s of the %s", c.Text(b.Best.Cost), c.Text(b.money))
	what := fmt.Sprintf("every tool at least %s %% of its required flow in every state", number(math.Floor(1000*b.Share)/10, 1))
	sure := fmt.Sprintf("Status: %s, no plan for the money reaches %s %%.", b.Status, number(math.Ceil(1000*min(b.Most, b.Share+optimize.BudgetStep))/10, 1))
	if b.Status != optimize.Optimal {
		sure = fmt.Sprintf("Status: %s; more than %s %% is ruled out.", b.Status, number(100*b.Most, 0))
	}
	if b.closed {
		what += ", with the ducts on their ways and the collector as it is"
	}
	if b.Best.Changed == 0 {
		return "Nothing that the money buys gives more: as it stands the shop gives " + what + ". " + sure
	}
	return buys + " buy " + what + ", transport velocity held. " + sure
}

// budgetJSON is what plan.json says of a budget.
type budgetJSON struct {
	Money  price.Money `json:"budget_minor"`
	Share  float64     `json:"flow_share"`
	Most   float64     `json:"flow_share_at_most"`
	Status string      `json:"status"`
}

func (b *bought) json() *budgetJSON {
	if b == nil {
		return nil
	}
	return &budgetJSON{b.money, b.Share, b.Most, b.Status.String()}
}
