package shopfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// ErrInvalid is what every fault of a shop file or a readings file unwraps to.
var ErrInvalid = errors.New("shopfile: invalid file")

// Diagnostic is one fault or warning with the place it was found at.
type Diagnostic struct {
	File string
	// Line and Column count from 1; the column counts characters, not bytes.
	Line, Column int
	// Path names the value, for example "runs.main 2.pieces[0].size".
	Path string
	// Msg says what is wrong, Hint what to do about it (may be empty).
	Msg, Hint string
	// Excerpt is the source line the fault stands in.
	Excerpt string
	// Warning marks what does not keep the file from being used.
	Warning bool
}

// excerptWidth is the longest stretch of a source line that is shown. It fits
// a terminal of 100 columns with the line number in front.
const excerptWidth = 88

// Error prints place, message, the source line with a caret, and the hint.
func (d *Diagnostic) Error() string {
	var b strings.Builder
	if d.Line > 0 {
		fmt.Fprintf(&b, "%s:%d:%d: ", d.File, d.Line, d.Column)
	} else {
		fmt.Fprintf(&b, "%s: ", d.File)
	}
	if d.Warning {
		b.WriteString("warning: ")
	}
	b.WriteString(d.Msg)
	if line, caret := d.window(); strings.TrimSpace(line) != "" {
		number := fmt.Sprintf("%5d", d.Line)
		fmt.Fprintf(&b, "\n%s | %s", number, line)
		fmt.Fprintf(&b, "\n%s | %s^", strings.Repeat(" ", len(number)), strings.Repeat(" ", caret))
	}
	if d.Hint != "" {
		fmt.Fprintf(&b, "\n%shint: %s", strings.Repeat(" ", 6), d.Hint)
	}
	return b.String()
}

// Unwrap makes errors.Is(err, ErrInvalid) true.
func (d *Diagnostic) Unwrap() error { return ErrInvalid }

// window cuts the excerpt around the column and returns the caret's offset.
func (d *Diagnostic) window() (line string, caret int) {
	clean := func(r rune) rune {
		if r < ' ' || r == utf8.RuneError || r == '\u007f' || r == '\ufeff' {
			return ' '
		}
		return r
	}
	runes := []rune(strings.Map(clean, strings.TrimRight(d.Excerpt, " \t\r\n")))
	caret = min(max(d.Column-1, 0), len(runes))
	if len(runes) <= excerptWidth {
		return string(runes), caret
	}
	from := min(max(caret-excerptWidth/2, 0), len(runes)-excerptWidth)
	return string(runes[from : from+excerptWidth]), caret - from
}

// Diagnostics lists every fault of one file in file order.
type Diagnostics []*Diagnostic

// Error prints all of them, one after the other.
func (ds Diagnostics) Error() string {
	parts := make([]string, len(ds))
	for i, d := range ds {
		parts[i] = d.Error()
	}
	return strings.Join(parts, "\n")
}

// Unwrap gives the single faults, so that errors.Is and errors.As see them.
func (ds Diagnostics) Unwrap() []error {
	errs := make([]error, len(ds))
	for i, d := range ds {
		errs[i] = d
	}
	return errs
}

// sort puts the diagnostics in file order, file by file, and drops repetitions.
func (ds Diagnostics) sort() Diagnostics {
	slices.SortStableFunc(ds, func(a, b *Diagnostic) int {
		if a.File != b.File {
			return strings.Compare(a.File, b.File)
		}
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
	return slices.CompactFunc(ds, func(a, b *Diagnostic) bool {
		return a.File == b.File && a.Line == b.Line && a.Column == b.Column && a.Msg == b.Msg
	})
}
