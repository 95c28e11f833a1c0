package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/network/units"
)

// open decodes a shop file, and leaves out the tools that come later, with a
// note.
func (a *app) open(path string) (*project.Project, error) {
	p, err := a.openWhole(path)
	if err != nil {
		return nil, err
	}
	for _, note := range project.LaterNotes(p.File) {
		a.note("%s\n", note)
	}
	return p.Today()
}

// openWhole decodes a shop file. Every fault is printed at once and ends in exit
// code 3; warnings are printed and passed.
func (a *app) openWhole(path string) (*project.Project, error) {
	p, err := load(path)
	var d shopfile.Diagnostics
	if errors.As(err, &d) {
		for _, x := range d {
			fmt.Fprintln(a.Err, x.Error())
		}
		fmt.Fprintf(a.Err, "wyewright: %s: %s, nothing was done\n", path, count(len(d), "fault"))
		return nil, fail(FileInvalid, nil, "")
	}
	if err != nil {
		return nil, err
	}
	for _, w := range p.File.Warnings {
		a.note("%s\n", w.Error())
	}
	return p, nil
}

// openIn is open with the units to print in.
func (a *app) openIn(path string) (*project.Project, units.System, error) {
	p, err := a.open(path)
	if err != nil {
		return nil, units.SI, err
	}
	sys, err := a.units(p.File)
	return p, sys, err
}

// openWholeIn is openWhole with the units to print in.
func (a *app) openWholeIn(path string) (*project.Project, units.System, error) {
	p, err := a.openWhole(path)
	if err != nil {
		return nil, units.SI, err
	}
	sys, err := a.units(p.File)
	return p, sys, err
}

// load decodes a shop file. Faults of its text are shopfile.Diagnostics.
func load(path string) (*project.Project, error) {
	folder := os.DirFS(filepath.Dir(path))
	f, c, err := project.Load(folder, filepath.Base(path), path)
	var place *fs.PathError
	if errors.As(err, &place) {
		return nil, fail(Usage, fmt.Errorf("cannot read %s: %w", path, place.Err), readHint(path))
	}
	if err != nil {
		return nil, err
	}
	p, err := project.New(f, c, folder)
	var spec *network.SpecError
	switch {
	case errors.As(err, &spec):
		return nil, fail(FileInvalid, fmt.Errorf("%s: %w", path, err), spec.Hint)
	case err != nil:
		return nil, fail(FileInvalid, fmt.Errorf("%s: %w", path, err), "look at the prices of the file")
	}
	return p, nil
}

// readHint says what to give instead of a path that cannot be read: of the folder
// of a redesign the shop file in it.
func readHint(path string) string {
	inside := filepath.Join(path, shopName)
	if _, err := os.Stat(inside); err == nil {
		return "the redesigned shop is " + inside
	}
	return "give the path of a shop file; the verb new writes one to start from"
}

// count prints a number with its noun, in the plural where it is not one.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
