package main

import (
	"bytes"
	"fmt"
	"math"

	"wyewright/network"
	"wyewright/network/fan"
)

// The input file is in the engine's own units, cubic feet per second and feet,
// because its factors to metric units are rounded (28.317 l per cubic foot).
const (
	foot      = 0.3048 // m, exact
	cubicFoot = foot * foot * foot
	// gravity is the engine's, 32.2 ft/s²: a head is p/(ρ·gravity). Any value
	// serves as long as both sides of the conversion use it.
	gravity = 32.2 * foot
	// minorLoss is the engine's 8/(π²·32.2) of its minor losses, rounded; K is
	// raised by what it lacks (0.01 %).
	minorLoss = 0.02517
)

// filters is the head that the filter takes at the flow at which the fan's
// curve ends, loaded and clean, ft; the engine changes it between solves.
type filters struct {
	Flow   float64 `json:"flow"`
	Loaded float64 `json:"loaded"`
	Clean  float64 `json:"clean"`
}

// head converts a pressure to feet of air.
func head(spec *network.Spec, pressure float64) float64 {
	return pressure / (float64(spec.Air.Density) * gravity) / foot
}

// filterHeads makes the filter's straight line, which the engine takes as a
// valve with a curve of two points.
func filterHeads(spec *network.Spec) filters {
	c := &spec.Collectors[0]
	_, free := c.Curve.Range()
	return filters{Flow: free / cubicFoot, Loaded: head(spec, c.Filter.Loaded*free), Clean: head(spec, c.Filter.Clean*free)}
}

// input writes a tree as an EPANET input file. All air comes from and returns
// to ROOM, a reservoir at head 0: pipes R1, R2, … in the order of the runs, a
// valve for the filter, a pump for the fan. The loss of a port stands in the
// pipe behind it, on the pipe's diameter, so that the engine has no node more
// than it needs.
func input(spec *network.Spec) []byte {
	var b bytes.Buffer
	port := map[string]float64{} // K on the run's own velocity pressure, per point
	for _, tool := range spec.Tools {
		for _, p := range tool.Ports {
			port[p.At] = (p.Entry + p.Gate.Open) / math.Pow(float64(p.Diameter), 4)
		}
	}
	fmt.Fprint(&b, "[JUNCTIONS]\n")
	for _, p := range spec.Points {
		if _, ok := port[p.ID]; !ok {
			fmt.Fprintf(&b, "%s 0 0\n", p.ID)
		}
	}
	fmt.Fprint(&b, "FAN 0 0\n\n[RESERVOIRS]\nROOM 0\n\n[PIPES]\n")
	for i := range spec.Runs {
		r := &spec.Runs[i]
		piece := &r.Pieces[0]
		d, from := float64(piece.Diameter), r.From
		k, open := port[from]
		if open {
			from = "ROOM"
		}
		k *= math.Pow(d, 4) * 8 / (math.Pi * math.Pi * 32.2) / minorLoss
		// Feet, inches and thousandths of a foot.
		fmt.Fprintf(&b, "R%d %s %s %.17g %.17g %.17g %.17g Open\n", i+1, from, r.To,
			float64(piece.Length)/foot, d/foot*12, float64(piece.Make.Roughness)/foot*1000, k)
	}
	c := &spec.Collectors[0]
	parabola := c.Curve.(fan.Quadratic)
	top, free := head(spec, float64(parabola.Shutoff)), float64(parabola.FreeAir)/cubicFoot
	f := filterHeads(spec)
	fmt.Fprintf(&b, "\n[VALVES]\nFILTER %s FAN 12 GPV LINE 0\n\n[PUMPS]\nPUMP FAN ROOM HEAD PARABOLA\n", c.At)
	// Three points from zero flow on make the engine fit a power law, which
	// through these is the parabola itself.
	fmt.Fprintf(&b, "\n[CURVES]\nPARABOLA 0 %.17g\nPARABOLA %.17g %.17g\nPARABOLA %.17g 0\n", top, free/2, 0.75*top, free)
	fmt.Fprintf(&b, "LINE 0 0\nLINE %.17g %.17g\n", f.Flow, f.Loaded)
	// A viscosity below 1e-3 is absolute, ft²/s.
	fmt.Fprintf(&b, "\n[OPTIONS]\nUNITS CFS\nHEADLOSS D-W\nVISCOSITY %.17g\nTRIALS 200\nACCURACY 0.001\n", spec.Air.Kinematic()/foot/foot)
	fmt.Fprint(&b, "\n[REPORT]\nSTATUS NO\nMESSAGES NO\n\n[TIMES]\nDURATION 0\n\n[END]\n")
	return b.Bytes()
}
