package shopfile

import "strings"

// struckMark stands before what was taken out of a file.
const struckMark = "# taken out: "

// strike turns those members of a section, or of a list or set within one, into
// comments that gone picks by name and value. Nodes lead from the root to the
// holder of the members; where none of its members is left the holder goes too,
// unless refilled says that others come. It reports whether members are left.
func (w *rewriter) strike(path []string, refilled bool, gone func(name string, value *node) bool) {
	holder := w.f.root
	for _, key := range path {
		holder = holder.child(key)
	}
	if holder == nil || holder.kind != mapping && holder.kind != sequence {
		return
	}
	members := membersOf(holder)
	var out []span
	left := 0
	for _, m := range members {
		if gone(m.name, m.value) {
			out = append(out, m)
		} else {
			left++
		}
	}
	switch {
	case len(out) == 0:
	case left == 0 && !refilled:
		last := len(path) - 1
		if path[last] == "at" { // points without places need no unit
			last--
		}
		w.strike(path[:last], false, func(name string, _ *node) bool { return name == path[last] })
	case holder.flow:
		w.strikeFlow(holder, members, gone)
	default:
		for _, m := range out {
			w.s.commentOut(w.s.markLine(m.startLine, m.startCol), m.endLine)
		}
	}
	w.left[holder] = left
}

// span is a member of a set or list with the text it covers.
type span struct {
	name                                 string
	value                                *node
	startLine, startCol, endLine, endCol int
}

// membersOf lists the keys of a set, or the items of a list by their name.
func membersOf(n *node) []span {
	var out []span
	for _, e := range n.entries {
		m := span{e.key.text, e.value, e.key.line, e.key.col, e.value.endLine, e.value.endCol}
		if m.endLine < m.startLine {
			m.endLine, m.endCol = m.startLine, m.startCol+len([]rune(e.key.text))
		}
		out = append(out, m)
	}
	for _, item := range n.items {
		name := item.text
		if c := item.child("name"); c != nil {
			name = c.text
		}
		out = append(out, span{name, item, item.line, item.col, item.endLine, item.endCol})
	}
	return out
}

// markLine is the line of a list's dash before a member, else the member's own.
func (s *splicer) markLine(line, col int) int {
	before := strings.TrimSpace(s.src[s.lineStart(line):s.offset(line, col)])
	for before == "" && line > 1 {
		up := strings.TrimSpace(s.src[s.lineStart(line-1):s.lineEnd(line-1)])
		if up != "-" && !strings.HasPrefix(up, "- #") {
			return line
		}
		line, before = line-1, up
	}
	return line
}

// commentOut turns whole lines into comments.
func (s *splicer) commentOut(first, last int) {
	for line := first; line <= last; line++ {
		at := s.lineStart(line)
		text := s.src[at:s.lineEnd(line)]
		if strings.TrimSpace(text) == "" {
			continue
		}
		at += len(text) - len(strings.TrimLeft(text, " "))
		if line == first {
			s.cut(at, at, struckMark)
		} else {
			s.cut(at, at, "# ")
		}
	}
}

// strikeFlow takes members out of brackets, and keeps their text above them.
func (w *rewriter) strikeFlow(holder *node, members []span, gone func(string, *node) bool) {
	s := w.s
	start := func(m span) int { return s.offset(m.startLine, m.startCol) }
	end := func(m span) int { return s.offset(m.endLine, m.endCol) }
	var notes []string
	for i := 0; i < len(members); i++ {
		if !gone(members[i].name, members[i].value) {
			continue
		}
		k := i
		for k+1 < len(members) && gone(members[k+1].name, members[k+1].value) {
			k++
		}
		from, to := start(members[i]), end(members[k])
		notes = append(notes, struckMark+strings.Join(strings.Fields(uncommented(s.src[from:to])), " "))
		switch {
		case k+1 < len(members):
			to = start(members[k+1])
		case i > 0:
			from = end(members[i-1])
		default: // all of them, and a comma behind the last
			to = s.offset(holder.endLine, holder.endCol) - 1
		}
		notes = append(notes, s.comments(from, to)...)
		s.cut(from, to, "")
		i = k
	}
	first := s.src[s.lineStart(holder.line):]
	indent := first[:len(first)-len(strings.TrimLeft(first, " "))]
	for i := range notes {
		notes[i] = indent + notes[i]
	}
	s.insertLines(holder.line, notes...)
}

// uncommented is a text without its comments.
func uncommented(text string) string {
	var out []string
	for line := range strings.SplitSeq(text, "\n") {
		if i := commentStart(line); i >= 0 {
			line = line[:i]
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

// setKey gives a key of a set a new value, and adds the key where it is missing.
func (w *rewriter) setKey(holder *node, key, value string) {
	s := w.s
	if n := holder.child(key); n != nil && n.kind != empty {
		s.cut(s.offset(n.line, n.col), s.offset(n.endLine, n.endCol), value)
		return
	}
	text := key + ": " + value
	if !holder.flow {
		s.insertLines(holder.endLine+1, strings.Repeat(" ", holder.col-1)+text)
		return
	}
	s.insertFlow(holder, text, len(holder.entries) == 0)
}

// insertFlow puts members at the end of brackets, which are empty where first
// says so.
func (s *splicer) insertFlow(holder *node, text string, first bool) {
	at := s.offset(holder.endLine, holder.endCol) - 1
	switch {
	case first:
	case strings.HasSuffix(strings.TrimRight(s.src[:at], " \r\n"), ","):
		text = " " + text
	default:
		text = ", " + text
	}
	s.cut(at, at, text)
}
