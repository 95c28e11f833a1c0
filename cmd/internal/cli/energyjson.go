package cli

import (
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// The JSON of energy and of the front of cost against fan power.
type (
	jsonEnergy struct {
		PerKWh   float64 `json:"price_minor_per_kwh"`
		Years    float64 `json:"years"`
		Hours    float64 `json:"hours_per_year"`
		Interest float64 `json:"interest_ratio"`
		Worth    float64 `json:"present_worth_years"`
		Drive    float64 `json:"motor_efficiency_ratio"`
		// Materials, labour and energy make the life-cycle cost.
		Materials price.Money `json:"materials_minor"`
		Labour    price.Money `json:"labour_minor"`
		jsonUse
		States []jsonPower `json:"states"`
		Least  jsonUse     `json:"least_purchase"`
		Found  jsonUse     `json:"as_found"`
		Notes  []string    `json:"notes"`
	}
	jsonUse struct {
		Cost   price.Money `json:"planning_cost_minor"`
		Energy price.Money `json:"energy_minor"`
		Life   price.Money `json:"life_cost_minor"`
		Yearly float64     `json:"kwh_per_year"`
		Mean   float64     `json:"mean_power_w"`
		Status string      `json:"status,omitempty"`
	}
	jsonPower struct {
		State     string  `json:"state"`
		Power     float64 `json:"power_w"`
		Hours     float64 `json:"hours_per_year"`
		Estimated bool    `json:"estimated"`
	}
	jsonPowerFront struct {
		Points []jsonPowerPoint `json:"points"`
		// Complete says that no plan draws less than the last point by as much as
		// points are apart.
		Complete bool   `json:"complete"`
		Note     string `json:"note"`
	}
	jsonPowerPoint struct {
		Power   float64           `json:"mean_power_w"`
		Cost    price.Money       `json:"planning_cost_minor"`
		Bound   price.Money       `json:"bound_minor"`
		Status  string            `json:"status"`
		Changes int               `json:"changes"`
		Pick    map[string]string `json:"pick"`
	}
)

func useJSON(cost price.Money, u *optimize.EnergyUse, status string) jsonUse {
	return jsonUse{cost, u.Money, cost + u.Money, u.Yearly, float64(u.Mean), status}
}

func (o *outcome) energyJSON() *jsonEnergy {
	l := o.life
	if l == nil {
		return nil
	}
	e := l.energy
	out := &jsonEnergy{PerKWh: e.Price, Years: e.Years, Hours: e.Hours, Interest: e.Interest, Worth: e.Worth(), Drive: float64(e.Drive),
		Materials: o.bill.Materials, Labour: o.bill.Labour, jsonUse: useJSON(o.result.Best.Cost, l.use, o.result.Status.String()),
		Least: useJSON(l.least.Best.Cost, l.leastUse, l.least.Status.String()), Found: useJSON(0, l.foundUse, ""), Notes: []string{basis(e, l.use), l.note}}
	if e.Drive == 0 {
		out.Drive = float64(optimize.DefaultDrive)
	}
	for _, s := range l.use.States {
		out.States = append(out.States, jsonPower{s.State, float64(s.Power), s.Hours, s.Estimated})
	}
	return out
}

func (o *outcome) powerJSON() *jsonPowerFront {
	if o.power == nil {
		return nil
	}
	out := &jsonPowerFront{Complete: o.power.Ends == optimize.Infeasible, Note: o.powerNote}
	for _, f := range o.power.Points {
		out.Points = append(out.Points, jsonPowerPoint{float64(f.Power), f.Plan.Cost, f.Bound, f.Status.String(), f.Plan.Changed, pickJSON(o.problem, f.Plan)})
	}
	return out
}
