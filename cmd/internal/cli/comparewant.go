package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
)

// want is one option that was asked for.
type want struct {
	name    string
	settled project.Settled
	// asFound is the shop as it stands; free the cheapest redesign with nothing
	// settled beforehand.
	asFound, free bool
	// set are changes as typed; path is a shop file or a folder.
	set, path string
}

// list parts what was typed at semicolons, or at commas where there are none.
func list(text string) []string {
	by := ","
	if strings.Contains(text, ";") {
		by = ";"
	}
	var out []string
	for part := range strings.SplitSeq(text, by) {
		if part = strings.TrimSpace(part); part != "" && !slices.Contains(out, part) {
			out = append(out, part)
		}
	}
	return out
}

// wanted lists the options in the order of the columns.
func wanted(p *project.Project, o *compareOptions) ([]want, error) {
	lists, err := settledLists(p, o)
	if err != nil {
		return nil, err
	}
	var out []want
	if !o.noAsFound {
		out = append(out, want{name: "as found", asFound: true})
	}
	if len(lists) > 0 && o.optimise {
		out = append(out, want{name: "free choice", free: true})
	}
	if o.each {
		out = append(out, product(lists)...)
	} else {
		out = append(out, slices.Concat(lists...)...)
	}
	for _, set := range o.sets {
		name := strings.NewReplacer(".size=", " ", ".family=", " ", "=", " ").Replace(strings.Join(trimmed(strings.Split(set, ";")), ", "))
		if strings.TrimSpace(name) == "" {
			return nil, fail(Usage, errors.New("--set says nothing"), "write it like: --set 'main 2.size=160 mm'")
		}
		out = append(out, want{name: name, set: set})
	}
	for _, path := range o.others {
		out = append(out, want{name: strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)), path: path})
	}
	if len(out) > mostRivals {
		return nil, fail(Usage, fmt.Errorf("%d options are too many to set side by side", len(out)), fmt.Sprintf("take at most %d", mostRivals))
	}
	return out, nil
}

// product combines every member of each list with every one of the others.
func product(lists [][]want) []want {
	out := []want{{}}
	for _, l := range lists {
		var next []want
		for _, a := range out {
			for _, b := range l {
				next = append(next, want{name: strings.TrimPrefix(a.name+" + "+b.name, " + "), settled: both(a.settled, b.settled)})
			}
		}
		out = next
	}
	if len(lists) == 0 {
		return nil
	}
	return out
}

// both settles what one of two settles.
func both(a, b project.Settled) project.Settled {
	if b.Size != "" {
		a.Size, a.Runs = b.Size, b.Runs
	}
	if b.Family != "" {
		a.Family = b.Family
	}
	if b.Bleed != project.AnyBleed {
		a.Bleed = b.Bleed
	}
	if b.Collector != "" {
		a.Collector = b.Collector
	}
	return a
}

// shopIn is the shop file at a path: the file itself, or that of a folder that
// redesign wrote.
func shopIn(path string) string {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return filepath.Join(path, shopName)
	}
	return path
}
