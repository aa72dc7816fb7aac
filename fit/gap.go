package fit

import (
	"math"

	"dwellwright/car"
	"dwellwright/magnet"
	"dwellwright/twin"
)

// Gap is the air gap of a trigger: what it is, how wide it may be, and what
// to do to its mounting.
type Gap struct {
	Principle car.Principle
	Now       twin.Interval // m
	Wanted    float64       // m
	Least     twin.Interval // m left where the shaft's side play brings the ring nearest
	Rubs      float64       // share of the drawn cars whose ring touches there
	At        []GapAt       // in each condition with the engine turning
	Worst     int           // index in At of the one with the least chance, then the least room
	After     float64       // chance that every lobe fires at Wanted, in the worst condition
	Band      Limits        // between which a gap both clears the ring and fires every lobe

	// Of a hall switch, middle car, hot idle or the first condition running.
	Switching   *magnet.Switching
	Dwell       twin.Interval // distributor degrees; zero for a reluctor
	CreepDeg    float64       // crank degrees later for each 0.1 mm more gap
	LagDeg      float64       // crank degrees later at the fastest condition than at rest, for the switch's own delay
	PlateM      float64       // m by which the vacuum's full travel widens the gap; 0 where the plate turns about the shaft
	Slot        magnet.SlotChange
	SlotRefused error // why the slot cannot do it
	Curve       []GapPoint
}

// Limits are a least and a most, m.
type Limits struct{ Least, Most float64 }

// GapAt is what a trigger does at its gap in one condition.
type GapAt struct {
	Condition, Name string
	Largest         twin.Interval // m, gap up to which every lobe fires
	Fires           float64       // share of the drawn cars in which every lobe fires
	Volts           twin.Interval // V a reluctor gives; zero for a hall switch
}

// GapPoint is the chance at another gap, in the worst condition.
type GapPoint struct {
	GapM  float64
	Fires float64 // share of the drawn cars
	Later float64 // crank degrees by which a hall switch fires later there than at the gap it has, middle car; NaN where it does not fire
}

// gaps are the drawn figures of a trigger in the condition looked at.
type gaps struct {
	gap, nearest, widest, largest, volts []float64
}

// fires is the share of draws whose largest gap is more than its gap by what
// side play adds.
func (g *gaps) fires(gap func(k int) float64) float64 {
	if len(g.largest) == 0 {
		return math.NaN()
	}
	n := 0
	for k := range g.largest {
		if gap(k)+g.widest[k] <= g.largest[k] {
			n++
		}
	}
	return float64(n) / float64(len(g.largest))
}

func (f *Fit) gap() (*Gap, error) {
	g := &Gap{Principle: f.Car.Trigger.Principle, Wanted: f.Car.Trigger.GapWanted.X}
	s := twin.NewSampler(f.Car, f.Seed)
	s.Draw(0)
	mid := s.Car.Clone()
	var conds []int
	for i := range mid.Conditions {
		if e := mid.Conditions[i].Engine; e == car.Running || e == car.Cranking {
			conds = append(conds, i)
		}
	}
	if len(conds) == 0 {
		return nil, nil
	}
	midLargest := make([]float64, len(conds))
	midVolts := make([]float64, len(conds))
	volts := func(c *car.Car, k *car.Condition) float64 {
		if c.Trigger.Principle != car.Reluctance {
			return 0
		}
		return twin.Reluctor(c).EMF(math.Max(c.Trigger.Gap.X, 0), k.Speed.X/2)
	}
	for n, i := range conds {
		midLargest[n], midVolts[n] = twin.LargestGap(mid, &mid.Conditions[i]), volts(mid, &mid.Conditions[i])
	}
	// A plate that swings about a pin takes the sensor nearer or farther off.
	_, g.PlateM = f.Rig.SensorShift(f.Rig.VacuumTravel)
	nearer, farther := math.Max(-g.PlateM, 0), math.Max(g.PlateM, 0)
	midGap, midPlay := mid.Trigger.Gap.X, math.Max(mid.Distributor.SidePlay.X, 0)/2+farther
	hot := conds[0]
	for _, i := range conds {
		if mid.Conditions[i].ID == "hot_idle" {
			hot = i
		}
	}
	g.switching(mid, &mid.Conditions[hot])

	all := make([]gaps, len(conds))
	var dwell []float64
	for k := 1; k <= f.Draws; k++ {
		s.Draw(k)
		c := s.Car
		play := math.Max(c.Distributor.SidePlay.X, 0) / 2
		for n, i := range conds {
			a := &all[n]
			a.gap = append(a.gap, c.Trigger.Gap.X)
			a.nearest = append(a.nearest, c.Trigger.Gap.X-play-nearer)
			a.widest = append(a.widest, play+farther)
			a.largest = append(a.largest, twin.LargestGap(c, &c.Conditions[i]))
			a.volts = append(a.volts, volts(c, &c.Conditions[i]))
		}
		if g.Switching != nil {
			if sw, err := twin.Hall(c, c.Conditions[hot].BayTemp.X).Switching(); err == nil {
				dwell = append(dwell, sw.DwellDeg)
			}
		}
	}
	for n, i := range conds {
		k, a := &f.Car.Conditions[i], &all[n]
		at := GapAt{Condition: k.ID, Name: k.Name, Fires: a.fires(func(k int) float64 { return a.gap[k] })}
		if f.Draws == 0 {
			at.Fires = 0
			if midGap+midPlay <= midLargest[n] {
				at.Fires = 1
			}
		}
		at.Largest = twin.Middle95(midLargest[n], append([]float64(nil), a.largest...))
		at.Volts = twin.Middle95(midVolts[n], append([]float64(nil), a.volts...))
		g.At = append(g.At, at)
		if w := &g.At[g.Worst]; at.Fires < w.Fires || at.Fires == w.Fires && at.Largest.Mid < w.Largest.Mid {
			g.Worst = n
		}
	}
	a := &all[g.Worst]
	g.After = a.fires(func(int) float64 { return g.Wanted })
	if f.Draws == 0 {
		g.After = 0
		if g.Wanted+midPlay <= midLargest[g.Worst] {
			g.After = 1
		}
	}
	for _, x := range a.nearest {
		if x <= 0 {
			g.Rubs += 1 / float64(len(a.nearest))
		}
	}
	if f.Draws == 0 && midGap-math.Max(mid.Distributor.SidePlay.X, 0)/2-nearer <= 0 {
		g.Rubs = 1
	}
	g.Now = twin.Middle95(midGap, append([]float64(nil), a.gap...))
	g.Least = twin.Middle95(midGap-math.Max(mid.Distributor.SidePlay.X, 0)/2-nearer, a.nearest)
	if g.Switching != nil {
		g.Dwell = twin.Middle95(g.Switching.DwellDeg, dwell)
	}
	g.Band = Limits{twin.RubM + math.Max(mid.Distributor.SidePlay.X, 0)/2 + nearer, max(g.At[g.Worst].Largest.Lo-midPlay, 0)}
	g.curve(a, midPlay, midLargest[g.Worst], twin.Hall(mid, mid.Conditions[hot].BayTemp.X))
	g.slot(mid)
	return g, nil
}

// switching works out the edges of the middle car.
func (g *Gap) switching(c *car.Car, k *car.Condition) {
	if g.Principle == car.Reluctance {
		return
	}
	m := twin.Hall(c, k.BayTemp.X)
	sw, err := m.Switching()
	if err != nil {
		return
	}
	g.Switching = &sw
	for i := range c.Conditions {
		if c.Conditions[i].Engine == car.Running {
			g.LagDeg = max(g.LagDeg, 2*m.Hall.LagDeg(c.Conditions[i].Speed.X/2))
		}
	}
	if d := m.Timing(m.GapM + 0.05e-3); !math.IsNaN(d) {
		low := math.Max(m.GapM-0.05e-3, 0)
		g.CreepDeg = 2 * (d - m.Timing(low)) * 0.1e-3 / (m.GapM + 0.05e-3 - low)
	}
}

// curve is the chance over the gap.
func (g *Gap) curve(a *gaps, midPlay, midLargest float64, hall magnet.Fit) {
	top := math.Max(1.6*g.At[g.Worst].Largest.Hi, 1.3*g.Now.Hi)
	top = math.Min(math.Max(top, 0.5e-3), 10e-3)
	for i := 0; i <= 40; i++ {
		x := top * float64(i) / 40
		p := GapPoint{GapM: x, Fires: a.fires(func(int) float64 { return x }), Later: math.NaN()}
		if g.Principle != car.Reluctance && x > 0 {
			p.Later = 2 * hall.Timing(x)
		}
		if len(a.largest) == 0 {
			p.Fires = 0
			if x+midPlay <= midLargest {
				p.Fires = 1
			}
		}
		g.Curve = append(g.Curve, p)
	}
}

// slot works out what the mounting has to do for the wanted gap.
func (g *Gap) slot(c *car.Car) {
	t := &c.Trigger
	b := magnet.Base{
		RingRadiusM: t.RingRadius.X, GapNowM: t.Gap.X, GapWantedM: t.GapWanted.X,
		TowardsM: t.SlotLength.X, AwayM: t.SlotLength.X,
	}
	if t.PivotToSensor.X > 0 {
		b.ArmM, b.SlotArmM = t.PivotToSensor.X, t.PivotToSlot.X
		b.PinRadiusM = math.Hypot(t.RingRadius.X+t.Gap.X, t.PivotToSensor.X)
	}
	g.Slot, g.SlotRefused = magnet.Slot(b)
}
