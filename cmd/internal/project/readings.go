package project

import (
	"fmt"
	"io/fs"
	"slices"

	"wyewright/network"
	"wyewright/network/calibrate"
	"wyewright/network/shopfile"
)

// Readings are the readings that a shop file holds or names, as a fit takes
// them.
func (p *Project) Readings() ([]calibrate.Reading, error) {
	rs := p.File.Readings
	if name := p.File.ReadingsPath; name != "" {
		src, err := fs.ReadFile(p.Folder, name)
		if err != nil {
			return nil, err
		}
		if rs, err = shopfile.DecodeReadings(name, src, p.File); err != nil {
			return nil, err
		}
	}
	out := make([]calibrate.Reading, len(rs))
	for i := range rs {
		out[i] = p.reading(&rs[i])
	}
	return out, nil
}

// reading turns one reading of the file into what the fit takes. The file has
// been checked: every name is known.
func (p *Project) reading(r *shopfile.Reading) calibrate.Reading {
	s := &p.File.Spec
	out := calibrate.Reading{Name: r.Name + " in " + r.State.Name, Source: fmt.Sprintf("%s:%d", r.File, r.Line), State: r.State, Value: r.Value, Port: r.Port,
		Centre: r.Method == shopfile.Centre, OpenEnd: r.Method == shopfile.Mouth,
		Date: r.Date, Along: r.Along, Distance: float64(r.Distance),
		Quantity: map[shopfile.Quantity]calibrate.Quantity{shopfile.Velocity: calibrate.Velocity, shopfile.Flow: calibrate.Flow, shopfile.Suction: calibrate.Suction, shopfile.Current: calibrate.Current}[r.Quantity],
		Bound:    map[shopfile.Bound]calibrate.Bound{shopfile.Exact: calibrate.Exact, shopfile.AtLeast: calibrate.AtLeast, shopfile.AtMost: calibrate.AtMost}[r.Bound]}
	switch r.Place {
	case shopfile.AtRun:
		out.Place = calibrate.AtRun
		out.Index = slices.IndexFunc(s.Runs, func(x network.Run) bool { return x.ID == r.Name })
	case shopfile.AtPort:
		out.Place = calibrate.AtPort
		out.Index = slices.IndexFunc(s.Tools, func(x network.Tool) bool { return x.ID == r.Name })
		if t := &s.Tools[out.Index]; len(t.Ports) > 1 {
			out.Name = r.Name + " at " + t.Ports[r.Port].At + " in " + r.State.Name
		}
	case shopfile.AtPoint:
		out.Place = calibrate.AtPoint
		out.Index = slices.IndexFunc(s.Points, func(x network.Point) bool { return x.ID == r.Name })
	default:
		out.Place = calibrate.AtFan
		if slices.ContainsFunc(s.Collectors, func(x network.Collector) bool { return x.ID == r.Name }) {
			out.Fan = r.Name
		} else {
			out.Fan = r.State.Collector // as the column of that name says
		}
	}
	return out
}
