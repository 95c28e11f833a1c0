package shopfile

import (
	"slices"
	"strings"
)

// Part is a member of a section whose values Set can change.
type Part struct {
	Name, Section string
	// Keys are those that the section knows, in the order of its description.
	Keys []string
}

// partKeys are the keys by section, for the sections that Set can change.
var partKeys = map[string][]string{"runs": runKeys, "tools": toolKeys, "leaks": leakKeys, "collectors": collectorKeys, "bleeds": bleedKeys, "corridors": corridorKeys}

// Parts lists what Set can change, in the order of the sections.
func (f *File) Parts() []Part {
	var out []Part
	w := f.rewriter()
	for _, name := range w.partNames() {
		if n, section := w.part(name); n != nil {
			keys := slices.DeleteFunc(slices.Clone(partKeys[section]), func(k string) bool { return k == "name" })
			out = append(out, Part{name, section, keys})
		}
	}
	return out
}

// Part finds the part that a text such as "main 2.size" names, and what stands
// after the dot.
func (f *File) Part(where string) (part Part, key string, ok bool) {
	dot := strings.LastIndex(where, ".")
	if dot < 0 {
		return part, "", false
	}
	all := f.Parts()
	i := slices.IndexFunc(all, func(p Part) bool { return p.Name == where[:dot] })
	if i < 0 {
		return part, "", false
	}
	return all[i], where[dot+1:], true
}

// DustClasses are the classes of dust that the catalogue has, in its order, and
// those that the file's own tools name.
func (f *File) DustClasses() []string {
	var out []string
	for _, c := range f.catalog.Classes() {
		out = append(out, c.Name)
	}
	for _, t := range f.Spec.Tools {
		if !slices.Contains(out, t.Dust) {
			out = append(out, t.Dust)
		}
	}
	return out
}
