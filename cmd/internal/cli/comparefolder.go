package cli

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
)

// compareName is that of all files of a comparison.
const compareName = "compare"

// compareFiles are the files that a comparison writes.
func compareFiles() []string {
	return []string{compareName + ".json", compareName + ".md", compareName + extraSVG, compareName + extraPNG}
}

// writeCompare writes a comparison into its folder.
func (a *app) writeCompare(s *comparison) error {
	f := &folder{dir: s.o.dir}
	data, err := json.MarshalIndent(s.json(), "", "  ")
	if err := errors.Join(f.put(compareName+".json", append(data, '\n'), err), s.putText(f)); err != nil {
		return err
	}
	if err := f.putPicture(compareName, s.figure); err != nil {
		return err
	}
	if a.json {
		a.note("written into %s: %s\n", s.o.dir, strings.Join(f.names, ", "))
		return nil
	}
	_, err = fmt.Fprintf(a.Out, "\nWritten into %s: %s\n", s.o.dir, strings.Join(f.names, ", "))
	return err
}

// putText writes the comparison as Markdown.
func (s *comparison) putText(f *folder) error {
	var md bytes.Buffer
	fmt.Fprintf(&md, "# %s: %s side by side\n\n", s.p.File.Name, count(len(s.rivals), "option"))
	for _, r := range s.rivals {
		fmt.Fprintf(&md, "- **%s  %s**: %s\n", r.letter, r.name, strings.Join(r.lines(s.sys), "; "))
	}
	all := s.grids()
	if s.o.optimise {
		all = append(all, s.plans())
	}
	for _, g := range all {
		if err := g.markdown(&md); err != nil {
			return err
		}
	}
	for _, x := range []struct {
		title string
		lines []string
	}{{"What the comparison shows", s.shows()}, {"Mind", s.mind()}} {
		fmt.Fprintf(&md, "\n## %s\n\n- %s\n", x.title, strings.Join(x.lines, "\n- "))
	}
	return f.put(compareName+".md", md.Bytes(), nil)
}
