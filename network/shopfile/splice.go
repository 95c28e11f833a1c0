package shopfile

import (
	"errors"
	"slices"
	"strings"
	"unicode/utf8"
)

// splice replaces the bytes from start to end of the source.
type splice struct {
	start, end int
	text       string
}

// splicer collects replacements in the source of a file.
type splicer struct {
	src    string
	eol    string
	starts []int // byte offset of each line
	cuts   []splice
}

func newSplicer(src []byte) *splicer {
	s := &splicer{src: string(src), eol: "\n"}
	if strings.Contains(s.src, "\r\n") {
		s.eol = "\r\n"
	}
	first := 0
	if strings.HasPrefix(s.src, "\ufeff") {
		first = len("\ufeff")
	}
	s.starts = []int{first}
	for i := first; i < len(s.src); i++ {
		if s.src[i] == '\n' {
			s.starts = append(s.starts, i+1)
		}
	}
	return s
}

// offset turns line and column (in characters) into a byte offset.
func (s *splicer) offset(line, column int) int {
	at := s.starts[line-1]
	for ; column > 1 && at < len(s.src); column-- {
		_, size := utf8.DecodeRuneInString(s.src[at:])
		at += size
	}
	return at
}

// lineStart and lineEnd bound a line; the end is behind its line break.
func (s *splicer) lineStart(line int) int { return s.starts[line-1] }

func (s *splicer) lineEnd(line int) int {
	if line < len(s.starts) {
		return s.starts[line]
	}
	return len(s.src)
}

// cut replaces a stretch of the source. Line breaks in the text become those
// of the file.
func (s *splicer) cut(start, end int, text string) {
	s.cuts = append(s.cuts, splice{start, end, strings.ReplaceAll(text, "\n", s.eol)})
}

// insertLines puts whole lines in front of a line; behind the last line of the
// file when there is no such line.
func (s *splicer) insertLines(line int, lines ...string) {
	if len(lines) == 0 {
		return
	}
	at, text := len(s.src), strings.Join(lines, "\n")+"\n"
	if line <= len(s.starts) {
		at = s.lineStart(line)
	} else if !strings.HasSuffix(s.src, "\n") {
		text = "\n" + text
	}
	s.cut(at, at, text)
}

// errOverlap says that two edits change the same text.
var errOverlap = errors.New("shopfile: two edits change the same part of the file")

// result applies the replacements.
func (s *splicer) result() ([]byte, error) {
	slices.SortStableFunc(s.cuts, func(a, b splice) int {
		if a.start != b.start {
			return a.start - b.start
		}
		return a.end - b.end
	})
	var b strings.Builder
	at := 0
	for _, c := range s.cuts {
		if c.start < at {
			return nil, errOverlap
		}
		b.WriteString(s.src[at:c.start])
		b.WriteString(c.text)
		at = c.end
	}
	b.WriteString(s.src[at:])
	return []byte(b.String()), nil
}

// comments returns the comments in a stretch of the source, each with its #.
func (s *splicer) comments(start, end int) []string {
	var out []string
	for line := range strings.SplitSeq(s.src[start:end], "\n") {
		if i := commentStart(line); i >= 0 {
			out = append(out, strings.TrimRight(line[i:], " \t\r"))
		}
	}
	return out
}

// commentStart finds the # that starts a comment: at the start or behind a
// space, outside quotes. A quote opens only where a value may start.
func commentStart(line string) int {
	quote, fresh := rune(0), true
	for i, r := range line {
		switch {
		case quote != 0:
			if r == quote {
				quote = 0
			}
			continue
		case (r == '"' || r == '\'') && fresh:
			quote = r
		case r == '#' && (i == 0 || line[i-1] == ' ' || line[i-1] == '\t'):
			return i
		}
		if r != ' ' {
			fresh = strings.ContainsRune(",[{:-", r)
		}
	}
	return -1
}

// remap drops keys of a mapping and adds entries at the place of the first one
// dropped, or at its end. Comments among what goes are kept above it.
func (s *splicer) remap(n *node, drop []string, add []string) {
	if n.flow {
		s.remapFlow(n, drop, add)
		return
	}
	indent := strings.Repeat(" ", n.col-1)
	done := false
	for _, e := range n.entries {
		if !slices.Contains(drop, e.key.text) {
			continue
		}
		start, end := s.offset(e.key.line, e.key.col), s.offset(e.value.endLine, e.value.endCol)
		var lines []string
		if !done {
			lines, done = add, true
		}
		before := s.src[s.lineStart(e.key.line):start]
		if strings.TrimSpace(before) != "" {
			// The key stands behind the dash of a list.
			s.cut(start, end, strings.Join(lines, "\n"+indent))
			continue
		}
		last := s.lineEnd(e.value.endLine)
		lines = append(s.comments(start, last), lines...)
		text := ""
		for _, l := range lines {
			text += indent + l + "\n"
		}
		s.cut(s.lineStart(e.key.line), last, text)
	}
	if !done && len(add) > 0 {
		lines := slices.Clone(add)
		for i := range lines {
			lines[i] = indent + lines[i]
		}
		s.insertLines(n.endLine+1, lines...)
	}
}

// remapFlow does the same in braces.
func (s *splicer) remapFlow(n *node, drop []string, add []string) {
	var parts []string
	done := false
	for _, e := range n.entries {
		if !slices.Contains(drop, e.key.text) {
			parts = append(parts, s.src[s.offset(e.key.line, e.key.col):s.offset(e.value.endLine, e.value.endCol)])
			continue
		}
		if !done {
			parts, done = append(parts, add...), true
		}
	}
	if !done {
		parts = append(parts, add...)
	}
	start, end := s.offset(n.line, n.col), s.offset(n.endLine, n.endCol)
	if kept := s.comments(start, end); len(kept) > 0 {
		first := s.src[s.lineStart(n.line):]
		indent := first[:len(first)-len(strings.TrimLeft(first, " "))]
		for i := range kept {
			kept[i] = indent + kept[i]
		}
		s.insertLines(n.line, kept...)
	}
	s.cut(start, end, "{"+strings.Join(parts, ", ")+"}")
}
