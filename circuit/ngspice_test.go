package circuit

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// ngspice runs a netlist in the reference simulator and returns what it
// printed. Where it is not installed the test is skipped with a loud line,
// but never under CI.
func ngspice(t *testing.T, netlist string) string {
	t.Helper()
	bin, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("ngspice is not installed: the outside judge cannot sit")
		}
		t.Skip("NGSPICE IS NOT INSTALLED: the outside judge did not sit (apt-get install ngspice)")
	}
	file := filepath.Join(t.TempDir(), "net.cir")
	if err := os.WriteFile(file, []byte(netlist), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(bin, "-b", file)
	var out, complaints bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaints
	if err := cmd.Run(); err != nil {
		t.Fatalf("ngspice: %v\n%s\n%s\n%s", err, out.String(), complaints.String(), netlist)
	}
	return out.String()
}

var printed = regexp.MustCompile(`(?m)^\s*([a-z0-9_#()]+)\s*=\s*([-+0-9.e]+)`)

func results(out string) map[string]float64 {
	got := map[string]float64{}
	for _, m := range printed.FindAllStringSubmatch(strings.ToLower(out), -1) {
		if v, err := strconv.ParseFloat(m[2], 64); err == nil {
			got[m[1]] = v
		}
	}
	return got
}

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
	out := ngspice(t, deck.String())
	parts := strings.Split(out, "NET ")[1:]
	if len(parts) != len(all) {
		t.Fatalf("%d networks came back of %d:\n%s", len(parts), len(all), out[max(0, len(out)-2000):])
	}
	checked, none := 0, 0
	for i, part := range parts {
		got := results(part)
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
		got := results(ngspice(t, net.String()))
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
