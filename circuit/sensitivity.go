package circuit

// Probe is something to read: the voltage between two nodes or the current
// of an element.
type Probe struct {
	A, B    NodeID
	Elem    ElemID
	Current bool // read the current of Elem instead of V(A) - V(B)
}

// VoltageProbe reads V(a) - V(b).
func VoltageProbe(a, b NodeID) Probe { return Probe{A: a, B: b} }

// CurrentProbe reads the current of an element.
func CurrentProbe(e ElemID) Probe { return Probe{Elem: e, Current: true} }

// Read returns a reading at the operating point.
func (s *Solver) Read(p Probe) float64 {
	if p.Current {
		return s.Current(p.Elem)
	}
	return s.Voltage(p.A, p.B)
}

// Gradient writes into out the derivative of a reading at the operating
// point to each of the figures, exactly, by the adjoint of the solved
// equations: with f(x, p) = 0 the network's equations and A their matrix,
//
//	dy/dp = ∂y/∂p - λ · ∂f/∂p,  Aᵀ λ = ∂y/∂x
//
// One factored matrix serves all figures. At a breakpoint of a device the
// derivative of the piece the solution is on is given; self-heating is
// included; to Coupling, inductance and capacitance it is 0. out must be as long
// as to. Call after DC.
func (s *Solver) Gradient(p Probe, to []ParamRef, out []float64) error {
	if !s.solved {
		if err := s.DC(); err != nil {
			return err
		}
	}
	// The matrix at the solution itself: the last Newton matrix was formed
	// one step earlier.
	if err := s.factorAt(s.dc, s.x); err != nil {
		return err
	}
	y := s.dc
	for _, q := range to {
		if err := s.checkRef(q); err != nil {
			return err
		}
	}
	c := s.adj
	clear(c)
	addV := func(a, b NodeID, w float64) {
		if a > 0 {
			c[a-1] += w
		}
		if b > 0 {
			c[b-1] -= w
		}
	}
	if p.Current {
		if br := y.branch[p.Elem]; br >= 0 {
			c[br] = 1
		} else {
			e := &s.elems[p.Elem]
			addV(e.a, e.b, s.slope(int32(p.Elem)))
		}
	} else {
		addV(p.A, p.B, 1)
	}
	y.elim.solveT(y.val, c, c)
	for j, q := range to {
		e := &s.elems[q.Elem]
		br := y.branch[q.Elem]
		switch {
		case e.kind == KindVoltageSource:
			// Row of the branch: v_a - v_b - V = 0.
			out[j] = c[br]
		case br >= 0: // an inductor at DC: its inductance does not matter
			out[j] = 0
		default:
			di := s.didp(int32(q.Elem), q.Param, s.volt(s.x, int32(q.Elem)))
			lam := nodeVolt(c, e.a) - nodeVolt(c, e.b)
			out[j] = -lam * di
			if p.Current && p.Elem == q.Elem {
				out[j] += di
			}
		}
	}
	return nil
}

// slope returns di/dv of an element at the operating point.
func (s *Solver) slope(i int32) float64 {
	e := &s.elems[i]
	switch {
	case isDevice(e.kind):
		return s.shape[i].g[s.seg[i]]
	case e.kind == KindResistor && e.p[3] > 0:
		r, kappa := e.heating()
		_, g := heated(r, kappa, s.volt(s.x, i))
		return g
	case e.kind == KindCurrentSource, e.kind == KindCapacitor:
		return 0
	}
	return e.conductance()
}

// didp returns ∂i/∂p of an element at voltage v over it, on its present
// piece and in its present state.
func (s *Solver) didp(i int32, p Param, v float64) float64 {
	e := &s.elems[i]
	k := slot(e.kind, p)
	if k < 0 {
		return 0
	}
	if e.kind == KindResistor && e.p[3] > 0 {
		// R' = R20 (1 + a (T - 20)) and κ = R20 a Rth.
		dr := [4]float64{1 + e.p[1]*(e.p[2]-20), e.p[0] * (e.p[2] - 20), e.p[0] * e.p[1], 0}[k]
		dk := [4]float64{e.p[1] * e.p[3], e.p[0] * e.p[3], 0, e.p[0] * e.p[1]}[k]
		r, kappa := e.heating()
		c, g := heated(r, kappa, v)
		q := (1 - kappa*c*c) / g // R' + 2 κ v i
		return -(v*c*c*dk + c*dr) / q
	}
	dg, di0 := s.heldDerivative(i, p, false)
	return dg*v + di0
}

// heldDerivative returns the derivative to a figure of the law i = g v + i0 of
// an element in its present state and on its present piece, a self-heating
// resistor at a given temperature; with warm, to that temperature.
func (s *Solver) heldDerivative(i int32, p Param, warm bool) (dg, di0 float64) {
	e := &s.elems[i]
	k := slot(e.kind, p)
	switch e.kind {
	case KindCurrentSource:
		return 0, 1
	case KindResistor: // g = 1 / (R20 (1 + a (T - 20)))
		g, t := e.conductance(), e.p[2]
		if e.p[3] > 0 {
			t = e.hot
		}
		switch {
		case warm || p == TempC && e.p[3] == 0:
			return -g * g * e.p[0] * e.p[1], 0
		case p == Ohms:
			return -g / e.p[0], 0
		case p == TempCo:
			return -g * g * e.p[0] * (t - 20), 0
		}
		return 0, 0
	case KindSwitch, KindVoltageSwitch, KindContact:
		switch {
		case k == 0 && e.closed:
			return -1 / (e.p[0] * e.p[0]), 0
		case k == 1 && !e.closed:
			return 1, 0
		}
		return 0, 0
	}
	if isDevice(e.kind) {
		return s.pieceDerivative(i, k)
	}
	return 0, 0
}

// heldSlope returns di/dv of an element in its present state and on its
// present piece, a self-heating resistor at a given temperature.
func (s *Solver) heldSlope(i int32) float64 {
	if isDevice(s.elems[i].kind) {
		return s.shape[i].g[s.seg[i]]
	}
	return s.elems[i].conductance()
}

// edgeDerivative returns the derivative to a figure of the voltage at which a
// guard stands: a breakpoint of a device on piece k, or a threshold.
func (s *Solver) edgeDerivative(g *guard, k int, p Param) float64 {
	e := &s.elems[g.elem]
	if g.move == 0 {
		if p == CloseAbove && !e.closed || p == OpenBelow && e.closed {
			return 1
		}
		return 0
	}
	if g.move < 0 {
		k-- // the breakpoint below
	}
	is := func(q Param, by float64) float64 {
		if p == q {
			return by
		}
		return 0
	}
	switch e.kind {
	case KindDiode:
		return is(Knee, 1)
	case KindDarlington:
		if e.closed {
			return is(Knee, 1)
		}
		return is(ClampVolts, 1)
	case KindClamp, KindMOSFET:
		if k == 0 {
			return is(ClampBack, -1)
		}
		return is(ClampVolts, 1)
	case KindLimitedSource: // the lower at volts - limit·ohms
		if k == 0 {
			return is(Volts, 1) + is(Ohms, -e.p[2]) + is(Amps, -e.p[1])
		}
		return is(Volts, 1)
	}
	return 0
}

// pieceDerivative returns the derivative to its k-th figure of the slope and
// the offset of the piece i = g v + i0 a device is on, kind by kind from the
// definitions in shape.
func (s *Solver) pieceDerivative(i int32, k int) (dg, di0 float64) {
	e := &s.elems[i]
	seg := int(s.seg[i])
	at := func(kind Kind, param Param) bool { return e.kind == kind && layout[kind][k] == param }
	onSlope := func() float64 { // d(1/on)/d(on)
		r := e.p[slot(e.kind, OnOhms)]
		return -1 / (r * r)
	}
	on := func() float64 { return 1 / e.p[slot(e.kind, OnOhms)] }
	p := &s.shape[i]
	switch e.kind {
	case KindDiode:
		if at(KindDiode, OffSiemens) {
			return 1, 0
		}
		if seg == 1 { // i = off v + (v - knee)/on
			switch {
			case at(KindDiode, Knee):
				return 0, -on()
			default:
				return onSlope(), -e.p[0] * onSlope()
			}
		}
	case KindClamp:
		if at(KindClamp, OffSiemens) {
			return 1, 0
		}
		edge, which := 0.0, ClampVolts
		switch seg {
		case 2:
			edge = e.p[0]
		case 0:
			edge, which = -e.p[1], ClampBack
		default:
			return 0, 0
		}
		switch {
		case at(KindClamp, OnOhms):
			return onSlope(), -edge * onSlope()
		case at(KindClamp, which):
			if which == ClampBack {
				return 0, on()
			}
			return 0, -on()
		}
	case KindDarlington:
		if at(KindDarlington, OffSiemens) {
			return 1, 0
		}
		if seg == 1 {
			edge, which := e.p[0], Knee
			if !e.closed {
				edge, which = e.p[2], ClampVolts
			}
			switch {
			case at(KindDarlington, OnOhms):
				return onSlope(), -edge * onSlope()
			case at(KindDarlington, which):
				return 0, -on()
			}
		}
	case KindMOSFET:
		if e.closed {
			if at(KindMOSFET, OnOhms) {
				return onSlope(), 0
			}
			return 0, 0
		}
		if at(KindMOSFET, OffSiemens) {
			return 1, 0
		}
		switch {
		case seg == 0:
			switch {
			case at(KindMOSFET, OnOhms):
				return onSlope(), e.p[2] * onSlope()
			case at(KindMOSFET, ClampBack):
				return 0, on()
			}
		case seg == p.n-1 && p.n == 3:
			switch {
			case at(KindMOSFET, OnOhms):
				return onSlope(), -e.p[1] * onSlope()
			case at(KindMOSFET, ClampVolts):
				return 0, -on()
			}
		}
	case KindLimitedSource:
		if at(KindLimitedSource, OffSiemens) {
			return 1, 0
		}
		switch seg {
		case 1: // i = off v + (v - volts)/ohms
			r := e.p[1]
			switch {
			case at(KindLimitedSource, Volts):
				return 0, -1 / r
			case at(KindLimitedSource, Ohms):
				return -1 / (r * r), e.p[0] / (r * r)
			}
		case 0:
			if at(KindLimitedSource, Amps) {
				return 0, -1
			}
		}
	}
	return 0, 0
}
