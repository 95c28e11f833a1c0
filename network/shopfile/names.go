package shopfile

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// What a name can stand for.
const (
	isPoint     = "point"
	isRun       = "run"
	isTool      = "tool"
	isLeak      = "leak"
	isBleed     = "bleed"
	isCollector = "collector"
	isCorridor  = "corridor"
)

// definition is what a name stands for and where that is said.
type definition struct {
	what string
	at   *node
}

// define enters a name. All kinds share one table, so that a state, a reading
// or a message can name a thing without saying what kind it is.
func (d *decoder) define(what string, n *node) {
	name := n.text
	if bad := badName(name); bad != "" {
		d.fault(n, "", "%s name %q: %s", what, name, bad)
	}
	if first, ok := d.named[name]; ok {
		if first.what == what {
			d.fault(n, "the first one stands in "+first.at.where(), "%s name %q is used twice", what, name)
			return
		}
		d.fault(n, fmt.Sprintf("the %s stands in %s; give each its own name", first.what, first.at.where()),
			"name %q is used twice: for a %s and for a %s", name, first.what, what)
		d.twice[name] = append(d.twice[name], what)
		return
	}
	d.named[name] = definition{what, n}
}

// badName says why a text cannot be a name. Brackets, commas and plus signs
// are for the makers of states and for readings.
func badName(name string) string {
	switch {
	case strings.TrimSpace(name) == "":
		return "is empty"
	case strings.TrimSpace(name) != name:
		return "starts or ends with a space"
	case strings.ContainsAny(name, "[],+"):
		return "must not hold brackets, commas or plus signs"
	case strings.IndexFunc(name, unicode.IsControl) >= 0:
		return "must not hold control characters"
	}
	return ""
}

// known lists the names of the given kinds in order.
func (d *decoder) known(kinds ...string) []string {
	var out []string
	for name, def := range d.named {
		if slices.Contains(kinds, def.what) {
			out = append(out, name)
		}
	}
	for name, whats := range d.twice {
		if slices.ContainsFunc(whats, func(what string) bool { return slices.Contains(kinds, what) }) && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// refer reports a name that does not stand for one of the kinds.
func (d *decoder) refer(n *node, name string, kinds ...string) bool {
	def, ok := d.named[name]
	if ok && slices.Contains(kinds, def.what) || slices.ContainsFunc(d.twice[name], func(what string) bool { return slices.Contains(kinds, what) }) {
		return true // a name used twice has been told
	}
	what := kinds[len(kinds)-1]
	if len(kinds) > 1 {
		what = strings.Join(kinds[:len(kinds)-1], ", ") + " or " + what
	}
	if ok {
		d.fault(n, "", "%q is a %s, not a %s", name, def.what, what)
		return false
	}
	known := d.known(kinds...)
	hint := didYouMean(name, known)
	d.fault(n, hint, "there is no %s named %q", what, name)
	return false
}

func (d *decoder) knownTool(n *node, name string) bool { return d.refer(n, name, isTool) }

func (d *decoder) knownOpening(n *node) bool { return d.refer(n, n.text, isTool, isBleed) }

func (d *decoder) knownCollector(n *node) bool { return d.refer(n, n.text, isCollector) }

func (d *decoder) toolNames() []string {
	var out []string
	for i := range d.file.Spec.Tools {
		out = append(out, d.file.Spec.Tools[i].ID)
	}
	return out
}

// point takes the name of a point and remembers points that have no
// coordinates.
func (d *decoder) point(n *node) string {
	name, ok := d.text(n)
	if !ok {
		return ""
	}
	if def, ok := d.named[name]; ok {
		if def.what != isPoint {
			d.fault(n, "give the point its own name", "%q is a %s, not a point", name, def.what)
		}
		return name
	}
	d.define(isPoint, n)
	d.bare = append(d.bare, name)
	return name
}

// member is one named part of a section.
type member struct{ name, value *node }

// members lists the parts of a section written as a mapping of names, or as a
// list of mappings with the key name.
func (d *decoder) members(n *node, what string) []member {
	if n == nil || n.refused {
		return nil
	}
	var out []member
	switch n.kind {
	case mapping:
		for _, e := range n.entries {
			if e.value.kind == empty && !e.value.refused {
				d.fault(e.key, "write its keys after the colon, or take the line out", "%s %q has no value", what, e.key.text)
				continue
			}
			out = append(out, member{e.key, e.value})
		}
	case sequence:
		for _, item := range d.items(n) {
			if name := item.child("name"); name != nil && name.kind == scalar {
				out = append(out, member{name, item})
			} else {
				d.fault(item, "", "%s without a name", what)
			}
		}
	default:
		d.fault(n, fmt.Sprintf("write one %s per line: its name, a colon, its keys in braces", what),
			"%s must be a set of names, not %s", n.label, n.kindName())
	}
	return out
}
