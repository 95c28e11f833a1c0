package catalog

import (
	"slices"
	"strings"

	"wyewright/network/units"
)

// Class is a class of dust with the velocity that keeps it moving.
type Class struct {
	Name string
	// Velocity is the default; Low and High are the published range, about
	// which sources disagree.
	Velocity, Low, High units.Velocity
	Source              string
}

// Machine is the loss inside a kind of machine, as a coefficient on the
// velocity pressure of its port. One measured pressure or flow is better than
// any of these.
type Machine struct {
	Kind string
	// Entry is the default, the middle of Low to High.
	Entry, Low, High float64
	Source           string
}

// Classes returns the dust classes, the lightest first.
func (c *Catalog) Classes() []Class { return slices.Clone(c.classes) }

// Class returns the dust class of that name, in either case.
func (c *Catalog) Class(name string) (Class, bool) {
	i := slices.IndexFunc(c.classes, func(d Class) bool { return strings.EqualFold(d.Name, name) })
	if i < 0 {
		return Class{}, false
	}
	return c.classes[i], true
}

// Machines returns the default entry coefficients by kind of machine.
func (c *Catalog) Machines() []Machine { return slices.Clone(c.machines) }

// Machine returns the entry coefficient of that kind, in either case.
func (c *Catalog) Machine(kind string) (Machine, bool) {
	i := slices.IndexFunc(c.machines, func(m Machine) bool { return strings.EqualFold(m.Kind, kind) })
	if i < 0 {
		return Machine{}, false
	}
	return c.machines[i], true
}
