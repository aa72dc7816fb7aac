package judge

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/twin"
)

// randomCar makes a car of any kind: both earths, 6 and 12 V, any switch,
// with and without ballast, start bypass, live run contact; every figure
// drawn from its spread.
func randomCar(rng *rand.Rand, seed uint64) *car.Car {
	volts := []int{6, 12}[rng.IntN(2)]
	earth := car.Earth(rng.IntN(2))
	c := car.Defaults(volts, earth, []int{4, 6, 8}[rng.IntN(3)])
	c.Charging = car.ChargingDefaults(car.ChargingKind(rng.IntN(3)), volts)
	c.KeySwitch.Bypass = rng.IntN(2) == 0
	c.KeySwitch.LiveInStart = rng.IntN(2) == 0
	if rng.IntN(4) == 0 {
		c.Ballast.Fitted = !c.Ballast.Fitted
	}
	c.Switch = car.SwitchDefaults(car.SwitchKind(rng.IntN(5)), volts, c.Cylinders)
	if c.Switch.Kind.Electronic() {
		c.Feed = []car.FeedPoint{car.FeedCoil, car.FeedBallastSupply, car.FeedKeySwitch}[rng.IntN(3)]
	}
	s := twin.NewSampler(c, seed)
	s.Draw(1 + rng.IntN(1000))
	return s.Car
}

// wired returns a random option of the car that can be had.
func wired(t *testing.T, rng *rand.Rand, c *car.Car) (*car.Car, string) {
	all := twin.Options()
	for {
		o := all[rng.IntN(len(all))]
		if o.Unfit(c) != "" {
			continue
		}
		d, err := o.Apply(c)
		if err != nil {
			t.Fatal(err)
		}
		return d, o.ID
	}
}

// Every node voltage and every branch current of 250 random cars (at least 240
// of them: now and then ngspice finds no operating point), each in a
// random option and, in turn, every condition, against ngspice on the written
// netlist. Wanted: within 0.1 % or 1 mV / 1 mA.
func TestCarsAtRestAgainstNgspice(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	type item struct {
		name string
		want float64
	}
	seen := map[string]int{}
	checked, judged := 0, 0
	for trial := 0; trial < 250; trial++ {
		c, option := wired(t, rng, randomCar(rng, uint64(trial)))
		k := c.Conditions[trial%len(c.Conditions)].ID
		m, err := twin.Build(c, k)
		if err != nil {
			t.Fatal(err)
		}
		if err := m.Hold(rng.IntN(3) > 0); err != nil {
			t.Fatalf("trial %d (%s, %s): %v", trial, option, k, err)
		}
		s := m.Solver()
		var deck bytes.Buffer
		deck.WriteString("* car\n.options reltol=1e-7 abstol=1e-9 vntol=1e-8 gmin=1e-15\n")
		if err := s.WriteNetlist(&deck, circuit.NetlistOptions{Meters: true, Bare: true}); err != nil {
			t.Fatal(err)
		}
		n := s.Network()
		var items []item
		for nd := 1; nd < n.Nodes(); nd++ {
			items = append(items, item{"v(" + n.SpiceNode(circuit.NodeID(nd)) + ")", s.V(circuit.NodeID(nd))})
		}
		for e := 0; e < n.Elements(); e++ {
			items = append(items, item{"i(vm_" + n.SpiceElement(circuit.ElemID(e))[1:] + ")", s.Current(circuit.ElemID(e))})
		}
		deck.WriteString(".control\nset numdgt=12\nop\n")
		for _, it := range items {
			fmt.Fprintf(&deck, "print %s\n", it.name)
		}
		deck.WriteString("quit 0\n.endc\n.end\n")
		got := Results(TryNgspice(t, deck.String(), 5*time.Second))
		if len(got) == 0 {
			t.Logf("trial %d (%s, %s): ngspice found no operating point", trial, option, k)
			continue
		}
		judged++
		seen[option]++
		seen[k]++
		seen[fmt.Sprint(c.NominalV, " V")]++
		seen[fmt.Sprint("earth ", c.Earth)]++
		for _, it := range items {
			g, ok := got[it.name]
			if !ok {
				t.Errorf("trial %d: ngspice printed no %s", trial, it.name)
				continue
			}
			checked++
			if d := math.Abs(g - it.want); d > math.Max(1e-3*math.Abs(g), 1e-3) {
				t.Errorf("trial %d (%s, %s): %s = %.7g, ngspice %.7g", trial, option, k, it.name, it.want, g)
			}
		}
	}
	if judged < 240 {
		t.Errorf("only %d cars were judged; at least 240 are wanted", judged)
	}
	for _, o := range twin.Options() {
		if seen[o.ID] == 0 {
			t.Errorf("no car was wired %q", o.ID)
		}
	}
	t.Logf("%d voltages and currents of %d cars agree; %v", checked, judged, seen)
}

// The switched steady state of 48 random cars, in the running and cranking
// conditions in turn, against ngspice run from rest until it has settled:
// least, mean and most of the trigger's (or coil's) feed and the coil's
// current at the break, within 0.5 %. Now and then ngspice's own Newton
// iteration gives up where the battery turns from charging to discharging;
// at least 40 have to be judged.
func TestSwitchingCarsAgainstNgspice(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	dir := t.TempDir()
	var deck bytes.Buffer
	deck.WriteString("* cars\nr1 1 0 1\n.control\n")
	type result struct{ min, mean, max, peak float64 }
	var want []result
	var names []string
	for len(want) < 48 {
		trial := len(want)
		c, option := wired(t, rng, randomCar(rng, uint64(1000+trial)))
		var turning []string
		for i := range c.Conditions {
			if e := c.Conditions[i].Engine; e == car.Running || e == car.Cranking {
				turning = append(turning, c.Conditions[i].ID)
			}
		}
		k := turning[trial%len(turning)]
		m, err := twin.Build(c, k)
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, option+", "+k)
		pr := m.Probes()
		if err := m.Watch(pr); err != nil {
			t.Fatal(err)
		}
		if err := m.Solve(); err != nil {
			t.Fatalf("trial %d (%s, %s): %v", trial, option, k, err)
		}
		feed, coil := m.Swing(0), m.Swing(1)
		peak := coil.Max
		if math.Abs(coil.Min) > math.Abs(peak) {
			peak = coil.Min
		}
		want = append(want, result{feed.Min, feed.Mean, feed.Max, peak})
		cyc := m.Cycle()
		var net bytes.Buffer
		if err := m.Solver().WriteNetlist(&net, circuit.NetlistOptions{Cycle: &cyc, Cycles: 10, Step: cyc.Period / 3000, Probes: pr, Bare: true}); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, fmt.Sprintf("car%d.cir", trial))
		if err := os.WriteFile(file, []byte("* car\n.options reltol=1e-5 method=gear\n"+net.String()+".end\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		from, to := 9*cyc.Period, 10*cyc.Period
		feedAt := "par('v(" + m.Solver().Network().SpiceNode(pr[0].A) + ")-v(" + m.Solver().Network().SpiceNode(pr[0].B) + ")')"
		feedAt = strings.TrimSuffix(strings.TrimPrefix(feedAt, "par('"), "')")
		fmt.Fprintf(&deck, "source %s\ntran %.9g %.9g %.9g %.9g\necho NET %d\nlet feed = %s\nlet coil = i(lcoil_primary)\n", file, cyc.Period/3000, to, from, cyc.Period/3000, trial, feedAt)
		fmt.Fprintf(&deck, "meas tran fmin min feed\nmeas tran fmean avg feed\nmeas tran fmax max feed\nmeas tran cmax max coil\nmeas tran cmin min coil\ndestroy all\nremcirc\n")
	}
	deck.WriteString("quit 0\n.endc\n.end\n")
	parts := strings.Split(Ngspice(t, deck.String()), "NET ")[1:]
	if len(parts) != len(want) {
		t.Fatalf("%d cars came back of %d", len(parts), len(want))
	}
	judged := 0
	for i, part := range parts {
		got := Results(part)
		w := want[i]
		if _, ok := got["fmean"]; !ok {
			t.Logf("car %d (%s): ngspice gave up", i, names[i])
			continue
		}
		judged++
		peak := got["cmax"]
		if math.Abs(got["cmin"]) > math.Abs(peak) {
			peak = got["cmin"]
		}
		for _, x := range []struct {
			what      string
			ours, his float64
		}{{"least feed", w.min, got["fmin"]}, {"mean feed", w.mean, got["fmean"]}, {"most feed", w.max, got["fmax"]}, {"current at break", w.peak, peak}} {
			if !(math.Abs(x.ours-x.his) <= math.Max(5e-3*math.Abs(x.his), 2e-3)) {
				t.Errorf("car %d (%s): %s = %.6g, ngspice %.6g", i, names[i], x.what, x.ours, x.his)
			}
		}
	}
	if judged < 40 {
		t.Errorf("only %d cars were judged; at least 40 are wanted", judged)
	}
	t.Logf("%d cars agree", judged)
}
