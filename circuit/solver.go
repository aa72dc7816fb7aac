package circuit

import (
	"errors"
	"fmt"
	"math"
)

// Solver solves one network again and again while its figures change. It
// owns its work space, so it is for one goroutine; Clone gives another. No
// solve allocates.
type Solver struct {
	net       *Network // topology only; figures live in elems
	elems     []element
	couplings []coupling
	dc        *system
	held      *system
	heldErr   error

	devices []int32 // elements with breakpoints
	heaters []int32 // resistors that heat themselves
	relays  []int32 // voltage-controlled switches
	linear  []int32 // elements of constant conductance
	sources []int32
	shape   []pieces // by element (only devices used)
	seg     []int8   // by element, the piece a device is on

	x       []float64 // the present operating point (DC unknowns)
	xn      []float64
	adj     []float64
	solved  bool
	stale   bool // shapes of devices are to be made anew
	loaded  bool // the operating point's right-hand side is that of the sources as set
	unsure  bool // thresholds have been set since they were last looked at
	version int  // counts changes of figures

	// for the state equations
	states   []int32 // elements with a state: inductors, then capacitors
	inductor int     // how many of them are inductors
	place    []int32 // by element, its number among the states, -1 for none

	Stats Stats
}

// Stats counts the work done by a Solver.
type Stats struct {
	Factorizations int // matrices factored
	Iterations     int // Newton iterations of DC solves
	Solves         int // DC operating points
	Cycles         int // cycles walked through by Steady
	Events         int // switching events met
}

// Compile checks the network and prepares it for solving. All element errors
// are returned joined; a loop of voltage sources is a LoopError.
func (n *Network) Compile() (*Solver, error) {
	if len(n.errs) > 0 {
		return nil, errors.Join(n.errs...)
	}
	s := &Solver{net: n, elems: append([]element(nil), n.elems...), couplings: append([]coupling(nil), n.couplings...), stale: true}
	var err error
	if s.dc, err = newSystem(n, atDC); err != nil {
		return nil, err
	}
	s.held, s.heldErr = newSystem(n, statesHeld)
	s.sort()
	s.seg = make([]int8, len(s.elems))
	s.shape = make([]pieces, len(s.elems))
	s.x = make([]float64, s.dc.n+1)
	s.xn = make([]float64, s.dc.n+1)
	s.adj = make([]float64, s.dc.n+1)
	return s, nil
}

// sort lists the elements by what has to be done with them.
func (s *Solver) sort() {
	for i := range s.elems {
		e := &s.elems[i]
		ix := int32(i)
		switch {
		case isDevice(e.kind):
			s.devices = append(s.devices, ix)
		case e.kind == KindResistor:
			if e.p[3] > 0 {
				s.heaters = append(s.heaters, ix)
			} else {
				s.linear = append(s.linear, ix)
			}
		case e.kind == KindVoltageSwitch:
			s.relays = append(s.relays, ix)
			s.linear = append(s.linear, ix)
		case conducts(e.kind):
			s.linear = append(s.linear, ix)
		case e.kind == KindVoltageSource || e.kind == KindCurrentSource:
			s.sources = append(s.sources, ix)
		case e.kind == KindInductor:
			s.states = append(s.states, ix)
			s.inductor++
		}
	}
	for i := range s.elems {
		if s.elems[i].kind == KindCapacitor {
			s.states = append(s.states, int32(i))
		}
	}
	s.place = make([]int32, len(s.elems))
	for i := range s.place {
		s.place[i] = -1
	}
	for r, i := range s.states {
		s.place[i] = int32(r)
	}
}

// Clone returns a solver of the same network with the same figures and its
// own work space.
func (s *Solver) Clone() *Solver {
	c := *s
	c.elems = append([]element(nil), s.elems...)
	c.couplings = append([]coupling(nil), s.couplings...)
	c.dc = s.dc.clone()
	if s.held != nil {
		c.held = s.held.clone()
	}
	c.seg = append([]int8(nil), s.seg...)
	c.shape = append([]pieces(nil), s.shape...)
	c.x = append([]float64(nil), s.x...)
	c.xn = make([]float64, len(s.xn))
	c.adj = make([]float64, len(s.adj))
	c.stale, c.loaded = true, false
	return &c
}

// Network returns the network the solver was compiled from. Its figures are
// those it was built with, not those set since.
func (s *Solver) Network() *Network { return s.net }

// Get returns a figure of an element, NaN when it has none such. Coupling is
// had by either inductor of a pair that is coupled to nothing else.
func (s *Solver) Get(e ElemID, p Param) float64 {
	if p == Coupling {
		if c, err := s.onlyCoupling(e); err == nil {
			return s.couplings[c].k
		}
		return math.NaN()
	}
	if i := slot(s.elems[e].kind, p); i >= 0 {
		return s.elems[e].p[i]
	}
	return math.NaN()
}

// Set changes a figure of an element. A figure out of range is refused with
// an ElementError and nothing changes. A resistor built without HeatKPerW
// can't be given one later, because the list of what heats itself is fixed.
// The two thresholds of a voltage-controlled switch can be set in either
// order; whether they cross is looked at by the next solve. Coupling is had
// by either inductor of a pair that is coupled to nothing else; see
// SetCoupling for the rest.
func (s *Solver) Set(e ElemID, p Param, v float64) error {
	el := &s.elems[e]
	if p == Coupling {
		c, err := s.onlyCoupling(e)
		if err != nil {
			return err
		}
		return s.couple(c, v)
	}
	i := slot(el.kind, p)
	if i < 0 {
		return &ElementError{Element: el.name, What: fmt.Sprintf("a %s has no %s", el.kind, p)}
	}
	if msg := checkParam(el.kind, p, v); msg != "" {
		return &ElementError{Element: el.name, What: p.String() + " " + msg}
	}
	if p == HeatKPerW && (v > 0) != (s.net.elems[e].p[3] > 0) {
		return &ElementError{Element: el.name, What: "self-heating can't be switched on or off after compiling"}
	}
	if el.p[i] == v {
		return nil
	}
	old := el.p[i]
	el.p[i] = v
	if msg := el.checkResistance(); msg != "" {
		el.p[i] = old
		return &ElementError{Element: el.name, What: msg}
	}
	if p == TempC {
		el.hot += v - old // it was as much warmer as it was
	}
	s.touch(e, p)
	return nil
}

// touch notes what a changed figure makes stale.
func (s *Solver) touch(e ElemID, p Param) {
	k := s.elems[e].kind
	switch {
	case isDevice(k):
		s.stale = true
	case p == CloseAbove || p == OpenBelow:
		s.unsure = true
	case p == Volts || p == Amps:
		s.loaded = false
	case k == KindInductor || k == KindCapacitor:
	default:
		s.restamp(e)
	}
	s.version++
	s.solved = false
}

// SetClosed closes or opens a switch, contact, Darlington or MOSFET.
func (s *Solver) SetClosed(e ElemID, closed bool) {
	el := &s.elems[e]
	if !isSwitchable(el.kind) || el.closed == closed {
		return
	}
	el.closed = closed
	if isDevice(el.kind) {
		s.stale = true
	} else {
		s.restamp(e)
	}
	s.solved = false
}

// restamp notes that the conductance of an element has changed.
func (s *Solver) restamp(e ElemID) {
	s.dc.base.wait(int32(e))
	if s.held != nil {
		s.held.base.wait(int32(e))
	}
}

// Closed reports whether a switch is closed.
func (s *Solver) Closed(e ElemID) bool { return s.elems[e].closed }

// refresh remakes the pieces of the devices after a change.
func (s *Solver) refresh() {
	for _, i := range s.devices {
		s.elems[i].shape(&s.shape[i])
		if int(s.seg[i]) >= s.shape[i].n {
			s.seg[i] = int8(s.shape[i].n - 1)
		}
	}
	s.stale = false
}

// begin loads the constant part into the matrix and right-hand side.
func (s *Solver) begin(y *system) {
	if len(y.base.waiting) > 0 {
		y.bring(s.elems)
	}
	copy(y.val, y.base.val)
	copy(y.ground, y.base.ground)
	copy(y.rhs, y.baseR)
}

// loadSources writes the right-hand side of the independent sources.
func (s *Solver) loadSources(y *system) {
	clear(y.baseR)
	for _, i := range s.sources {
		e := &s.elems[i]
		if e.kind == KindVoltageSource {
			y.baseR[y.branch[i]] += e.p[0]
		} else {
			y.addI(y.baseR, int(i), e.p[0])
		}
	}
}

// volt returns the voltage over element i in the solution x.
func (s *Solver) volt(x []float64, i int32) float64 {
	e := &s.elems[i]
	var v float64
	if e.a > 0 {
		v = x[e.a-1]
	}
	if e.b > 0 {
		v -= x[e.b-1]
	}
	return v
}

// factorAt loads the matrix at the voltages of x and factors it.
func (s *Solver) factorAt(y *system, x []float64) error {
	s.loadAt(y, x)
	if k := y.elim.factor(y.val, y.ground); k >= 0 {
		return s.singular(y, k)
	}
	return nil
}

// loadAt stamps the devices' tangents at the voltages of x.
func (s *Solver) loadAt(y *system, x []float64) {
	s.begin(y)
	for _, i := range s.devices {
		p, k := &s.shape[i], s.seg[i]
		y.addG(int(i), p.g[k])
		y.addI(y.rhs, int(i), p.i0[k])
	}
	for _, i := range s.heaters {
		if y.mode == statesHeld {
			break // stamped with the constant ones
		}
		e := &s.elems[i]
		r, kappa := e.heating()
		v := s.volt(x, i)
		c, g := heated(r, kappa, v)
		y.addG(int(i), g)
		y.addI(y.rhs, int(i), c-g*v)
	}
	s.Stats.Factorizations++
}

// singular names what is wrong when pivot k has vanished: its node belongs to
// an island that nothing joins to ground, into which a current is driven or
// not.
func (s *Solver) singular(y *system, k int) error {
	island := make([]bool, len(s.net.nodes))
	island[y.elim.col[k]+1] = true
	for grown := true; grown; {
		grown = false
		for i := range s.elems {
			e := &s.elems[i]
			if island[e.a] != island[e.b] && e.a != Ground && e.b != Ground && s.joins(y, i) {
				island[e.a], island[e.b], grown = true, true, true
			}
		}
	}
	for i := range s.elems {
		e := &s.elems[i]
		pushes := e.kind == KindCurrentSource || y.mode == statesHeld && e.kind == KindInductor
		if pushes && island[e.a] != island[e.b] {
			if island[e.a] {
				return &CutsetError{Node: s.net.nodes[e.a]}
			}
			return &CutsetError{Node: s.net.nodes[e.b]}
		}
	}
	return &FloatingError{Node: s.net.nodes[y.elim.col[k]+1]}
}

// joins reports whether an element makes its nodes' voltages depend on each
// other.
func (s *Solver) joins(y *system, i int) bool {
	if y.branch[i] >= 0 {
		return true
	}
	k := s.elems[i].kind
	return conducts(k) && (isDevice(k) && s.shape[i].g[s.seg[i]] > 0 || !isDevice(k) && s.elems[i].conductance() > 0)
}

// DC finds the operating point: all states at rest, switches as they stand,
// voltage-controlled switches wherever their own control holds them. The
// result is read with V, Voltage, Current, Power and Heat. It warm-starts
// from the last one.
func (s *Solver) DC() error {
	s.Stats.Solves++
	if s.stale {
		s.refresh()
	}
	if err := s.checkThresholds(); err != nil {
		return err
	}
	if !s.loaded {
		s.loadSources(s.dc)
		s.loaded = true
	}
	for round := 0; ; round++ {
		if err := s.newton(s.dc, s.x); err != nil {
			return err
		}
		moved := s.moveRelays(s.x)
		if moved < 0 {
			break
		}
		if round > 2*len(s.relays)+2 {
			return &ChatterError{Element: s.elems[moved].name}
		}
	}
	s.solved = true
	return nil
}

// checkThresholds makes sure, after a change, that every voltage-controlled
// switch closes no lower than it opens.
func (s *Solver) checkThresholds() error {
	if !s.unsure {
		return nil
	}
	for _, i := range s.relays {
		if msg := s.elems[i].checkThresholds(); msg != "" {
			return &ElementError{Element: s.elems[i].name, What: msg}
		}
	}
	s.unsure = false
	return nil
}

// moveRelays puts the first voltage-controlled switch whose control asks for
// it into its other state and returns it, -1 when all are content.
func (s *Solver) moveRelays(x []float64) int {
	for _, i := range s.relays {
		e := &s.elems[i]
		v := nodeVolt(x, e.c) - nodeVolt(x, e.d)
		if want := wants(e, v); want != e.closed {
			s.SetClosed(ElemID(i), want)
			return int(i)
		}
	}
	return -1
}

func wants(e *element, control float64) bool {
	if e.closed {
		return control >= e.p[3]
	}
	return control > e.p[2]
}

func nodeVolt(x []float64, n NodeID) float64 {
	if n == 0 {
		return 0
	}
	return x[n-1]
}

// V returns the voltage of a node at the operating point.
func (s *Solver) V(n NodeID) float64 { return nodeVolt(s.x, n) }

// Voltage returns V(a) - V(b) at the operating point.
func (s *Solver) Voltage(a, b NodeID) float64 { return nodeVolt(s.x, a) - nodeVolt(s.x, b) }

// Current returns the current of an element at the operating point, from its
// terminal a through it to b.
func (s *Solver) Current(e ElemID) float64 {
	if br := s.dc.branch[e]; br >= 0 {
		return s.x[br]
	}
	el := &s.elems[e]
	v := s.volt(s.x, int32(e))
	switch {
	case el.kind == KindCapacitor:
		return 0
	case el.kind == KindCurrentSource:
		return el.p[0]
	case isDevice(el.kind):
		p := &s.shape[e]
		k := s.seg[e]
		return p.g[k]*v + p.i0[k]
	case el.kind == KindResistor && el.p[3] > 0:
		r, kappa := el.heating()
		i, _ := heated(r, kappa, v)
		return i
	}
	return el.conductance() * v
}

// Power returns the power an element takes at the operating point, in W;
// negative for one that gives.
func (s *Solver) Power(e ElemID) float64 {
	return s.volt(s.x, int32(e)) * s.Current(e)
}

// Heat returns the temperature in °C of a resistor at the operating point:
// its surroundings plus what its own power adds.
func (s *Solver) Heat(e ElemID) float64 {
	el := &s.elems[e]
	if el.kind != KindResistor {
		return math.NaN()
	}
	return el.p[2] + el.p[3]*s.Power(e)
}
