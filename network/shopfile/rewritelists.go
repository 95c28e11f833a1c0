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
	mark := ""
	if sec := w.f.root.child("leaks"); sec != nil && sec.kind == sequence {
		mark = "- "
	}
	var more []string
	for _, l := range ls {
		keys := []string{"at: " + quoted(l.At), "area: " + areaText(l.Area), "seal: yes"}
		if mark == "" {
			more = append(more, quoted(l.ID)+": {"+strings.Join(keys, ", ")+"}")
		} else {
			more = append(more, "{name: "+quoted(l.ID)+", "+strings.Join(keys, ", ")+"}")
		}
	}
	w.append("leaks", mark, more)
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
		at := w.s.offset(sec.endLine, sec.endCol) - 1
		text := strings.Join(more, ", ")
		if len(sec.items)+len(sec.entries) > 0 {
			text = ", " + text
		}
		w.s.cut(at, at, text)
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
