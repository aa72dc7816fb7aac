package circuit

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dwellwright/internal/judge"
)

// Random networks of every kind of element: every node voltage and every
// branch current against ngspice on the written netlist, all in one run.
func TestDCAgainstNgspice(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	var deck bytes.Buffer
	deck.WriteString("* all\n.options reltol=1e-6 abstol=1e-9 vntol=1e-8 gmin=1e-15 noopiter=0\n")
	type item struct {
		name string
		want float64
	}
	var all [][]item
	for trial := 0; trial < 120; trial++ {
		n, _ := randomDC(rng)
		s := mustCompile(t, n)
		if err := s.DC(); err != nil {
			t.Fatal(err)
		}
		var net bytes.Buffer
		if err := s.WriteNetlist(&net, NetlistOptions{Meters: true, Bare: true}); err != nil {
			t.Fatal(err)
		}
		var items []item
		for nd := 1; nd < n.Nodes(); nd++ {
			items = append(items, item{"v(" + n.SpiceNode(NodeID(nd)) + ")", s.V(NodeID(nd))})
		}
		for e := range n.elems {
			items = append(items, item{"i(vm_" + spiceName(n.elems[e].name) + ")", s.Current(ElemID(e))})
		}
		all = append(all, items)
		// One deck a network, in files of their own, called one by one.
		file := filepath.Join(t.TempDir(), fmt.Sprintf("n%d.cir", trial))
		body := "* net\n.options reltol=1e-7 abstol=1e-10 vntol=1e-9\n" + net.String() + ".end\n"
		if err := os.WriteFile(file, []byte(body), 0o600); err != nil {
			t.Fatal(err)
		}
		if trial == 0 {
			deck.WriteString("r1 1 0 1\n.control\nset numdgt=12\n")
		}
		fmt.Fprintf(&deck, "source %s\nop\necho NET %d\n", file, trial)
		for _, it := range items {
			fmt.Fprintf(&deck, "print %s\n", it.name)
		}
		deck.WriteString("destroy all\nremcirc\n")
	}
	deck.WriteString("quit 0\n.endc\n.end\n")
	out := judge.Ngspice(t, deck.String())
	parts := strings.Split(out, "NET ")[1:]
	if len(parts) != len(all) {
		t.Fatalf("%d networks came back of %d:\n%s", len(parts), len(all), out[max(0, len(out)-2000):])
	}
	checked, none := 0, 0
	for i, part := range parts {
		got := judge.Results(part)
		if len(got) == 0 {
			none++ // ngspice itself found no operating point
			continue
		}
		for _, it := range all[i] {
			g, ok := got[it.name]
			if !ok {
				t.Errorf("network %d: ngspice printed no %s", i, it.name)
				continue
			}
			checked++
			if d := math.Abs(g - it.want); d > 1e-3*math.Abs(g)+1e-4 {
				t.Errorf("network %d: %s = %.9g, ngspice %.9g", i, it.name, it.want, g)
			}
		}
	}
	if none > 6 {
		t.Errorf("ngspice found no operating point of %d networks; at most 6 are accepted", none)
	}
	t.Logf("%d voltages and currents of %d networks agree with ngspice; it found no operating point of %d more", checked, len(all)-none, none)
}

// Switched networks run to their steady state by ngspice with small steps.
func TestSteadyAgainstNgspice(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for trial := 0; trial < 8; trial++ {
		n, cyc, probes := ignition(rng, trial%2 == 1)
		s := mustCompile(t, n)
		st, err := s.NewSteady(cyc, probes, nil)
		if err != nil {
			t.Fatal(err)
		}
		if err := st.Solve(); err != nil {
			t.Fatal(err)
		}
		var net bytes.Buffer
		step := cyc.Period / 4000
		if trial%2 == 1 {
			step = 1e-6
		}
		if err := s.WriteNetlist(&net, NetlistOptions{Cycle: &cyc, Cycles: 8, Step: step, Probes: probes}); err != nil {
			t.Fatal(err)
		}
		got := judge.Results(judge.Ngspice(t, net.String()))
		for i := range probes[:2] {
			r := st.Readings[i]
			for what, want := range map[string]float64{"min": r.Min, "avg": r.Mean, "max": r.Max, "before1": st.Before[len(probes)+i]} {
				g, ok := got[fmt.Sprintf("p%d_%s", i, what)]
				if !ok {
					t.Fatalf("trial %d: ngspice measured no p%d_%s", trial, i, what)
				}
				if d := math.Abs(g - want); d > 5e-3*math.Max(math.Abs(g), 1) {
					t.Errorf("trial %d: probe %d %s = %g, ngspice %g", trial, i, what, want, g)
				}
			}
		}
	}
}
