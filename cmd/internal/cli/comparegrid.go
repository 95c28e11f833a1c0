package cli

import (
	"fmt"
	"io"
	"strings"

	"wyewright/cmd/internal/ui"
)

// grid is a table that can be printed and written as Markdown.
type grid struct {
	title string
	cols  []ui.Column
	rows  [][]string
	// note explains marks, "" for none.
	note string
}

// write prints the table.
func (g *grid) write(w io.Writer) error {
	t := ui.NewTable(g.cols...)
	for _, row := range g.rows {
		t.Row(row...)
	}
	fmt.Fprintf(w, "\n%s\n", g.title)
	_, err := t.WriteTo(w)
	if err == nil && g.note != "" {
		_, err = fmt.Fprintf(w, "  %s\n", g.note)
	}
	return err
}

// markdown writes the table as Markdown.
func (g *grid) markdown(w io.Writer) error {
	var head, rule []string
	for _, c := range g.cols {
		text := c.Head
		if c.Unit != "" {
			text += ", " + c.Unit
		}
		head = append(head, cell(text))
		rule = append(rule, map[bool]string{true: "---:", false: "---"}[c.Number])
	}
	lines := []string{"\n## " + g.title + "\n", "| " + strings.Join(head, " | ") + " |", "|" + strings.Join(rule, "|") + "|"}
	for _, row := range g.rows {
		var cells []string
		for i := range g.cols {
			text := ""
			if i < len(row) {
				text = cell(strings.TrimSpace(row[i]))
			}
			cells = append(cells, text)
		}
		lines = append(lines, "| "+strings.Join(cells, " | ")+" |")
	}
	if g.note != "" {
		lines = append(lines, "", g.note)
	}
	_, err := io.WriteString(w, strings.Join(lines, "\n")+"\n")
	return err
}

// widestName is the width of the name of an option in a table.
const widestName = 24

// short is a name cut to the width of a table.
func short(name string) string {
	if r := []rune(name); len(r) > widestName {
		return strings.TrimSpace(string(r[:widestName-1])) + "…"
	}
	return name
}

// head is the title of an option above a column.
func (r *rival) head() string { return r.letter + " " + short(r.name) }
