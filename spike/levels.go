package spike

import (
	"math"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/pulse"
)

// levels answers what moves so slowly that the car is at rest at every
// instant: a jump start, a reversed battery, a starting profile.
func (b *bench) levels(k *Case, r *Result, p Protection) (Seen, error) {
	rig, err := b.lay(k, p, false, false)
	if err != nil {
		return Seen{}, err
	}
	g, n := rig.surge, rig.surge.Net
	post := node(g, "battery_live")
	far := n.Node("other_source")
	source := n.VoltageSource("other_battery", far, circuit.Ground, 1)
	ohm := 1e-4 // a profile is the supply itself
	if r.SourceOhm > 0 {
		ohm = math.Max(r.SourceOhm, 1e-4)
	}
	joined := n.Switch("other_lead", far, post, ohm, 0, k.Kind == StartProfile)
	if k.Kind == ReverseBattery && b.car.Charging.Kind == car.ACAlternator {
		// Two of the rectifier's junctions in a row carry a reversed battery's
		// current: 0.8 V each and some milliohms [from memory].
		a, c := g.Along(node(g, "block"), node(g, "generator_output"))
		n.Diode("rectifier", a, c, 1.6, 5e-3, 0)
	}
	if err := rig.compile(); err != nil {
		return Seen{}, err
	}
	pts := course(k)
	at := func(volts float64) (float64, error) {
		if err := rig.s.Set(source, circuit.Volts, g.Sign*volts); err != nil {
			return 0, err
		}
		err := rig.s.DC()
		return g.Sign * rig.s.Voltage(rig.red, rig.black), err
	}
	seen := Seen{}
	if seen.RestV, err = at(pts[0].Volts); err != nil {
		return seen, err
	}
	rig.s.SetClosed(joined, true)
	last := pts[len(pts)-1].TimeS
	seen.Trace = append(seen.Trace, Sample{-last / 20, seen.RestV}, Sample{0, seen.RestV})
	lastP, lastT := 0.0, 0.0
	for _, q := range pts {
		v, err := at(q.Volts)
		if err != nil {
			return seen, err
		}
		seen.Trace = append(seen.Trace, Sample{q.TimeS, v})
		if rig.clamp != none {
			amps := rig.s.Current(rig.clamp)
			power := rig.clampPower(amps)
			seen.ClampPeakA = math.Max(seen.ClampPeakA, math.Abs(amps))
			seen.ClampJ += (power + lastP) / 2 * (q.TimeS - lastT)
			lastP, lastT = power, q.TimeS
		}
	}
	seen.sum(b.limit, rig.trigger)
	return seen, nil
}

// course is how the source moves.
func course(k *Case) []pulse.Point {
	if k.Kind != StartProfile {
		return []pulse.Point{{TimeS: 0, Volts: k.Level.Volts}, {TimeS: k.Level.TimeS, Volts: k.Level.Volts}}
	}
	// Corners, and enough between them for the knees of the car's parts.
	corner := k.Profile.Points()
	var pts []pulse.Point
	for i := 1; i < len(corner); i++ {
		a, b := corner[i-1], corner[i]
		for j := range 4 {
			x := float64(j) / 4
			pts = append(pts, pulse.Point{TimeS: a.TimeS + x*(b.TimeS-a.TimeS), Volts: a.Volts + x*(b.Volts-a.Volts)})
		}
	}
	return append(pts, corner[len(corner)-1])
}
