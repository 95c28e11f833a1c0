package shopfile

import (
	"bytes"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"unicode/utf8"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
)

// maxSize and maxDepth bound what is handed to the YAML parser, whose time
// grows with the square of either: a shop of 300 runs needs 60 kB and 6 levels.
const (
	maxSize  = 256 << 10
	maxDepth = 40
)

// sections lists the keys of the file in their usual order.
var sections = []string{"version", "name", "units", "currency", "air", "friction", "defaults", "dust", "collectors",
	"points", "runs", "corridors", "tools", "leaks", "bleeds", "fitted", "states", "readings", "redesign", "prices"}

// Decode reads a shop file. The name is used in messages only; the catalogue
// says what sizes there are and what the air sees of them. The error, if any,
// is of type Diagnostics and lists every fault in file order. A file that names
// tables needs DecodeBeside.
func Decode(name string, src []byte, c *catalog.Catalog) (*File, error) {
	return DecodeBeside(name, src, c, nil)
}

// DecodeBeside is Decode with the folder in which the file lies: tables of runs
// and points that it names are read from there.
func DecodeBeside(name string, src []byte, c *catalog.Catalog, beside fs.FS) (*File, error) {
	d := newDecoder(name, src, c)
	d.beside = beside
	return d.decode(src)
}

func (d *decoder) decode(src []byte) (*File, error) {
	f := d.file
	f.name, f.src, f.catalog, f.lines = d.name, slices.Clone(src), d.catalog, d.lines
	if root := d.open(src); root != nil {
		f.root = root
		d.sections(root)
	}
	f.Warnings = d.warnings.sort()
	if len(d.faults) > 0 {
		return nil, d.faults.sort()
	}
	return f, nil
}

func newDecoder(name string, src []byte, c *catalog.Catalog) *decoder {
	text := strings.TrimPrefix(string(src), "\ufeff")
	lines := strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
	return &decoder{name: name, lines: lines, catalog: c, file: &File{unit: units.Metre}, named: map[string]definition{}, twice: map[string][]string{},
		velocities: map[string]units.Velocity{}, via: map[string]bool{}, corridorAt: map[string]int{}, spins: map[string][]spin{}, renewals: map[string]renewal{}, mayNodes: map[string]*node{}, misplaced: map[string]bool{}, unit: units.Metre}
}

// open checks what the YAML parser would stumble over, and parses.
func (d *decoder) open(src []byte) *node {
	switch {
	case len(bytes.TrimSpace(src)) == 0:
		d.faultAt(1, 1, "", "start from the file that the verb new writes", "the file is empty")
		return nil
	case len(src) > maxSize:
		d.faultAt(0, 0, "", "", "the file is larger than %d kB", maxSize>>10)
		return nil
	}
	for i, line := range d.lines {
		if !utf8.ValidString(line) {
			d.faultAt(i+1, badByte(line), "", "save the file as UTF-8", "not UTF-8 text")
			return nil
		}
	}
	d.tabs()
	if deep := d.deepest(); deep > 0 {
		d.faultAt(deep, 1, "", "", "nested more than %d levels deep", maxDepth)
	}
	if len(d.faults) > 0 {
		return nil
	}
	return d.parse(strings.Join(d.lines, "\n"))
}

// badByte is the column of the first byte that is no character.
func badByte(line string) int {
	column := 1
	for len(line) > 0 {
		r, size := utf8.DecodeRuneInString(line)
		if r == utf8.RuneError && size == 1 {
			break
		}
		column, line = column+1, line[size:]
	}
	return column
}

// tabs reports lines that are indented with tabs, which YAML forbids, and
// control characters.
func (d *decoder) tabs() {
	for i, line := range d.lines {
		indent := line[:len(line)-len(strings.TrimLeft(line, " \t"))]
		if tab := strings.IndexByte(indent, '\t'); tab >= 0 && strings.TrimSpace(line) != "" {
			d.faultAt(i+1, tab+1, "", "indent with spaces", "a tab in the indentation")
		}
		if at := strings.IndexFunc(line, func(r rune) bool { return r < ' ' && r != '\t' || r == '\u007f' }); at >= 0 {
			d.faultAt(i+1, utf8.RuneCountInString(line[:at])+1, "", "delete it", "a control character")
		}
	}
}

// deepest returns the first line at which brackets, list marks or
// indentation nest too deep, or 0. Brackets in quotes count too: the bound is
// far above what a shop needs.
func (d *decoder) deepest() int {
	depth := 0
	for i, line := range d.lines {
		if strings.HasPrefix(strings.TrimSpace(line), "#") {
			continue
		}
		for _, r := range line {
			switch r {
			case '[', '{':
				depth++
			case ']', '}':
				depth = max(0, depth-1)
			}
			if depth > maxDepth {
				return i + 1
			}
		}
		marks := strings.Count(line, "- ") + strings.Count(line, "? ")
		indent := len(line) - len(strings.TrimLeft(line, " "))
		if marks > maxDepth || indent > 8*maxDepth {
			return i + 1
		}
	}
	return 0
}

// sections walks the whole file.
func (d *decoder) sections(root *node) {
	root.label = ""
	if root.kind != mapping {
		d.fault(root, "start with: version: 1", "the file must be a set of keys, not %s", root.kindName())
		return
	}
	if !d.version(root) {
		return
	}
	f := d.fields(root, sections...)
	d.general(f)
	d.air(f.at("air"))
	if w, ok := d.word(f.at("friction"), "colebrook", "swamee-jain", "none"); ok {
		d.file.Spec.Friction = map[string]network.Friction{"colebrook": network.Colebrook,
			"swamee-jain": network.SwameeJain, "none": network.Frictionless}[w]
	}
	d.dust(f.at("dust"))
	d.defaults(f.at("defaults"))
	placed := d.points(f.at("points"))
	d.collectors(f.need("collectors", "collectors: {my fan: {at: COL, inlet: 160 mm, fan: {pressure: fan static, curve: [{flow: 0 m3/h, pressure: 2700 Pa}, …]}}}; the verb new writes a whole one"))
	runs := f.need("runs", "name the ducts: main 1: {from: J1, to: COL, size: 160 mm, family: dust spiral}")
	if runs != nil && runs.kind == scalar && !runs.refused {
		if runs = d.runsTable(runs); runs == nil {
			return // what follows hangs on the runs
		}
	}
	if !placed {
		return
	}
	d.runs(runs)
	d.tools(f.need("tools", "name the machines: saw bench: {flow: 820 m3/h, ports: [{at: CS, size: 120 mm, entry: 2.6}]}"))
	d.leaks(f.at("leaks"))
	d.bleeds(f.at("bleeds"))
	d.corridors(f.at("corridors"))
	d.states(f.need("states", makerHint))
	d.redesign(f.at("redesign"))
	d.prices(f.at("prices"))
	d.idleYears()
	d.addBarePoints()
	d.fitted(f.at("fitted"))
	if !d.partial {
		d.connect()
	}
	d.later()
	d.collectorOptions()
	d.checkCorridors()
	for _, n := range d.bleedNodes {
		d.ducted(n, n.text)
	}
	d.readings(f.at("readings"))
}

// version reports a version this package does not read.
func (d *decoder) version(root *node) bool {
	n := root.child("version")
	if n == nil || n.kind != scalar {
		d.faultAt(1, 1, "version", "start the file with: version: 1", "the file does not say its version")
		return n == nil
	}
	if n.text != fmt.Sprint(Version) {
		d.fault(n, fmt.Sprintf("this program reads version %d", Version), "version %q is not known", n.text)
		return false
	}
	return true
}

// general reads what the file says about itself.
func (d *decoder) general(f *fields) {
	d.file.Units = units.SI
	if s, ok := d.text(f.at("name")); ok {
		d.file.Name, d.file.Spec.Name = s, s
	}
	if w, ok := d.word(f.at("units"), "us", "si"); ok && w == "us" {
		d.file.Units = units.US
	}
	if n := f.at("currency"); n != nil {
		if s, ok := d.text(n); ok && !isCurrency(s) {
			d.fault(n, "three capital letters, such as EUR, USD or GBP", "unknown currency %q", s)
		} else {
			d.file.Currency = s
		}
		return
	}
	// Prices stand all over the file: their currency is needed first.
	if n := f.at("prices").child("currency"); n != nil && isCurrency(n.text) {
		d.file.Currency = n.text
	}
}

// dust reads the user's own transport velocities and completes them with
// those of the catalogue.
func (d *decoder) dust(n *node) {
	for _, c := range d.catalog.Classes() {
		d.velocities[c.Name] = c.Velocity
		d.classes = append(d.classes, c.Name)
	}
	if n == nil || n.refused {
		return
	}
	if n.kind != mapping {
		d.fault(n, "write dust: {chips: 20 m/s}", "dust must be a set of classes, not %s", n.kindName())
		return
	}
	seen := map[string]bool{}
	for _, e := range n.entries {
		if seen[e.key.text] {
			d.fault(e.key, "", "key %q is repeated", e.key.text)
			continue
		}
		seen[e.key.text] = true
		if e.value.kind == empty {
			d.fault(e.key, "write a velocity after the colon", "key %q has no value", e.key.text)
			continue
		}
		if v, ok := d.velocity(e.value); ok {
			if !slices.Contains(d.classes, e.key.text) {
				d.classes = append(d.classes, e.key.text)
			}
			d.velocities[e.key.text] = v
		}
	}
}
