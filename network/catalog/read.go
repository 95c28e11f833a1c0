package catalog

import (
	"cmp"
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"wyewright/network"
	"wyewright/network/loss"
	"wyewright/network/units"
)

//go:embed data/*.csv
var data embed.FS

// row is a line of a table, by column; the first fault of reading it sticks.
type row struct {
	file  string
	line  int
	cells map[string]string
	err   *error
}

func (r row) fail(column string, err error) {
	if *r.err == nil {
		*r.err = fmt.Errorf("catalog: %s line %d, column %s: %w", r.file, r.line, column, err)
	}
}

// text returns a cell that must not be empty.
func (r row) text(column string) string {
	s := r.cells[column]
	if s == "" {
		r.fail(column, fmt.Errorf("is empty"))
	}
	return s
}

func (r row) number(column string) float64 {
	return get(r, column, func(s string) (float64, error) { return strconv.ParseFloat(s, 64) })
}

func (r row) yes(column string) bool { return r.text(column) == "yes" }

// get parses a cell and keeps the first error.
func get[T any](r row, column string, parse func(string) (T, error)) T {
	v, err := parse(r.text(column))
	if err != nil {
		r.fail(column, err)
	}
	return v
}

// table calls do for every row of an embedded file.
func table(file string, do func(row)) error {
	f, err := data.Open("data/" + file)
	if err != nil {
		return fmt.Errorf("catalog: %w", err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return fmt.Errorf("catalog: %s: %w", file, err)
	}
	var fault error
	for i, line := range lines[1:] {
		cells := map[string]string{}
		for k, name := range lines[0] {
			cells[name] = line[k]
		}
		r := row{file, i + 2, cells, &fault}
		r.text("source")
		do(r)
	}
	return fault
}

// read builds the catalogue from the embedded tables.
func read() (*Catalog, error) {
	c := &Catalog{byName: map[string]*Family{}}
	rules := map[*Family][2]string{} // how wyes and reducers are given
	steps := []struct {
		file string
		do   func(row)
	}{
		{"families.csv", func(r row) {
			f := newFamily(r)
			c.families = append(c.families, f)
			c.byName[f.Name], c.byName[strings.ToLower(f.Name)] = f, f
			rules[f] = [2]string{r.text("wyes"), r.text("reducers")}
		}},
		{"sizes.csv", func(r row) {
			if f := c.owner(r); f != nil {
				f.Sizes = append(f.Sizes, Size{Name: r.text("size"), Nominal: get(r, "size", ParseSize),
					Diameter: get(r, "diameter", units.ParseLength), Source: r.text("source")})
			}
		}},
		{"", func(row) { c.applyRules(rules) }},
		{"wyes.csv", func(r row) {
			if f := c.owner(r); f != nil {
				f.list(r, f.wyes, "common", "branch")
			}
		}},
		{"reducers.csv", func(r row) {
			if f := c.owner(r); f != nil {
				f.list(r, f.reducers, "large", "small")
				f.list(r, f.reducers, "small", "large")
			}
		}},
		{"longelbows.csv", func(r row) {
			if f := c.owner(r); f != nil {
				f.addLong(r)
			}
		}},
		{"walls.csv", func(r row) {
			if f := c.owner(r); f != nil {
				f.addWall(r)
			}
		}},
		{"classes.csv", func(r row) {
			c.classes = append(c.classes, Class{r.text("name"), get(r, "velocity", units.ParseVelocity),
				get(r, "low", units.ParseVelocity), get(r, "high", units.ParseVelocity), r.text("source")})
		}},
		{"machines.csv", func(r row) {
			c.machines = append(c.machines, Machine{r.text("kind"), r.number("entry"), r.number("low"), r.number("high"), r.text("source")})
		}},
	}
	for _, s := range steps {
		if s.file == "" {
			s.do(row{})
			continue
		}
		if err := table(s.file, s.do); err != nil {
			return nil, err
		}
	}
	return c, nil
}

func (c *Catalog) owner(r row) *Family {
	f, ok := c.byName[r.text("family")]
	if !ok {
		r.fail("family", ErrFamily)
	}
	return f
}

func newFamily(r row) *Family {
	f := &Family{Name: r.text("name"), Region: r.text("region"), Plastic: r.yes("plastic"), Hose: r.yes("hose"),
		Stick: get(r, "stick", units.ParseLength), Joint: JointKind(r.text("joint")), Source: r.text("source")}
	for _, a := range strings.Fields(r.text("wye_degrees")) {
		deg, err := strconv.ParseFloat(a, 64)
		if err != nil {
			r.fail("wye_degrees", err)
		}
		f.Angles = append(f.Angles, deg)
	}
	f.Make = network.Make{Family: f.Name, Roughness: get(r, "roughness", units.ParseLength), Multiple: r.number("multiple"),
		Elbow: get(r, "elbow", loss.ParseElbowStyle), ElbowRD: r.number("elbow_rd"), WyeDegrees: f.Angles[0],
		TaperDegrees: r.number("taper_degrees")}
	if f.Plastic {
		f.Note = PlasticCaution
	}
	return f
}

// applyRules sorts the sizes and fills the tables of wyes and reducers of the
// families that need no list: "any" (branch up to the common size; any pair of
// sizes) and "2 steps" (neighbours at most two sizes apart).
func (c *Catalog) applyRules(rules map[*Family][2]string) {
	for _, f := range c.families {
		slices.SortFunc(f.Sizes, func(a, b Size) int { return cmp.Compare(a.Nominal, b.Nominal) })
		n := len(f.Sizes)
		f.byName = make(map[string]int, n)
		f.wyes, f.reducers = square(n), square(n)
		steps := 0
		switch rules[f][1] {
		case "any":
			steps = n
		case "2 steps":
			steps = 2
		}
		for i := range n {
			f.byName[f.Sizes[i].Name] = i
			for k := range n {
				f.wyes[i][k] = rules[f][0] == "any" && k <= i
				f.reducers[i][k] = i != k && max(i-k, k-i) <= steps
			}
		}
	}
}

func square(n int) [][]bool {
	m := make([][]bool, n)
	for i := range m {
		m[i] = make([]bool, n)
	}
	return m
}

// list marks one listed combination.
func (f *Family) list(r row, m [][]bool, first, second string) {
	i, k := f.index(r.text(first)), f.index(r.text(second))
	if i < 0 || k < 0 {
		r.fail(first, ErrSize)
		return
	}
	m[i][k] = true
}

// addLong adds an elbow of long radius.
func (f *Family) addLong(r row) {
	i := f.index(r.text("size"))
	if i < 0 {
		r.fail("size", ErrSize)
		return
	}
	if f.long == nil {
		f.long = map[int]bend{}
	}
	f.long[i] = bend{get(r, "elbow", loss.ParseElbowStyle), r.number("elbow_rd")}
}
