package parts

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// WriteCSV writes one record per row of the bill, with a header; quantities
// have full precision, amounts the currency's decimals.
func (b *Bill) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	records := [][]string{{"action", "kind", "family", "size", "other size", "quantity", "quantity with waste", "unit", "hours",
		"price", "price per", "price note", "total " + b.Currency.Code, "shelf quantity", "shelf unit",
		"shelf total " + b.Currency.Code, "price source", "group", "where"}}
	for i := range b.Rows {
		r := &b.Rows[i]
		money := func(m price.Money) string { return b.Currency.Number(m) }
		rec := []string{r.Action.String(), r.Item.Kind.String(), r.Item.Family, r.Item.Sizes[0], r.Item.Sizes[1],
			decimal(r.Qty, 4), decimal(r.Gross, 4), r.Unit, "", "", "", r.note(), "", "", "", "", "", r.Group().String(), r.Where(units.SI)}
		switch {
		case r.Unpriced:
		case r.Action == Buy:
			copy(rec[9:11], []string{money(r.Quote.Money), r.Quote.Unit})
			copy(rec[12:], []string{r.total(b), decimal(r.ShelfQty, 0), r.ShelfUnit, money(r.ShelfTotal), r.Quote.Source})
		case r.Action == Work:
			rec[8] = decimal(r.Hours, 2)
			copy(rec[9:11], []string{money(b.Rate), "h"})
			rec[12] = money(r.Total)
		}
		records = append(records, rec)
	}
	if err := out.WriteAll(records); err != nil {
		return fmt.Errorf("parts: write bill: %w", err)
	}
	return nil
}

// total is the planning cost of a row; spares have none.
func (r *Row) total(b *Bill) string {
	if r.Spare {
		return ""
	}
	return b.Currency.Number(r.Total)
}

// note says what is particular about the price.
func (r *Row) note() string {
	switch {
	case r.Unpriced:
		return "no price"
	case r.Quote.Interpolated:
		return "interpolated"
	}
	return ""
}

// decimal writes a number with at most that many decimals and no trailing
// zeros.
func decimal(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// WriteCutsCSV writes the cut list, one record per piece and per rest, with a
// header; lengths are in millimetres and inches.
func (b *Bill) WriteCutsCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	records := [][]string{{"family", "size", "stick", "stick length mm", "what", "run", "part", "of", "length mm", "length in", "cut mm", "status"}}
	for i := range b.Cuts {
		g := &b.Cuts[i]
		for n, s := range g.Sticks {
			add := func(what, run, part, of string, l units.Length) {
				records = append(records, []string{g.Family, g.Size, strconv.Itoa(n + 1), decimal(1000*float64(g.Stick), 1), what, run, part, of,
					decimal(1000*float64(l), 1), decimal(float64(l/units.Inch), 2), decimal(1000*float64(g.Kerf), 1), g.Status()})
			}
			for _, p := range s.Pieces {
				add("piece", p.Where, strconv.Itoa(p.Part), strconv.Itoa(p.Of), p.Length)
			}
			if s.Rest > lengthGrain {
				add("rest", "", "", "", s.Rest)
			}
		}
	}
	if err := out.WriteAll(records); err != nil {
		return fmt.Errorf("parts: write cut list: %w", err)
	}
	return nil
}
