package fault

import (
	"dwellwright/car"
	"dwellwright/units"
)

func pascals(mild, worst float64) Size { return Size{units.Pressure, Uniform, mild, worst} }

// airLeak lets so many pascals into the manifold of a running engine.
func airLeak(k *car.Condition, pa float64) {
	const outside = 101325
	if k.Engine == car.Running {
		k.Manifold.X = max(min(k.Manifold.X+pa, outside), k.Manifold.X)
	}
}

// elsewhereFaults are not of the ignition, but are taken for it.
func elsewhereFaults() []Fault {
	fuel := func(*car.Car, *car.Condition, figures) {}
	const unseen = "fuel is no figure of the car: every reading of the ignition is as it should be, which is what tells it"
	list := []Fault{
		{
			ID: "vacuum_leak", Name: "air leak into the manifold", Prior: 1.4, Remedy: by("seal_leak"),
			Change: "pressure in the manifold of a running engine up by {0}; the lean mixture is no figure here",
			Sizes:  []Size{pascals(5e3, 20e3)},
			Moves:  []Move{rises("conditions.*.manifold")},
			apply:  func(_ *car.Car, k *car.Condition, v figures) { airLeak(k, v[0]) },
		},
		{
			ID: "fuel_starvation", Name: "fuel does not come", Prior: 0.7, Remedy: by("fuel_side"),
			Change: "no figure of the ignition", Likelier: LongUntouched | Stored, Unseen: unseen,
			apply: fuel,
		},
		{
			ID: "fuel_boils", Name: "fuel boils off when hot", Prior: 0.7, Remedy: by("keep_fuel_cool"),
			Change: "no figure of the ignition", Likelier: LongUntouched | QuitsHot, Unseen: unseen,
			When:  hot(95, 65),
			apply: fuel,
		},
		{
			ID: "compression_low", Name: "compression low in all cylinders", Prior: 0.3, Remedy: by("engine_side"),
			Change: "compression ratio, as far as the leak leaves it, {0} times what it was",
			Sizes:  []Size{factor(0.85, 0.3)},
			Moves:  []Move{falls("engine.compression")},
			apply: func(c *car.Car, _ *car.Condition, v figures) {
				c.Engine.Compression.X = max(c.Engine.Compression.X*v[0], min(c.Engine.Compression.X, 2))
			},
		},
	}
	return inGroup(Elsewhere, list)
}
