package distributor

import (
	"math"
	"testing"
)

// FuzzDistributor: nothing panics on any figures, and what is said to be a way is one.
func FuzzDistributor(f *testing.F) {
	nan, inf := math.NaN(), math.Inf(1)
	f.Add(uint8(8), int8(1), 30.0, -10.0, 10.0, 50.0, -15.0, 0.0, 12.0, 13, 0.027, 0.010, -20.0, 20.0, 60.0, 90.0, 3.0, 0.0, 0.0, 0.0, 0.0, 10.0, uint8(7))
	f.Add(uint8(6), int8(-1), 30.0, 10.0, 10.0, 50.0, -15.0, 5.0, 12.0, 2, 0.025, 0.004, -20.0, 20.0, 170.0, 190.0, 3.0, 0.02, 180.0, 0.015, -8.0, -350.0, uint8(15))
	f.Add(uint8(4), int8(0), nan, inf, -inf, 1e308, -1e308, 5e-324, nan, -1, nan, inf, nan, nan, inf, -inf, nan, nan, inf, 1e-300, nan, nan, uint8(255))
	f.Fuzz(func(t *testing.T, n uint8, rot int8, first, trigger, cam, rotor, mesh, housing, travel float64, teeth int, tip, width,
		from, to, oFrom, oTo, clearance, pivot, pivotAt, sensor, trig, advance float64, may uint8) {
		cyl := int(n % 18)
		d := Distributor{
			Rotation: Rotation(rot), Lobes: Even(cyl), Towers: Even(cyl), FiringAt: EvenFiring(cyl), FirstTower: first,
			Trigger: trigger, Cam: cam, Rotor: rotor, Mesh: mesh, Housing: housing, VacuumTravel: travel, Teeth: teeth,
			TipRadiusM: tip, ElectrodeRadiusM: 0.028, TipWidthM: width, ElectrodeWidthM: 0.004, ClampRadiusM: 0.03,
			Features: []Arc{{"", from, to}}, Obstacles: []Arc{{"", oFrom, oTo}}, Clearance: clearance,
			Plate: Plate{pivot, pivotAt, sensor}, TriggerRange: [2]float64{trig, 20}, SleeveRange: [2]float64{trig / 2, 0},
		}
		for i := range cyl {
			d.Leads = append(d.Leads, i+1)
			d.FiringOrder = append(d.FiringOrder, i+1)
		}
		if may&32 != 0 && cyl > 2 {
			d.Lobes[cyl-1], d.Towers[cyl-1] = sensor*1000, advance // anything, too
		}
		if may&64 != 0 && cyl > 2 {
			d.Leads = d.Leads[1:]
		}
		w := Wish{Advance: advance, V: travel / 2, SpareKV: math.Abs(pivotAt), ScatterDeg: clearance,
			MayLift: may&1 != 0, MayMoveLeads: may&2 != 0, MayMoveTrigger: may&4 != 0}
		valid := d.Validate()
		d.Fire(from, to)
		d.Timing(travel, trig)
		d.RotorAt(advance)
		d.SensorShift(to)
		d.Window(trig, clearance)
		d.Register(advance, clearance, sensor)
		d.CrossFire(teeth, from, to)
		d.FreeTurn(true)
		d.FreeTurn(false)
		FirstStart(advance, clearance, to)
		_, _, _ = Combine(travel, BreakerSet{from, to}, BreakerSet{oFrom, oTo})
		_, _ = Heights{LiftM: pivot, BoreM: sensor, RoofM: from, Blade: [2]float64{oFrom, oTo}}.Seat()
		ways, _, err := d.Ways(w)
		if valid != nil && err == nil {
			t.Fatal("ways of a distributor that is none")
		}
		for _, way := range ways {
			after := d.Apply(way.Move)
			if off := math.Abs(math.Remainder(after.Timing(w.C, w.V)-w.Advance, 720)); !(off <= 0.1) {
				t.Fatalf("%+v: %g out", way, off)
			}
			if !(way.Free >= 0) || !finite(way.Score) {
				t.Fatalf("%+v", way)
			}
		}
	})
}
