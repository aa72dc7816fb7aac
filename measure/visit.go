package measure

import (
	"math"

	"dwellwright/car"
	"dwellwright/firing"
	"dwellwright/twin"
	"dwellwright/wire"
)

// visit is the drawn car in one state, worked out as far as was asked.
type visit struct {
	b     *Bench
	s     state
	c     *car.Car
	k     *car.Condition
	rig   *rig        // nil with the key off
	spark *twin.Spark // nil where no firing was asked for, or none is made
	facts *facts
	fire  *firing.Solver
	where *place // nil until it is asked for

	changed bool // a change was made to the car as drawn
	before  before
}

// before is the state before it was changed, as far as the plugs' timing goes.
type before struct{ rpm, advance, swing float64 }

// facts are the figures of one state that observations are made of. What was
// not asked for, or is not there, is NaN or 0 as said.
type facts struct {
	solved bool

	battery, lamps, starter float64 // V, averages
	feed, least             float64 // V, lowest instant of the trigger's feed; what it must have; 0 and 0 with points
	coil                    float64 // A, highest
	legs                    float64 // W in the hottest of the ignition's wires, key on and closed
	coilC                   float64 // °C of the winding
	coilOver                float64 // watts in the winding over what the can stands
	switchLoad              float64 // highest current over what the switch stands
	out                     float64 // V at the key switch's run terminal
	switched                float64 // V at the coil's switched terminal, average

	alive float64 // chance that the switch works at all: feed, air gap, heat

	available, asked, snap float64 // V
	tower                  float64 // V available with nothing but a tester on the coil's tower
	lead                   float64 // the same on a plug's lead
	burn                   float64 // s
	contact                float64 // J into the points at each break
	primary                float64 // V

	right   float64 // share of the sparks that strike in the right cylinder
	snapped float64 // the same with the throttle snapped open
	damp    float64 // chance that a spark strikes with the cap damp
	timing  float64 // crank degrees before top, hose off, as it is and not as a light may show it
	total   float64 // the same with the can's share in this state
	mark    float64 // crank degrees at which a light sees the mark of No. 1
	scatter float64 // crank degrees either way, 95 in 100
	chances [6]float64
	steep   float64 // crank degrees that it gains for 100 rpm more
	turns   float64 // rpm
	cranks  float64 // cranking speed over what the starter is rated for
	early   float64 // crank degrees over what pings, at the worst speed
	late    float64 // crank degrees late at speed
}

// unsolved is what is known of a state that has no solution: nothing.
func unsolved() facts {
	n := math.NaN()
	return facts{battery: n, lamps: n, starter: n, feed: n, least: n, coil: n, legs: n, coilC: n, coilOver: n, switchLoad: n, out: n, switched: n, alive: n,
		available: n, asked: n, snap: n, tower: n, lead: n, burn: n, contact: n, primary: n, right: n, snapped: n, damp: n, timing: n, total: n, mark: n,
		scatter: n, chances: [6]float64{n, n, n, n, n, n}, steep: n, turns: n, cranks: n, early: n, late: n}
}

// read is the figure of a spec, equal to what twin.Predict gives of the car.
func (v *visit) read(e *entry) float64 {
	s := e.spec
	switch s.Instrument {
	case twin.Voltmeter, twin.VoltmeterMin, twin.VoltmeterMax, twin.ScopeMin, twin.ScopeMax, twin.ClampAmmeter, twin.ClampPeak:
		i, ok := v.rig.specs[e]
		if !ok || i < 0 {
			return math.NaN()
		}
		sign := v.rig.sign
		if s.Black == "" {
			sign = v.rig.clampSign(s.Red)
		}
		mean, lo, hi := v.rig.swing(i, sign)
		switch s.Instrument {
		case twin.VoltmeterMin, twin.ScopeMin:
			return lo
		case twin.VoltmeterMax, twin.ScopeMax, twin.ClampPeak:
			return hi
		}
		return mean
	case twin.Ohmmeter:
		return math.Min(v.ohms(s), pastRange)
	case twin.Thermometer:
		return v.windingC()
	case twin.TimingLight:
		return v.lightAt(v.k.Speed.X)
	case twin.WindowedCap:
		return v.phase(s.Red == "rotor_tip_full_vacuum")
	case twin.FeelerGauge:
		if !v.c.Switch.Kind.Electronic() {
			return math.NaN()
		}
		return v.c.Trigger.Gap.X
	case twin.Caliper:
		if s.Red == "rotor_engagement" {
			h := twin.Heights(v.c)
			return h.BoreM - h.LiftM
		}
		return v.c.Cap.RotorGap.X
	}
	return v.ofFiring(s.Instrument)
}

func (v *visit) ofFiring(i twin.Instrument) float64 {
	if v.spark == nil {
		return math.NaN()
	}
	switch i {
	case twin.AvailableVolts:
		return math.Max(v.onLead()-twin.BreakVolts(v.c, v.k), 0)
	case twin.AskedVolts:
		return v.spark.Asked.TotalV
	case twin.SnapVolts:
		return v.spark.Snapped.TotalV
	case twin.BurnTime:
		return v.spark.Firing.BurnS
	case twin.PrimaryPeak:
		return v.spark.Firing.PrimaryV
	}
	return math.NaN()
}

// windingC is the temperature of the coil's winding: at rest that of the
// network, turning the one at which copper has the resistance it settled at.
func (v *visit) windingC() float64 {
	if v.rig == nil {
		return math.NaN()
	}
	if !v.rig.model.Switched() {
		return v.rig.atRest
	}
	if v.spark == nil {
		return math.NaN()
	}
	return 20 + (v.spark.Primary.Winding/v.c.Coil.Primary.X-1)/wire.CopperPerK
}

// phase is how far the tip is past its tower, of the lobe that is furthest off.
func (v *visit) phase(full bool) float64 {
	p := v.place()
	if !full {
		return p.worst(0)
	}
	if v.c.Advance.Source == car.NoVacuum {
		return nan
	}
	return p.worst(p.d.VacuumTravel)
}

// place is the distributor of the car as it is in this state: that of the
// drawn car where nothing of it has changed.
func (v *visit) place() *place {
	b := v.b
	if v.where == nil {
		v.where = b.drawnPlace()
		if !v.where.is(v.c, b.workFigures) {
			v.where = b.place.of(v.c, b.workFigures, &b.base)
		}
	}
	return v.where
}

// pastRange is what an ohmmeter at the end of its highest range is taken to read,
// ohm: those end at 20 to 60 megohm [common practice].
const pastRange = 1e8

// ohms is what an ohmmeter shows between two points that are neighbours, or
// are joined by one row of legs, with the supply disconnected: nothing else
// joins them there, as the switch and the key are open, but what leaks.
func (v *visit) ohms(s *twin.Spec) float64 {
	if s.Red == "coil_feed" && s.Black == "coil_switched" {
		return v.c.Coil.Primary.X * (1 + wire.CopperPerK*(v.k.BayTemp.X-20))
	}
	if s.Red == "ballast_supply" && s.Black == "ballast_coil_side" {
		if !v.c.Ballast.Fitted {
			return math.NaN()
		}
		return v.c.Ballast.Cold.X * (1 + math.Max(v.c.Ballast.TempCo.X, 0)*(v.k.BayTemp.X-20))
	}
	sum := 0.0
	for _, id := range [...]car.LegID{car.PivotWire, car.HousingClamp, car.EarthCable} { // plate to the earthed post
		sum += math.Max(twin.LegOhms(&v.c.Wiring[id], v.k.BayTemp.X), 1e-5)
	}
	return sum
}

// work puts down the facts of the state.
func (v *visit) work(d depth) {
	f := v.facts
	*f = unsolved()
	f.solved = true
	f.turns = v.k.Speed.X
	if v.rig != nil {
		v.currents(f)
	}
	if d&(firingOf|geometry) != 0 && v.spark != nil {
		v.ofSpark(f)
	}
	if v.rig != nil {
		f.alive = v.switchAlive(f)
	}
	if d&geometry != 0 {
		v.ofGeometry(f)
	}
}

func (v *visit) currents(f *facts) {
	r := v.rig
	at := func(i int) (mean, lo, hi float64) {
		if r.own[i] < 0 {
			return math.NaN(), math.NaN(), math.NaN()
		}
		return r.swing(r.own[i], r.sign)
	}
	f.battery, _, _ = at(ofBattery)
	f.lamps, _, _ = at(ofLamps)
	f.starter, _, _ = at(ofStarter)
	_, _, f.coil = at(ofCoil)
	f.out, _, _ = at(ofKey)
	f.switched, _, _ = at(ofSwitched)
	f.feed, f.least = 0, 0
	if v.c.Switch.Kind.Electronic() {
		_, f.feed, _ = at(ofFeed)
		if math.IsNaN(f.feed) {
			f.feed = 0 // nothing is joined to it
		}
		f.least = v.c.Switch.MinFeed.X
	}
	if v.k.Engine == car.StoppedClosed {
		f.legs = 0
		for _, l := range [...]struct {
			probe int
			leg   car.LegID
		}{{ofSwitchFeed, car.MainFeed}, {ofSwitchFeed, car.SwitchFeed}, {ofIgnitionLead, car.IgnitionLead}, {ofCoilLead, car.CoilLead}, {ofCoil, car.TriggerLead},
			{ofCoil, car.PivotWire}, {ofCoil, car.HousingClamp}} {
			a, _, _ := at(l.probe)
			f.legs = math.Max(f.legs, a*a*twin.LegOhms(&v.c.Wiring[l.leg], v.k.BayTemp.X))
		}
		key, _, _ := at(ofIgnitionLead)
		f.legs = math.Max(f.legs, key*key*v.c.KeySwitch.Contact.X)
	}
	if v.k.Engine == car.Cranking {
		f.cranks = starterSpeed(f.starter, v.c.Starter.At.X)
	}
	if most := v.c.Switch.MaxCurrent.X; most > 0 {
		f.switchLoad = f.coil / most
	}
}

// starterSpeed is the speed of a starter at some volts over that at the volts
// it is rated at, at the same torque. A series motor's torque fixes its
// current; what is left of the volts after the drop of its windings is made by
// its turning:
//
//	n/n0 = (V - I R)/(V0 - I R)
//
// with I R a third of V0, as cranking takes about a third of the current at
// which the motor stands [from memory]. That the engine is stiffer cold and
// the battery's volts then fall comes in through V.
func starterSpeed(volts, rated float64) float64 {
	return math.Max((volts-rated/3)/(rated-rated/3), 0)
}

func (v *visit) ofSpark(f *facts) {
	s := v.spark
	f.available, f.asked, f.snap = s.Firing.AvailableV, s.Asked.TotalV, s.Snapped.TotalV
	f.burn, f.contact, f.primary = s.Firing.BurnS, s.Firing.ContactJ, s.Firing.PrimaryV
	f.coilC = v.windingC()
	f.coilOver = (f.coilC - v.k.BayTemp.X) / math.Max(v.c.Coil.Thermal.X, 1e-6) / math.Max(v.c.Coil.MaxWatts.X, 1e-3)
	f.tower, f.lead = f.available, f.available
	if v.s == hotRestart {
		if f.lead = v.onLead(); s.Case.Gap.Shunt > 0 {
			f.tower = v.leaking(car.LeakAtCoilTower)
		}
	}
	if f.damp = 0; v.s == coolCrank {
		cs := s.Case
		if cs.Gap.Shunt > 0 {
			cs.Gap.Shunt /= dampLeaks
		}
		if _, volts, err := v.fire.Available(&cs); err == nil {
			f.damp = strikes(volts, f.asked)
		}
	}
}

// dampLeaks is by how much damp lets leak more, of whatever leaks: a film on a
// clean cap is still tens of megohms, in a crack or on dirt tens of kilohms
// [an estimate].
const dampLeaks = 30.0

// Spreads of what makes an ignition work or not, one standard deviation. They
// are small: what is not known of a car is drawn with it.
const (
	strikeSD  = 0.08    // of the volts a gap asks from spark to spark, as a share [5 to 10 %, from memory]
	dropoutSD = 0.1     // V at which one trigger gives up, from one time to the next [an estimate]
	gapSD     = 0.05e-3 // m, shaft and plate move by in their play [an estimate]
	heatSD    = 8.0     // K at which a chip gives up [an estimate]
)

// switchAlive is the chance that points or trigger do their work in this
// state. Points always do: what they lack shows in the current. A trigger
// wants its feed, a field at every lobe, and a chip that is not too hot.
func (v *visit) switchAlive(f *facts) float64 {
	if !v.c.Switch.Kind.Electronic() {
		return 1
	}
	p := over(f.feed, f.least, dropoutSD)
	if v.k.Engine == car.Running || v.k.Engine == car.Cranking {
		p *= under(v.c.Trigger.Gap.X, v.largestGap(), gapSD)
	}
	if v.spark != nil {
		junction := v.spark.JunctionC
		if v.k.Engine == car.Cranking {
			junction = v.k.BayTemp.X // a starter turns for seconds: the chip is as warm as what is round it
		}
		p *= under(junction, v.c.Switch.MaxJunction.X, heatSD)
	}
	return p
}

// strikes is the chance that a spark strikes, of what is available and asked.
func strikes(available, asked float64) float64 {
	if !(available > 0) {
		return 0
	}
	return below(math.Log(available/asked) / strikeSD)
}
