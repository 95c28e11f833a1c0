package plots

func (p *pen) opening(at xy, radius float64) {
	p.circle(&sand, stroke{width: 1.2, color: rust}, at, radius)
}

// bars draws two crossed bars with a light rim, to be seen on a dark duct.
func (p *pen) bars(at xy, radius float64) {
	arm := 0.8 * radius
	for _, line := range []stroke{{width: 5.5, color: white}, {width: 3.2, color: rust}} {
		p.line(line, at.add(xy{-arm, -arm}), at.add(xy{arm, arm}))
		p.line(line, at.add(xy{-arm, arm}), at.add(xy{arm, -arm}))
	}
}

// gauge draws a gauge that is struck out.
func (p *pen) gauge(at xy, radius float64) {
	p.circle(&white, stroke{width: 1.2, color: ink}, at, 0.7*radius)
	p.line(stroke{width: 1.6, color: ink}, at.add(xy{-radius, -0.8 * radius}), at.add(xy{radius, 0.8 * radius}))
}

func (p *pen) rival(at xy, radius float64) {
	p.circle(nil, stroke{width: 1.2, color: rust, dash: []float64{2.6, 1.8}}, at, radius)
}

// legend is the key: the faults in use, then the shop.
func (d FaultData) legend() []entry {
	var used [faultKinds]bool
	rivals := false
	for _, f := range d.Faults {
		used[f.Place.Kind] = true
		rivals = rivals || len(f.Rivals) > 0
	}
	var out []entry
	add := func(use bool, width float64, text string, draw func(p *pen, at xy)) {
		if use {
			out = append(out, entry{width, draw, text})
		}
	}
	if used[FaultOpening] { // one that fits into a row of the key
		const fits = 6.0
		area := niceStep(d.largest()*fits*fits/openingMost/openingMost/2.5, 1) // nice steps are 2.5 apart at most
		r := d.radius(area)
		add(true, 2*r, FaultOpening.String()+", by area: "+withUnit(number(area, area), d.AreaUnit), func(p *pen, at xy) { p.opening(at, r) })
	}
	add(used[FaultLoss], 10, FaultLoss.String(), func(p *pen, at xy) { p.bars(at, 5) })
	add(used[FaultReading], 14, FaultReading.String(), func(p *pen, at xy) { p.gauge(at, 5.5) })
	add(rivals, 12, "may be here instead, same letter", func(p *pen, at xy) { p.rival(at, 5) })
	return append(out, d.Plan.legend()...)
}
