package measure

import (
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/twin"
)

// memo is a state of the car as it was last read without a change, and what its
// network came to: a fault that changes nothing of what the network and the firing
// rest on leaves both as they were, to the last digit. What they rest on is compared
// figure by figure, so a memo is never out of date.
type memo struct {
	known  bool
	car    car.Car // its lists are not kept
	cond   electricalState
	loads  []car.Load
	on     []string
	demand float64

	rig    *rig
	swings []circuit.Swing
	atRest float64
	wants  depth // how far it was worked out
	spark  twin.Spark
	sparks bool
	rings  float64 // NaN: not counted yet
}

// sameNetwork compares everything of two cars that a network and its firings rest
// on, but for the loads: not the distributor's geometry, the timing, the trigger's
// fit and the advance, which only the condition's own advance brings in.
func sameNetwork(a, b *car.Car) bool {
	return a.NominalV == b.NominalV && a.Earth == b.Earth && a.Cylinders == b.Cylinders && a.Feed == b.Feed &&
		a.Wiring == b.Wiring && a.Switch == b.Switch && a.Coil == b.Coil && a.KeySwitch == b.KeySwitch && a.Battery == b.Battery &&
		a.Ballast == b.Ballast && a.Cap == b.Cap && a.Charging == b.Charging && a.Starter == b.Starter && a.Relay == b.Relay &&
		a.Plugs == b.Plugs && a.Engine == b.Engine
}

// electricalState is what of a condition they rest on, but for the loads.
type electricalState struct {
	engine                                                             car.EngineState
	speed, charge, battery, bay, regulator, manifold, mixture, advance float64
}

func stateOf(k *car.Condition) electricalState {
	return electricalState{k.Engine, k.Speed.X, k.StateOfCharge.X, k.BatteryTemp.X, k.BayTemp.X, k.RegulatorTemp.X, k.Manifold.X, k.Charge.X, k.Advance.X}
}

// holds reports whether a changed car is, for the network, the one remembered.
func (m *memo) holds(c *car.Car, k *car.Condition, wants depth, demand float64) bool {
	return m.known && wants&firingOf&^m.wants == 0 && m.demand == demand && m.cond == stateOf(k) && sameNetwork(&m.car, c) && slices.Equal(m.on, k.Loads) && slices.Equal(m.loads, c.Loads)
}

// keep remembers a state that was just solved.
func (m *memo) keep(v *visit, wants depth, demand float64) {
	m.known, m.wants, m.demand, m.rig = true, wants, demand, v.rig
	m.car = *v.c
	m.cond = stateOf(v.k)
	m.on = append(m.on[:0], v.k.Loads...)
	m.loads = append(m.loads[:0], v.c.Loads...)
	m.swings = append(m.swings[:0], v.rig.swings...)
	m.atRest = v.rig.atRest
	m.rings = nan
	if m.sparks = v.spark != nil; m.sparks {
		m.spark = *v.spark
		v.spark = &m.spark
	}
}

// recall puts what is remembered back.
func (m *memo) recall(v *visit) {
	v.rig = m.rig
	v.rig.swings = append(v.rig.swings[:0], m.swings...)
	v.rig.atRest = m.atRest
	if m.sparks {
		v.spark = &m.spark
	}
}

// rings is how often the primary swings after the spark, NaN where none is made.
func (v *visit) rings() float64 {
	if v.spark == nil {
		return nan
	}
	m := &v.b.memos[v.s]
	if v.spark == &m.spark && !math.IsNaN(m.rings) {
		return m.rings
	}
	swings, err := v.fire.Swings(&v.spark.Case)
	if err != nil {
		return nan
	}
	n := float64(swings)
	if v.spark == &m.spark {
		m.rings = n
	}
	return n
}

// gapMemo is the largest gap of a state, and all that it rests on.
type gapMemo struct {
	of   gapOf
	most float64
}

type gapOf struct {
	known          bool
	trigger        car.TriggerFit
	cylinders      int
	endPlay        float64
	speed, bayTemp float64
}

// largestGap is twin.LargestGap, worked out anew only where something of it has
// changed.
func (v *visit) largestGap() float64 {
	m := &v.b.gaps[v.s]
	of := gapOf{true, v.c.Trigger, v.c.Cylinders, v.c.Distributor.EndPlay.X, v.k.Speed.X, v.k.BayTemp.X}
	if m.of != of {
		m.of, m.most = of, twin.LargestGap(v.c, v.k)
	}
	return m.most
}
