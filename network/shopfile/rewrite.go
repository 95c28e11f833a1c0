package shopfile

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"wyewright/network"
	"wyewright/network/units"
)

// ErrRewrite is wrapped by the error of a Rewrite whose text does not read
// back as what was asked for.
var ErrRewrite = errors.New("shopfile: cannot rewrite")

// Rewrite returns the text of the file with the edits made. Comments and the
// lines that no edit touches stay as they are. The result is decoded again and
// compared with what was asked, so that no text is returned that means
// something else. Without edits it returns the source byte for byte, but for the
// tables that the file names: they are written into it.
func (f *File) Rewrite(e Edits) ([]byte, error) {
	f, err := f.inline()
	if err != nil {
		return nil, err
	}
	want, err := f.mean(&e)
	if err != nil {
		return nil, err
	}
	w := f.rewriter()
	w.fitted = want.fitted
	if e.Fitted != nil || !slices.Equal(fittedLines(&w.fitted), fittedLines(&f.Fitted)) {
		w.writeFitted()
	}
	w.head(e.Head)
	if err := w.collector(e.Collector); err != nil {
		return nil, err
	}
	for _, r := range e.Runs {
		w.run(runChange{&want.spec.Runs[runIndex(&want.spec, r.Run)], true, r.Keep, slices.Contains(e.TurnRuns, r.Run)})
	}
	for _, x := range e.Swaps {
		w.run(runChange{Run: &want.spec.Runs[runIndex(&want.spec, x.Run)], keep: true, turned: slices.Contains(e.TurnRuns, x.Run)})
	}
	for _, id := range e.Mains {
		if w.alone(&e, id) {
			w.run(runChange{Run: &want.spec.Runs[runIndex(&want.spec, id)], keep: true, turned: slices.Contains(e.TurnRuns, id)})
		}
	}
	w.routes(&e, want) // when it is known which corners the runs name
	for _, l := range e.Leaks {
		if !slices.ContainsFunc(want.spec.Leaks, func(x network.Leak) bool { return x.ID == l.Leak }) {
			continue // it went with its duct
		}
		w.s.remap(w.member("leaks", l.Leak), []string{"area", "seal"},
			[]string{"area: " + areaText(l.Area/units.Area(w.leakFactor(l.Leak))), "seal: no"})
	}
	for _, g := range e.Gates {
		w.gate(g)
	}
	w.bleeds(e.Bleeds)
	w.openings(e.Openings)
	if want.states != nil {
		w.states(want.states)
	}
	if e.DropReadings || e.reroutes() {
		w.dropReadings(e.reroutes())
	}
	out, err := w.s.result()
	if err != nil {
		return nil, err
	}
	return out, f.verify(out, want)
}

func (f *File) rewriter() *rewriter {
	return &rewriter{f: f, s: newSplicer(f.src), fitted: f.Fitted, corners: map[string]bool{}, left: map[*node]int{}}
}

// rewriter turns edits into replacements of text.
type rewriter struct {
	f *File
	s *splicer
	// fitted is what the new text says was fitted: lengths and areas that it
	// works on are written without it.
	fitted network.Factors
	// corners are the points that a new text names as corners of a route.
	corners map[string]bool
	// left counts the members that stay in what was struck from.
	left map[*node]int
}

// member finds a part of a section by name.
func (w *rewriter) member(section, name string) *node {
	sec := w.f.root.child(section)
	if sec == nil {
		return nil
	}
	for _, item := range sec.items {
		if n := item.child("name"); n != nil && n.text == name {
			return item
		}
	}
	return sec.child(name)
}

func (w *rewriter) head(text string) {
	if text == "" {
		return
	}
	var lines []string
	for l := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
		lines = append(lines, strings.TrimRight("# "+printable(l), " "))
	}
	w.s.insertLines(1, lines...)
}

// printable takes control characters out of a comment.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
}

// leakFactor is what was fitted of a leak; of one fitted to nothing the area is
// written as it is.
func (w *rewriter) leakFactor(name string) float64 {
	if v := network.Factor(w.fitted.Leaks, name); v > 0 {
		return v
	}
	return 1
}

// gate changes what a closed gate leaks.
func (w *rewriter) gate(g GateEdit) {
	holder := w.member("runs", g.Run)
	if g.Tool != "" {
		holder = w.member("tools", g.Tool).child("ports").items[g.Port]
	}
	leak := "leak: " + areaText(g.Leak/units.Area(w.fitted.Gates()))
	if n := holder.child("gate"); n != nil && n.kind == mapping {
		w.s.remap(n, []string{"leak", "repair", "leaves"}, []string{leak})
		return
	}
	w.s.remap(holder, []string{"gate"}, []string{"gate: {" + leak + "}"})
}

// key returns the key of a section.
func (w *rewriter) key(section string) *node {
	for _, e := range w.f.root.entries {
		if e.key.text == section {
			return e.key
		}
	}
	return &node{line: len(w.f.lines) + 1, col: 1}
}

// states replaces the section by a list of states.
func (w *rewriter) states(list []network.State) {
	key, value := w.key("states"), w.f.root.child("states")
	start, end := w.s.offset(key.line, key.col), w.s.offset(value.endLine, value.endCol)
	text := "states:"
	for _, s := range list {
		parts := []string{"name: " + quoted(s.Name), "running: " + quotedList(s.Running)}
		if len(s.Open) > 0 {
			parts = append(parts, "open: "+quotedList(s.Open))
		}
		if s.Collector != "" {
			parts = append(parts, "collector: "+quoted(s.Collector))
		}
		for _, list := range []struct {
			key   string
			names []string
		}{{"off", s.Off}, {"open gates", s.OpenGates}, {"shut gates", s.ShutGates}} {
			if len(list.names) > 0 {
				parts = append(parts, list.key+": "+quotedList(list.names))
			}
		}
		if s.Filter == network.Clean {
			parts = append(parts, "filter: clean")
		}
		text += "\n  - {" + strings.Join(parts, ", ") + "}"
	}
	w.s.insertLines(key.line, w.s.comments(start, end)...)
	w.s.cut(start, end, text)
}

// dropReadings turns the section into a comment, and says why where the ducts
// run other ways.
func (w *rewriter) dropReadings(rerouted bool) {
	value := w.f.root.child("readings")
	if value == nil {
		return
	}
	key := w.key("readings")
	if rerouted {
		w.s.insertLines(key.line, "# The ducts run other ways than when these readings were taken.")
	}
	for line := key.line; line <= value.endLine; line++ {
		at := w.s.lineStart(line)
		w.s.cut(at, at, "# ")
	}
}

// lengthText writes a length of duct in the unit of the file.
func (w *rewriter) lengthText(l units.Length) string {
	if w.f.Units == units.US {
		return decimal(float64(l/units.Foot)) + " ft"
	}
	return decimal(float64(l)) + " m"
}

func areaText(a units.Area) string { return decimal(float64(a)*1e4) + " cm2" }

// decimal writes a number with at most seven decimals, which is finer than
// readBack for all that is written here.
func decimal(x float64) string {
	s := strconv.FormatFloat(x, 'f', 7, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// quoted writes a text so that YAML reads it back, in or out of brackets.
func quoted(s string) string {
	plain := s != "" && !strings.HasSuffix(s, " ") && !slices.Contains([]string{"null", "Null", "NULL"}, s)
	for i, r := range s {
		good := unicode.IsLetter(r) || unicode.IsDigit(r) || i > 0 && strings.ContainsRune(" ._-/%&()", r)
		plain = plain && good
	}
	if plain {
		return s
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

func quotedList(words []string) string {
	out := make([]string, len(words))
	for i, s := range words {
		out[i] = quoted(s)
	}
	return "[" + strings.Join(out, ", ") + "]"
}
