package shopfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"wyewright/network"
)

// DecodeReadings reads a file of comma-separated readings that belong to f.
// Its first line names the columns: state, place, quantity and value, and as
// wanted method, instrument, collector and note, in any order. Lines that
// start with # are comments. A value such as ">30 m/s" is a bound: the meter
// was over its range. The error is of type Diagnostics and names every refused
// row.
func DecodeReadings(name string, src []byte, f *File) ([]Reading, error) {
	d := newDecoder(name, src, f.catalog)
	d.file.Spec, d.file.States, d.file.Units, d.file.Later = f.Spec, f.States, f.Units, f.Later
	d.defineSpec(&f.Spec)
	d.csv(src)
	if len(d.faults) > 0 {
		return nil, d.faults.sort()
	}
	return d.file.Readings, nil
}

// defineSpec enters the names of a decoded shop.
func (d *decoder) defineSpec(s *network.Spec) {
	enter := func(what, name string) { d.named[name] = definition{what, &node{}} }
	for _, p := range s.Points {
		enter(isPoint, p.ID)
	}
	for _, r := range s.Runs {
		enter(isRun, r.ID)
	}
	for _, t := range s.Tools {
		enter(isTool, t.ID)
	}
	for _, b := range s.Bleeds {
		enter(isBleed, b.ID)
	}
	for _, c := range s.Collectors {
		enter(isCollector, c.ID)
	}
}

// csv walks the rows.
func (d *decoder) csv(src []byte) {
	src = bytes.TrimPrefix(src, []byte("\ufeff"))
	if !utf8.Valid(src) {
		d.faultAt(1, 1, "", "save the file as UTF-8", "not UTF-8 text")
		return
	}
	r := csv.NewReader(bytes.NewReader(src))
	r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = '#', -1, true
	header, err := r.Read()
	if err != nil {
		d.faultAt(1, 1, "", "the first line names the columns: "+strings.Join(readingKeys, ","), "no readings: the file is empty")
		return
	}
	if !d.header(header) {
		return
	}
	for {
		row, err := r.Read()
		switch {
		case err == io.EOF:
			return
		case err != nil:
			var pe *csv.ParseError
			if errors.As(err, &pe) {
				d.faultAt(pe.Line, max(1, pe.Column), "", "put text that holds a comma in quotes", "not a row of values: %v", pe.Err)
				continue
			}
			return
		}
		d.row(r, header, row)
	}
}

// header checks the names of the columns.
func (d *decoder) header(header []string) bool {
	good := len(d.faults)
	for i, key := range header {
		header[i] = strings.TrimSpace(key)
		if !slices.Contains(readingKeys, header[i]) {
			d.faultAt(1, 1, "", didYouMean(header[i], readingKeys), "unknown column %q", header[i])
		} else if slices.Contains(header[:i], header[i]) {
			d.faultAt(1, 1, "", "", "column %q is repeated", header[i])
		}
	}
	for _, key := range readingKeys[:4] {
		if !slices.Contains(header, key) {
			d.faultAt(1, 1, "", "", "column %q is missing", key)
		}
	}
	return len(d.faults) == good
}

// row turns a row into keys and values, as if it stood in the shop file.
func (d *decoder) row(r *csv.Reader, header, row []string) {
	line, _ := r.FieldPos(0)
	f := &fields{d: d, values: map[string]*node{}, given: map[string]bool{}}
	f.n = &node{kind: mapping, label: "the row", line: line, col: 1}
	if len(row) > len(header) {
		d.fault(f.n, "put text that holds a comma in quotes", "the row has %d values for %d columns", len(row), len(header))
		return
	}
	for i, text := range row {
		text = strings.TrimSpace(text)
		if text == "" {
			continue
		}
		l, c := r.FieldPos(i)
		bytesBefore := d.lineText(l)
		c = utf8.RuneCountInString(bytesBefore[:min(c-1, len(bytesBefore))]) + 1
		f.given[header[i]] = true
		f.values[header[i]] = &node{kind: scalar, text: text, label: header[i], path: header[i], line: l, col: c}
	}
	d.reading(f)
}
