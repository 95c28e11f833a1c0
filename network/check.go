package network

import (
	"fmt"
	"math"
)

// checkValues reports every number that no duct can have.
func checkValues(s *Spec, t *topology, f *faults) {
	positive := func(path string, x float64, what string) {
		if !(x > 0) || math.IsInf(x, 0) {
			f.add(path, fmt.Sprintf("%s must be above zero, got %v", what, x), "")
		}
	}
	atLeast0 := func(path string, x float64, what string) {
		if !(x >= 0) || math.IsInf(x, 0) {
			f.add(path, fmt.Sprintf("%s must not be negative, got %v", what, x), "")
		}
	}
	finite := func(path string, x *float64, what string) {
		if x != nil && (math.IsNaN(*x) || math.IsInf(*x, 0)) {
			f.add(path, what+" must be a number", "")
		}
	}
	positive("air/density", float64(s.Air.Density), "density")
	positive("air/viscosity", float64(s.Air.Viscosity), "viscosity")
	for i := range s.Collectors {
		c := &s.Collectors[i]
		positive("collectors/"+c.ID+"/inlet", float64(c.Inlet), "inlet diameter")
		if c.Curve == nil {
			f.add("collectors/"+c.ID+"/fan", "has no curve", "give points of flow and pressure")
		}
	}
	for i := range s.Runs {
		r := &s.Runs[i]
		path := "runs/" + r.ID
		if len(r.Pieces) == 0 {
			f.add(path, "has no pieces", "give a size and a family")
		}
		for k := range r.Pieces {
			pp := fmt.Sprintf("%s/pieces/%d", path, k)
			positive(pp, float64(r.Pieces[k].Diameter), "diameter")
			atLeast0(pp, float64(r.Pieces[k].Length), "length")
			atLeast0(pp, float64(r.Pieces[k].Make.Roughness), "roughness")
			finite(pp, &r.Pieces[k].K, "coefficient")
		}
		finite(path+"/k/bends", r.K.Bends, "coefficient")
		finite(path+"/k/junction", r.K.Junction, "coefficient")
		finite(path+"/k/steps", r.K.Steps, "coefficient")
		atLeast0(path+"/leak class", r.LeakClass, "leak class")
	}
	for i := range s.Tools {
		tl := &s.Tools[i]
		path := "tools/" + tl.ID
		positive(path+"/flow", float64(tl.Flow), "required flow")
		atLeast0(path+"/transport", float64(tl.Transport), "transport velocity")
		if len(tl.Ports) == 0 {
			f.add(path, "has no port", "give the point and size of its port")
		}
		for k := range tl.Ports {
			pp := fmt.Sprintf("%s/ports/%d", path, k)
			positive(pp, float64(tl.Ports[k].Diameter), "port diameter")
			atLeast0(pp, tl.Ports[k].Entry, "entry loss")
		}
	}
	for i := range s.Leaks {
		if _, ok := t.point[s.Leaks[i].At]; !ok {
			f.add("leaks/"+s.Leaks[i].ID, fmt.Sprintf("no point %q", s.Leaks[i].At), "")
		}
		atLeast0("leaks/"+s.Leaks[i].ID, float64(s.Leaks[i].Area), "area")
	}
	for i := range s.Bleeds {
		if _, ok := t.point[s.Bleeds[i].At]; !ok {
			f.add("bleeds/"+s.Bleeds[i].ID, fmt.Sprintf("no point %q", s.Bleeds[i].At), "")
		}
		positive("bleeds/"+s.Bleeds[i].ID, float64(s.Bleeds[i].Diameter), "diameter")
	}
}
