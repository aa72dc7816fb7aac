package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"runtime"
	"strings"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/schema"
	"dwellwright/twin"
	"dwellwright/units"
)

// drawing is what commands that predict share.
type drawing struct {
	Draws int    `default:"${draws}" help:"Cars drawn from the spreads of the uncertain figures, 0 to 20000."`
	Seed  uint64 `default:"1" help:"Seed of the draws: the same seed gives the same figures."`
	Inch  bool   `help:"Inch, mil and Fahrenheit instead of metric."`
}

func (d drawing) check() error {
	if d.Draws < 0 || d.Draws > 20000 {
		return fmt.Errorf("dwellwright: --draws %d; 0 to 20000 is accepted", d.Draws)
	}
	return nil
}

func (d drawing) system() units.System {
	if d.Inch {
		return units.Inch
	}
	return units.Metric
}

func (d drawing) settings(option string) prove.Settings {
	return prove.Settings{Option: option, Draws: d.Draws, Seed: d.Seed, Each: workshop.Parallel(runtime.GOMAXPROCS(0))}
}

type proveCmd struct {
	Car    string `arg:"" help:"Car file, 'demo', or - for standard input."`
	Option string `default:"as_fitted" help:"How the car is wired: as_fitted or an option of plan."`
	JSON   bool   `name:"json" help:"Write JSON (its schema: dwellwright schema proof)."`
	drawing
}

// Run prints the proof sheet.
func (c *proveCmd) Run(s *session) error {
	if err := c.check(); err != nil {
		return err
	}
	k, err := workshop.Open(c.Car, s.In)
	if err != nil {
		return err
	}
	sheet, err := workshop.Prove(k, c.settings(c.Option))
	if err != nil {
		return err
	}
	if c.JSON {
		if err := writeJSON(s, sheet.Document()); err != nil {
			return err
		}
	} else {
		writeSheet(s.Out, sheet, s.Width, c.system())
		writeAssumed(s.Out, sheet.Car, s.Width, c.system(), 6)
	}
	if !sheet.Proven() {
		return exitCode(ExitUnproven)
	}
	return nil
}

func writeJSON(s *session, v any) error {
	e := json.NewEncoder(s.Out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

type planCmd struct {
	Car  string `arg:"" help:"Car file, 'demo', or - for standard input."`
	JSON bool   `name:"json" help:"Write JSON."`
	drawing
}

// Run compares the options.
func (c *planCmd) Run(s *session) error {
	if err := c.check(); err != nil {
		return err
	}
	k, err := workshop.Open(c.Car, s.In)
	if err != nil {
		return err
	}
	set := c.settings("")
	set.Draws = min(set.Draws, 1000)
	cmp, err := workshop.Plan(k, set)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s, cmp.Document())
	}
	writePlan(s.Out, cmp, s.Width, c.system())
	return nil
}

type readCmd struct {
	Car        string `arg:"" help:"Car file, 'demo', or - for standard input."`
	Instrument string `arg:"" help:"voltmeter, voltmeter_minimum, voltmeter_maximum, scope_minimum, scope_maximum, ohmmeter, clamp_ammeter, clamp_peak, thermometer or spark_tester."`
	Red        string `arg:"" help:"Test point of the red lead, or the part a clamp goes round."`
	Black      string `arg:"" optional:"" help:"Test point of the black lead."`
	Condition  string `short:"c" default:"hot_idle" help:"Condition of the car."`
	Option     string `default:"as_fitted" help:"How the car is wired."`
	Leads      string `default:"0 ohm" help:"Resistance of both test leads together, for an ohmmeter."`
	drawing
}

// Run predicts one reading.
func (c *readCmd) Run(s *session) error {
	if err := c.check(); err != nil {
		return err
	}
	k, err := workshop.Open(c.Car, s.In)
	if err != nil {
		return err
	}
	in, ok := car.ParseInstrumentKind(c.Instrument)
	if !ok {
		return fmt.Errorf("dwellwright: instrument %q; accepted: %s", c.Instrument, strings.Join(instruments(), ", "))
	}
	leads, err := units.Parse(units.Resistance, c.Leads)
	if err != nil {
		return err
	}
	spec := twin.Spec{Instrument: twin.Instrument(in), Red: c.Red, Black: c.Black, Leads: leads.X}
	e, err := workshop.Read(k, c.Option, c.Condition, spec, c.Draws, c.Seed)
	if err != nil {
		return explainPoints(err)
	}
	kind := spec.Kind()
	e.Mid, e.Lo, e.Hi = still(e.Mid), still(e.Lo), still(e.Hi)
	fmt.Fprintf(s.Out, "%s\n", units.FormatValue(kind, units.Value{X: e.Mid, PM: e.PM(), Shape: units.Normal}, c.system()))
	if c.Draws == 0 {
		fmt.Fprintf(s.Out, "predicted, every figure at its middle, no ±; %s, %s\n", c.Condition, c.Option)
		return nil
	}
	fmt.Fprintf(s.Out, "predicted, 95 %% of %d draws between %s and %s; %s, %s\n", e.Draws,
		units.Format(kind, e.Lo, c.system()), units.Format(kind, e.Hi, c.system()), c.Condition, c.Option)
	if c.Draws < 100 {
		return nil
	}
	drivers, err := workshop.Drivers(k, c.Option, c.Condition, spec, c.Draws, c.Seed)
	if err != nil || len(drivers) == 0 {
		return err
	}
	fmt.Fprintln(s.Out, "its ± comes from, and measuring the first narrows it most:")
	for i, d := range drivers {
		if i == 5 {
			break
		}
		fmt.Fprintf(s.Out, "  %3.0f %%  %-32s %s, %s\n", 100*d.Share, d.Path, units.FormatValue(d.Param.Kind, d.Param.Value, c.system()), d.Param.Origin)
	}
	return nil
}

// still turns what is nothing but rounding into nothing.
func still(v float64) float64 {
	if math.Abs(v) < 1e-6 {
		return 0
	}
	return v
}

// instruments lists the instruments of a car file.
func instruments() []string {
	var names []string
	for k := car.Voltmeter; k <= car.Caliper; k++ {
		names = append(names, k.String())
	}
	return names
}

// explainPoints adds the test points to an error about one that is missing.
func explainPoints(err error) error {
	var m *twin.MissingError
	if !errors.As(err, &m) {
		return err
	}
	var ids []string
	for _, p := range car.TestPoints {
		ids = append(ids, p.ID)
	}
	return fmt.Errorf("%w; test points: %s; clamps go round a wiring leg, coil, battery or generator", err, strings.Join(ids, ", "))
}

type netlistCmd struct {
	Car       string `arg:"" help:"Car file, 'demo', or - for standard input."`
	Condition string `short:"c" required:"" help:"Condition of the car, such as hot_idle."`
	Option    string `short:"o" default:"as_fitted" help:"How the car is wired: as_fitted or an option of plan."`
	Meters    bool   `help:"Put a 0 V source in series with every element, to read its current."`
	Firing    bool   `help:"Write one firing of the coil instead: winding, leakage, condenser or clamp, leads and gap."`
}

// Run writes the network.
func (c *netlistCmd) Run(s *session) error {
	k, err := workshop.Open(c.Car, s.In)
	if err != nil {
		return err
	}
	if c.Firing {
		err := workshop.FiringNetlist(s.Out, k, c.Option, c.Condition)
		if errors.Is(err, twin.ErrNoFiring) {
			return fmt.Errorf("%s: the engine stands still in it, nothing fires; a condition in which it turns is accepted, such as hot_idle", c.Condition)
		}
		return err
	}
	return workshop.Netlist(s.Out, k, c.Option, c.Condition, c.Meters)
}

type checkCmd struct {
	Cars []string `arg:"" name:"car" help:"Car files, 'demo', or - for standard input."`
	Inch bool     `help:"Inch, mil and Fahrenheit instead of metric."`
}

// Run checks files.
func (c *checkCmd) Run(s *session) error {
	var errs []error
	sys := drawing{Inch: c.Inch}.system()
	for _, name := range c.Cars {
		k, err := workshop.Open(name, s.In)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		fmt.Fprintf(s.Out, "%s: %s is in order\n", name, k.Name)
		writeAssumed(s.Out, k, s.Width, sys, 1000)
	}
	return errors.Join(errs...)
}

type schemaCmd struct {
	Which string `arg:"" optional:"" default:"car" enum:"car,proof,plan,spark,fit,curve,suspect,faults,readings" help:"car, proof, plan, spark, fit, curve, suspect, faults or readings."`
}

// Run prints a schema.
func (c *schemaCmd) Run(s *session) error {
	_, err := s.Out.Write(schema.Get(c.Which))
	return err
}

type exampleCmd struct{}

// Run prints the demo car's file.
func (c *exampleCmd) Run(s *session) error {
	_, err := s.Out.Write(examples.Demo)
	return err
}
