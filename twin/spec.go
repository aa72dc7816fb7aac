package twin

import (
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/units"
)

// Spec says what to read: with what, and where. For voltmeters and scopes Red
// and Black are test points (car.TestPoints). For an ohmmeter they are too,
// and the reading is taken with the supply disconnected, Leads (ohm, both
// together) added. For clamps and the wattmeter Red is a leg, "coil",
// "battery", "generator" or "ballast" and Black is empty; for a thermometer
// "coil" or "ballast"; for a spark tester "coil_tower".
type Spec struct {
	Instrument Instrument
	Red, Black string
	Leads      float64 // ohm, ohmmeter only
}

// Instrument is how a quantity is read. The first are the instruments of
// a car file; the last are ones no shop has, for what is computed only.
type Instrument uint8

// The instruments, in the order of car.InstrumentKind.
const (
	Voltmeter      = Instrument(car.Voltmeter)    // V, the average
	VoltmeterMin   = Instrument(car.VoltmeterMin) // V, the lowest instant
	VoltmeterMax   = Instrument(car.VoltmeterMax) // V, the highest instant
	ScopeMin       = Instrument(car.ScopeMin)
	ScopeMax       = Instrument(car.ScopeMax)
	Ohmmeter       = Instrument(car.Ohmmeter)     // ohm
	ClampAmmeter   = Instrument(car.ClampAmmeter) // A, the average
	ClampPeak      = Instrument(car.ClampPeak)    // A, the highest instant
	Thermometer    = Instrument(car.Thermometer)  // °C
	AvailableVolts = Instrument(car.SparkTester)  // V the secondary would come to
	TimingLight    = Instrument(car.TimingLight)  // crank degrees before top dead centre, vacuum hose off, at "damper"
	WindowedCap    = Instrument(car.WindowedCap)  // distributor degrees the tip is past its tower at the spark, at "rotor_tip" or "rotor_tip_full_vacuum"
	FeelerGauge    = Instrument(car.FeelerGauge)  // m, at "air_gap"
	Caliper        = Instrument(car.Caliper)      // m, at "rotor_gap" or "rotor_engagement"

	computed     = Caliper
	Wattmeter    = computed + 1 // W, the average
	LargestDrop  = computed + 2 // V, the greatest magnitude of any instant, either way round
	StoredEnergy = computed + 3 // J in the coil at its highest instant, half L i²

	// Of one firing. These have no place: Red and Black are empty.
	SparkInHand   = computed + 4  // available over what the plug asks
	SnapInHand    = computed + 5  // the same with the throttle snapped open
	AskedVolts    = computed + 6  // V the plug asks, rotor gap included
	SnapVolts     = computed + 7  // V it asks with the throttle snapped open
	BurnTime      = computed + 8  // s
	GapEnergy     = computed + 9  // J
	PrimaryPeak   = computed + 10 // V at the switch
	ContactEnergy = computed + 11 // J into the arcs at parting points
	JunctionHeat  = computed + 12 // °C of a module's junction
)

// OfFiring reports whether an instrument reads one firing.
func (i Instrument) OfFiring() bool {
	return i == AvailableVolts || i >= SparkInHand && i <= JunctionHeat
}

// Reading voltages: on a positive earth car a person joins the red lead to
// the earthed side so that the needle goes the right way, and "lowest" means
// nearest to nothing. So voltages and currents are read with the sign of the
// live side: positive where they are on a healthy car.

// reader is a Spec found in a model.
type reader struct {
	spec  Spec
	probe int // index of what is read in the model's probes, -1 none
	watch int
	heat  circuit.ElemID
	scale float64 // multiplies the reading
	a, b  circuit.NodeID
}

// MissingError is a Spec that this car, wired as it is, has nothing for.
type MissingError struct {
	Spec  Spec
	Place string // the point or part it has not; empty when none was named
}

func (e *MissingError) Error() string {
	if e.Place == "" {
		return "two test points are wanted, and one is missing"
	}
	return fmt.Sprintf("this car, wired so, has no %s", e.Place)
}

// find turns a spec into a reader, adding to the model's probes.
func (m *Model) find(s Spec) (reader, error) {
	r := reader{spec: s, probe: -1, watch: -1, heat: none, scale: m.sign}
	missing := &MissingError{s, s.Red}
	switch s.Instrument {
	case Voltmeter, VoltmeterMin, VoltmeterMax, ScopeMin, ScopeMax, LargestDrop, Ohmmeter:
		var ok bool
		if r.a, ok = m.point[s.Red]; !ok {
			return r, &MissingError{s, s.Red}
		}
		if r.b, ok = m.point[s.Black]; !ok {
			return r, &MissingError{s, s.Black}
		}
		r.probe = m.addProbe(circuit.VoltageProbe(r.a, r.b))
		if s.Instrument == Ohmmeter {
			r.scale = 1 / meterAmps
		}
	case SparkInHand, SnapInHand, AvailableVolts, AskedVolts, SnapVolts, BurnTime, GapEnergy, PrimaryPeak, ContactEnergy, JunctionHeat:
		electronic := m.car.Switch.Kind.Electronic()
		if !m.Switched() || s.Red != "" && s.Red != "coil_tower" || s.Instrument == SnapInHand && m.cond.Engine != car.Running || s.Instrument == SnapVolts && m.cond.Engine != car.Running ||
			s.Instrument == JunctionHeat && !electronic || s.Instrument == ContactEnergy && electronic {
			return r, missing
		}
	case TimingLight, WindowedCap, FeelerGauge, Caliper:
		if !m.hasFitting(s) {
			return r, missing
		}
	case ClampAmmeter, ClampPeak:
		e, sign := m.currentOf(s.Red)
		if e == none {
			return r, missing
		}
		r.scale *= sign
		r.probe = m.addProbe(circuit.CurrentProbe(e))
	case StoredEnergy:
		r.scale = 1
		r.probe = m.addProbe(circuit.CurrentProbe(m.primary))
	case Wattmeter:
		e := m.partOf(s.Red)
		if e == none {
			return r, missing
		}
		r.scale = 1
		r.watch = m.addWatch(e)
	case Thermometer:
		switch s.Red {
		case "coil":
			r.heat = m.winding
		case "ballast":
			r.heat = m.ballast
		}
		if r.heat == none {
			return r, missing
		}
	default:
		return r, fmt.Errorf("instrument %d: not one of those known", s.Instrument)
	}
	return r, nil
}

func (m *Model) addProbe(p circuit.Probe) int {
	for i, q := range m.probes {
		if p == q {
			return i
		}
	}
	m.probes = append(m.probes, p)
	return len(m.probes) - 1
}

func (m *Model) addWatch(e circuit.ElemID) int {
	for i, q := range m.watch {
		if e == q {
			return i
		}
	}
	m.watch = append(m.watch, e)
	return len(m.watch) - 1
}

// currentOf returns the element whose current a clamp round that part sees,
// and the sign that makes it positive: for the battery when it is being
// charged, for all else when it flows from the live side.
func (m *Model) currentOf(part string) (circuit.ElemID, float64) {
	switch part {
	case "coil":
		return m.winding, 1
	case "battery":
		return m.emf, 1 // a source's current counts from live through it: charging
	case "generator":
		return m.source, -m.sign // one-way: its own terminals already turn with the earth
	case "ballast":
		return m.ballast, 1
	}
	for id, name := range car.LegNames {
		if name == part {
			return m.leg[id], 1
		}
	}
	return none, 0
}

func (m *Model) partOf(part string) circuit.ElemID {
	switch part {
	case "coil":
		return m.winding
	case "ballast":
		return m.ballast
	case "switch":
		return m.contact
	}
	e, _ := m.currentOf(part)
	return e
}

// read returns the reading of r in the last Solve.
func (m *Model) read(r *reader) float64 {
	if r.watch >= 0 {
		if m.Switched() {
			return m.steady.MeanPower(r.watch)
		}
		return m.solve.Power(m.watch[r.watch])
	}
	if r.heat != none {
		return m.temperature(r.heat)
	}
	if r.spec.Instrument.OfFitting() {
		return m.fitting(r.spec)
	}
	if r.spec.Instrument.OfFiring() {
		return m.fired.reading(r.spec.Instrument)
	}
	v := m.vals[r.probe]
	lo, hi := v.min*r.scale, v.max*r.scale
	if lo > hi {
		lo, hi = hi, lo
	}
	switch r.spec.Instrument {
	case VoltmeterMin, ScopeMin:
		return lo
	case VoltmeterMax, ScopeMax, ClampPeak:
		return hi
	case LargestDrop:
		return math.Max(math.Abs(lo), math.Abs(hi))
	case StoredEnergy:
		i := math.Max(math.Abs(lo), math.Abs(hi))
		return m.car.Coil.Inductance.X * i * i / 2
	case Ohmmeter:
		return math.Abs(v.mean*r.scale) + r.spec.Leads
	}
	return v.mean * r.scale
}

// Solve finds the operating point, or the steady switching motion, of the
// car as it now is.
func (m *Model) Solve() error {
	m.solved++
	if m.Switched() {
		if m.steady == nil {
			st, err := m.solve.NewSteady(m.cycle, m.probes, m.watch)
			if err != nil {
				return err
			}
			m.steady = st
		}
		if err := m.steady.Solve(); err != nil {
			return err
		}
		m.room()
		for i, s := range m.steady.Readings {
			m.vals[i] = value{s.Mean, s.Min, s.Max}
		}
		return nil
	}
	if err := m.solve.DC(); err != nil {
		return err
	}
	m.room()
	for i, p := range m.probes {
		v := m.solve.Read(p)
		m.vals[i] = value{v, v, v}
	}
	return nil
}

func (m *Model) room() {
	if len(m.vals) != len(m.probes) {
		m.vals = make([]value, len(m.probes))
	}
}

// Trace gives the readings of the specs (voltages and currents) over one
// cycle to record, sampled n times and at each event. Times in s. Of a car
// that is not switching it gives nothing.
func (m *Model) Trace(specs []Spec, n int, record func(t float64, readings []float64)) error {
	if !m.Switched() {
		return nil
	}
	readers := make([]reader, len(specs))
	for i, s := range specs {
		r, err := m.find(s)
		if err != nil {
			return err
		}
		readers[i] = r
	}
	m.steady = nil // the probes may have grown
	if err := m.Solve(); err != nil {
		return err
	}
	out := make([]float64, len(specs))
	return m.steady.Trace(m.cycle.Period/float64(n), func(t float64, v []float64) {
		for i := range readers {
			if r := &readers[i]; r.probe >= 0 {
				out[i] = v[r.probe] * r.scale
			}
		}
		record(t, out)
	})
}

// Notes say what the network stands for, to be written at its head.
func (m *Model) Notes() []string {
	earth := "negative earth"
	if m.sign < 0 {
		earth = "positive earth: live voltages are negative"
	}
	notes := []string{
		fmt.Sprintf("%d V, %s; node 0 is the earthed battery post", m.car.NominalV, earth),
		fmt.Sprintf("condition %s, every figure at its middle, SI units", m.cond.ID),
	}
	if m.Switched() {
		notes = append(notes, fmt.Sprintf("%g engine rpm, %d cylinders: one lobe every %.6g s", m.cond.Speed.X, m.car.Cylinders, m.cycle.Period),
			"self-heating resistors stand at the temperature of their average power",
			"the spark is its burning voltage seen from the primary; breakdown and ringing are left out")
	}
	return notes
}

// Probes lists what is measured in a written transient: the trigger's feed,
// or the coil's where there is none, and the current of the coil.
func (m *Model) Probes() []circuit.Probe {
	a, ok := m.point["trigger_supply"]
	if !ok {
		a = m.point["coil_feed"]
	}
	return []circuit.Probe{circuit.VoltageProbe(a, m.point["breaker_plate"]), circuit.CurrentProbe(m.primary)}
}

// Kind returns the kind of figure a spec reads.
func (s Spec) Kind() units.Kind {
	switch s.Instrument {
	case Ohmmeter:
		return units.Resistance
	case ClampAmmeter, ClampPeak:
		return units.Current
	case Thermometer:
		return units.Temperature
	case Wattmeter:
		return units.Power
	case StoredEnergy, GapEnergy, ContactEnergy:
		return units.Energy
	case SparkInHand, SnapInHand:
		return units.Ratio
	case TimingLight:
		return units.CrankAngle
	case WindowedCap:
		return units.DistributorAngle
	case FeelerGauge, Caliper:
		return units.Length
	case BurnTime:
		return units.Time
	case JunctionHeat:
		return units.Temperature
	}
	return units.Voltage
}

// Watch adds probes of the network itself to what Solve keeps; Swing gives
// them back by their place in the list. It must come before any reading is
// asked for.
func (m *Model) Watch(probes []circuit.Probe) error {
	if len(m.probes) > 0 {
		return fmt.Errorf("twin: Watch comes first, before any reading")
	}
	m.probes = append(m.probes, probes...)
	return nil
}

// Swing returns what the i-th probe of Watch came to in the last Solve.
func (m *Model) Swing(i int) circuit.Swing {
	if m.Switched() {
		return m.steady.Readings[i]
	}
	v := m.vals[i]
	return circuit.Swing{Mean: v.mean, Min: v.min, Max: v.max}
}
