package shopfile

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/network"
)

// maxStates bounds the expansion of a maker such as "any 6 of [...]".
const maxStates = 1000

// numerals are the numbers a maker may spell out.
var numerals = []string{"one", "two", "three", "four", "five", "six"}

const makerHint = `makers: each alone · any two of [a, b, c] · at most 3 of [a, b, c]; or {name: class, running: [a, b]}`

// placedState is a state with the place of its definition.
type placedState struct {
	network.State
	at *node
}

// states reads the section of that name: a list of makers in words, and of
// states {name, running, open, collector, off, open gates, shut gates, filter}.
// What runs is bound by the rules of flow and dust; what is open stands open
// beside it; collectors that are off have their inlet shut; gates in runs may be
// set, else they follow what is open upstream. A state that runs nothing needs a
// name: it shows what leaks.
func (d *decoder) states(n *node) {
	var all []placedState
	for _, item := range d.items(n) {
		switch item.kind {
		case scalar:
			all = append(all, d.maker(item)...)
		case mapping:
			all = append(all, d.stateMapping(item)...)
		default:
			d.fault(item, makerHint, "a state must be a maker or a set of keys, not a list")
		}
		if len(all) > maxStates {
			d.fault(item, "name the states that matter one by one", "more than %d states", maxStates)
			break
		}
	}
	d.mergeStates(all)
}

// maker expands a maker in words.
func (d *decoder) maker(n *node) []placedState {
	s := strings.Join(strings.Fields(n.text), " ")
	if s == "each alone" {
		return d.expand(n, d.toolNames(), 1, 1)
	}
	head, rest, found := strings.Cut(s, " of ")
	least, most, ok := makerCount(head)
	rest = strings.TrimSpace(rest)
	if !found || !ok || !strings.HasPrefix(rest, "[") || !strings.HasSuffix(rest, "]") {
		d.fault(n, makerHint, "state %q is not a maker", n.text)
		return nil
	}
	var members []string
	for name := range strings.SplitSeq(rest[1:len(rest)-1], ",") {
		if name = strings.TrimSpace(name); d.knownTool(n, name) {
			members = append(members, name)
		}
	}
	return d.expandOf(n, members, least, most)
}

// makerCount reads "each", "any two", "any 2" or "at most 3".
func makerCount(head string) (least, most int, ok bool) {
	words := strings.Fields(head)
	switch {
	case len(words) == 1 && words[0] == "each":
		return 1, 1, true
	case len(words) == 2 && words[0] == "any":
		least = 0
	case len(words) == 3 && words[0] == "at" && words[1] == "most":
		least = 1
	default:
		return 0, 0, false
	}
	last := words[len(words)-1]
	most = slices.Index(numerals, last) + 1
	if most == 0 {
		if len(last) != 1 || last[0] < '1' || last[0] > '9' {
			return 0, 0, false
		}
		most = int(last[0] - '0')
	}
	if least == 0 {
		least = most
	}
	return least, most, true
}

// expandOf checks the members of a maker and expands it.
func (d *decoder) expandOf(n *node, members []string, least, most int) []placedState {
	for i, name := range members {
		if slices.Contains(members[:i], name) {
			d.fault(n, "", "tool %q stands twice in the list", name)
			return nil
		}
	}
	if len(members) < least {
		d.fault(n, "", "the maker needs %d tools and names %d", least, len(members))
		return nil
	}
	return d.expand(n, members, least, min(most, len(members)))
}

// expand lists every set of least to most members, small sets first, each in
// the order of the members.
func (d *decoder) expand(n *node, members []string, least, most int) []placedState {
	var out []placedState
	var pick func(start int, chosen []string, left int)
	pick = func(start int, chosen []string, left int) {
		if len(out) > maxStates {
			return
		}
		if left == 0 {
			running := slices.Clone(chosen)
			out = append(out, placedState{network.State{Name: strings.Join(running, " + "), Running: running}, n})
			return
		}
		for i := start; i+left <= len(members); i++ {
			pick(i+1, append(chosen, members[i]), left-1)
		}
	}
	for size := least; size <= most; size++ {
		pick(0, nil, size)
	}
	return out
}

// stateMapping reads a state, or a maker, written with keys.
func (d *decoder) stateMapping(n *node) []placedState {
	if m, ok := mapMaker(n); ok {
		return d.maker(m)
	}
	for _, key := range []string{"any", "at most"} {
		if n.child(key) != nil {
			return d.makerMapping(n, key)
		}
	}
	f := d.fields(n, "name", "running", "open", "collector", "off", "open gates", "shut gates", "filter")
	if f == nil {
		return nil
	}
	s := placedState{at: n}
	running := f.need("running", "name the tools that run: running: [a, b]")
	for _, t := range d.names(running) {
		if d.knownTool(t, t.text) {
			s.Running = append(s.Running, t.text)
		}
	}
	if running != nil && running.kind == sequence && len(running.items) == 0 && f.at("name") == nil {
		d.fault(running, "name at least one tool, or give the state a name: name: all shut", "the state runs no tool")
		return nil
	}
	for _, t := range d.names(f.at("open")) {
		if d.knownOpening(t) {
			s.Open = append(s.Open, t.text)
		}
	}
	for _, c := range d.names(f.at("off")) {
		if d.knownCollector(c) {
			s.Off = append(s.Off, c.text)
		}
	}
	s.OpenGates, s.ShutGates = d.gatedRuns(f.at("open gates")), d.gatedRuns(f.at("shut gates"))
	for _, name := range s.OpenGates {
		if slices.Contains(s.ShutGates, name) {
			d.fault(f.at("shut gates"), "", "the gate in %q is both open and shut", name)
		}
	}
	d.stateOnce(f, s)
	s.Name = strings.Join(s.Running, " + ")
	if v, ok := d.text(f.at("name")); ok {
		s.Name = v
	}
	if c := f.at("collector"); c != nil && d.knownCollector(c) {
		s.Collector = c.text
	}
	if w, ok := d.word(f.at("filter"), "loaded", "clean"); ok && w == "clean" {
		s.Filter = network.Clean
	}
	return []placedState{s}
}

// gatedRuns reads names of runs that have a gate.
func (d *decoder) gatedRuns(n *node) []string {
	var out []string
	for _, t := range d.names(n) {
		i := slices.IndexFunc(d.file.Spec.Runs, func(r network.Run) bool { return r.ID == t.text })
		switch {
		case i < 0:
			d.refer(t, t.text, isRun)
		case d.file.Spec.Runs[i].Gate == nil:
			d.fault(t, "gates of tools follow the tools; a gate in a run is written: gate: {open: 0.2, leak: 0 cm2}", "run %q has no gate", t.text)
		default:
			out = append(out, t.text)
		}
	}
	return out
}

// mapMaker undoes what YAML makes of a maker in a list in brackets.
func mapMaker(n *node) (*node, bool) {
	if len(n.entries) != 1 || n.entries[0].value.kind != sequence {
		return nil, false
	}
	key := n.entries[0].key
	if !strings.HasSuffix(key.text, " of") {
		return nil, false
	}
	m := *key
	m.text = key.text + " [" + strings.Join(texts(n.entries[0].value.items), ", ") + "]"
	return &m, true
}

// makerMapping reads {any: 2, of: [a, b, c]} or {at most: 3, of: [...]}.
func (d *decoder) makerMapping(n *node, key string) []placedState {
	f := d.fields(n, key, "of")
	count, ok := d.text(f.at(key))
	if !ok {
		return nil
	}
	least, most, ok := makerCount(key + " " + count)
	if !ok {
		d.fault(f.at(key), "a number from 1 to 9", "%s %q: not a number of tools", key, count)
		return nil
	}
	var members []string
	for _, t := range d.names(f.need("of", "name the tools: of: [a, b, c]")) {
		if d.knownTool(t, t.text) {
			members = append(members, t.text)
		}
	}
	return d.expandOf(n, members, least, most)
}

// stateOnce reports a tool that stands twice in one state.
func (d *decoder) stateOnce(f *fields, s placedState) {
	seen := map[string]bool{}
	for _, list := range []string{"running", "open"} {
		n := f.at(list)
		if n == nil || n.kind != sequence {
			continue
		}
		for _, item := range n.items {
			if item.kind == scalar && seen[item.text] {
				d.fault(item, "", "%q stands twice in the state", item.text)
			}
			seen[item.text] = true
		}
	}
}

// mergeStates keeps the first of states that are the same and of one name.
func (d *decoder) mergeStates(all []placedState) {
	byContent, byName := map[string]string{}, map[string]*node{}
	for _, s := range all {
		key := stateKey(s.State)
		if first, ok := byContent[key]; ok {
			d.warn(s.at, "", "state %q is the same as %q: counted once", s.Name, first)
			continue
		}
		if first, ok := byName[s.Name]; ok {
			d.fault(s.at, fmt.Sprintf("the first one stands in line %d", first.line), "state name %q is used twice", s.Name)
			continue
		}
		byContent[key], byName[s.Name] = s.Name, s.at
		d.file.States = append(d.file.States, s.State)
	}
}

// stateKey is the content of a state without its name.
func stateKey(s network.State) string {
	running, open := slices.Sorted(slices.Values(s.Running)), slices.Sorted(slices.Values(s.Open))
	return fmt.Sprintf("%q|%q|%q|%q|%q|%q|%d", running, open, s.Collector, s.Off, s.OpenGates, s.ShutGates, s.Filter)
}
