// Package workshop holds the use cases: open a car, look at it, prove it,
// plan for it, write its network. The shell and the page both call these,
// one function each; only here do files come in.
package workshop

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/examples"
	"dwellwright/plan"
	"dwellwright/prove"
	"dwellwright/twin"
)

// maxFile is the largest car file read, a little over what car accepts, so
// that its own message is given.
const maxFile = 1 << 20

// Open reads and checks a car file; "-" is standard input, "demo" the
// built-in demo car.
func Open(name string, stdin io.Reader) (*car.Car, error) {
	switch name {
	case "demo":
		return read(examples.DemoName, examples.Demo)
	case "-":
		data, err := io.ReadAll(io.LimitReader(stdin, maxFile))
		if err != nil {
			return nil, fmt.Errorf("standard input: %w", err)
		}
		return read("standard input", data)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fileError(name, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxFile))
	if err != nil {
		return nil, fileError(name, err)
	}
	return read(name, data)
}

// read parses a car file and refuses mechanics that cannot be.
func read(name string, data []byte) (*car.Car, error) {
	c, err := car.Parse(name, data)
	if err != nil {
		return nil, err
	}
	if err := twin.Mechanics(c); err != nil {
		return nil, err
	}
	return c, nil
}

func fileError(name string, err error) error {
	if errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("%s: there is no such file; a car file, demo, or - for standard input is accepted", name)
	}
	return err
}

// Prove works out the proof sheet of a car.
func Prove(c *car.Car, set prove.Settings) (*prove.Sheet, error) { return prove.Compute(c, set) }

// Plan compares the ways to wire a car.
func Plan(c *car.Car, set prove.Settings) (*plan.Comparison, error) { return plan.Compare(c, set) }

// Read predicts what an instrument would show.
func Read(c *car.Car, option, condition string, s twin.Spec, draws int, seed uint64) (twin.Estimate, error) {
	d, err := wired(c, option)
	if err != nil {
		return twin.Estimate{}, err
	}
	e, err := twin.Predict(d, condition, []twin.Spec{s}, draws, seed)
	if err != nil {
		return twin.Estimate{}, err
	}
	if e[0].Missing() {
		return twin.Estimate{}, missing(d, condition, s)
	}
	return e[0], nil
}

// Drivers ranks the figures by their share in a reading's plus-or-minus.
func Drivers(c *car.Car, option, condition string, s twin.Spec, draws int, seed uint64) ([]twin.Driver, error) {
	d, err := wired(c, option)
	if err != nil {
		return nil, err
	}
	return twin.Drivers(d, condition, s, draws, seed)
}

// missing says which of a spec's places the car has not.
func missing(c *car.Car, condition string, s twin.Spec) error {
	e := &twin.MissingError{Spec: s, Place: s.Red}
	clamp := s.Instrument == twin.ClampAmmeter || s.Instrument == twin.ClampPeak || s.Instrument == twin.Thermometer || s.Instrument.OfFiring()
	if !clamp && s.Black == "" {
		e.Place = ""
		return e
	}
	m, err := twin.Build(c, condition)
	if err != nil {
		return err
	}
	if _, ok := m.Point(s.Red); ok && !clamp {
		e.Place = s.Black
	}
	return e
}

func wired(c *car.Car, option string) (*car.Car, error) {
	if option == "" {
		option = twin.AsFitted
	}
	o, err := twin.OptionByID(option)
	if err != nil {
		return nil, err
	}
	return o.Apply(c)
}

// solved is the car wired so and its network solved in a condition.
func solved(c *car.Car, option, condition string) (*car.Car, *twin.Model, error) {
	d, err := wired(c, option)
	if err != nil {
		return nil, nil, err
	}
	m, err := twin.Build(d, condition)
	if err != nil {
		return nil, nil, err
	}
	return d, m, m.Solve()
}

// Netlist writes the network of a car in a condition, as it is solved, for
// ngspice: an operating point with the engine stopped, a transient of many
// cycles while it turns. meters adds a 0 V source to read every current.
func Netlist(w io.Writer, c *car.Car, option, condition string, meters bool) error {
	d, m, err := solved(c, option, condition)
	if err != nil {
		return err
	}
	opt := circuit.NetlistOptions{
		Title:    fmt.Sprintf("%s, %s, %s", d.Name, optionName(option), m.Condition().Name),
		Comments: m.Notes(),
		Meters:   meters,
		Guess:    true,
	}
	if m.Switched() {
		cyc := m.Cycle()
		opt.Cycle = &cyc
		opt.Probes = m.Probes()
		opt.Shunt = 1e-13 // against ohms: a time constant of picoseconds
		// The simulator starts from the switch open.
		if err := m.Hold(false); err != nil {
			return err
		}
	}
	var buf bytes.Buffer
	if err := m.Solver().WriteNetlist(&buf, opt); err != nil {
		return err
	}
	_, err = w.Write(buf.Bytes())
	return err
}

func optionName(id string) string {
	if o, err := twin.OptionByID(id); err == nil {
		return o.Name
	}
	return "as fitted"
}
