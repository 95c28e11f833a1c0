package shopfile

import (
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/units"
)

// bleeds writes the inlets that were built.
func (w *rewriter) bleeds(bs []network.Bleed) {
	if len(bs) == 0 {
		return
	}
	sec := w.f.root.child("bleeds")
	var more []string
	taken := map[*node]bool{}
	for _, b := range bs {
		text := bleedText(b)
		place := slices.IndexFunc(itemsOf(sec), func(n *node) bool { return n.kind == scalar && n.text == b.At && !taken[n] })
		if place < 0 {
			more = append(more, text)
			continue
		}
		n := sec.items[place]
		taken[n] = true
		w.s.cut(w.s.offset(n.line, n.col), w.s.offset(n.endLine, n.endCol), text)
	}
	w.append("bleeds", "- ", more)
}

// openings writes leaks that were found.
func (w *rewriter) openings(ls []network.Leak) {
	var more []newPart
	for _, l := range ls {
		more = append(more, newPart{l.ID, []string{"at: " + quoted(l.At), "area: " + areaText(l.Area), "seal: yes"}})
	}
	w.appendParts("leaks", more)
}

// newPart is a part with a name that joins a section.
type newPart struct {
	name string
	keys []string
}

// appendParts puts parts at the end of a section, in the form the section has.
func (w *rewriter) appendParts(section string, parts []newPart) {
	sec := w.f.root.child(section)
	mark := ""
	var more []string
	for _, p := range parts {
		if sec != nil && sec.kind == sequence {
			mark = "- "
			more = append(more, "{name: "+quoted(p.name)+", "+strings.Join(p.keys, ", ")+"}")
		} else {
			more = append(more, quoted(p.name)+": {"+strings.Join(p.keys, ", ")+"}")
		}
	}
	w.append(section, mark, more)
}

// append puts members at the end of a section, which is made where there is
// none; mark goes before each where the section is a block.
func (w *rewriter) append(section, mark string, more []string) {
	sec := w.f.root.child(section)
	switch {
	case len(more) == 0:
	case sec == nil || sec.kind != sequence && sec.kind != mapping:
		lines := []string{section + ":"}
		for _, t := range more {
			lines = append(lines, "  "+mark+t)
		}
		w.s.insertLines(w.key("states").line, append(lines, "")...)
	case sec.flow:
		left, struck := w.left[sec]
		w.s.insertFlow(sec, strings.Join(more, ", "), struck && left == 0 || len(sec.items)+len(sec.entries) == 0)
	default:
		indent := strings.Repeat(" ", sec.col-1)
		for i := range more {
			more[i] = indent + mark + more[i]
		}
		w.s.insertLines(sec.endLine+1, more...)
	}
}

// writeFitted writes what was fitted in the place of what was fitted before.
func (w *rewriter) writeFitted() {
	lines := fittedLines(&w.fitted)
	value := w.f.root.child("fitted")
	if value == nil {
		if len(lines) > 0 {
			w.s.insertLines(w.key("states").line, append(lines, "")...)
		}
		return
	}
	key := w.key("fitted")
	start, end := w.s.offset(key.line, key.col), w.s.offset(value.endLine, value.endCol)
	w.s.insertLines(key.line, w.s.comments(start, end)...)
	w.s.cut(start, end, strings.Join(lines, "\n"))
}

func itemsOf(n *node) []*node {
	if n == nil {
		return nil
	}
	return n.items
}

func bleedText(b network.Bleed) string {
	parts := []string{"name: " + quoted(b.ID), "at: " + quoted(b.At)}
	if d, err := units.ParseLength(b.Size); err == nil && near(float64(d), float64(b.Diameter)) {
		parts = append(parts, "size: "+quoted(b.Size))
	} else {
		parts = append(parts, "diameter: "+decimal(float64(b.Diameter)/1e-3)+" mm")
	}
	parts = append(parts, "k: "+decimal(b.K), "leak: "+areaText(b.Leak))
	return "{" + strings.Join(parts, ", ") + "}"
}
