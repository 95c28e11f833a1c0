package plots

import (
	"math"
	"strconv"
	"strings"
)

// Points nearer to each other than this, in points of the page, share a label.
const sameSpot = 6.0

// groups joins the points that cover each other on the page: each joins the
// first group whose first point it is near to.
func (d FanData) groups(f frame) [][]int {
	var out [][]int
next:
	for i, pt := range d.Points {
		for k, group := range out {
			first := d.Points[group[0]]
			if dist(f.at(pt.Flow, pt.Pressure), f.at(first.Flow, first.Pressure)) < sameSpot {
				out[k] = append(group, i)
				continue next
			}
		}
		out = append(out, []int{i})
	}
	return out
}

// numbers prints rising indices as numbers from one, three or more in a row
// as a range: "1, 3–5".
func numbers(indices []int) string {
	var parts []string
	for i := 0; i < len(indices); {
		k := i
		for k+1 < len(indices) && indices[k+1] == indices[k]+1 {
			k++
		}
		if k-i < 2 {
			k = i
			parts = append(parts, strconv.Itoa(indices[i]+1))
		} else {
			parts = append(parts, strconv.Itoa(indices[i]+1)+"–"+strconv.Itoa(indices[k]+1))
		}
		i = k + 1
	}
	return strings.Join(parts, ", ")
}

// Widths of the columns of the key: number, flow, pressure.
const keyNumber, keyValue, keyNameMost = 16.0, 36.0, 110.0

// Height of a row of the key, and its distance from the frame.
const keyRow, keyGap = 13.0, 20.0

func (d FanData) keyName() float64 {
	wide := smallText.width("state")
	for _, pt := range d.Points {
		wide = math.Max(wide, smallText.width(pt.State))
	}
	return math.Min(wide, keyNameMost)
}

func (d FanData) keyWidth() float64 { return keyNumber + d.keyName() + 2*keyValue }

// key prints the numbered states with their flow and pressure.
func (d FanData) key(p *pen, x, top float64) {
	name := d.keyName()
	flowEnd, pressureEnd := x+keyNumber+name+keyValue, x+keyNumber+name+2*keyValue
	row := func(y float64, n, state, flow, pressure string, face typeface) {
		p.text(smallBold, n, xy{x + keyNumber - 5, y}, 1, 0.5)
		p.text(face, face.fit(state, name), xy{x + keyNumber, y}, 0, 0.5)
		p.text(face, face.fit(flow, keyValue-4), xy{flowEnd, y}, 1, 0.5)
		p.text(face, face.fit(pressure, keyValue-4), xy{pressureEnd, y}, 1, 0.5)
	}
	var most XY
	for _, v := range d.working() {
		most = XY{math.Max(most.X, v.X), math.Max(most.Y, v.Y)}
	}
	y := top - 6
	row(y, "", "state", d.FlowUnit, d.PressureUnit, quietText)
	p.line(hairline, xy{x, y - 7}, xy{pressureEnd, y - 7})
	for i, pt := range d.Points {
		y -= keyRow
		row(y-1, strconv.Itoa(i+1), pt.State, number(pt.Flow, grain(most.X)), number(pt.Pressure, grain(most.Y)), smallText)
	}
}
