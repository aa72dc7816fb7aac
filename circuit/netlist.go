package circuit

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"
)

// NetlistOptions says what to write besides the network itself. The zero value
// writes an operating point.
type NetlistOptions struct {
	Title    string   // the first line, default "network"
	Comments []string // lines put at the top
	// Meters puts a source of 0 V in series with every element, so that a
	// simulator prints every current: that of element x is i(vm_x).
	Meters bool
	// Cycle, when given, writes a transient analysis of this schedule
	// instead of an operating point; self-heating resistors are written at
	// the temperature they have.
	Cycle  *Cycle
	Cycles int     // how many periods to run (default 12)
	Step   float64 // s, largest step (default a 5000th of the period)
	// Probes are measured over the last period: minimum, average, maximum,
	// and the value just before each action.
	Probes []Probe
	// Guess writes the last operating point as the simulator's first guess
	// (.nodeset). It does not bind the answer, but Newton's method on steep
	// piecewise-linear devices may need it.
	Guess bool
	// Shunt, F, is a capacitance the simulator is told to put from every node
	// to ground in a transient (its option cshunt), small against all that is
	// there: without it its steps can stall at the kinks of a network with
	// little capacitance of its own. 0 for none.
	Shunt float64
	// Bare leaves out the analysis and the end line.
	Bare bool
}

// SpiceNode returns the name a node has in a written netlist.
func (n *Network) SpiceNode(id NodeID) string {
	if id == Ground {
		return "0"
	}
	return spiceName(n.nodes[id])
}

// SpiceElement returns the name an element has in a written netlist, its
// letter included.
func (n *Network) SpiceElement(e ElemID) string {
	return spiceLetter[n.elems[e].kind] + spiceName(n.elems[e].name)
}

var spiceLetter = [kindCount]string{
	KindResistor: "r", KindInductor: "l", KindCapacitor: "c", KindVoltageSource: "v", KindCurrentSource: "i",
	KindSwitch: "b", KindVoltageSwitch: "b", KindDiode: "b", KindClamp: "b",
	KindDarlington: "b", KindMOSFET: "b", KindContact: "b", KindLimitedSource: "b",
}

// spiceName keeps letters and digits, lower case, and turns the rest into
// underscores.
func spiceName(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '_'
	}, s)
}

// WriteNetlist writes the network, with the figures and switch positions it
// has now, in the input language of the Berkeley circuit simulator as ngspice
// reads it. Piecewise-linear devices become behavioural current sources
// with the very same breakpoints, and self-heating resistors the very same
// closed form, so that what is checked is the solving.
func (s *Solver) WriteNetlist(out io.Writer, opt NetlistOptions) error {
	w := bufio.NewWriter(out)
	if s.stale {
		s.refresh()
	}
	title := strings.Join(strings.Fields(opt.Title), " ")
	if title == "" {
		title = "network"
	}
	fmt.Fprintf(w, "* %s\n", title)
	for _, c := range opt.Comments {
		fmt.Fprintf(w, "* %s\n", strings.Join(strings.Fields(c), " "))
	}
	controls := map[ElemID]string{}
	if opt.Cycle != nil {
		if err := opt.Cycle.check(s); err != nil {
			return err
		}
		s.writeControls(w, opt.Cycle, controls)
	}
	for i := range s.elems {
		s.writeElement(w, ElemID(i), opt, controls)
	}
	for _, c := range s.couplings {
		fmt.Fprintf(w, "k%s %s %s %.12g\n", spiceName(c.name), s.net.SpiceElement(c.l1), s.net.SpiceElement(c.l2), c.k)
	}
	if opt.Guess {
		for id := 1; id < len(s.net.nodes); id++ {
			fmt.Fprintf(w, ".nodeset v(%s)=%.9g\n", s.net.SpiceNode(NodeID(id)), s.V(NodeID(id)))
		}
	}
	if !opt.Bare {
		if opt.Cycle != nil {
			s.writeTransient(w, opt)
		} else {
			fmt.Fprintf(w, ".op\n")
		}
		fmt.Fprintf(w, ".end\n")
	}
	return w.Flush()
}

// edge is how long a switch takes to move in a written transient, in s.
const edge = 1e-7

// writeControls writes a 0-to-1 V source for every switch of the schedule.
func (s *Solver) writeControls(w *bufio.Writer, c *Cycle, controls map[ElemID]string) {
	for _, a := range c.Actions {
		if _, done := controls[a.Elem]; done {
			continue
		}
		name := "ctl_" + spiceName(s.elems[a.Elem].name)
		controls[a.Elem] = name
		// From each closing to the next opening, a pulse; they add in series.
		var on, off []float64
		for _, b := range c.Actions {
			if b.Elem != a.Elem {
				continue
			}
			if b.Close && len(on) == len(off) {
				on = append(on, b.At)
			} else if !b.Close {
				if len(off) < len(on) {
					off = append(off, b.At)
				} else if len(on) == 0 { // closed over the start of the cycle
					on, off = append(on, math.NaN()), append(off, b.At)
				}
			}
		}
		if len(off) < len(on) {
			off = append(off, c.Period)
		}
		node := "0"
		for k := range on {
			next := fmt.Sprintf("%s_%d", name, k)
			if k == len(on)-1 {
				next = name
			}
			start, width := on[k], off[k]-on[k]
			if math.IsNaN(start) {
				start, width = 0, off[k]
			}
			fmt.Fprintf(w, "v%s %s %s pulse(0 1 %.12g %g %g %.12g %.12g)\n", next, next, node, start, edge, edge, width-edge, c.Period)
			node = next
		}
	}
}

// pwlText writes a device's curve as a piecewise-linear function of its
// voltage, from far below its first breakpoint to far above its last.
func pwlText(v string, p *pieces) string {
	const far = 1e5
	if p.n == 1 {
		return fmt.Sprintf("%.12g*%s", p.g[0], v)
	}
	var b strings.Builder
	x := p.at[0] - far
	fmt.Fprintf(&b, "pwl(%s, %.12g, %.15g", v, x, p.g[0]*x+p.i0[0])
	last := x
	for k := 0; k < p.n-1; k++ {
		x := p.at[k]
		if x <= last+1e-9 {
			continue
		}
		fmt.Fprintf(&b, ", %.12g, %.15g", x, p.g[k]*x+p.i0[k])
		last = x
	}
	x = last + far
	fmt.Fprintf(&b, ", %.12g, %.15g)", x, p.g[p.n-1]*x+p.i0[p.n-1])
	return b.String()
}

func (s *Solver) writeElement(w *bufio.Writer, id ElemID, opt NetlistOptions, controls map[ElemID]string) {
	e := &s.elems[id]
	a, b := s.net.SpiceNode(e.a), s.net.SpiceNode(e.b)
	name := s.net.SpiceElement(id)
	if opt.Meters {
		m := "m_" + spiceName(e.name)
		fmt.Fprintf(w, "v%s %s %s 0\n", m, a, m)
		a = m
	}
	v := fmt.Sprintf("v(%s,%s)", a, b)
	if b == "0" {
		v = fmt.Sprintf("v(%s)", a)
	}
	if a == "0" {
		v = fmt.Sprintf("(-v(%s))", b)
	}
	switch e.kind {
	case KindResistor:
		if e.p[3] > 0 && opt.Cycle == nil {
			r, k := e.heating()
			fmt.Fprintf(w, "b%s %s %s i=2*%s/(%.12g+sqrt(%.12g+%.12g*%s*%s))\n", spiceName(e.name), a, b, v, r, r*r, 4*k, v, v)
			return
		}
		fmt.Fprintf(w, "%s %s %s %.12g\n", name, a, b, 1/e.conductance())
	case KindInductor:
		fmt.Fprintf(w, "%s %s %s %.12g\n", name, a, b, e.p[0])
	case KindCapacitor:
		fmt.Fprintf(w, "%s %s %s %.12g\n", name, a, b, e.p[0])
	case KindVoltageSource, KindCurrentSource:
		fmt.Fprintf(w, "%s %s %s dc %.12g\n", name, a, b, e.p[0])
	case KindSwitch, KindContact, KindVoltageSwitch:
		ctl, moved := controls[id]
		if e.kind == KindVoltageSwitch && opt.Cycle != nil {
			// The simulator's own switch has the same hysteresis. It is
			// opened by a conductance of 0 with the least there can be.
			n := spiceName(e.name)
			state := "off"
			if e.closed {
				state = "on"
			}
			fmt.Fprintf(w, "s%s %s %s %s %s sw_%s %s\n", n, a, b, s.net.SpiceNode(e.c), s.net.SpiceNode(e.d), n, state)
			fmt.Fprintf(w, ".model sw_%s sw(vt=%.12g vh=%.12g ron=%.12g roff=%.12g)\n", n,
				(e.p[2]+e.p[3])/2, (e.p[2]-e.p[3])/2, e.p[0], 1/max(e.p[1], 1e-18))
			return
		}
		if !moved {
			fmt.Fprintf(w, "%s %s %s i=%.12g*%s\n", name, a, b, e.conductance(), v)
			return
		}
		fmt.Fprintf(w, "%s %s %s i=v(%s)>0.5 ? %.12g*%s : %.12g*%s\n", name, a, b, ctl, 1/e.p[0], v, e.p[1], v)
	default:
		var p pieces
		e.shape(&p)
		ctl, moved := controls[id]
		if !moved {
			fmt.Fprintf(w, "%s %s %s i=%s\n", name, a, b, pwlText(v, &p))
			return
		}
		open, shut := *e, *e
		open.closed, shut.closed = false, true
		shut.shape(&p)
		on := pwlText(v, &p)
		open.shape(&p)
		fmt.Fprintf(w, "%s %s %s i=v(%s)>0.5 ? %s : %s\n", name, a, b, ctl, on, pwlText(v, &p))
	}
}

func (s *Solver) writeTransient(w *bufio.Writer, opt NetlistOptions) {
	c := opt.Cycle
	cycles := opt.Cycles
	if cycles <= 0 {
		cycles = 12
	}
	step := opt.Step
	if !(step > 0) {
		step = c.Period / 5000
	}
	if opt.Shunt > 0 {
		fmt.Fprintf(w, ".options cshunt=%g\n", opt.Shunt)
	}
	from, to := float64(cycles-1)*c.Period, float64(cycles)*c.Period
	fmt.Fprintf(w, ".tran %.12g %.12g %.12g %.12g\n", step, to, from, step)
	for i, p := range opt.Probes {
		x := s.spiceProbe(p, opt.Meters)
		if x == "" {
			continue
		}
		for _, m := range []string{"min", "avg", "max"} {
			fmt.Fprintf(w, ".meas tran p%d_%s %s %s from=%.12g to=%.12g\n", i, m, m, x, from, to)
		}
		for k, a := range c.Actions {
			at := from + a.At - 2*edge
			if a.At == 0 {
				at = to - 2*edge
			}
			fmt.Fprintf(w, ".meas tran p%d_before%d find %s at=%.15g\n", i, k, x, at)
		}
	}
}

// spiceProbe writes a reading as an expression; currents need Meters, or an
// element that is a source or inductor.
func (s *Solver) spiceProbe(p Probe, meters bool) string {
	if p.Current {
		e := &s.elems[p.Elem]
		switch {
		case meters:
			return "i(vm_" + spiceName(e.name) + ")"
		case e.kind == KindVoltageSource || e.kind == KindInductor:
			return "i(" + s.net.SpiceElement(p.Elem) + ")"
		}
		return ""
	}
	switch {
	case p.B == Ground && p.A == Ground:
		return "0"
	case p.B == Ground:
		return "v(" + s.net.SpiceNode(p.A) + ")"
	case p.A == Ground:
		return "par('-v(" + s.net.SpiceNode(p.B) + ")')"
	}
	return "par('v(" + s.net.SpiceNode(p.A) + ")-v(" + s.net.SpiceNode(p.B) + ")')"
}
