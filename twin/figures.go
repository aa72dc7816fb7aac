package twin

import (
	"errors"
	"math"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/supply"
	"dwellwright/wire"
)

// setter sets figures and keeps the first refusals.
type setter struct {
	s    *circuit.Solver
	errs []error
}

func (w *setter) set(e circuit.ElemID, p circuit.Param, v float64) {
	if e == none {
		return
	}
	if err := w.s.Set(e, p, v); err != nil {
		w.errs = append(w.errs, err)
	}
}

// Refresh takes every figure from the car anew.
func (m *Model) Refresh() error {
	c, cond := m.car, m.cond
	w := &setter{s: m.solve}
	bay := cond.BayTemp.X
	outside := cond.BatteryTemp.X

	for id := range m.leg {
		if m.leg[id] == none {
			continue
		}
		t := bay
		if legID := car.LegID(id); legID == car.SwitchFeed || legID == car.MainFeed {
			t = (bay + outside) / 2 // half of the run is behind the bulkhead
		}
		w.set(m.leg[id], circuit.Ohms, math.Max(LegOhms(&c.Wiring[id], t), leastOhms))
	}
	if !m.dead {
		b := supply.Battery{NominalV: float64(c.NominalV), SOC: math.Min(math.Max(cond.StateOfCharge.X, 0), 1), // a draw may pass full; full it is
			TempC: math.Min(math.Max(cond.BatteryTemp.X, -50), 80), CapacityAh: c.Battery.Capacity.X, InternalOhm20: c.Battery.Internal.X}
		if err := b.Validate(); err != nil {
			return err
		}
		w.set(m.emf, circuit.Volts, m.sign*b.EMF())
		give, take := b.Internal(), b.ChargeInternal()
		take = math.Max(take, give*1.001)
		w.set(m.inner, circuit.OnOhms, 1/(1/give-1/take))
		w.set(m.inner, circuit.OffSiemens, 1/take)
	}
	if m.source != none {
		m.refreshSource(w)
	}
	for _, l := range m.loads {
		w.set(l.elem, circuit.Ohms, lampVolts(c.NominalV)/math.Max(c.Loads[l.load].Current.X, 1e-6))
	}
	if m.starter != none {
		st := supply.Starter{CurrentA: c.Starter.Current.X, AtV: c.Starter.At.X}
		w.set(m.starter, circuit.Ohms, st.Ohms(cond.BatteryTemp.X))
	}
	w.set(m.key, circuit.Ohms, math.Max(c.KeySwitch.Contact.X, leastOhms))
	w.set(m.bypass, circuit.Ohms, bypassOhms)
	if m.relay != none {
		nominal := float64(c.NominalV)
		w.set(m.relay, circuit.OnOhms, math.Max(c.Relay.Contact.X, leastSlope))
		w.set(m.relay, circuit.CloseAbove, 0.65*nominal) // pull-in and drop-out of a relay [common practice]
		w.set(m.relay, circuit.OpenBelow, 0.25*nominal)
		w.set(m.winder, circuit.Ohms, c.Relay.Winding.X)
		w.set(m.fuse, circuit.Ohms, math.Max(c.Relay.Fuse.X, leastOhms))
		// It was pulled in with the key on, before anything else; a start
		// position that kills the run contact has let go of it.
		m.solve.SetClosed(m.relay, cond.Engine != car.Cranking || c.KeySwitch.LiveInStart)
	}
	if m.ballast != none {
		w.set(m.ballast, circuit.Ohms, c.Ballast.Cold.X)
		w.set(m.ballast, circuit.TempCo, math.Max(c.Ballast.TempCo.X, 0))
		w.set(m.ballast, circuit.TempC, bay)
		w.set(m.ballast, circuit.HeatKPerW, m.warms(c.Ballast.Thermal.X, cond.Engine != car.Cranking))
	}
	coil := &c.Coil
	w.set(m.winding, circuit.Ohms, coil.Primary.X)
	w.set(m.winding, circuit.TempC, bay)
	w.set(m.winding, circuit.HeatKPerW, m.warms(coil.Thermal.X, cond.Engine == car.Running))
	w.set(m.primary, circuit.Henries, coil.Inductance.X)
	w.set(m.iron, circuit.Ohms, coil.Iron.X)
	n := coil.Turns.X
	w.set(m.spark, circuit.Knee, coil.Burn.X/n)
	w.set(m.spark, circuit.OnOhms, coil.Series.X/(n*n))

	sw := &c.Switch
	on, off := math.Max(sw.On.X, leastSlope), leakSiemens
	switch g := sw.Bridged(); {
	case sw.NeverParts():
		on = 1 / (1/on + g)
		off = 1 / on
	case g > 0:
		// What a saturated switch conducts beyond its knee comes on top of it.
		off = g
		if sw.Kind != car.Darlington && sw.Kind != car.IGBT {
			on = 1 / (1/on + g)
		}
	}
	w.set(m.contact, circuit.OnOhms, on)
	w.set(m.contact, circuit.OffSiemens, off)
	if sw.Kind.Electronic() {
		w.set(m.contact, circuit.ClampVolts, sw.Clamp.X)
	}
	if sw.Kind == car.Darlington || sw.Kind == car.IGBT {
		w.set(m.contact, circuit.Knee, math.Max(sw.Saturation.X, 0))
	}
	if m.short != none {
		w.set(m.short, circuit.Ohms, 1/math.Max(sw.Shorts[car.ShortInLead], leakSiemens))
	}
	if m.supply != none {
		w.set(m.supply, circuit.Ohms, lampVolts(c.NominalV)/math.Max(sw.Supply.X, 1e-4))
	}
	if m.Switched() {
		if err := m.refreshCycle(); err != nil {
			return err
		}
	}
	return errors.Join(w.errs...)
}

// warms returns the thermal resistance of what heats itself, or next to none
// where it has no time to: a starter turns for seconds, a key is on with the
// engine stopped for a minute at most. A ballast needs under a minute, a
// coil's can a quarter of an hour.
func (m *Model) warms(kPerW float64, time bool) float64 {
	if time {
		return kPerW
	}
	return 1e-6
}

// refreshSource sets what the generator or alternator can give at this speed.
func (m *Model) refreshSource(w *setter) {
	ch, cond := &m.car.Charging, m.cond
	limit := 0.0
	if cond.Engine == car.Running {
		if ch.Kind == car.ACAlternator {
			limit = supply.Alternator{RatingA: ch.Rating.X, IdleShare: ch.IdleShare.X, FullRPM: ch.FullOutput.X, IdleRPM: m.idleRPM()}.Limit(cond.Speed.X)
		} else {
			limit = supply.Generator{CutInRPM: ch.CutIn.X, FullRPM: ch.FullOutput.X, RatingA: ch.Rating.X}.Limit(cond.Speed.X)
		}
	}
	reg := supply.Regulator{SetPointV: ch.SetPoint.X, AtC: 20, DriftVPerK: ch.Drift.X}
	// A set point is taken, and quoted, at a fair output: half the rating.
	slope := math.Max(ch.Slope.X, leastSlope)
	w.set(m.source, circuit.Volts, reg.SetPoint(cond.RegulatorTemp.X)+slope*ch.Rating.X/2)
	w.set(m.source, circuit.Ohms, slope)
	w.set(m.source, circuit.Amps, math.Max(limit, 0))
}

// idleRPM is the speed of the car's hot idle, at which an alternator gives
// its idle share; 0, the usual one, where the car has no such condition.
func (m *Model) idleRPM() float64 {
	if k := findCondition(m.car, "hot_idle"); k != nil {
		return k.Speed.X
	}
	return 0
}

// lampVolts is the voltage at which lamps and motors are rated, V.
func lampVolts(nominal int) float64 {
	if nominal == 6 {
		return 6.4
	}
	return 12.8
}

// LegOhms returns the resistance of a leg with its wire at tempC.
func LegOhms(l *car.Leg, tempC float64) float64 {
	if l.Given {
		return l.Resistance.X * (1 + wire.CopperPerK*(tempC-20))
	}
	return wire.Resistance(l.Section.X, l.Length.X, tempC, math.Max(l.Stranding.X, 1)) + l.Connections.X*l.Joint.X
}

// refreshCycle sets the schedule of the switch: one lobe of the distributor,
// 120/(N rpm) s, closed for what Dwell says.
func (m *Model) refreshCycle() error {
	r := Dwell(m.car, math.Max(m.cond.Speed.X, 1))
	period := r.Period
	share := math.Min(math.Max(r.Dwell/period, 0.01), 0.99)
	actions := m.cycle.Actions
	if actions == nil {
		actions = make([]circuit.Action, 2)
	}
	actions[0] = circuit.Action{At: 0, Elem: m.contact, Close: true}
	actions[1] = circuit.Action{At: share * period, Elem: m.contact, Close: false}
	m.cycle = circuit.Cycle{Period: period, Actions: actions}
	if m.steady != nil {
		return m.steady.SetCycle(m.cycle)
	}
	return nil
}
