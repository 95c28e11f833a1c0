package project

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/optimize"
)

// Difference is the option that makes of the shop what another description of it
// is, so that it can be priced: runs of other duct, and leaks that are sealed.
// Other names what else differs, which has no price; where it is not empty the
// option makes a part of the difference only. The option is nil where the ducts
// go other ways.
func (p *Project) Difference(ctx context.Context, to *Project) (o *Option, other []string, err error) {
	if !p.Network.IsTree() || !to.Network.IsTree() {
		return nil, []string{"ducts that form a loop"}, nil
	}
	m := &settler{p: p, o: p.options(), out: &Option{Sold: true}}
	m.o.Fix, m.o.Seal = map[string]optimize.Fixed{}, true
	d := &differ{settler: m, to: to.Network.Spec()}
	if !d.runs() {
		return nil, d.other, nil
	}
	d.rest(p.Network.Spec())
	if err := m.formulate(ctx); err != nil {
		var no *optimize.NotOffered
		if errors.As(err, &no) {
			return nil, []string{no.Run + " (" + no.Reason + ")"}, nil
		}
		return nil, nil, err
	}
	m.pick()
	d.check()
	d.leaks()
	was := p.Network.Spec()
	m.out.Whole = len(d.other) == 0 && reflect.DeepEqual(was.Leaks, d.to.Leaks) && reflect.DeepEqual(was.Tools, d.to.Tools)
	m.out.What = nil
	return m.out, d.other, nil
}

// differ compares two descriptions of a shop.
type differ struct {
	*settler
	to    *network.Spec
	other []string
}

func (d *differ) add(format string, args ...any) {
	if s := fmt.Sprintf(format, args...); !slices.Contains(d.other, s) {
		d.other = append(d.other, s)
	}
}

// runs settles the runs whose duct differs; false says that the ways do.
func (d *differ) runs() bool {
	if len(d.to.Runs) != len(d.p.Network.Spec().Runs) {
		d.add("the ways of the ducts")
		return false
	}
	for i := range d.to.Runs {
		now := &d.to.Runs[i]
		was := d.run(now.ID)
		if was == nil || was.From != now.From || was.To != now.To {
			d.add("the ways of the ducts")
			return false
		}
		if alike(was.Pieces, now.Pieces) {
			if !reflect.DeepEqual(lengths(was), lengths(now)) || !reflect.DeepEqual(was.K, now.K) || !reflect.DeepEqual(was.Gate, now.Gate) {
				d.add("length, losses or gate of %s", now.ID)
			}
			continue
		}
		last := now.Pieces[len(now.Pieces)-1]
		d.o.Fix[now.ID] = optimize.Fixed{Size: last.Size, Families: []string{last.Make.Family}}
	}
	return true
}

// alike reports whether pieces are of the same sizes and families.
func alike(a, b []network.Piece) bool {
	return slices.EqualFunc(a, b, func(x, y network.Piece) bool {
		return catalog.Same(x.Size, y.Size) && x.Make.Family == y.Make.Family && x.Make.ElbowRD == y.Make.ElbowRD
	})
}

func lengths(r *network.Run) []float64 {
	var out []float64
	for _, p := range r.Pieces {
		out = append(out, float64(p.Length), p.K)
	}
	return out
}

// check names the runs that new duct of one size does not make.
func (d *differ) check() {
	n := d.out.Problem.Network(d.out.Pick)
	for i := range d.to.Runs {
		now := &d.to.Runs[i]
		if k, ok := n.RunIndex(now.ID); !ok || !alike(n.Spec().Runs[k].Pieces, now.Pieces) {
			d.add("%s, which a redesign would not make so", now.ID)
		}
	}
}

// leaks takes the seals that leave what is left of the leaks.
func (d *differ) leaks() {
	was := d.p.Network.Spec().Leaks
	for i := range d.to.Leaks {
		now := &d.to.Leaks[i]
		k := slices.IndexFunc(was, func(l network.Leak) bool { return l.ID == now.ID && l.At == now.At })
		if k >= 0 && was[k].Area == now.Area {
			continue
		}
		c := slices.IndexFunc(d.out.Problem.Choices, func(c optimize.Choice) bool { return c.Kind == optimize.SealChoice && c.ID == now.ID })
		if k < 0 || c < 0 || d.o.Seals[now.ID].Leaves != now.Area {
			d.add("the leak %s", now.ID)
			continue
		}
		d.out.Pick[c] = 1
	}
	if len(was) > len(d.to.Leaks) {
		d.add("leaks that are not there any more")
	}
}

// rest names what else differs.
func (d *differ) rest(was *network.Spec) {
	for i := range d.to.Tools {
		now := d.to.Tools[i]
		k := slices.IndexFunc(was.Tools, func(t network.Tool) bool { return t.ID == now.ID })
		if k < 0 {
			d.add("the tool %s", now.ID)
			continue
		}
		old := was.Tools[k]
		for _, t := range []*network.Tool{&old, &now} { // what is asked costs nothing by itself
			t.Flow, t.Transport, t.Basis, t.Dust = 0, 0, "", ""
		}
		if !reflect.DeepEqual(old, now) {
			d.add("ports or gates of %s", now.ID)
		}
	}
	if len(was.Tools) > len(d.to.Tools) {
		d.add("tools that are not there any more")
	}
	if !reflect.DeepEqual(was.Collectors, d.to.Collectors) {
		d.add("the collector")
	}
	if !reflect.DeepEqual(was.Bleeds, d.to.Bleeds) {
		d.add("bleed inlets")
	}
}
