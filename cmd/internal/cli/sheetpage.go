package cli

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strings"

	"wyewright/network/calibrate"
	"wyewright/network/units"
)

// sheetBlanks are the blanks of the head.
var sheetBlanks = []string{"date", "read by", "meter", "filter: cleaned when", "filter gauge, start", "filter gauge, end", "motor plate, A"}

// sheetCautions are what to mind with drill and ladder.
var sheetCautions = []string{
	"Lock the fan off before you drill, and start it only with tools and hands out of the duct.",
	"Deburr each hole and pick up the chips: metal chips do not belong in the bag.",
	"Tape every hole over afterwards.",
	"Stand the ladder on firm ground, with a helper.",
	"Wood dust harms lungs and can burn or explode: wear a mask, no sparks near dust.",
	"This is a planning aid for airflow, not proof of clean air.",
}

// sheetNotes say how to read and what the numbers mean.
func sheetNotes(sys units.System) []string {
	const factor, doubt = calibrate.CentreFactor, calibrate.CentreDoubt
	share := func(q calibrate.Quantity) float64 {
		const large = 1e6 // far above what a meter cannot tell from nothing
		return math.Round(100 * (&calibrate.Reading{Quantity: q, Centre: q == calibrate.Velocity, Value: large}).Sigma() / large)
	}
	drill := "8 mm"
	if sys == units.US {
		drill = "5/16 in"
	}
	return []string{
		"Drill " + drill + ", in pipe, never in hose. Probe on the centre line, pointing into the air, until it is steady; or read a traverse at the depths given, on two diameters at right angles, and write down every point: 12.1; 12.9; 13.4 m/s.",
		fmt.Sprintf("Expected: what the model of the file shows with the loaded filter, mean speed over %g on the centre line. In brackets two standard deviations of a reading: of the factor %g, of a speed %g %%, of suction %g %%. It is there to notice a slip, not to be met.",
			factor, doubt, share(calibrate.Velocity), share(calibrate.Suction)),
		fmt.Sprintf("Straight: pipe behind the hole and before the next fitting, in diameters; %g and %g are wanted. What is over or under the range of the meter is written as > or <, never left blank. Read the first place once more at the end.", wantedBehind, wantedBefore),
	}
}

// Short says what did not go onto the page, a sentence each.
func (f *sheetForm) Short() []string {
	var out []string
	if len(f.Undrawn) > 0 {
		out = append(out, "Not to be drilled, its narrowest part is hose: "+strings.Join(f.Undrawn, ", ")+". To read there, set in a straight pipe of that width.")
	}
	if f.LeftOut > 0 {
		out = append(out, "Left out for room: "+count(f.LeftOut, "less useful reading")+". A form for a single state, --state, holds its own.")
	}
	return out
}

// markdown writes the form as Markdown.
func (f *sheetForm) markdown(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# Measuring sheet: %s\n\n", f.Shop)
	fmt.Fprintf(&b, "| %s |\n|%s\n|%s\n\n", strings.Join(sheetBlanks, " | "), strings.Repeat("---|", len(sheetBlanks)), strings.Repeat(" |", len(sheetBlanks)))
	fmt.Fprintf(&b, "**Mind:** %s\n\n## Where to drill\n\n", strings.Join(f.Cautions, " "))
	fmt.Fprintf(&b, "| hole | place | duct | drill | straight, diameters | traverse depths, %s |\n|---|---|---|---|---|---|\n", f.Depth)
	for _, h := range f.Holes {
		fmt.Fprintf(&b, "| %d | %s | %s | %s | %s | %s |\n", h.Number, cell(h.Place), h.Diameter, cell(h.Drill), joined("; ", h.Straight, h.Mark), h.Depths)
	}
	for _, s := range f.Short() {
		fmt.Fprintf(&b, "\n%s\n", s)
	}
	fmt.Fprintf(&b, "\n## What to read (meter %s)\n", f.Meter)
	for _, s := range f.Blocks {
		fmt.Fprintf(&b, "\n### %s\n\n%s\n\n", s.Title, joined(" ", s.Set, bold(s.Mind), "Motor current: ______ A"))
		b.WriteString("| hole | place | expected | mind | read |\n|---|---|---|---|---|\n")
		for _, r := range s.Rows {
			fmt.Fprintf(&b, "| %d | %s | %s | %s | |\n", r.Hole, cell(r.Name()), r.Expected, cell(r.Mark))
		}
	}
	for _, n := range f.Notes {
		fmt.Fprintf(&b, "\n%s\n", n)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Name is what the form calls the place of a reading.
func (r *sheetRow) Name() string {
	if r.Quantity == "suction" {
		return "suction, " + r.Collector
	}
	return r.Place
}

// joined joins the texts that say something.
func joined(by string, texts ...string) string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return strings.Join(out, by)
}

func bold(s string) string {
	if s == "" {
		return ""
	}
	return "**" + s + "**"
}

// csv writes the form as a table of readings without values.
func (f *sheetForm) csv(w io.Writer) error {
	if _, err := io.WriteString(w, "# Fill in the values with their units, as 12.4 m/s or >30 m/s, and take out the lines that were not read.\n"); err != nil {
		return err
	}
	c := csv.NewWriter(w)
	rows := [][]string{{"state", "place", "quantity", "value", "method", "instrument", "collector", "distance", "date", "note"}}
	for _, s := range f.Blocks {
		for _, r := range s.Rows {
			method := ""
			if r.Quantity == "velocity" {
				method = "centre"
			}
			rows = append(rows, []string{s.State, r.Place, r.Quantity, "", method, "", r.Collector, f.Holes[r.Hole-1].Distance, "", f.Holes[r.Hole-1].Drill})
		}
	}
	return c.WriteAll(rows)
}
