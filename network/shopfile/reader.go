package shopfile

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"

	"wyewright/network/catalog"
	"wyewright/network/units"
)

// decoder walks the tree of one file and collects what is wrong with it.
type decoder struct {
	name     string
	lines    []string
	catalog  *catalog.Catalog
	file     *File
	faults   Diagnostics
	warnings Diagnostics
	// named holds what the names of the file stand for.
	named map[string]definition
	// velocities are the transport velocities by dust class.
	velocities map[string]units.Velocity
	// unit is that of the coordinates.
	unit units.Length
	// classes lists the dust classes in order.
	classes []string
	// via marks the points that are only corners of a route.
	via map[string]bool
	// misplaced marks the points whose coordinates have a fault.
	misplaced map[string]bool
	// bare lists the points without coordinates, as they are met.
	bare      []string
	runFields []*fields
	// bleedNodes names the points at which a bleed inlet may be built.
	bleedNodes []*node
	portNodes  []portNode
	// ungated are the ports that say nothing of a gate.
	ungated []portNode
	// twice has the kinds of a name that was used for another kind before.
	twice map[string][]string
	// rootNodes says where each collector names its point.
	rootNodes []*node
	// ways are the corridors, corridorAt how many of them end at a point.
	ways       []placedCorridor
	corridorAt map[string]int
	// spins and renewals are what may be done to a collector.
	spins    map[string][]spin
	renewals map[string]renewal
	// mayNodes says where each permission stands.
	mayNodes map[string]*node
	// runNodes remembers where each run was written, for late checks.
	runNodes []*node
	// beside is where files lie that the shop file names; nil where none can be read.
	beside fs.FS
	// years is where redesign.years stands.
	years *node
	// laterNodes are the marks of tools that come later.
	laterNodes []laterNode
	// partial says that rows of a table were refused: what lacks them is not told.
	partial bool
	// read, where it is set, is told of every set of keys.
	read func(*fields, []string)
}

func (d *decoder) lineText(line int) string {
	if line < 1 || line > len(d.lines) {
		return ""
	}
	return d.lines[line-1]
}

func (d *decoder) diagnostic(line, column int, path, hint, msg string) *Diagnostic {
	return &Diagnostic{File: d.name, Line: line, Column: column, Path: path, Msg: msg, Hint: hint, Excerpt: d.lineText(line)}
}

// fault records an error at a node. An empty hint prints none.
func (d *decoder) fault(n *node, hint, format string, args ...any) {
	d.faults = append(d.faults, d.diagnosticOf(n, hint, fmt.Sprintf(format, args...)))
}

// diagnosticOf is a diagnostic at a node, be it of the shop file or of a table.
func (d *decoder) diagnosticOf(n *node, hint, msg string) *Diagnostic {
	out := d.diagnostic(n.line, n.col, n.path, hint, msg)
	if n.in != nil {
		out.File, out.Excerpt = n.in.name, n.in.text(n.line)
	}
	return out
}

func (d *decoder) faultAt(line, column int, path, hint, format string, args ...any) {
	d.faults = append(d.faults, d.diagnostic(line, column, path, hint, fmt.Sprintf(format, args...)))
}

// warn records something odd that does not keep the file from being used.
func (d *decoder) warn(n *node, hint, format string, args ...any) {
	w := d.diagnosticOf(n, hint, fmt.Sprintf(format, args...))
	w.Warning = true
	d.warnings = append(d.warnings, w)
}

// fields is a mapping whose keys have been checked.
type fields struct {
	d      *decoder
	n      *node
	values map[string]*node
	given  map[string]bool
}

// fields checks that n is a mapping, that every key is known and none is
// repeated. It returns nil when n is no mapping.
func (d *decoder) fields(n *node, known ...string) *fields {
	if n == nil || n.refused {
		return nil
	}
	if n.kind != mapping {
		d.fault(n, "keys: "+list(known, 12), "%s must be a set of keys, not %s", n.label, n.kindName())
		return nil
	}
	f := &fields{d: d, n: n, values: map[string]*node{}, given: map[string]bool{}}
	lines := map[string]int{}
	for _, e := range n.entries {
		key := e.key.text
		switch first, again := lines[key], f.given[key]; {
		case again:
			d.fault(e.key, fmt.Sprintf("the first one stands in line %d", first), "key %q is repeated", key)
		case !slices.Contains(known, key):
			d.fault(e.key, didYouMean(key, known), "unknown key %q", key)
			f.mistyped(e, known)
		case e.value.kind == empty:
			if !e.value.refused {
				d.fault(e.key, "write a value after the colon, or take the line out", "key %q has no value", key)
			}
		default:
			f.values[key] = e.value
		}
		if !f.given[key] {
			lines[key] = e.key.line
		}
		f.given[key] = true
	}
	if d.read != nil {
		d.read(f, known)
	}
	return f
}

// mistyped takes the value of a key that is all but one of the known ones for that
// of the one that was meant, so that nothing else is said to be missing.
func (f *fields) mistyped(e entry, known []string) {
	key := Nearest(e.key.text, known)
	if key == "" || f.given[key] || f.n.child(key) != nil || e.value.kind == empty {
		return
	}
	own := *e.value
	own.label = key
	f.values[key], f.given[key] = &own, true
}

// at returns the value under a key, or nil where there is none.
func (f *fields) at(key string) *node {
	if f == nil {
		return nil
	}
	return f.values[key]
}

// need returns the value under a key and reports it missing.
func (f *fields) need(key, hint string) *node {
	if f == nil {
		return nil
	}
	if !f.given[key] {
		what := f.n.label
		if what == "" {
			what = "the file"
		}
		f.d.fault(f.n, hint, "%s: key %q is missing", what, key)
	}
	return f.values[key]
}

// text returns the text of a scalar.
func (d *decoder) text(n *node) (string, bool) {
	if n == nil || n.refused {
		return "", false
	}
	if n.kind != scalar {
		d.fault(n, "", "%s must be text, not %s", n.label, n.kindName())
		return "", false
	}
	if strings.TrimSpace(n.text) == "" {
		d.fault(n, "", "%s is empty", n.label)
		return "", false
	}
	return n.text, true
}

// word returns the scalar when it is one of the known words.
func (d *decoder) word(n *node, known ...string) (string, bool) {
	s, ok := d.text(n)
	if !ok {
		return "", false
	}
	if !slices.Contains(known, s) {
		d.fault(n, didYouMean(s, known), "%s %q is not known", n.label, s)
		return "", false
	}
	return s, true
}

// flag returns true or false.
func (d *decoder) flag(n *node) bool {
	s, _ := d.word(n, "true", "false", "yes", "no")
	return s == "true" || s == "yes"
}

// number returns a coefficient: a finite number without a unit.
func (d *decoder) number(n *node, least float64) (float64, bool) {
	s, ok := d.text(n)
	if !ok {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case err != nil && notFinite(s):
		d.fault(n, "", "%s %q: not a finite number", n.label, s)
	case err != nil:
		d.fault(n, "a coefficient is a number without a unit", "%s %q: not a number", n.label, s)
	case math.IsNaN(v) || math.IsInf(v, 0):
		d.fault(n, "", "%s %q: not a finite number", n.label, s)
	case v < least:
		d.fault(n, "", "%s %q: must not be less than %g", n.label, s, least)
	default:
		return v, true
	}
	return 0, false
}

// notFinite reports the ways to write a number that is none.
func notFinite(s string) bool {
	s = strings.ToLower(strings.TrimLeft(strings.TrimSpace(s), "+-."))
	return strings.HasPrefix(s, "nan") || strings.HasPrefix(s, "inf")
}

// names returns the scalars of a list.
func (d *decoder) names(n *node) []*node {
	var out []*node
	for _, item := range d.items(n) {
		if _, ok := d.text(item); ok {
			out = append(out, item)
		}
	}
	return out
}

// items returns the members of a list that are not empty.
func (d *decoder) items(n *node) []*node {
	if n == nil || n.refused {
		return nil
	}
	if n.kind != sequence {
		d.fault(n, "write it in square brackets: [a, b]", "%s must be a list, not %s", n.label, n.kindName())
		return nil
	}
	var out []*node
	for _, item := range n.items {
		switch {
		case item.refused:
		case item.kind == empty:
			d.fault(item, "", "an empty item in the list %s", n.label)
		default:
			out = append(out, item)
		}
	}
	return out
}

// texts turns nodes into their texts.
func texts(nodes []*node) []string {
	out := make([]string, len(nodes))
	for i, n := range nodes {
		out[i] = n.text
	}
	return out
}
