package workshop

import (
	"bytes"
	"fmt"
	"io"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/prove"
	"dwellwright/spark"
	"dwellwright/spike"
)

// Shots works out a firing in every condition in which the engine turns.
func Shots(c *car.Car, set prove.Settings) (*car.Car, []spark.Shot, error) {
	d, err := wired(c, set.Option)
	if err != nil {
		return nil, nil, err
	}
	shots, err := spark.Shots(d, set.Draws, set.Seed)
	return d, shots, err
}

// Trace is one firing over time.
func Trace(c *car.Car, option, condition string) (*spark.Trace, error) {
	d, err := wired(c, option)
	if err != nil {
		return nil, err
	}
	return spark.NewTrace(d, condition)
}

// SparkMap is the spark in hand over engine speed and supply voltage.
func SparkMap(c *car.Car, option string, set spark.ChartSettings) (*spark.Chart, error) {
	d, err := wired(c, option)
	if err != nil {
		return nil, err
	}
	return spark.NewChart(d, set)
}

// Switches compares every switch on the car.
func Switches(c *car.Car, option string, set spark.CompareSettings) (*spark.Contest, error) {
	d, err := wired(c, option)
	if err != nil {
		return nil, err
	}
	return spark.Compare(d, set)
}

// Spikes puts spikes on the car's supply; no cases and no protections are
// the usual ones.
func Spikes(c *car.Car, option, condition string, cases []spike.Case, o spike.Options, protections ...spike.Protection) ([]spike.Result, error) {
	d, err := wired(c, option)
	if err != nil {
		return nil, err
	}
	if len(cases) == 0 {
		cases = spike.Cases(d)
	}
	if len(protections) == 0 {
		protections = spike.Usual()
	}
	return spike.Apply(d, condition, cases, o, protections...)
}

// FiringNetlist writes one firing of a car in a condition as a network for
// ngspice: coil with its leakage, condenser or clamp, leads, gap.
func FiringNetlist(w io.Writer, c *car.Car, option, condition string) error {
	d, m, err := solved(c, option, condition)
	if err != nil {
		return err
	}
	sp, err := m.Spark()
	if err != nil {
		return err
	}
	n, err := sp.Case.Network()
	if err != nil {
		return err
	}
	s, err := n.Net.Compile()
	if err != nil {
		return err
	}
	opt := circuit.NetlistOptions{
		Title: fmt.Sprintf("one firing of %s, %s, %s", d.Name, optionName(option), m.Condition().Name),
		Comments: append(m.Notes()[:2], fmt.Sprintf("primary circuit as the coil sees it: %.4g V behind %.4g ohm; the gap asks %.4g V", sp.Primary.Volts, sp.Primary.Ohms, sp.Asked.TotalV),
			"contacts part at once here, the iron does not saturate, and a spark goes out at its least current"),
		Meters: true, Cycle: &n.Cycle, Cycles: 12, Step: 2e-6,
		Probes: []circuit.Probe{circuit.CurrentProbe(n.Primary), circuit.VoltageProbe(n.Switched, circuit.Ground), circuit.VoltageProbe(n.Tower, circuit.Ground)},
	}
	var buf bytes.Buffer
	if err := s.WriteNetlist(&buf, opt); err != nil {
		return err
	}
	_, err = w.Write(buf.Bytes())
	return err
}
