package fit

import (
	"math"

	"dwellwright/distributor"
	"dwellwright/twin"
)

// Phase is where the rotor's tip stands against its tower at the spark, after
// a move: degrees at the distributor, positive where the tip is past the tower
// in the direction of rotation. Turning the housing, moving leads and another
// mesh of the gear leave it as it is.
type Phase struct {
	AtRest twin.Interval // vacuum hose off, of the worst lobe
	AtFull twin.Interval // full vacuum
	Window distributor.Window
	Middle distributor.Register // of the middle car
	// Chance of each verdict over the drawn cars; nil where none was drawn.
	Chance map[distributor.RegisterVerdict]float64
}

// phase works out the phase of the drawn cars after a move.
func (a *drawn) phase(f *Fit, m distributor.Move) Phase {
	kv := f.Spare.Volts / 1000
	look := func(d *distributor.Distributor, scatter float64) distributor.Register {
		moved := d.Apply(m)
		return moved.Register(kv, KVPerMM, scatter)
	}
	mid := twin.Distributor(a.mid)
	p := Phase{Window: mid.Window(kv, KVPerMM), Middle: look(&mid, a.mid.Distributor.Scatter.X)}
	all := make([]distributor.Register, len(a.rigs))
	for k := range a.rigs {
		all[k] = look(&a.rigs[k], a.scatter[k])
	}
	p.AtRest = a.over(p.Middle.AtRest, func(k int) float64 { return beside(all[k].AtRest, p.Middle.AtRest, mid.Towers) })
	p.AtFull = a.over(p.Middle.AtFull, func(k int) float64 { return beside(all[k].AtFull, p.Middle.AtFull, mid.Towers) })
	if len(all) > 0 {
		p.Chance = map[distributor.RegisterVerdict]float64{}
		for k := range all {
			p.Chance[all[k].Verdict] += 1 / float64(len(all))
		}
	}
	return p
}

// beside counts a drawn car's phase from the same tower as the middle car's:
// a rotor half way between two is past the one or short of the other by
// chance, and both are one place. Unequal towers are left as they are: their
// phases have no common pitch.
func beside(phase, middle float64, towers []float64) float64 {
	pitch := 360 / float64(len(towers))
	for k, at := range towers {
		if math.Abs(at-float64(k)*pitch) > 1e-9 {
			return phase
		}
	}
	return middle + math.Remainder(phase-middle, pitch)
}
