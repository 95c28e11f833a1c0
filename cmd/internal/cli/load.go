package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"wyewright/cmd/internal/project"
	"wyewright/network/shopfile"
)

// open decodes a shop file. Every fault is printed at once and ends in exit
// code 3; warnings are printed and passed.
func (a *app) open(path string) (*project.Project, error) {
	folder := os.DirFS(filepath.Dir(path))
	f, c, err := project.Load(folder, filepath.Base(path))
	var d shopfile.Diagnostics
	if errors.As(err, &d) {
		for _, x := range d {
			fmt.Fprintln(a.Err, x.Error())
		}
		fmt.Fprintf(a.Err, "wyewright: %s: %d faults, nothing was done\n", path, len(d))
		return nil, fail(FileInvalid, nil, "")
	}
	if err != nil {
		return nil, err
	}
	a.warn(f)
	p, err := project.New(f, c, folder)
	if err != nil {
		return nil, fail(FileInvalid, err, "look at the prices and the ducts of the file")
	}
	return p, nil
}

func (a *app) warn(f *shopfile.File) {
	if a.quiet {
		return
	}
	for _, w := range f.Warnings {
		fmt.Fprintln(a.Err, w.Error())
	}
}

// writeNew writes a file that must not be there yet, through a temporary one.
func writeNew(path string, data []byte) error {
	if _, err := os.Lstat(path); err == nil {
		return fail(Usage, fmt.Errorf("%s is there already", path), "give another name; nothing is overwritten")
	}
	return writeFile(path, data)
}

// writeFile writes a file through a temporary one in the same folder, so that
// no half file is ever seen.
func writeFile(path string, data []byte) error {
	t, err := os.CreateTemp(filepath.Dir(path), ".wyewright-*")
	if err != nil {
		return err
	}
	defer func() { _ = os.Remove(t.Name()) }() // gone already after the rename
	if _, err = t.Write(data); err == nil {
		err = t.Chmod(0o644)
	}
	if cerr := t.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return err
	}
	return os.Rename(t.Name(), path)
}
