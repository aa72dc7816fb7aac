package distributor

import (
	"fmt"
	"math"
	"slices"
)

// Rotation is the direction the rotor turns, seen from above the cap.
type Rotation int8

// The two directions. The zero value is refused by [Distributor.Validate].
const (
	Clockwise     Rotation = 1
	Anticlockwise Rotation = -1
)

func (r Rotation) String() string {
	switch r {
	case Clockwise:
		return "clockwise"
	case Anticlockwise:
		return "anticlockwise"
	}
	return fmt.Sprintf("rotation %d", int8(r))
}

// Distributor is the geometry of a distributor as it stands in its engine. All
// angles are distributor degrees, clockwise seen from above unless said
// otherwise; the package comment names the frames and letters.
type Distributor struct {
	Rotation    Rotation
	Lobes       []float64 // where each lobe or magnet sits, degrees AGAINST rotation from lobe 0: 0 first, rising, below 360; see Even
	Towers      []float64 // where each tower sits, degrees IN the direction of rotation from No. 1 tower: 0 first, rising, below 360
	FirstTower  float64   // No. 1 tower in the housing frame
	Leads       []int     // the cylinder whose lead sits in tower k
	FiringOrder []int     // cylinders as they fire, No. 1 first
	FiringAt    []float64 // crank degrees of their compression top dead centres: 0 first, rising, below 720

	Trigger float64 // T: rubbing block or sensor in the housing frame, its switching edge included
	Cam     float64 // K: opening edge of lobe 0 from the shaft's zero
	Rotor   float64 // R: rotor tip from the shaft's zero
	Mesh    float64 // G: the shaft's zero in the engine frame at No. 1's compression top dead centre
	Housing float64 // H: the housing's zero in the engine frame

	VacuumTravel float64 // most swing of the plate by the can
	Teeth        int     // places the drive can be put in: gear teeth; 1 an offset tang, 2 a centred one

	TipRadiusM, ElectrodeRadiusM float64 // radii of the facing surfaces of rotor tip and cap contact
	TipWidthM, ElectrodeWidthM   float64 // their widths along the circle
	ClampRadiusM                 float64 // where a turn of the housing is measured

	Features  []Arc   // what sticks out of the housing, in the housing frame: can, clip, terminal
	Obstacles []Arc   // what stands round it, in the engine frame: hose, manifold, firewall
	Clearance float64 // degrees to keep between the two

	Plate        Plate
	TriggerRange [2]float64 // how far the trigger can be moved on its plate from where it is, low and high: low <= 0 <= high
	SleeveRange  [2]float64 // how far the sleeve can be turned on the shaft from where it is; 0, 0 when keyed
}

// Arc is a stretch of the circle, clockwise from From to To; To-From is above 0
// and below 360 degrees.
type Arc struct {
	Name     string
	From, To float64
}

// Plate is a breaker plate that swings about a pin beside the shaft. The zero
// value turns about the shaft itself. PivotAngle is in the housing frame; the
// sensor is taken to stand at the angle Trigger.
type Plate struct {
	PivotRadiusM, PivotAngle float64
	SensorRadiusM            float64
}

// Even returns n angles spaced evenly round the distributor, 0 first; nil for
// n below 1. It serves for Lobes and Towers; twice its figures are the FiringAt
// of an even-firing engine.
func Even(n int) []float64 {
	if n < 1 {
		return nil
	}
	a := make([]float64, n)
	for i := range a {
		a[i] = 360 * float64(i) / float64(n)
	}
	return a
}

// EvenFiring returns n compression top dead centres spaced evenly over two
// turns of the crank, in crank degrees, 0 first.
func EvenFiring(n int) []float64 {
	a := Even(n)
	for i := range a {
		a[i] *= 2
	}
	return a
}

// Limits of what Validate accepts.
const (
	cylindersMost = 16
	teethMost     = 200
	angleMost     = 36000 // degrees: beyond, an angle is a mistake and loses digits
	travelMost    = 45    // degrees of plate
	metreMost     = 0.5   // of any radius or width
	rateLeast     = 0.02  // least share of a plate's swing that moves its sensor round the shaft
)

// sized returns the number of cylinders when all lists agree on it, else 0.
func (d *Distributor) sized() int {
	n := len(d.Lobes)
	if len(d.Towers) != n || len(d.Leads) != n || len(d.FiringOrder) != n || len(d.FiringAt) != n {
		return 0
	}
	return n
}

// Validate reports the first thing that cannot be, as an [*Error] wrapping one
// of the sentinels: ErrRotation, ErrCount, ErrRising, ErrPermutation,
// ErrNumber, ErrTowersOverlap, ErrRotorTooLong, ErrNoRoom, ErrArc, ErrFouled,
// ErrPlate or ErrRange. The other methods take a distributor that passed; on
// one that did not they return numbers without meaning, NaN or nothing, but do
// not panic.
func (d *Distributor) Validate() error {
	for _, check := range []func() error{d.badLists, d.badNumbers, d.badCap, d.badPlate, d.badArcs} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

func (d *Distributor) badLists() error {
	if d.Rotation != Clockwise && d.Rotation != Anticlockwise {
		return &Error{"Rotation", fmt.Sprintf("%d", d.Rotation), "clockwise (1) or anticlockwise (-1), seen from above", ErrRotation}
	}
	n := len(d.Lobes)
	if n < 2 || n > cylindersMost {
		return &Error{"Lobes", fmt.Sprintf("%d lobes", n), fmt.Sprintf("2 to %d", cylindersMost), ErrCount}
	}
	for _, l := range []struct {
		name string
		n    int
	}{{"Towers", len(d.Towers)}, {"Leads", len(d.Leads)}, {"FiringOrder", len(d.FiringOrder)}, {"FiringAt", len(d.FiringAt)}} {
		if l.n != n {
			return &Error{l.name, fmt.Sprintf("%d of them for %d lobes", l.n, n), "as many as lobes", ErrCount}
		}
	}
	for _, l := range []struct {
		name   string
		a      []float64
		period float64
	}{{"Lobes", d.Lobes, 360}, {"Towers", d.Towers, 360}, {"FiringAt", d.FiringAt, 720}} {
		for i, x := range l.a {
			switch {
			case i == 0 && x != 0:
				return &Error{l.name + "[0]", fmt.Sprintf("%g", x), "0, the others counted from it", ErrRising}
			case i > 0 && !(x > l.a[i-1] && x < l.period):
				return &Error{fmt.Sprintf("%s[%d]", l.name, i), fmt.Sprintf("%g after %g", x, l.a[i-1]),
					fmt.Sprintf("more than the one before and less than %g", l.period), ErrRising}
			}
		}
	}
	for _, l := range []struct {
		name string
		a    []int
	}{{"Leads", d.Leads}, {"FiringOrder", d.FiringOrder}} {
		sorted := slices.Sorted(slices.Values(l.a))
		for i, c := range sorted {
			if c != i+1 {
				return &Error{l.name, fmt.Sprint(l.a), fmt.Sprintf("each of 1 to %d once", n), ErrPermutation}
			}
		}
	}
	if d.FiringOrder[0] != 1 {
		return &Error{"FiringOrder", fmt.Sprint(d.FiringOrder), "the order written from No. 1 on", ErrPermutation}
	}
	return nil
}

func (d *Distributor) badNumbers() error {
	for _, f := range []struct {
		name      string
		x         float64
		low, high float64
		unit      string
	}{
		{"FirstTower", d.FirstTower, -angleMost, angleMost, "degrees"},
		{"Trigger", d.Trigger, -angleMost, angleMost, "degrees"},
		{"Cam", d.Cam, -angleMost, angleMost, "degrees"},
		{"Rotor", d.Rotor, -angleMost, angleMost, "degrees"},
		{"Mesh", d.Mesh, -angleMost, angleMost, "degrees"},
		{"Housing", d.Housing, -angleMost, angleMost, "degrees"},
		{"VacuumTravel", d.VacuumTravel, 0, travelMost, "degrees"},
		{"Teeth", float64(d.Teeth), 1, teethMost, "places (1 for an offset tang, 2 for a centred one)"},
		{"TipRadiusM", d.TipRadiusM, 1e-3, metreMost, "m"},
		{"ElectrodeRadiusM", d.ElectrodeRadiusM, 1e-3, metreMost, "m"},
		{"TipWidthM", d.TipWidthM, 1e-4, metreMost, "m"},
		{"ElectrodeWidthM", d.ElectrodeWidthM, 1e-4, metreMost, "m"},
		{"ClampRadiusM", d.ClampRadiusM, 1e-3, metreMost, "m"},
		{"Clearance", d.Clearance, 0, 90, "degrees"},
		{"Plate.PivotRadiusM", d.Plate.PivotRadiusM, 0, metreMost, "m (0: the plate turns about the shaft)"},
		{"Plate.PivotAngle", d.Plate.PivotAngle, -angleMost, angleMost, "degrees"},
		{"Plate.SensorRadiusM", d.Plate.SensorRadiusM, 0, metreMost, "m"},
	} {
		if !between(f.low, f.x, f.high) {
			return &Error{f.name, fmt.Sprintf("%g", f.x), fmt.Sprintf("%g to %g %s", f.low, f.high, f.unit), ErrNumber}
		}
	}
	for _, r := range []struct {
		name string
		r    [2]float64
	}{{"TriggerRange", d.TriggerRange}, {"SleeveRange", d.SleeveRange}} {
		if !(between(-180, r.r[0], 0) && between(0, r.r[1], 180)) {
			return &Error{r.name, fmt.Sprint(r.r), "from -180..0 to 0..180 degrees", ErrRange}
		}
	}
	return nil
}

func (d *Distributor) badCap() error {
	if d.TipRadiusM >= d.ElectrodeRadiusM {
		return &Error{"TipRadiusM", fmt.Sprintf("%g m in a cap whose contacts stand at %g m", d.TipRadiusM, d.ElectrodeRadiusM),
			"less than ElectrodeRadiusM", ErrRotorTooLong}
	}
	contact := degrees(d.ElectrodeWidthM / d.ElectrodeRadiusM)
	for k := range d.Towers {
		if _, on := d.gaps(k); on <= contact {
			return &Error{fmt.Sprintf("Towers[%d]", k), fmt.Sprintf("%.3g degrees to the next, contacts %.3g degrees wide", on, contact),
				"towers further apart than a contact is wide", ErrTowersOverlap}
		}
	}
	if tip := degrees(d.TipWidthM / d.TipRadiusM); tip >= 360-contact {
		return &Error{"TipWidthM", fmt.Sprintf("%.3g degrees of the circle", tip), "a tip that does not reach round", ErrNoRoom}
	}
	return nil
}

func (d *Distributor) badPlate() error {
	p := d.Plate
	if p.PivotRadiusM == 0 {
		return nil
	}
	if p.SensorRadiusM < 1e-3 {
		return &Error{"Plate.SensorRadiusM", fmt.Sprintf("%g m", p.SensorRadiusM), "0.001 to 0.5 m where the plate has a pivot", ErrPlate}
	}
	if math.Abs(d.plateRate()) < rateLeast {
		return &Error{"Plate", "a swing about this pivot moves the sensor in and out, not round", "a pivot that moves it round the shaft", ErrPlate}
	}
	if low, high := d.shiftSpan(); low < 0 || high > 90 {
		return &Error{"Plate", fmt.Sprintf("%.3g degrees of plate move the sensor by %.3g to %.3g degrees", d.VacuumTravel, low, high),
			"a travel over which the sensor moves against rotation, by 90 degrees at most", ErrPlate}
	}
	return nil
}

// Apply returns the distributor after the move. It has its own Leads and shares
// the other lists with d. Where the trigger or sleeve moved, its range moves
// with it, so that the same ends of its slot are meant.
func (d *Distributor) Apply(m Move) Distributor {
	out := *d
	s := float64(d.Rotation)
	out.Housing += m.Housing
	out.Trigger += m.Trigger
	out.Cam += m.Sleeve
	for i := range out.TriggerRange {
		out.TriggerRange[i] -= m.Trigger
		out.SleeveRange[i] -= m.Sleeve
	}
	if d.Teeth > 0 {
		out.Mesh += s * float64(m.Mesh) * 360 / float64(d.Teeth)
	}
	n := len(d.Leads)
	out.Leads = make([]int, n)
	for i, c := range d.Leads {
		out.Leads[place(i+m.Leads%n, n)] = c
	}
	return out
}

// place brings a tower's number into 0 to n-1.
func place(k, n int) int { return ((k % n) + n) % n }
