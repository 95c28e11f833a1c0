package cli

import (
	"encoding/csv"
	"fmt"
	"html/template"
	"io"
	"strings"
)

// sheetNotes say how to read, and what to mind.
func sheetNotes(m *meter) []string {
	return []string{
		"How to read: probe on the centre line, pointing into the air; hold until it is steady. Holes of 8 mm, in the pipe, never in hose. " +
			"Expected is what the model of the file shows, with the loaded filter: mean speed over 0.87 on the centre line; the range takes 0.87 ± 0.05 and 10 % for the reading, " +
			"of suction 4 %. It is there to notice a slip, not to be met. Short: less than 7.5 diameters of straight pipe behind the last fitting. " +
			"Meter: " + m.least + " to " + m.most + "; what is over or under its range is written as > or <, never left blank. Read the first place once more at the end.",
		"Mind: lock the fan off before drilling, and start it only with tools and hands out of the duct. Wood dust harms lungs and can burn or explode: no sparks in a duct with dust, wear a mask. " +
			"Ladders: on firm ground, with a helper. Plug every hole. This is a planning aid for airflow, not proof of clean air.",
	}
}

// sheetFoot are the blanks at the foot.
var sheetFoot = []string{"date", "read by", "instrument", "filter gauge, start", "filter gauge, end"}

// markdown writes the form as Markdown.
func (f *sheetForm) markdown(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# Measuring sheet: %s\n", f.Shop)
	for _, s := range f.Blocks {
		fmt.Fprintf(&b, "\n## %s\n\n", s.Title)
		if s.Mind != "" {
			fmt.Fprintf(&b, "**%s**\n\n", s.Mind)
		}
		b.WriteString("| place | where to drill | duct | quantity | expected | mind | read |\n|---|---|---|---|---|---|---|\n")
		for _, r := range s.Rows {
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s | |\n", cell(r.Place), cell(r.Drill), r.Diameter, r.Quantity, r.Expected, cell(r.Mark))
		}
	}
	fmt.Fprintf(&b, "\n| %s |\n|%s\n|%s\n", strings.Join(sheetFoot, " | "), strings.Repeat("---|", len(sheetFoot)), strings.Repeat(" |", len(sheetFoot)))
	for _, n := range f.Notes {
		fmt.Fprintf(&b, "\n%s\n", n)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// csv writes the form as a table of readings without values.
func (f *sheetForm) csv(w io.Writer) error {
	if _, err := io.WriteString(w, "# Fill in the values with their units, as 12.4 m/s or >30 m/s, and take out the lines that were not read.\n"); err != nil {
		return err
	}
	c := csv.NewWriter(w)
	rows := [][]string{{"state", "place", "quantity", "value", "method", "instrument", "collector", "note"}}
	for _, s := range f.Blocks {
		for _, r := range s.Rows {
			method := ""
			if r.Quantity == "velocity" {
				method = "centre"
			}
			rows = append(rows, []string{s.State, r.Place, r.Quantity, "", method, "", r.Collector, r.Drill})
		}
	}
	return c.WriteAll(rows)
}

// sheetHTML is the form as one page, to print on A4 or Letter: it asks for
// nothing from outside.
var sheetHTML = template.Must(template.New("sheet").Funcs(template.FuncMap{"foot": func() []string { return sheetFoot }}).Parse(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Measuring sheet: {{.Shop}}</title>
<style>
@page { margin: 10mm; }
body { font: 8.5pt/1.2 sans-serif; color: #000; background: #fff; max-width: 195mm; margin: 0 auto; }
h1 { font-size: 13pt; margin: 0 0 1mm; }
p { margin: 1mm 0; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; }
th, td { border: .25mm solid #555; padding: .4mm 1mm; text-align: left; vertical-align: top; overflow-wrap: anywhere; }
th { font-weight: normal; background: #eee; }
tr, tbody { break-inside: avoid; }
.foot { margin-top: 2mm; }
.blank td { height: 7mm; }
.state { border-top-width: .6mm; background: #f6f6f6; }
</style>
</head>
<body>
<h1>Measuring sheet: {{.Shop}}</h1>
<table>
<colgroup><col style="width:15%"><col style="width:16%"><col style="width:8%"><col style="width:8%"><col style="width:19%"><col style="width:20%"><col style="width:14%"></colgroup>
<thead><tr><th>place</th><th>where to drill</th><th>duct</th><th>quantity</th><th>expected</th><th>mind</th><th>read</th></tr></thead>
{{range .Blocks}}<tbody>
<tr><td class="state" colspan="7"><b>{{.Title}}</b>{{with .Mind}}<br>{{.}}{{end}}</td></tr>
{{range .Rows}}<tr><td>{{.Place}}</td><td>{{.Drill}}</td><td>{{.Diameter}}</td><td>{{.Quantity}}</td><td>{{.Expected}}</td><td>{{.Mark}}</td><td></td></tr>
{{end}}</tbody>
{{end}}</table>
<table class="foot">
<thead><tr>{{range foot}}<th>{{.}}</th>{{end}}</tr></thead>
<tbody><tr class="blank">{{range foot}}<td></td>{{end}}</tr></tbody>
</table>
{{range .Notes}}<p>{{.}}</p>
{{end}}</body>
</html>
`))
