package project

import (
	"errors"
	"fmt"
	"strings"

	"wyewright/network/shopfile"
)

// ErrLaterRoutes refuses a search over ways of the ducts with a tool that comes
// later.
var ErrLaterRoutes = errors.New("a tool that comes later and routes do not go together yet")

// Today is the project of the shop without the tools that come later: p itself
// where there are none.
func (p *Project) Today() (*Project, error) {
	f := p.File.Today()
	if f == p.File {
		return p, nil
	}
	return New(f, p.Catalog, p.Folder)
}

// LaterNotes say what is left out of the shop of today, nothing where no tool
// comes later.
func LaterNotes(f *shopfile.File) []string {
	var out []string
	for _, l := range f.Later {
		out = append(out, fmt.Sprintf("%s comes later: it and %s are left out here, as if %s had a cap; a redesign reckons with them", l.Tool, strings.Join(l.Runs, ", "), strings.Join(l.Joints, " and ")))
	}
	if w := f.Waiting(); len(w) > 0 {
		out = append(out, "states that wait for it: "+strings.Join(w, ", "))
	}
	return out
}
