package cli

import (
	"errors"
	"fmt"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network/shopfile"
)

// trySet is the project with values changed, in memory only.
func (a *app) trySet(p *project.Project, set []string) (*project.Project, error) {
	f := p.File
	for _, text := range set {
		where, value, ok := strings.Cut(text, "=")
		dot := strings.LastIndex(where, ".")
		if !ok || dot < 1 {
			return nil, fail(Usage, fmt.Errorf("--set %q: no part, key and value", text), "write it like: --set 'main 2.size=160 mm'")
		}
		g, err := f.Set(strings.TrimSpace(where[:dot]), strings.TrimSpace(where[dot+1:]), value)
		var no *shopfile.SetError
		var d shopfile.Diagnostics
		switch {
		case errors.As(err, &no):
			return nil, fail(Usage, fmt.Errorf("--set %q: %s", text, no.Text), no.Hint)
		case errors.As(err, &d):
			return nil, fail(Usage, fmt.Errorf("--set %q: %s", text, d[0].Msg), d[0].Hint)
		case err != nil:
			return nil, err
		}
		f = g
	}
	return project.New(f, p.Catalog, p.Folder)
}
