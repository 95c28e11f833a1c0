package price

import (
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"wyewright/network/catalog"
)

//go:embed data/*.csv
var data embed.FS

// lines returns the rows of an embedded table without its header.
func lines(file string) ([][]string, error) {
	f, err := data.Open("data/" + file)
	if err != nil {
		return nil, fmt.Errorf("price: %w", err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("price: %s: %w", file, err)
	}
	return all[1:], nil
}

// readBook reads the book of a currency; false where there is none.
func readBook(currency string) (*Book, bool, error) {
	heads, err := lines("books.csv")
	if err != nil {
		return nil, false, err
	}
	at := slices.IndexFunc(heads, func(h []string) bool { return h[0] == currency })
	if at < 0 {
		return nil, false, nil
	}
	head := heads[at]
	digits, err := strconv.Atoi(head[1])
	if err != nil {
		return nil, false, fmt.Errorf("price: books.csv: %w", err)
	}
	c, err := catalog.Builtin()
	if err != nil {
		return nil, false, err
	}
	b := &Book{Currency: Currency{head[0], digits}, Region: head[2], Date: head[3], Source: head[4],
		catalog: c, tables: map[key]*table{}, nominal: map[string]float64{}, spelling: map[int]string{}}
	for _, f := range c.Families() {
		for _, s := range f.Sizes {
			b.nominal[s.Name] = float64(s.Nominal)
			b.spelling[micrometres(float64(s.Nominal))] = s.Name
		}
	}
	file := strings.ToLower(currency) + ".csv"
	rows, err := lines(file)
	if err != nil {
		return nil, false, err
	}
	for i, row := range rows {
		if err := b.addTable(row); err != nil {
			return nil, false, fmt.Errorf("price: %s line %d: %w", file, i+2, err)
		}
	}
	return b, true, nil
}

// addTable reads the columns kind, family, unit, per, prices, source. Prices
// are "size=amount; …" in any order, or "any=amount".
func (b *Book) addTable(row []string) error {
	kind, err := ParseKind(row[0])
	if err != nil {
		return err
	}
	t := &table{unit: row[2], source: row[5]}
	if t.per, err = strconv.ParseFloat(row[3], 64); err != nil {
		return err
	}
	bySize := map[float64]Money{}
	for entry := range strings.SplitSeq(row[4], ";") {
		size, amount, _ := strings.Cut(strings.TrimSpace(entry), "=")
		m, err := b.Currency.Parse(amount)
		if err != nil {
			return err
		}
		if size == "any" {
			t.prices = []Money{m}
			continue
		}
		d, err := catalog.ParseSize(size)
		if err != nil {
			return err
		}
		t.sizes = append(t.sizes, float64(d))
		bySize[float64(d)] = m
	}
	slices.Sort(t.sizes)
	for _, d := range t.sizes {
		t.prices = append(t.prices, bySize[d])
	}
	for family := range strings.SplitSeq(row[1], "|") {
		k := key{kind, family}
		if b.tables[k] != nil {
			return fmt.Errorf("second table for %v, %q", kind, family)
		}
		b.tables[k] = t
	}
	return nil
}

var builtinNorms = sync.OnceValues(readNorms)

// BuiltinNorms returns the labour norms. They must not be changed; a map of
// one's own replaces them.
func BuiltinNorms() (Norms, error) { return builtinNorms() }

func readNorms() (Norms, error) {
	rows, err := lines("labour.csv")
	if err != nil {
		return nil, err
	}
	norms := Norms{}
	for i, row := range rows {
		n := Norm{Task: Task(row[0]), Unit: row[7], Source: row[8]}
		for k := range 6 {
			h, err := strconv.ParseFloat(row[1+k], 64)
			if err != nil {
				return nil, fmt.Errorf("price: labour.csv line %d: %w", i+2, err)
			}
			n.Hours[k/2][k%2] = h
		}
		norms[n.Task] = n
	}
	return norms, nil
}
