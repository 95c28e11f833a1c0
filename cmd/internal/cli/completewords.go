package cli

import (
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network/shopfile"
)

// Words of a shop for completion. What stands after the tab explains them.

func stateWords(p *project.Project) []string {
	var out []string
	for _, s := range p.File.States {
		w := s.Name
		if running := strings.Join(s.Running, " + "); running != "" && running != w {
			w += "\t" + running
		}
		out = append(out, w)
	}
	return out
}

func toolWords(p *project.Project) []string {
	var out []string
	for _, t := range p.File.Spec.Tools {
		out = append(out, t.ID+"\tneeds "+flowText(t.Flow, p))
	}
	return out
}

func runNames(p *project.Project) []string {
	var out []string
	for _, r := range p.File.Spec.Runs {
		out = append(out, r.ID+"\t"+r.From+" to "+r.To)
	}
	return out
}

func collectorWords(p *project.Project) []string {
	var out []string
	for _, c := range p.File.Spec.Collectors {
		out = append(out, c.ID)
	}
	return out
}

// openWords are tools and bleeds.
func openWords(p *project.Project) []string {
	out := toolWords(p)
	for _, b := range p.File.Spec.Bleeds {
		out = append(out, b.ID+"\tbleed")
	}
	return out
}

// oneMore offers words for a list with commas: those that are not in it yet,
// after what stands before the last comma. One with a comma cannot be given
// there.
func oneMore(words func(*project.Project) []string) completer {
	return func(p *project.Project, typed string) []string {
		before := typed[:strings.LastIndex(typed, ",")+1]
		given := strings.Split(before, ",")
		for i := range given {
			given[i] = strings.TrimSpace(given[i])
		}
		out := slices.DeleteFunc(words(p), func(w string) bool {
			name, _, _ := strings.Cut(w, "\t")
			return strings.Contains(name, ",") || slices.Contains(given, name)
		})
		if rest := typed[len(before):]; strings.HasPrefix(rest, " ") {
			before += " "
		}
		for i := range out {
			out[i] = before + out[i]
		}
		return out
	}
}

// setWords are, in turn, a part with a dot, its keys with an equals sign, and
// the values where they are known: sizes, families, classes of dust.
func setWords(p *project.Project, typed string) []string {
	where, _, valued := strings.Cut(typed, "=")
	part, key, dotted := p.File.Part(where)
	var out []string
	switch {
	case valued && dotted:
		for _, v := range setValues(p, part, key) {
			out = append(out, where+"="+v)
		}
	case dotted:
		for _, k := range part.Keys {
			out = append(out, part.Name+"."+k+"=")
		}
	case !valued:
		for _, w := range p.File.Parts() {
			out = append(out, w.Name+".\t"+w.Section)
		}
	}
	return out
}

// setValues are the values of a key that are known.
func setValues(p *project.Project, part shopfile.Part, key string) []string {
	switch key {
	case "family":
		return p.Catalog.Names()
	case "dust":
		return p.File.DustClasses()
	case "size":
		return sizesOf(p, part)
	case "main", "kept":
		return []string{"true", "false"}
	}
	return nil
}

// sizesOf are the sizes of the families that a run is made of, those of all
// families that the shop has or may buy for another part.
func sizesOf(p *project.Project, part shopfile.Part) []string {
	var families []string
	for _, r := range p.File.Spec.Runs {
		if part.Section == "runs" && r.ID != part.Name {
			continue
		}
		for _, piece := range r.Pieces {
			families = append(families, piece.Make.Family)
		}
	}
	if part.Section != "runs" {
		families = append(families, p.File.Redesign.Families...)
	}
	return sizesIn(p, families)
}

// rigidFamilies are the families of rigid duct.
func rigidFamilies(p *project.Project) []string {
	return slices.DeleteFunc(p.Catalog.Names(), func(name string) bool {
		f, ok := p.Catalog.Family(name)
		return !ok || f.Hose
	})
}

// rigidSizes are the sizes of the rigid duct that the shop has or may buy.
func rigidSizes(p *project.Project) []string {
	used := slices.Clone(p.File.Redesign.Families)
	for _, r := range p.File.Spec.Runs {
		for _, piece := range r.Pieces {
			used = append(used, piece.Make.Family)
		}
	}
	return sizesIn(p, slices.DeleteFunc(rigidFamilies(p), func(name string) bool { return !slices.Contains(used, name) }))
}

// sizesIn are the sizes of families, each once.
func sizesIn(p *project.Project, families []string) []string {
	var out []string
	for _, name := range families {
		f, ok := p.Catalog.Family(name)
		if !ok {
			continue
		}
		for _, s := range f.Sizes {
			if !slices.Contains(out, s.Name) {
				out = append(out, s.Name)
			}
		}
	}
	return out
}
