package project

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// priceFile reads a user's own prices from a CSV file with the columns item,
// price and per: the item as in the shop file's section prices.own ("pipe,
// dust spiral, 160 mm", in quotes), the price a plain amount in the currency
// of the shop, per "" for one piece, "m" or "ft". Every faulty row is named.
func (p *Project) priceFile(fsys fs.FS, name string) error {
	if !fs.ValidPath(path.Clean(name)) {
		return fmt.Errorf("price file %s: it must lie in the folder of the shop file, or below", name)
	}
	src, err := fs.ReadFile(fsys, path.Clean(name))
	if err != nil {
		return err
	}
	r := csv.NewReader(strings.NewReader(string(src)))
	r.FieldsPerRecord = -1
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	var faults []error
	for i, row := range rows {
		if i == 0 && len(row) > 0 && strings.TrimSpace(row[0]) == "item" {
			continue
		}
		if err := p.priceRow(row); err != nil {
			faults = append(faults, fmt.Errorf("%s: row %d: %w", name, i+1, err))
		}
	}
	return errors.Join(faults...)
}

func (p *Project) priceRow(row []string) error {
	if len(row) < 2 {
		return errors.New("needs an item and a price")
	}
	item, err := parseItem(row[0])
	if err != nil {
		return err
	}
	amount, err := p.Currency.Parse(strings.TrimSpace(row[1]))
	if err != nil {
		return err
	}
	q := price.Quote{Money: amount, Per: 1}
	if len(row) > 2 {
		switch per := strings.TrimSpace(row[2]); per {
		case "", "each":
		case "m":
			q.Unit = "m"
		case "ft":
			q.Unit, q.Per = "ft", float64(units.Foot)
		default:
			return fmt.Errorf("per %q: use m, ft or nothing", per)
		}
	}
	return p.Book.Override(item, q)
}
