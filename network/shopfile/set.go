package shopfile

import (
	"fmt"
	"strings"
)

// settable are the sections whose members Set can change.
var settable = []string{"runs", "tools", "leaks", "collectors", "bleeds", "corridors"}

// SetError says why a value cannot be set. It is about the request, not about
// the file.
type SetError struct{ Text, Hint string }

// Error implements error.
func (e *SetError) Error() string { return "shopfile: " + e.Text }

// Set returns the file with one value changed, decoded anew: name and key say
// which, value is written as in the file. Size and family of a run change all its
// pieces, and take along the coefficients of the run as it was built. The
// error is a *SetError, or Diagnostics that name lines of the changed text.
func (f *File) Set(name, key, value string) (*File, error) {
	value = printable(strings.TrimSpace(value))
	if name == "" || key == "" || value == "" {
		return nil, &SetError{"a part, a key and a value are needed", "write it like: main 2.size=160 mm"}
	}
	today := f.whole != nil
	f, err := f.inline()
	if err != nil {
		return nil, err
	}
	w := f.rewriter()
	n, section := w.part(name)
	if n == nil {
		return nil, &SetError{fmt.Sprintf("there is no run, tool, leak, collector, bleed or corridor named %q", name), didYouMean(name, w.partNames())}
	}
	if section == "runs" && (key == "size" || key == "family") {
		edit, err := f.resized(name, key, value)
		if err != nil {
			return nil, &SetError{strings.TrimPrefix(err.Error(), "catalog: "), ""}
		}
		r := f.Spec.Runs[runIndex(&f.Spec, name)]
		r.Pieces = edit.Pieces
		w.run(runChange{Run: &r, pieces: true})
	} else {
		drop := []string{key}
		if section == "runs" && key == "pieces" {
			drop = append(drop, "length")
		}
		w.s.remap(n, drop, []string{key + ": " + rawValue(value)})
	}
	out, err := w.s.result()
	if err != nil {
		return nil, err
	}
	g, err := Decode(f.name, out, f.catalog)
	if err == nil && today {
		g = g.Today()
	}
	return g, err
}

// part finds a member of any section by its name.
func (w *rewriter) part(name string) (n *node, section string) {
	for _, section := range settable {
		if n := w.member(section, name); n != nil && n.kind == mapping {
			return n, section
		}
	}
	return nil, ""
}

// partNames are the names that Set knows.
func (w *rewriter) partNames() []string {
	s := &w.f.Spec
	var out []string
	for _, x := range s.Runs {
		out = append(out, x.ID)
	}
	for _, x := range s.Tools {
		out = append(out, x.ID)
	}
	for _, x := range s.Leaks {
		out = append(out, x.ID)
	}
	for _, x := range s.Collectors {
		out = append(out, x.ID)
	}
	for _, x := range s.Bleeds {
		out = append(out, x.ID)
	}
	return append(out, idsOf(w.f.Corridors, func(c Corridor) string { return c.ID })...)
}

// resized is the edit that gives all pieces of a run another size or family.
func (f *File) resized(run, key, value string) (RunEdit, error) {
	out := RunEdit{Run: run}
	for _, p := range f.Spec.Runs[runIndex(&f.Spec, run)].Pieces {
		family, size := p.Make.Family, value
		if key == "family" {
			family, size = value, p.Size
		}
		q, err := f.Piece(family, size, p.Length)
		if err != nil {
			return out, err
		}
		if f.long(&p) {
			f.bendLong(&q) // usual elbows where none are sold
		}
		out.Pieces = append(out.Pieces, q)
	}
	return out, nil
}

// rawValue is a value as it is put into the text: lists and sets as they are,
// text in quotes where YAML needs them.
func rawValue(v string) string {
	if strings.HasPrefix(v, "{") || strings.HasPrefix(v, "[") || strings.HasPrefix(v, `"`) {
		return v
	}
	return quoted(v)
}
