package cli

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// compareName is that of all files of a comparison.
const compareName = "compare"

// compareFiles are the files that a comparison writes.
func compareFiles() []string {
	return []string{compareName + ".json", compareName + ".md", compareName + extraSVG, compareName + extraPNG}
}

// checkCompareFolder refuses a folder that holds files already, and even with
// force one in which what is read would be written over.
func checkCompareFolder(o *compareOptions) error {
	if o.dir == "" {
		return nil
	}
	entries, err := os.ReadDir(o.dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fail(Usage, err, "give another folder with -o")
	case len(entries) > 0 && !o.force:
		return fail(Usage, fmt.Errorf("folder %s has files in it", o.dir), "give another folder with -o, or --force to write over what a comparison wrote")
	}
	for _, in := range slices.Concat([]string{o.file}, o.others) {
		was, err := os.Stat(shopIn(in))
		if err != nil {
			continue
		}
		for _, name := range compareFiles() {
			if now, err := os.Stat(filepath.Join(o.dir, name)); err == nil && os.SameFile(was, now) {
				return fail(Usage, fmt.Errorf("%s would be written over", in), "give another folder with -o")
			}
		}
	}
	return nil
}

// writeCompare writes a comparison into its folder.
func (a *app) writeCompare(s *comparison) error {
	f := &folder{dir: s.o.dir}
	data, err := json.MarshalIndent(s.json(), "", "  ")
	if err := errors.Join(f.put(compareName+".json", append(data, '\n'), err), s.putText(f)); err != nil {
		return err
	}
	fig, err := s.figure()
	if err != nil {
		return fmt.Errorf("picture %s: %w", compareName, err)
	}
	svg, err := fig.SVG()
	if err := f.put(compareName+extraSVG, svg, err); err != nil {
		return err
	}
	png, err := fig.PNG(pictureDPI)
	if err := f.put(compareName+extraPNG, png, err); err != nil {
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
