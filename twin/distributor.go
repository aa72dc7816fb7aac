package twin

import (
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/magnet"
)

// Distributor is the geometry of a car's distributor with every figure as c
// has it, and with it where its timing and its rotor phase are now: what was
// seen with a light is taken as it is, and the cam is put where it makes the
// geometry agree.
//
// With points the spark comes at timing.before. A trigger fires Later degrees
// later; rotor phase is that of the points as built plus as much.
func Distributor(c *car.Car) distributor.Distributor {
	s, in := rotation(c), &c.Distributor
	n := c.Cylinders
	d := distributor.Distributor{
		Rotation:    distributor.Clockwise,
		Lobes:       shares(in.Intervals, n, 2),
		Towers:      in.Towers,
		FirstTower:  in.FirstTower.X,
		Leads:       in.Leads,
		FiringOrder: in.FiringOrder,
		FiringAt:    shares(in.Intervals, n, 1),
		Trigger:     in.BlockAt.X,
		Housing:     in.CanAt.X,
		Teeth:       in.Teeth,

		TipRadiusM:       in.TipRadius.X,
		ElectrodeRadiusM: in.TipRadius.X + c.Cap.RotorGap.X,
		TipWidthM:        in.TipWidth.X,
		ElectrodeWidthM:  in.ElectrodeWidth.X,
		ClampRadiusM:     in.ClampRadius.X,
		Clearance:        in.Clear.X,
		Features:         []distributor.Arc{{Name: canName(c), From: -in.CanWidth.X / 2, To: in.CanWidth.X / 2}},
	}
	if s < 0 {
		d.Rotation = distributor.Anticlockwise
	}
	if len(d.Towers) == 0 {
		d.Towers = d.Lobes
	}
	if len(d.Leads) == 0 {
		d.Leads = d.FiringOrder
	}
	if c.Advance.Source != car.NoVacuum {
		d.VacuumTravel = c.Advance.Travel.X
	}
	for _, o := range in.Obstacles {
		from, to := o.From.X, o.To.X
		for to <= from {
			to += 360
		}
		d.Obstacles = append(d.Obstacles, distributor.Arc{Name: o.Name, From: from, To: to})
		// A can that stands nearer than is wished stands there all the same.
		before, after := turned(d.Housing+d.Features[0].From-to), turned(from-d.Housing-d.Features[0].To)
		if before+after+in.CanWidth.X+to-from < 360+1e-9 {
			d.Clearance = min(d.Clearance, before, after)
		}
	}
	if in.PlatePivot.X > 0 {
		d.Plate = distributor.Plate{PivotRadiusM: in.PlatePivot.X, PivotAngle: in.PlatePivotAt.X, SensorRadiusM: CamRadiusM}
	}
	if c.Switch.Kind.Electronic() {
		d.Trigger = in.TriggerAt.X
		d.TriggerRange = [2]float64{-in.TriggerSlot.X, in.TriggerSlot.X}
		d.SleeveRange = [2]float64{-in.SleeveTurn.X, in.SleeveTurn.X}
		if d.Plate.PivotRadiusM > 0 {
			d.Plate.SensorRadiusM = c.Trigger.RingRadius.X + c.Trigger.Gap.X
		}
	}
	if d.Plate.PivotRadiusM > 0 {
		d.VacuumTravel = swing(&d, d.VacuumTravel)
	}
	// 2 (s (G + K - H - T) + c) = the timing seen, of lobe 0 where the lead of
	// No. 1 sits in the first tower; where the leads sit so many towers on, a
	// light on that lead sees the lobe that is as many on. The tip stands at
	// its tower's angle plus its phase when lobe 0 fires.
	d.Cam = d.Housing + d.Trigger + s*(TimingNow(c)/2-CentrifugalSeen(c))
	if k := slices.Index(d.Leads, 1); k > 0 && k < len(d.Lobes) {
		d.Cam += s * d.Lobes[k]
	}
	phase := c.Distributor.Phase.X + Later(c)
	if c.Switch.Kind.Electronic() && c.Timing.After.Origin != car.Assumed {
		// A light on the lead of No. 1 saw this lobe's spark, so its tower is
		// the nearest.
		phase = math.Remainder(phase, 360/float64(n))
	}
	d.Rotor = d.FirstTower + s*phase - d.Trigger + d.Cam
	return d
}

// CamRadiusM is the radius at which a cam opens points, m [from memory].
const CamRadiusM = 10e-3

// swing is how far a plate on a pin has to swing to move what it carries by
// travel round the shaft, which is what a can is said to give. The two keep
// nearly the same ratio, so a few corrections by it are exact.
func swing(d *distributor.Distributor, travel float64) float64 {
	v := travel
	for range 20 {
		e, _ := d.SensorShift(v)
		if !(e > 0) || v > 90 {
			break // no such plate: Validate says why
		}
		v *= travel / e
	}
	return v
}

func canName(c *car.Car) string {
	if c.Advance.Source == car.NoVacuum {
		return "primary terminal"
	}
	return "vacuum can"
}

func rotation(c *car.Car) float64 {
	if c.Distributor.Rotation == car.Anticlockwise {
		return -1
	}
	return 1
}

// turned is an angle in [0, 360).
func turned(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}

// shares adds up intervals (crank degrees, even ones where none are given)
// over div, from 0 on.
func shares(intervals []float64, n int, div float64) []float64 {
	at := make([]float64, n)
	for i := 1; i < n; i++ {
		step := 720 / float64(n)
		if len(intervals) == n {
			step = intervals[i-1]
		}
		at[i] = at[i-1] + step/div
	}
	return at
}

// Later is by how many distributor degrees the spark comes later than the
// points, as the car has them or had them, made it: 0 with points; half of
// what the timing light showed before and after; else what the bench found.
func Later(c *car.Car) float64 {
	switch {
	case !c.Switch.Kind.Electronic():
		return 0
	case c.Timing.After.Origin != car.Assumed:
		return (c.Timing.Before.X - c.Timing.After.X) / 2
	}
	return c.Timing.TriggerLater.X
}

// TimingNow is the timing with nothing turned yet, crank degrees before top
// dead centre, as a light shows it at timing.seen_at with the vacuum hose off.
// Of a trigger that has been in the car for long and of which nothing else is
// said, timing.before is what it is set to.
func TimingNow(c *car.Car) float64 {
	switch {
	case !c.Switch.Kind.Electronic():
		return c.Timing.Before.X
	case c.Timing.After.Origin != car.Assumed:
		return c.Timing.After.X
	case c.Timing.TriggerLater.Origin == car.Assumed && c.Planned == nil:
		return c.Timing.Before.X
	}
	return c.Timing.Before.X - 2*c.Timing.TriggerLater.X
}

// CentrifugalSeen is the centrifugal advance that is in a timing seen with a
// light, distributor degrees.
func CentrifugalSeen(c *car.Car) float64 {
	m := Mechanism(c)
	if m.Home(c.Timing.SeenAt.X / 2) {
		return 0
	}
	return m.At(c.Timing.SeenAt.X / 2).Mid
}

// FromIdle is what of a timing seen with a light at timing.seen_at is more
// than at idle, crank degrees: 0 where it was seen at idle.
func FromIdle(c *car.Car) float64 {
	if c.Timing.SeenAt.Origin == car.Assumed {
		return 0
	}
	k := findCondition(c, "hot_idle")
	if k == nil {
		return 0
	}
	return 2 * (CentrifugalSeen(c) - Mechanism(c).At(k.Speed.X/2).Mid)
}

// Hall is the ring and the hall switch of a car's trigger at a temperature of
// magnets and switch, °C.
func Hall(c *car.Car, tempC float64) magnet.Fit {
	t := &c.Trigger
	r := magnet.UsualRing(c.Cylinders, t.RingRadius.X)
	if t.Ring == car.OnePerLobe {
		r = magnet.UsualUnipolar(c.Cylinders, t.RingRadius.X)
	}
	if t.Poles > 0 {
		r.Poles = t.Poles
	}
	r.HeightM, r.ThicknessM = t.MagnetHeight.X, t.MagnetThickness.X
	r.RemanenceT, r.TempCoeff = t.Remanence.X, -t.FieldFalls.X
	if r.WidthM > 0 { // a small ring has small magnets
		r.WidthM = min(r.WidthM, 0.8*2*math.Pi*r.RadiusM/float64(r.Poles))
	}
	h := magnet.UsualHall()
	h.OperateT = t.Operate.X
	h.ReleaseT = t.Operate.X - t.Hysteresis.X
	return magnet.Fit{Ring: r, Hall: h, GapM: t.Gap.X, AxialM: t.AxialOffset.X, TiltRad: t.Tilt.X * math.Pi / 180, TempC: tempC}
}

// Reluctor is the toothed wheel and coil of a car's trigger.
func Reluctor(c *car.Car) magnet.Reluctor {
	r := magnet.UsualReluctor(c.Cylinders)
	r.RadiusM = c.Trigger.RingRadius.X
	r.ToothM = min(r.ToothM, 0.4*r.PitchM()) // a small wheel has narrow teeth
	return r
}

// Heights along the shaft that the car file has no field for, m; all from
// memory, and none decides anything but where a picture's parts stand, save
// the last four.
const (
	bladeM       = 20e-3  // rotor's seat to the lower edge of its blade
	bladeHighM   = 4e-3   // the blade
	contactHighM = 10e-3  // a cap contact
	rotorTopM    = 27e-3  // rotor's seat to its highest point
	brushFreeM   = 1.5e-3 // the brush pressed in as built
	brushMoreM   = 2.5e-3 // what it can be pressed in yet
	leastFaceM   = 2e-3   // blade and contact should face each other by
	leastRoofM   = 0.5e-3 // free under the cap
	axialMostM   = 1e-3   // magnets may be out of line with the sensor by [common practice]
)

// Heights are the heights along a car's distributor shaft. The lift and the
// magnets' offset are those of a trigger; with points there is neither.
func Heights(c *car.Car) distributor.Heights {
	t := &c.Trigger
	play := math.Max(c.Distributor.EndPlay.X, 0) / 2
	h := distributor.Heights{
		BoreM: t.Engagement.X, LeastBoreM: t.EngagementLeast.X,
		Blade:     [2]float64{bladeM, bladeM + bladeHighM},
		RotorTopM: rotorTopM, RoofM: rotorTopM + t.Headroom.X, ClearanceM: leastRoofM,
		SpringM: bladeM + bladeHighM, LeastM: leastFaceM,
		EndPlayUpM: play, EndPlayDownM: play, AxialMostM: axialMostM,
	}
	top := h.Blade[1] + t.TipBelow.X
	h.Contacts = [2]float64{top - contactHighM, top}
	h.Brush = [2]float64{h.SpringM - brushFreeM, h.SpringM + brushMoreM}
	if c.Switch.Kind.Electronic() {
		h.LiftM = math.Max(t.RotorLift.X, 0)
		h.SleeveM = t.AxialOffset.X
	}
	return h
}

// Breakers is when two sets of points together break the coil, distributor
// degrees after the first set opens, and their dwell together. Both sets have
// the dwell dwell_each; the second opens sets_apart later.
func Breakers(c *car.Car) (opens, dwell float64, err error) {
	d := &c.Distributor
	pitch := 360 / float64(c.Cylinders)
	return distributor.Combine(pitch,
		distributor.BreakerSet{Opens: 0, DwellDeg: d.DwellEach.X},
		distributor.BreakerSet{Opens: d.SetsApart.X, DwellDeg: d.DwellEach.X})
}
