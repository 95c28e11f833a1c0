package parts

import (
	"strings"
	"unicode/utf8"
)

// grid is a table in Markdown; the first left columns are flush left, the
// others flush right.
type grid struct {
	head []string
	rows [][]string
	left int
}

// write pads the cells, so that the table reads well as plain text too, and
// ends with an empty line. A table without rows is not written.
func (g *grid) write(s *strings.Builder) {
	if len(g.rows) == 0 {
		return
	}
	width := make([]int, len(g.head))
	for _, row := range append([][]string{g.head}, g.rows...) {
		for k := range row {
			row[k] = strings.ReplaceAll(row[k], "|", `\|`) // a name may have one
			width[k] = max(width[k], utf8.RuneCountInString(row[k]))
		}
	}
	line := func(row []string) {
		for k, c := range row {
			pad := strings.Repeat(" ", width[k]-utf8.RuneCountInString(c))
			if k < g.left {
				s.WriteString("| " + c + pad + " ")
			} else {
				s.WriteString("| " + pad + c + " ")
			}
		}
		s.WriteString("|\n")
	}
	line(g.head)
	for k, n := range width {
		rule := strings.Repeat("-", n+1)
		if k < g.left {
			s.WriteString("|:" + rule)
		} else {
			s.WriteString("|" + rule + ":")
		}
	}
	s.WriteString("|\n")
	for _, row := range g.rows {
		line(row)
	}
	s.WriteString("\n")
}
