package cli

import (
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// jsonLine is one line of a bill, for one place: what its sums are made of.
type jsonLine struct {
	Action string      `json:"action"`
	Kind   string      `json:"kind"`
	Family string      `json:"family,omitempty"`
	Sizes  []string    `json:"sizes,omitempty"`
	Where  string      `json:"where"`
	Qty    float64     `json:"quantity"`
	Unit   string      `json:"quantity_unit"`
	Waste  float64     `json:"waste_ratio,omitempty"`
	Hours  float64     `json:"work_h,omitempty"`
	Sum    price.Money `json:"sum_minor,omitempty"`
}

// linesJSON is the JSON of lines.
func linesJSON(lines []parts.Line) []jsonLine {
	out := []jsonLine{}
	for _, l := range lines {
		j := jsonLine{Action: l.Action.String(), Kind: l.Item.Kind.String(), Family: l.Item.Family, Where: l.Where, Qty: l.Qty, Unit: l.Unit,
			Waste: l.Waste, Hours: l.Hours, Sum: l.Sum}
		for _, s := range l.Item.Sizes {
			if s != "" {
				j.Sizes = append(j.Sizes, s)
			}
		}
		out = append(out, j)
	}
	return out
}

// lines are those that the JSON holds.
func (j *jsonBill) lines() ([]parts.Line, error) {
	var out []parts.Line
	for _, l := range j.Lines {
		action, err := named(actions, l.Action)
		if err != nil {
			return nil, err
		}
		kind, err := price.ParseKind(l.Kind)
		if err != nil {
			return nil, err
		}
		item := price.Item{Kind: kind, Family: l.Family}
		copy(item.Sizes[:], l.Sizes)
		out = append(out, parts.Line{Item: item, Action: action, Where: l.Where, Qty: l.Qty, Unit: l.Unit, Waste: l.Waste, Hours: l.Hours, Sum: l.Sum})
	}
	return out, nil
}
