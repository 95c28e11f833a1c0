package cli

import (
	"fmt"

	"wyewright/network/units"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// The JSON of a bill, as parts prints it and plan.json holds it. Names are
// stable; amounts are integers in the minor unit of the currency.
type (
	jsonBill struct {
		Currency  string      `json:"currency"`
		Digits    int         `json:"currency_digits"`
		Date      string      `json:"prices_date"`
		Region    string      `json:"prices_region"`
		Source    string      `json:"prices_source"`
		Crew      string      `json:"crew"`
		Rate      price.Money `json:"labour_rate_minor_per_h"`
		Waste     float64     `json:"waste_ratio"`
		Materials price.Money `json:"materials_minor"`
		Labour    price.Money `json:"labour_minor"`
		Planning  price.Money `json:"planning_cost_minor"`
		Net       price.Money `json:"net_minor"`
		Shelf     price.Money `json:"shelf_total_minor"`
		Freight   price.Money `json:"freight_minor"`
		Hours     float64     `json:"work_h"`
		Unpriced  []string    `json:"unpriced"`
		Rows      []jsonRow   `json:"rows"`
		CutList   []jsonStick `json:"cut_list"`
		// Cuts say of each family and size in the cut list how good it is.
		Cuts  []jsonCuts `json:"cut_groups"`
		Lines []jsonLine `json:"lines"`
	}
	jsonRow struct {
		Action     string      `json:"action"`
		Kind       string      `json:"kind"`
		Family     string      `json:"family,omitempty"`
		Sizes      []string    `json:"sizes"`
		Qty        float64     `json:"quantity"`
		Gross      float64     `json:"quantity_with_waste"`
		Unit       string      `json:"quantity_unit"`
		Hours      float64     `json:"work_h"`
		Price      price.Money `json:"price_minor"`
		PriceUnit  string      `json:"price_unit"`
		PricePer   float64     `json:"price_per_quantity"`
		Between    bool        `json:"price_interpolated"`
		Source     string      `json:"price_source"`
		Unpriced   bool        `json:"unpriced"`
		Total      price.Money `json:"total_minor"`
		Net        price.Money `json:"net_minor"`
		ShelfQty   float64     `json:"shelf_quantity"`
		ShelfUnit  string      `json:"shelf_unit"`
		ShelfSize  float64     `json:"shelf_size"`
		ShelfTotal price.Money `json:"shelf_total_minor"`
		Group      string      `json:"group,omitempty"`
		Spare      bool        `json:"spare,omitempty"`
		Places     []jsonPlace `json:"places,omitempty"`
	}
	// jsonPlace is a run, or a point with the runs there that it joins.
	jsonPlace struct {
		Run   string  `json:"run,omitempty"`
		Point string  `json:"point,omitempty"`
		From  string  `json:"from_run,omitempty"`
		To    string  `json:"to_run,omitempty"`
		Qty   float64 `json:"quantity"`
	}
	jsonStick struct {
		Family string    `json:"family"`
		Size   string    `json:"size"`
		Length float64   `json:"length_m"`
		Cuts   []jsonCut `json:"cuts"`
		Rest   float64   `json:"rest_m"`
	}
	jsonCut struct {
		Run    string  `json:"run"`
		Length float64 `json:"length_m"`
		Part   int     `json:"part,omitempty"`
		Of     int     `json:"of,omitempty"`
	}
	jsonCuts struct {
		Family  string        `json:"family"`
		Size    string        `json:"size"`
		Stick   float64       `json:"stick_m"`
		Kerf    float64       `json:"kerf_m"`
		Sticks  int           `json:"sticks"`
		Least   int           `json:"least_sticks"`
		NoKerf  int           `json:"sticks_without_kerf"`
		Status  string        `json:"status"`
		Waste   float64       `json:"waste_ratio"`
		Offcuts []float64     `json:"offcuts_m"`
		Instead []jsonInstead `json:"old_duct_would_do,omitempty"`
	}
	jsonInstead struct {
		jsonCut
		From   string  `json:"from_run"`
		Length float64 `json:"from_length_m"`
	}
)

// actions and crews by their names.
var (
	actions = []parts.Action{parts.Buy, parts.Reuse, parts.Remove, parts.Work}
	crews   = []price.Crew{price.Amateur, price.Professional}
)

// named finds the value of that name.
func named[T fmt.Stringer](all []T, name string) (T, error) {
	for _, v := range all {
		if v.String() == name {
			return v, nil
		}
	}
	var none T
	return none, fmt.Errorf("unknown word %q, known are %v", name, all)
}

func billJSON(b *parts.Bill, cuts []parts.Stick) jsonBill {
	out := jsonBill{b.Currency.Code, b.Currency.Digits, b.Date, b.Region, b.Source, b.Crew.String(), b.Rate, b.Waste, b.Materials, b.Labour,
		b.Planning, b.Net, b.Shelf, b.Freight, b.Hours, append([]string{}, b.Unpriced...), []jsonRow{}, []jsonStick{}, cutsJSON(b), []jsonLine{}}
	for _, r := range b.Rows {
		sizes := []string{}
		for _, s := range r.Item.Sizes {
			if s != "" {
				sizes = append(sizes, s)
			}
		}
		out.Rows = append(out.Rows, jsonRow{r.Action.String(), r.Item.Kind.String(), r.Item.Family, sizes, r.Qty, r.Gross, r.Unit, r.Hours,
			r.Quote.Money, r.Quote.Unit, r.Quote.Per, r.Quote.Interpolated, r.Quote.Source, r.Unpriced, r.Total, r.Net,
			r.ShelfQty, r.ShelfUnit, r.ShelfSize, r.ShelfTotal, r.Group().String(), r.Spare, placesJSON(&r)})
	}
	for _, s := range cuts {
		j := jsonStick{Family: s.Family, Size: s.Size, Length: float64(s.Length), Rest: float64(s.Rest), Cuts: []jsonCut{}}
		for _, c := range s.Pieces {
			j.Cuts = append(j.Cuts, cutJSON(c))
		}
		out.CutList = append(out.CutList, j)
	}
	return out
}

// bill is the bill that the JSON holds, with its cut list.
func (j *jsonBill) bill() (*parts.Bill, []parts.Stick, error) {
	crew, err := named(crews, j.Crew)
	if err != nil {
		return nil, nil, err
	}
	b := &parts.Bill{Currency: price.Currency{Code: j.Currency, Digits: j.Digits}, Date: j.Date, Region: j.Region, Source: j.Source, Crew: crew,
		Rate: j.Rate, Waste: j.Waste, Materials: j.Materials, Labour: j.Labour, Planning: j.Planning, Net: j.Net, Shelf: j.Shelf,
		Freight: j.Freight, Hours: j.Hours, Unpriced: j.Unpriced}
	for _, r := range j.Rows {
		action, err := named(actions, r.Action)
		if err != nil {
			return nil, nil, err
		}
		kind, err := price.ParseKind(r.Kind)
		if err != nil {
			return nil, nil, err
		}
		item := price.Item{Kind: kind, Family: r.Family}
		copy(item.Sizes[:], r.Sizes)
		b.Rows = append(b.Rows, parts.Row{Item: item, Action: action, Qty: r.Qty, Gross: r.Gross, Unit: r.Unit, Hours: r.Hours,
			Quote:    price.Quote{Money: r.Price, Unit: r.PriceUnit, Per: r.PricePer, Interpolated: r.Between, Source: r.Source},
			Unpriced: r.Unpriced, Total: r.Total, Net: r.Net, ShelfQty: r.ShelfQty, ShelfUnit: r.ShelfUnit, ShelfSize: r.ShelfSize, ShelfTotal: r.ShelfTotal, Spare: r.Spare, Places: r.places()})
	}
	var cuts []parts.Stick
	for _, s := range j.CutList {
		stick := parts.Stick{Family: s.Family, Size: s.Size, Length: units.Length(s.Length), Rest: units.Length(s.Rest)}
		for _, c := range s.Cuts {
			stick.Pieces = append(stick.Pieces, c.piece())
		}
		cuts = append(cuts, stick)
	}
	b.Cuts = j.groups(cuts)
	return b, cuts, nil
}
