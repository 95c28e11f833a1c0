package catalog

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// ErrFamily is what an error about an unknown family unwraps to.
var ErrFamily = errors.New("catalog: unknown family")

// Catalog is a list of duct families.
type Catalog struct {
	families []*Family
	byName   map[string]*Family
	classes  []Class
	machines []Machine
}

var builtin = sync.OnceValues(read)

// Builtin returns the catalogue that comes with the program. An error means
// that an embedded table is broken, which a test excludes.
func Builtin() (*Catalog, error) { return builtin() }

// Family returns the family of that name, in either case.
func (c *Catalog) Family(name string) (*Family, bool) {
	f, ok := c.byName[name]
	if !ok {
		f, ok = c.byName[strings.ToLower(strings.TrimSpace(name))]
	}
	return f, ok
}

// Lookup is Family with an error that names the known families and unwraps to
// ErrFamily.
func (c *Catalog) Lookup(name string) (*Family, error) {
	f, ok := c.Family(name)
	if !ok {
		return nil, fmt.Errorf("%w %q (known: %s)", ErrFamily, name, strings.Join(c.Names(), ", "))
	}
	return f, nil
}

// Names returns the names of the families in the order of the catalogue.
func (c *Catalog) Names() []string {
	names := make([]string, len(c.families))
	for i, f := range c.families {
		names[i] = f.Name
	}
	return names
}

// Families returns the families in the order of the catalogue. The caller
// owns the slice but not the families.
func (c *Catalog) Families() []*Family { return slices.Clone(c.families) }
