// Package project turns a shop file into a redesign problem and a plan back
// into files: it is the one place that knows shop file, catalogue, prices and
// search together.
package project

import (
	"io/fs"
	"slices"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/shopfile"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// Project is a decoded shop with everything a redesign needs.
type Project struct {
	File    *shopfile.File
	Catalog *catalog.Catalog
	Book    *price.Book
	Builder *parts.Builder
	// Network is the shop as found, with the collector that the redesign
	// assumes in place.
	Network *network.Network
	// Currency that costs are in.
	Currency price.Currency
	// Folder is where the file and the files it names lie.
	Folder fs.FS
	// Notes say what was assumed on the way.
	Notes []string
}

// Load decodes a shop file from a file system. Faults name it as shown.
func Load(fsys fs.FS, name, shown string) (*shopfile.File, *catalog.Catalog, error) {
	c, err := catalog.Builtin()
	if err != nil {
		return nil, nil, err
	}
	src, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, nil, err
	}
	f, err := shopfile.DecodeBeside(shown, src, c, fsys)
	return f, c, err
}

// New makes a project of a decoded file. A price file that the shop names is
// read from fsys.
func New(f *shopfile.File, c *catalog.Catalog, fsys fs.FS) (*Project, error) {
	p := &Project{File: f, Catalog: c, Folder: fsys}
	if err := p.prices(fsys); err != nil {
		return nil, err
	}
	p.unsearched()
	if err := p.network(); err != nil {
		return nil, err
	}
	return p, nil
}

// network compiles the shop, with the collector that the redesign assumes in
// place.
func (p *Project) network() error {
	n, err := network.New(p.File.Spec)
	if err != nil {
		return err
	}
	p.Network = n
	if name := p.File.Redesign.Collector; name != "" {
		if i := slices.IndexFunc(p.File.Spec.Collectors, func(c network.Collector) bool { return c.ID == name }); i > 0 {
			p.Network = n.WithCollector(i)
		}
	}
	return nil
}

// unsearched notes what the file offers and no search uses yet.
func (p *Project) unsearched() {
	for _, r := range p.File.Repairs {
		if r.Tool == "" {
			p.Notes = append(p.Notes, "the repair of the gate in run "+r.Run+" is not offered: only gates at ports are")
		}
	}
	may := p.File.Redesign.May
	for _, c := range p.File.CollectorPrices {
		if c.Cost.Given && !may.Collector {
			p.Notes = append(p.Notes, "the price of collector "+c.Collector+" is in no cost: it is taken as decided")
		}
	}
}
