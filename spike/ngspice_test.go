package spike

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/internal/judge"
	"dwellwright/pulse"
)

// deck writes a rig that is ready to go for ngspice, the spike to begin at
// time at. The charged capacitors are not written: in their place is a source
// that follows the double exponential by its formula. What opens or closes
// does so within edge.
func deck(t *testing.T, r *rig, pl *pulse.Pulse, cut bool, at, edge float64) string {
	t.Helper()
	var net bytes.Buffer
	if err := r.s.WriteNetlist(&net, circuit.NetlistOptions{Title: "spike", Bare: true}); err != nil {
		t.Fatal(err)
	}
	n := r.s.Network()
	moved := func(e circuit.ElemID, from, to float64) string {
		a, b := n.Terminals(e)
		return fmt.Sprintf("%s %s %s i=pwl(time, -1, %.12g, %.12g, %.12g, %.12g, %.12g, 1e6, %.12g)*(v(%[2]s)-v(%[3]s))", n.SpiceElement(e), n.SpiceNode(a), n.SpiceNode(b), from, at, from, at+edge, to, to)
	}
	var out strings.Builder
	for _, line := range strings.Split(strings.TrimRight(net.String(), "\n"), "\n") {
		name, _, _ := strings.Cut(line, " ")
		switch {
		case strings.HasPrefix(name, "cspike_"), strings.HasPrefix(name, "rspike_") && name != "rspike_source":
			continue
		case pl != nil && !r.early && name == n.SpiceElement(r.gen.Switch):
			line = moved(r.gen.Switch, 0, 1/r.s.Get(r.gen.Switch, circuit.OnOhms))
		case cut && name == n.SpiceElement(r.surge.Line):
			line = moved(r.surge.Line, 1/r.s.Get(r.surge.Line, circuit.OnOhms), r.s.Get(r.surge.Line, circuit.OffSiemens))
		}
		out.WriteString(line + "\n")
	}
	if pl != nil {
		w, err := pl.Wave()
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&out, "bspike_wave spike_top spike_foot v=time<%[1]g ? 0 : %.12[2]g*(exp(-(time-%[1]g)/%.12[3]g)-exp(-(time-%[1]g)/%.12[4]g))\n", at, r.surge.Sign*w.ScaleV, w.FallTauS, w.RiseTauS)
	}
	return out.String()
}

// Forty of pulse and protection on whole cars, both earths, 6 and 12 V,
// module and points: the voltage furthest from rest at the trigger within 1 %
// of what ngspice finds by its own small steps, for the same network with the
// pulse as a formula instead of charged capacitors.
func TestAgainstNgspice(t *testing.T) {
	type try struct {
		name  string
		rig   *rig
		deck  string
		seen  Seen
		last  float64
		step  float64
		from  float64 // looked at from here on
		shunt float64 // F at every node, for ngspice to find its steps by; far too little to be felt
	}
	var tries []try
	protections := append([]Protection{{ID: "none"}, {ID: "long lead", Capacitor: Capacitor{Farads: 0.5e-6, LeadHenries: 1e-6, SeriesOhms: 0.1}}}, Usual()...)
	for i, v := range []struct {
		volts  int
		earth  car.Earth
		kind   car.SwitchKind
		feed   car.FeedPoint
		charge car.ChargingKind
		closed bool
	}{
		{12, car.NegativeEarth, car.Darlington, car.FeedCoil, car.DCGenerator, false},
		{12, car.NegativeEarth, car.MOSFET, car.FeedKeySwitch, car.ACAlternator, true},
		{6, car.PositiveEarth, car.IGBT, car.FeedBallastSupply, car.DCGenerator, false},
		{12, car.PositiveEarth, car.SinglePoints, car.FeedNone, car.ACAlternator, true},
	} {
		c := car.Defaults(v.volts, v.earth, 6)
		c.Switch = car.SwitchDefaults(v.kind, v.volts, 6)
		c.Feed = v.feed
		c.Charging = car.ChargingDefaults(v.charge, v.volts)
		b, err := newBench(c, "cruise", Options{SwitchClosed: v.closed})
		if err != nil {
			t.Fatal(err)
		}
		well, err := newBench(healthy(c, "cruise"), "cruise", Options{SwitchClosed: v.closed})
		if err != nil {
			t.Fatal(err)
		}
		for j, k := range Cases(c) {
			if k.Kind != TestPulse && k.Kind != LoadOff && k.Kind != BatteryOff {
				continue
			}
			p := protections[(i+j)%len(protections)]
			on := b
			if p.HealthyBattery {
				on = well
			}
			var r *rig
			var step float64
			var pl *pulse.Pulse
			cut := false
			switch k.Kind {
			case LoadOff:
				r, err = on.loadRig(&k, p)
				cut = true
				step = 20e-9
			case BatteryOff:
				d, e := on.dump(&k)
				if e != nil {
					t.Fatal(e)
				}
				pl = &d
				r, err = on.pulseRig(&k, pl, GeneratorOutput, p)
				step = d.RiseS / 50
			default:
				pl, cut = k.Pulse, k.Pulse.Rides == pulse.OnDeadLine
				r, err = on.pulseRig(&k, pl, k.At, p)
				step = k.Pulse.RiseS / 50
			}
			if err != nil {
				t.Fatal(err)
			}
			res := &Result{}
			seen, err := on.try(&k, res, p)
			if err != nil {
				t.Fatal(err)
			}
			// A pulse on a dead line that is gentler than the loss of the line is
			// looked at once it has come.
			from := 0.0
			if pl != nil && pl.Rides == pulse.OnDeadLine && pl.PeakV > 0 {
				from = pl.RiseS
				seen.RestV, seen.LowestV, seen.PeakV = 0, 0, 0
				for _, s := range seen.Trace {
					if s.TimeS >= from && s.Volts > seen.PeakV {
						seen.PeakV, seen.PeakAtS = s.Volts, s.TimeS
					}
				}
			}
			at := seen.PeakAtS
			if seen.RestV-seen.LowestV > seen.PeakV-seen.RestV {
				at = seen.LowestAtS
			}
			last := 1.5*math.Max(at, 0) + 20*step // past the extreme
			tries = append(tries, try{fmt.Sprintf("%d V %v %s %s, switch %s", v.volts, v.kind, k.ID, p.ID, map[bool]string{true: "closed", false: "open"}[v.closed]), r, deck(t, r, pl, cut, 10*step, step/20), seen, last, step, from, step / 1e7})
		}
	}
	dir := t.TempDir()
	var main strings.Builder
	main.WriteString("* spikes\nr1 1 0 1\n.control\nset numdgt=12\n")
	for i := range tries {
		x := &tries[i]
		file := filepath.Join(dir, fmt.Sprintf("spike%d.cir", i))
		if err := os.WriteFile(file, []byte(fmt.Sprintf("* spike\n.options reltol=1e-5 abstol=1e-9 vntol=1e-7 method=gear cshunt=%g\n", x.shunt)+x.deck+".end\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		n := x.rig.s.Network()
		step := math.Max(x.step, x.last/50000)
		fmt.Fprintf(&main, "source %s\ntran %.9g %.9g 0 %.9g\necho NET %d\nlet seen = v(%s)-v(%s)\nmeas tran most max seen from=%.9g\nmeas tran least min seen from=%.9g\nlet finish = time[length(time)-1]\nprint finish\ndestroy all\nremcirc\n",
			file, step, 10*x.step+x.last, step, i, n.SpiceNode(x.rig.red), n.SpiceNode(x.rig.black), 9*x.step+x.from, 9*x.step+x.from)
	}
	main.WriteString("quit 0\n.endc\n.end\n")
	parts := strings.Split(judge.Ngspice(t, main.String()), "NET ")[1:]
	if len(parts) != len(tries) {
		t.Fatalf("%d of %d came back", len(parts), len(tries))
	}
	judged := 0
	for i, part := range parts {
		x, got := &tries[i], judge.Results(part)
		most, ok := got["most"]
		least, ok2 := got["least"]
		if !ok || !ok2 || got["finish"] < 0.999*(10*x.step+x.last) {
			t.Logf("%s: ngspice gave up", x.name)
			continue
		}
		judged++
		if x.rig.surge.Sign < 0 {
			most, least = -least, -most
		}
		what, ours, his := "peak", x.seen.PeakV, most
		if x.seen.RestV-x.seen.LowestV > x.seen.PeakV-x.seen.RestV {
			what, ours, his = "lowest", x.seen.LowestV, least
		}
		if math.Abs(ours-his) > math.Max(0.01*math.Abs(his), 0.01) {
			t.Errorf("%s: %s %.5g V, ngspice %.5g", x.name, what, ours, his)
		}
	}
	if judged < 36 {
		t.Errorf("only %d were judged; at least 36 are wanted", judged)
	}
	t.Logf("%d of %d judged", judged, len(tries))
}
