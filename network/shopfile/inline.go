package shopfile

import (
	"fmt"
	"strings"
)

// inlined is a table that the shop file names, with what it stands for.
type inlined struct {
	at, value *node
	flow      bool // its name stands within braces
}

// inline is the file with the tables that it names written into its text, each
// in the place of its name: so a redesign can change them, and no table of the
// user's is written over. A file without tables is returned as it is.
func (f *File) inline() (*File, error) {
	if f.whole != nil {
		f = f.whole
	}
	if len(f.tables) == 0 {
		return f, nil
	}
	s := newSplicer(f.src)
	for _, t := range f.tables {
		start, end := s.offset(t.at.line, t.at.col), s.offset(t.at.endLine, t.at.endCol)
		if t.flow {
			s.cut(start, end, flowText(t.value))
			continue
		}
		s.cut(start, end, "# from "+printable(t.at.text))
		indent := "  "
		if before := s.src[s.lineStart(t.at.line):start]; strings.HasPrefix(before, " ") {
			indent += before[:len(before)-len(strings.TrimLeft(before, " "))]
		}
		var lines []string
		for _, e := range t.value.entries {
			line := indent + quoted(e.key.text) + ": " + flowText(e.value)
			if e.value.note != "" {
				line += "  # " + printable(e.value.note)
			}
			lines = append(lines, line)
		}
		s.insertLines(t.at.endLine+1, lines...)
	}
	text, err := s.result()
	if err != nil {
		return nil, err
	}
	g, err := Decode(f.name, text, f.catalog)
	if err != nil {
		return nil, fmt.Errorf("%w: the tables in the text of the file: %w", ErrRewrite, err)
	}
	want, err := f.mean(&Edits{})
	if err != nil {
		return nil, err
	}
	if err := f.verify(text, want); err != nil {
		return nil, err
	}
	return g, nil
}

// flowText writes a value as it stands in braces and brackets.
func flowText(n *node) string {
	var parts []string
	switch n.kind {
	case mapping:
		for _, e := range n.entries {
			parts = append(parts, quoted(e.key.text)+": "+flowText(e.value))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case sequence:
		for _, item := range n.items {
			parts = append(parts, flowText(item))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return quoted(n.text)
}
