package cli

import (
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// The JSON of a plan, as redesign prints it and writes it to plan.json. Names
// are stable, every quantity has its unit in its name; amounts are integers in
// the minor unit of the currency.
type (
	jsonPlan struct {
		Shop     string `json:"shop"`
		Units    string `json:"units"`
		Status   string `json:"status"`
		Meets    bool   `json:"meets"`
		Verdict  string `json:"verdict"`
		Currency string `json:"currency"`
		Digits   int    `json:"currency_digits"`
		// Pick names the alternative of every choice that changes something.
		Pick map[string]string `json:"pick"`
		// Ways is there where the ducts go other ways or the collector changes.
		Ways *jsonWays `json:"ways,omitempty"`
		// TradeOff holds the points of cost against air that were looked for.
		TradeOff []jsonFront  `json:"trade_off,omitempty"`
		Cost     price.Money  `json:"planning_cost_minor"`
		Bound    price.Money  `json:"bound_minor"`
		Gap      float64      `json:"gap_ratio"`
		Shelf    price.Money  `json:"shelf_total_minor"`
		Short    *jsonShort   `json:"short,omitempty"`
		Changes  []jsonChange `json:"changes"`
		Before   []jsonState  `json:"before"`
		States   []jsonState  `json:"states"`
		Bill     jsonBill     `json:"bill"`
		Nodes    int          `json:"nodes"`
		Judged   int          `json:"judged"`
		Stopped  bool         `json:"stopped"`
		Cautions []string     `json:"cautions"`
		// Later is there where a tool comes later.
		Later *jsonLater `json:"later,omitempty"`
		// Confidence is there where it was asked for.
		Confidence *jsonCertainty `json:"confidence,omitempty"`
		// Budget is there where one was set.
		Budget *budgetJSON `json:"budget,omitempty"`
		// Energy is there where it counts; bound_minor is then that of the
		// life-cycle cost. PowerFront is there where it was asked for.
		Energy     *jsonEnergy     `json:"energy,omitempty"`
		PowerFront *jsonPowerFront `json:"power_front,omitempty"`
		// Reasons say why something is open as well; Gauges what gauges should
		// show with the plan in place.
		Reasons []jsonReason `json:"open_because"`
		Gauges  []jsonGauge  `json:"gauges"`
		// Collapse is what the planned ducts bear with all gates shut,
		// CollapseBefore what those as found did.
		Collapse       *jsonCollapse `json:"collapse"`
		CollapseBefore *jsonCollapse `json:"collapse_before"`
		jsonAnswers
	}
	// jsonCertainty says how sure a plan is over the doubt of the fit: shares of
	// shops drawn from it that the search has not seen, per state.
	jsonCertainty struct {
		Asked      float64            `json:"asked"`
		Held       float64            `json:"held"`
		Shops      int                `json:"searched_shops"`
		Proof      int                `json:"other_shops"`
		States     map[string]float64 `json:"states"`
		Plain      map[string]float64 `json:"states_without"`
		PlainCost  price.Money        `json:"planning_cost_without_minor"`
		PlainState string             `json:"status_without"`
	}
	// jsonFront is a point of the trade-off, on the ways and with the collector
	// of the plan.
	jsonFront struct {
		Cost   price.Money `json:"planning_cost_minor"`
		Bound  price.Money `json:"bound_minor"`
		Flow   float64     `json:"flow_share"`
		Status string      `json:"status"`
	}
	jsonWays struct {
		Built     []string `json:"built"`
		LeftOut   []string `json:"left_out"`
		Turned    []string `json:"turned"`
		Collector string   `json:"collector,omitempty"`
		Tried     int      `json:"variants_searched,omitempty"`
	}
	jsonShort struct {
		State string  `json:"state"`
		Rule  string  `json:"rule"`
		Tool  string  `json:"tool,omitempty"`
		Run   string  `json:"run,omitempty"`
		Ratio float64 `json:"ratio"`
		Limit float64 `json:"limit_ratio,omitempty"`
	}
	jsonChange struct {
		What string      `json:"what"`
		From string      `json:"from"`
		To   string      `json:"to"`
		Why  string      `json:"why"`
		Cost price.Money `json:"cost_minor"`
	}
)

// planJSON is the machine-readable plan.
func (o *outcome) planJSON() jsonPlan {
	r := o.result
	out := jsonPlan{Shop: o.p.File.Name, Units: o.p.File.Units.String(), Status: r.Status.String(), Meets: allMeet(r.States),
		Verdict: o.verdictLine(), Currency: o.p.Currency.Code, Digits: o.p.Currency.Digits, Pick: pickJSON(o.problem, r.Best), jsonAnswers: o.answersJSON(),
		Cost: r.Best.Cost, Bound: r.Bound, Gap: r.Gap, Shelf: o.bill.Shelf, Changes: []jsonChange{},
		Bill: o.billed(r.Best).json(), Nodes: r.Stats.Nodes, Judged: r.Stats.Judged, Stopped: r.Stats.Stopped, Cautions: cautions(o)}
	out.Reasons, out.Gauges = o.reasonsJSON(), gaugesJSON(o.gauges)
	out.Collapse, out.CollapseBefore = o.bears.json(r.Network), o.bore.json(o.found.Base)
	out.Budget, out.Ways = o.budget.json(), waysJSON(&o.problem.Taken, o.tried)
	out.Energy, out.PowerFront = o.energyJSON(), o.powerJSON()
	out.Later = o.laterJSON()
	for _, f := range o.front {
		out.TradeOff = append(out.TradeOff, jsonFront{f.Plan.Cost, f.Bound, f.Flow, f.Status.String()})
	}
	for _, c := range o.changes {
		out.Changes = append(out.Changes, jsonChange{c.What, c.From, c.To, c.Why, c.Cost})
	}
	for _, s := range o.before {
		out.Before = append(out.Before, stateJSON(o.found.Base, s))
	}
	for _, s := range r.States {
		out.States = append(out.States, stateJSON(r.Network, s))
	}
	if s := o.certain; s != nil {
		j := &jsonCertainty{Asked: s.share, Held: s.held, Shops: searchShops, Proof: proofShops, States: map[string]float64{}, Plain: map[string]float64{},
			PlainCost: s.plain.Best.Cost, PlainState: s.plain.Status.String()}
		for i, st := range o.problem.States {
			j.States[st.Name], j.Plain[st.Name] = s.states[i], s.plainStates[i]
		}
		out.Confidence = j
	}
	if s := r.Short; s != nil {
		out.Short = &jsonShort{s.State, s.Rule.String(), s.Tool, s.Run, s.Ratio, s.Limit}
	}
	return out
}

// waysJSON names what a plan takes as decided, nil for nothing.
func waysJSON(t *optimize.Taken, tried int) *jsonWays {
	if !t.Changes() {
		return nil
	}
	out := &jsonWays{Built: []string{}, LeftOut: []string{}, Turned: append([]string{}, t.Turned...), Tried: tried}
	for _, c := range t.Built {
		out.Built = append(out.Built, c.ID)
	}
	for _, l := range t.Left {
		out.LeftOut = append(out.LeftOut, l.ID)
	}
	if t.Collector != nil {
		out.Collector = t.Collector.Label
	}
	return out
}

// choiceKey names a choice in plan.json.
func choiceKey(p *optimize.Problem, i int) string {
	kind := [...]string{"run", "seal", "repair", "bleed"}[p.Choices[i].Kind]
	return kind + ": " + p.Choices[i].ID
}
