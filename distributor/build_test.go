package distributor

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// eight is an even-firing eight, its rotor clockwise, timed at 10 degrees with
// the rotor in the middle of its towers:
//
//	rotor   T − K + R = −10 − 10 + 50 = 30 = FirstTower, phase 0
//	advance 2·(G + K − H − T) = 2·(−15 + 10 − 0 + 10) = 10
//
// The order is that of an eight numbered odd on one bank and even on the other,
// front to rear [common practice, no source].
func eight() Distributor {
	return Distributor{
		Rotation: Clockwise, Lobes: Even(8), Towers: Even(8), FirstTower: 30,
		Leads:       []int{1, 8, 4, 3, 6, 5, 7, 2},
		FiringOrder: []int{1, 8, 4, 3, 6, 5, 7, 2}, FiringAt: EvenFiring(8),
		Trigger: -10, Cam: 10, Rotor: 50, Mesh: -15,
		Teeth:      13,
		TipRadiusM: 0.027, ElectrodeRadiusM: 0.028, TipWidthM: 0.010, ElectrodeWidthM: 0.004,
		ClampRadiusM: 0.035,
		Features:     []Arc{{"vacuum can", -20, 20}},
		Obstacles:    []Arc{{"heater hose", -45, -35}, {"manifold", 60, 90}},
		Clearance:    3,
	}
}

// few drops whichever part of a long test a race detector makes too slow.
func few(n int) int {
	if raceDetector || testing.Short() {
		return n / 20
	}
	return n
}

func same(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.9g, want %.9g ± %g", what, got, want, within)
	}
}

// randomDistributor makes a valid one with any phase between rotor and cap, the
// leads in the engine's order but in any tower, even or uneven.
func randomDistributor(r *rand.Rand) Distributor {
	in := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	for {
		n := []int{2, 3, 4, 4, 5, 6, 6, 8, 8, 8, 10, 12}[r.IntN(12)]
		d := Distributor{
			Rotation: Clockwise, Lobes: Even(n), Towers: Even(n), FiringAt: EvenFiring(n),
			FirstTower: in(-180, 180), Trigger: in(-180, 180), Cam: in(-180, 180), Mesh: in(-180, 180), Housing: in(-180, 180),
			VacuumTravel: in(0, 12), Teeth: []int{1, 2, 3, 9, 11, 12, 13, 14, 15}[r.IntN(9)],
			TipRadiusM: in(0.022, 0.03), TipWidthM: in(0.003, 0.012), ElectrodeWidthM: in(0.002, 0.005),
			ClampRadiusM: in(0.02, 0.05), Clearance: in(0, 5),
		}
		if r.IntN(2) == 0 {
			d.Rotation = Anticlockwise
		}
		d.ElectrodeRadiusM = d.TipRadiusM + in(0.0004, 0.0015)
		if r.IntN(3) == 0 { // uneven: alternating intervals, as of an odd-firing vee
			for i := 1; i < n; i += 2 {
				by := in(0, 0.2) * 360 / float64(n)
				d.Lobes[i] += by
				d.Towers[i] += by
				d.FiringAt[i] += 2 * by
			}
		}
		d.FiringOrder = make([]int, n)
		for i, c := range r.Perm(n) {
			d.FiringOrder[i] = c + 1
		}
		at := 0
		for i, c := range d.FiringOrder {
			if c == 1 {
				at = i
			}
		}
		d.FiringOrder[0], d.FiringOrder[at] = 1, d.FiringOrder[0]
		k := r.IntN(n)
		d.Leads = make([]int, n)
		for i, c := range d.FiringOrder {
			d.Leads[(i+k)%n] = c
		}
		// A phase anywhere within half a pitch, mostly near the middle.
		phase := in(-0.5, 0.5) * 360 / float64(n)
		if r.IntN(3) > 0 {
			phase *= 0.4
		}
		d.Rotor = d.FirstTower + float64(d.Rotation)*(phase+d.Towers[r.IntN(n)]) - d.Trigger + d.Cam
		if r.IntN(4) == 0 {
			d.Plate = Plate{PivotRadiusM: in(0.005, 0.03), PivotAngle: d.Trigger + in(90, 270), SensorRadiusM: in(0.012, 0.025)}
		}
		d.TriggerRange = [2]float64{-in(0, 25), in(0, 25)}
		if r.IntN(2) == 0 {
			d.SleeveRange = [2]float64{-in(0, 40), in(0, 40)}
		}
		for range 1 + r.IntN(2) {
			from := in(-180, 180)
			d.Features = append(d.Features, Arc{"can", from, from + in(5, 50)})
		}
		for range r.IntN(4) {
			from := in(-180, 180)
			d.Obstacles = append(d.Obstacles, Arc{"hose", from, from + in(5, 50)})
		}
		if d.Validate() == nil {
			return d
		}
	}
}

// mirrored is the same distributor seen in a mirror.
func mirrored(d Distributor) Distributor {
	d.Rotation = -d.Rotation
	for _, x := range []*float64{&d.FirstTower, &d.Trigger, &d.Cam, &d.Rotor, &d.Mesh, &d.Housing, &d.Plate.PivotAngle} {
		*x = -*x
	}
	d.TriggerRange = [2]float64{-d.TriggerRange[1], -d.TriggerRange[0]}
	d.SleeveRange = [2]float64{-d.SleeveRange[1], -d.SleeveRange[0]}
	flip := func(arcs []Arc) (out []Arc) {
		for _, a := range arcs {
			out = append(out, Arc{a.Name, -a.To, -a.From})
		}
		return out
	}
	d.Features, d.Obstacles = flip(d.Features), flip(d.Obstacles)
	return d
}

// clearAt looks at points of every feature, one degree apart and its ends,
// with the housing turned, and at how far each is from every obstacle: no
// interval arithmetic in it.
func clearAt(d *Distributor, turn float64) bool {
	apart := func(a, b float64) float64 {
		return math.Abs(math.Remainder(a-b, 360))
	}
	for _, o := range d.Obstacles {
		mid, half := (o.From+o.To)/2, (o.To-o.From)/2
		for _, f := range d.Features {
			steps := math.Ceil(f.To - f.From)
			for i := 0.0; i <= steps; i++ {
				at := f.From + (f.To-f.From)*i/steps + d.Housing + turn
				if apart(at, mid)-half < d.Clearance-1e-6 {
					return false
				}
			}
		}
	}
	return true
}

func show(m Move) string {
	return fmt.Sprintf("housing %+.2f leads %+d mesh %+d trigger %+.2f sleeve %+.2f", m.Housing, m.Leads, m.Mesh, m.Trigger, m.Sleeve)
}
