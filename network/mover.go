package network

import (
	"wyewright/network/fan"
	"wyewright/network/loss"
)

// mover is what the duct sees of a collector: the total suction it holds at
// its inlet for a flow.
type mover struct {
	curve     fan.Curve
	fixed     bool
	fixedFlow float64
	linear    float64 // filter, Pa/(m³/s)
	square    float64 // separator and inlet velocity pressure, Pa/(m³/s)²
	discharge []coef
	friction  Friction
}

// mover makes the fan side of a case.
func (n *Network) mover(c *Case) mover { return n.moverOf(c.Collector, c.Filter) }

// moverOf makes the fan side of a collector.
func (n *Network) moverOf(collector int, filter FilterState) mover {
	col := &n.spec.Collectors[collector]
	rho := float64(n.spec.Air.Density)
	m := mover{curve: col.Curve, friction: n.spec.Friction}
	if f, ok := col.Curve.(fan.Fixed); ok {
		m.fixed, m.fixedFlow = true, float64(f.Flow)
	}
	m.linear = col.Filter.Loaded
	if filter == Clean {
		m.linear = col.Filter.Clean
	}
	if col.CleanIncluded {
		m.linear -= col.Filter.Clean
	}
	if s := col.Separator; s != nil {
		m.square += s.Heads * rho / 2 / float64(s.Inlet*s.Inlet)
	}
	if col.Meaning == SuctionAtInlet {
		a := circle(col.Inlet)
		m.square += rho / 2 / (a * a)
	}
	m.discharge = n.discharge[collector]
	return m
}

// suction is the total suction held at the inlet at flow q, Pa, and its slope.
func (m *mover) suction(q float64) (h, dh float64) {
	h, dh = m.curve.Pressure(q)
	h -= m.linear * q
	dh -= m.linear
	if q >= 0 {
		h -= m.square * q * q
		dh -= 2 * m.square * q
	}
	for i := range m.discharge {
		dp, d := m.discharge[i].loss(q, m.friction)
		h -= dp
		dh -= d
	}
	return h, dh
}

// loss is Δp = c·(k + f·lod)·Q|Q| of a piece and its slope.
func (p *coef) loss(q float64, law Friction) (dp, slope float64) {
	var root float64
	return p.lossNear(q, law, &root)
}

// lossNear is loss with a guess of 1/√f, as loss.FrictionNear takes it.
func (p *coef) lossNear(q float64, law Friction, root *float64) (dp, slope float64) {
	a := q
	if a < 0 {
		a = -a
	}
	f, df := 0.0, 0.0
	if p.lod > 0 && a > 0 {
		if law == SwameeJain {
			f, df = loss.SwameeJain(p.re*a, p.rel)
		} else {
			f, df = loss.FrictionNear(p.re*a, p.rel, root)
		}
	}
	k := p.k + f*p.lod
	return p.c * k * q * a, p.c * (2*k*a + df*p.re*p.lod*a*a)
}

// lossRough is loss at a flow above 0 with a first estimate of friction.
func (p *coef) lossRough(q float64, law Friction, root *float64) float64 {
	if p.lod == 0 || law != Colebrook || p.re*q < loss.TurbulentFrom {
		dp, _ := p.lossNear(q, law, root)
		return dp
	}
	f, x := loss.RoughFriction(p.re*q, p.rel)
	*root = x
	return p.c * (p.k + f*p.lod) * q * q
}
