package plots

// PowerFrontData is the cost of plans against the fan power that they draw.
type PowerFrontData struct {
	Title    string       // "" prints "Cost against fan power"
	Currency string       // text of the cost unit, for example "EUR"
	Unit     string       // of power, for example "W"
	Points   []PowerPoint // at least one, in any order
}

// PowerPoint is one plan.
type PowerPoint struct {
	Label  string  // short name, "" for none
	Cost   float64 // in Currency, not below zero
	Power  float64 // in Unit, not below zero
	Proof  Proof
	Bound  float64 // proven lower bound of the cost; 0 or Cost draws none
	Chosen bool    // the recommended plan; at most one
}

// PowerFront draws cost (x) against fan power (y) in the manner of TradeOff: the
// step line joins the plans that no other plan beats in both. It fails as
// TradeOff does.
func PowerFront(d PowerFrontData) (*Figure, error) {
	t := TradeOffData{Title: d.Title, Currency: d.Currency, power: d.Unit}
	if t.Title == "" {
		t.Title = "Cost against fan power"
	}
	if t.power == "" {
		t.power = "W"
	}
	for _, p := range d.Points {
		t.Points = append(t.Points, TradePoint{Label: p.Label, Cost: p.Cost, Flow: p.Power, Proof: p.Proof, Bound: p.Bound, Chosen: p.Chosen})
	}
	if err := t.check("PowerFront"); err != nil {
		return nil, err
	}
	return t.figure("fan power at the shaft, mean over the running hours, " + t.power), nil
}
