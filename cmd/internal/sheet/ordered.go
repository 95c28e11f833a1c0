package sheet

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"io/fs"
	"maps"
	"slices"

	"github.com/xuri/excelize/v2"
)

// ordered is an archive whose files are written in the order of their names:
// the library hands the sheets over in the order of a map.
type ordered struct {
	out   io.Writer
	files map[string]*bytes.Buffer
}

func newOrdered(out io.Writer) excelize.ZipWriter {
	return &ordered{out, map[string]*bytes.Buffer{}}
}

// Create begins a file.
func (o *ordered) Create(name string) (io.Writer, error) {
	o.files[name] = &bytes.Buffer{}
	return o.files[name], nil
}

// AddFS is there for the library's interface, which does not use it.
func (o *ordered) AddFS(fs.FS) error { return errors.ErrUnsupported }

// Close writes the archive, its files without a date.
func (o *ordered) Close() error {
	z := zip.NewWriter(o.out)
	for _, name := range slices.Sorted(maps.Keys(o.files)) {
		f, err := z.Create(name)
		if err != nil {
			return err
		}
		if _, err := f.Write(o.files[name].Bytes()); err != nil {
			return err
		}
	}
	return z.Close()
}
