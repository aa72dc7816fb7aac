package firing

import "math"

// pose is how the switch stands.
type pose uint8

const (
	closed  pose = iota
	open         // the current goes into the capacitance across it
	clamped      // open, but at its clamp voltage
	backed       // open, but conducting backward
	arcing       // contacts parted, with a standing arc between them
	blocked      // a transistor switched on, whose current would flow backward
	poses
)

// Figures of an arc between parting contacts of tungsten [physics of
// contacts; from memory, and coarse]: it needs at least arcLeast V to strike
// and arcAmps to stand; contacts x m apart strike at fieldVPM x up to
// airVolts, and beyond at airVolts + airVPM x.
const (
	arcLeast  = 12.0  // V
	arcVolts  = 20.0  // V of a standing arc
	arcAmps   = 0.4   // A
	fieldVPM  = 100e6 // V/m
	airVolts  = 300.0 // V
	airVPM    = 5e6   // V/m
	restrikes = 80    // as often as that: the arc stands
)

// phase is the network between two events: linear.
type phase struct {
	ladder
	pose  pose
	burn  float64 // +1 or -1 while the gap burns that way, else 0
	guard [8]guard
	n     int // guards
	cur   vec // primary current = cur x + cur0
	cur0  float64
	volts float64 // V of the switch's fixed part when it is not open
	ohms  float64 // and its slope
}

// guard is a voltage or current that ends a phase when c x + d + e t comes
// up to 0, t the time since the switch opened.
type guard struct {
	c     vec
	d, e  float64
	scale float64 // what it is measured against
	what  event
}

type event uint8

const (
	none event = iota
	toClamp
	toBack
	toOpen
	toBlock
	toClose
	breakdown
	extinction
	brightens
	restrike
	bend // the iron saturates, or no longer does
)

func (g *guard) at(x *vec, t float64) float64 {
	return g.c[0]*x[0] + g.c[1]*x[1] + g.c[2]*x[2] + g.c[3]*x[3] + g.d + g.e*t
}

func (g *guard) slope(d *vec) float64 {
	return g.c[0]*d[0] + g.c[1]*d[1] + g.c[2]*d[2] + g.c[3]*d[3] + g.e
}

// plant is a case made ready: its figures with the special values put in.
type plant struct {
	Case
	c1, iron, shunt float64 // F, ohm, S
	turns           float64
	scale           vec
	scale1          float64 // V, what the switch's voltage is measured against: a common clamp, or what the coil could raise at it
	scale2          float64 // V, what the secondary's voltage is measured against: what the gap asks, or all that the coil could hold in the leads
	gapOff          bool    // the gap never breaks down: what the coil can give
	swing180        float64 // s, half a swing of the coil open, all capacitance on it
}

func (p *plant) ready(c *Case) {
	p.Case = *c
	p.c1 = max(c.Break.Farads, Stray)
	p.iron = 0
	if c.Coil.Iron > 0 {
		p.iron = 1 / c.Coil.Iron
	}
	p.shunt = 0
	if c.Gap.Shunt > 0 {
		p.shunt = 1 / c.Gap.Shunt
	}
	p.Coil.Coupling = min(c.Coil.Coupling, maxCoupling)
	p.Gap.Series = max(c.Gap.Series, 100)
	p.turns = math.Sqrt(c.Coil.L2 / c.Coil.L1)
	p.scale = vec{math.Sqrt(c.Coil.L1), math.Sqrt(c.Coil.L2), math.Sqrt(p.c1), math.Sqrt(c.Gap.Farads)}
	p.swing180 = math.Pi * math.Sqrt(c.Coil.L1*(p.c1+p.turns*p.turns*c.Gap.Farads))
	p.gapOff = math.IsInf(c.Gap.Required, 1)
	p.scale1 = min(300, max(10, math.Abs(c.Source.Volts)/c.Source.Ohms*math.Sqrt(c.Coil.L1/(p.c1+p.turns*p.turns*c.Gap.Farads))))
	p.scale2 = max(math.Abs(c.Source.Volts)/c.Source.Ohms*math.Sqrt(c.Coil.L1/c.Gap.Farads), 100)
	p.Gap.Required = max(c.Gap.Required, relight*c.Gap.Burn+p.Gap.Series*c.Gap.Extinct)
	p.scale2 = min(p.scale2, p.Gap.Required)
}

// magnetising is the current that magnetises the iron, referred to the primary.
func (p *plant) magnetising(x *vec) float64 { return x[i1] + p.turns*x[i2] }

// make builds the phase: the equations
//
//	L1 i1' + M i2' = u1           with i1 that of the magnetising branch
//	M i1' + L2 i2' = -v2 - R2 i2
//	E - R ip - u1 - switch = 0    with ip = i1 + u1/Iron
//	C1 v1' = ip  (open)
//	C2 v2' = i2 - v2/Rshunt - (v2 - s Burn)/Rseries  (burning)
func (p *plant) make(ph *phase, ps pose, burn, bent float64) {
	ph.pose, ph.burn, ph.n = ps, burn, 0
	k := p.Coil.Coupling
	l1, l2 := p.Coil.L1, p.Coil.L2
	m := k * math.Sqrt(l1*l2)
	if bent != 0 {
		// The leakage, a part 1-k of each winding, goes through air; only
		// what is magnetised in common falls.
		b := p.Coil.Beyond
		l1 *= 1 - k + b*k
		l2 *= 1 - k + b*k
		m *= b
	}
	det := l1*l2 - m*m
	e, r, onV1 := p.Source.Volts, p.Source.Ohms, 0.0
	ph.volts, ph.ohms = 0, 0
	switch ps {
	case closed:
		ph.volts, ph.ohms = p.Break.Drop, p.Break.On
	case clamped:
		ph.volts, ph.ohms = p.Break.Clamp, p.Break.ClampOhms
	case backed:
		ph.volts, ph.ohms = -p.Break.Back, p.Break.On
	case arcing:
		ph.volts = arcVolts
	case open, blocked:
		r += p.Break.Series
		onV1 = 1
	}
	e -= ph.volts
	r += ph.ohms
	q := 1 / (1 + r*p.iron)
	// u1 = q (e - onV1 v1 - r i1), ip = i1 + u1 iron
	u := vec{-q * r, 0, -q * onV1, 0}
	u0 := q * e
	ph.cur = vec{1 + p.iron*u[i1], 0, p.iron * u[v1], 0}
	ph.cur0 = p.iron * u0
	w := vec{0, -p.Coil.R2, 0, -1} // second winding
	a := &ph.a
	for j := 0; j < 4; j++ {
		a[j] = (l2*u[j] - m*w[j]) / det
		a[4+j] = (l1*w[j] - m*u[j]) / det
		a[8+j], a[12+j] = 0, 0
	}
	ph.b = vec{l2 * u0 / det, -m * u0 / det, 0, 0}
	if ps == open || ps == blocked {
		for j := 0; j < 4; j++ {
			a[8+j] = ph.cur[j] / p.c1
		}
		ph.b[v1] = ph.cur0 / p.c1
	}
	c2 := p.Gap.Farads
	a[12+i2] = 1 / c2
	a[12+v2] = -p.shunt / c2
	if burn != 0 {
		a[12+v2] -= 1 / (p.Gap.Series * c2)
		ph.b[v2] = burn * p.Gap.Burn / (p.Gap.Series * c2)
	}
	ph.ladder.set(&p.scale)

	add := func(g guard) { ph.guard[ph.n] = g; ph.n++ }
	neg := func(c vec) vec { return vec{-c[0], -c[1], -c[2], -c[3]} }
	amp := max(math.Abs(p.Source.Volts)/p.Source.Ohms, 1e-3)
	switch ps {
	case open:
		if z := p.Break.Clamp; z > 0 {
			add(guard{c: vec{v1: 1}, d: -z, scale: z, what: toClamp})
		}
		if z := p.Break.Back; z > 0 {
			add(guard{c: vec{v1: -1}, d: -z, scale: 10 + z, what: toBack})
		}
	case closed:
		if p.Break.Drop > 0 { // a transistor with a drop conducts one way
			add(guard{c: neg(ph.cur), d: -ph.cur0, scale: amp, what: toBlock})
		}
	case blocked:
		add(guard{c: vec{v1: 1}, d: -p.Break.Drop, scale: 10, what: toClose})
		if z := p.Break.Back; z > 0 {
			add(guard{c: vec{v1: -1}, d: -z, scale: 10 + z, what: toBack})
		}
	case clamped:
		add(guard{c: neg(ph.cur), d: -ph.cur0, scale: amp, what: toOpen})
	case backed:
		add(guard{c: ph.cur, d: ph.cur0, scale: amp, what: toOpen})
	case arcing:
		add(guard{c: neg(ph.cur), d: arcAmps - ph.cur0, scale: amp, what: toOpen})
	}
	switch {
	case burn != 0:
		z := p.Gap.Burn + p.Gap.Series*p.Gap.Extinct
		add(guard{c: vec{v2: -burn}, d: z, scale: z, what: extinction})
	case !p.gapOff:
		z := p.Gap.Required
		add(guard{c: vec{v2: 1}, d: -z, scale: z, what: breakdown})
		add(guard{c: vec{v2: -1}, d: -z, scale: z, what: breakdown})
	}
	if z := p.Coil.KneeA; z > 0 && !math.IsInf(z, 1) {
		c := vec{i1: 1, i2: p.turns}
		switch {
		case bent > 0:
			add(guard{c: neg(c), d: z, scale: z, what: bend})
		case bent < 0:
			add(guard{c: c, d: z, scale: z, what: bend})
		default:
			add(guard{c: c, d: -z, scale: z, what: bend})
			add(guard{c: neg(c), d: -z, scale: z, what: bend})
		}
	}
}
