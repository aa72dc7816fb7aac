package distributor

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func randomWish(r *rand.Rand, d *Distributor) Wish {
	return Wish{
		Advance: -20 + 60*r.Float64(), C: 15 * r.Float64(), V: d.VacuumTravel * r.Float64(),
		SpareKV: 15 * r.Float64(), KVPerMM: 3, ScatterDeg: r.Float64(),
		MayLift: r.IntN(2) == 0, MayMoveLeads: r.IntN(4) > 0, MayMoveTrigger: r.IntN(2) == 0,
	}
}

func TestWaysHold(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	n := few(10000)
	var ways, none, moved, lifted, shifted, better, cross int
	for i := range n {
		d := randomDistributor(r)
		w := randomWish(r, &d)
		found, why, err := d.Ways(w)
		if err != nil {
			t.Fatal(i, err)
		}
		if len(found) == 0 {
			none++
			if len(why) == 0 {
				t.Fatalf("%d: no way and no reason\n%+v\n%+v", i, d, w)
			}
		}
		before := d.Fire(w.C, w.V)
		now := d.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg)
		low, high := 0.0, 0.0
		for j, way := range found {
			ways++
			m := way.Move
			fail := func(what string, args ...any) {
				t.Helper()
				t.Fatalf("%d: %s: %s\n%+v\n%+v\n%+v", i, fmt.Sprintf(what, args...), show(m), way, d, w)
			}
			after := d.Apply(m)
			if err := after.Validate(); err != nil {
				fail("%v", err)
			}
			seen := 0
			for k, f := range after.Fire(w.C, w.V) {
				if off := math.Abs(math.Remainder(f.Advance-w.Advance, 720)); off > 0.1 {
					fail("No. %d gets %g", f.Cylinder, f.Advance)
				}
				seen |= 1 << f.Cylinder
				if m.Trigger == 0 && m.Sleeve == 0 && math.Abs(math.Remainder(f.Phase-before[k].Phase, 360)) > 1e-9 {
					fail("phase %g, was %g", f.Phase, before[k].Phase)
				}
			}
			if seen != 1<<(len(d.Lobes)+1)-2 {
				fail("a cylinder is not fired")
			}
			if !clearAt(&d, m.Housing) {
				fail("in an obstacle")
			}
			if !way.Lifted {
				low, high = math.Min(low, m.Housing), math.Max(high, m.Housing)
			}
			if (m.Mesh != 0 || way.Lifted) && !w.MayLift || m.Leads != 0 && !w.MayMoveLeads || (m.Trigger != 0 || m.Sleeve != 0) && !w.MayMoveTrigger {
				fail("not allowed")
			}
			if m.Trigger < d.TriggerRange[0] || m.Trigger > d.TriggerRange[1] || m.Sleeve < d.SleeveRange[0]-1e-9 || m.Sleeve > d.SleeveRange[1]+1e-9 {
				fail("out of range")
			}
			if reg := after.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg); reg.Verdict != way.Register.Verdict || math.Abs(reg.Worst-way.Register.Worst) > 1e-9 {
				fail("register %+v", reg)
			}
			if m.Trigger == 0 && m.Sleeve == 0 && way.Register.Verdict != now.Verdict {
				fail("a register that housing, leads or mesh changed")
			}
			if j > 0 && found[j-1].Score > way.Score {
				fail("not in order")
			}
			if math.Abs(way.HousingM-m.Housing*math.Pi/180*d.ClampRadiusM) > 1e-12 {
				fail("at the clamp")
			}
			for side, sign := range []float64{-1, 1} {
				if room := way.Room[side]; room > 1.1 && room < 180 && (!clearAt(&d, m.Housing+sign*(room-0.01)) || clearAt(&d, m.Housing+sign*(room+0.5)) && clearAt(&d, m.Housing+sign*(room+1))) {
					fail("room %v", way.Room)
				}
			}
			if m.Leads != 0 {
				moved++
			}
			if way.Lifted {
				lifted++
			}
			if m.Trigger != 0 || m.Sleeve != 0 {
				shifted++
				if way.Register.Verdict < now.Verdict {
					better++
				}
			}
			if way.Register.WrongTower {
				cross++
			}
		}
		// All turns without lifting, and everything passed on the way.
		for turn := low; turn <= high; turn += 1 {
			if !clearAt(&d, turn) {
				t.Fatalf("%d: passes an obstacle at %g\n%+v\n%+v", i, turn, d, w)
			}
		}
	}
	t.Logf("%d distributors: %d ways (%d move leads, %d lifted, %d shift trigger or sleeve, %d of them to a better verdict, %d cross-fire), %d without a way",
		n, ways, moved, lifted, shifted, better, cross, none)
	if ways < n || moved == 0 || lifted == 0 || better == 0 || cross == 0 || none == 0 {
		t.Error("the draw does not reach everything")
	}
}

// Every lead position and tooth against a walk of the housing round the circle
// in half degrees.
func TestWaysFindAll(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	n := few(1000)
	const step, round = 0.5, 720
	var pairs, feasible, edge int
	for i := range n {
		d := randomDistributor(r)
		w := randomWish(r, &d)
		w.MayMoveTrigger, w.MayLift, w.MayMoveLeads = false, i%2 == 0, true
		found, _, err := d.Ways(w)
		if err != nil {
			t.Fatal(err)
		}
		type key struct{ leads, mesh int }
		got := map[key]Way{}
		for _, f := range found {
			k := key{f.Move.Leads, f.Move.Mesh}
			if _, twice := got[k]; twice {
				t.Fatalf("%d: %v twice", i, k)
			}
			got[k] = f
		}
		// Free places, and those that are reached by turning alone.
		var free, reached [round]bool
		for h := range free {
			free[h] = clearAt(&d, float64(h)*step)
		}
		for _, dir := range []int{1, -1} {
			for h := 0; h < round && h > -round && free[place(h, round)]; h += dir {
				reached[place(h, round)] = true
			}
		}
		cyl := len(d.Lobes)
		teeth := d.Teeth
		if !w.MayLift {
			teeth = 1
		}
		tried := map[key]bool{}
		for lead := range cyl {
			for tooth := range teeth {
				k := key{lead, tooth}
				if k.leads > cyl/2 {
					k.leads -= cyl
				}
				if k.mesh > d.Teeth/2 {
					k.mesh -= d.Teeth
				}
				tried[k] = true
				pairs++
				try := d
				try.Leads = make([]int, cyl)
				for a, c := range d.Leads {
					try.Leads[(a+lead)%cyl] = c
				}
				try.Mesh += float64(d.Rotation) * 360 * float64(tooth) / float64(d.Teeth)
				// Timing of each cylinder with the housing where it is; a degree of
				// housing against rotation is two more for each.
				right, first := true, 0.0
				fired := map[int]bool{}
				for j, f := range try.Fire(w.C, w.V) {
					off := math.Remainder(f.Advance-w.Advance, 720)
					if j == 0 {
						first = off
					}
					right = right && math.Abs(math.Remainder(off-first, 720)) < 0.1
					fired[f.Cylinder] = true
				}
				right = right && len(fired) == cyl
				there, sure := false, false // at all, and not at an edge
				for h := 0; right && h < round; h++ {
					if math.Abs(math.Remainder(first-2*float64(d.Rotation)*float64(h)*step, 720)) > step+1e-9 {
						continue
					}
					ok := &reached
					if w.MayLift {
						ok = &free
					}
					there = there || ok[place(h, round)] || ok[place(h+1, round)] || ok[place(h-1, round)]
					sure = sure || ok[place(h, round)] && ok[place(h+1, round)] && ok[place(h-1, round)]
				}
				_, is := got[k]
				if sure && !is || is && !there {
					t.Fatalf("%d: %v found %v, by walking %v %v\n%+v\n%+v", i, k, is, there, sure, d, w)
				}
				if there != sure {
					edge++
				}
				if is {
					feasible++
				}
			}
		}
		for k := range got {
			if !tried[k] {
				t.Fatalf("%d: %v is no place of leads and drive", i, k)
			}
		}
	}
	t.Logf("%d distributors: %d pairs of leads and tooth, %d are ways, %d at an edge", n, pairs, feasible, edge)
	if feasible == 0 || feasible == pairs || edge > pairs/20 {
		t.Error("the draw does not reach everything")
	}
}

func TestMirror(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	n := few(10000)
	var ways int
	for i := range n {
		d := randomDistributor(r)
		w := randomWish(r, &d)
		m := mirrored(d)
		fm := m.Fire(w.C, w.V)
		for j, f := range d.Fire(w.C, w.V) {
			g := fm[j]
			if f.Cylinder != g.Cylinder || math.Abs(f.Phase-g.Phase) > 1e-9 || math.Abs(math.Remainder(f.Advance-g.Advance, 720)) > 1e-9 || math.Abs(math.Remainder(f.Rotor+g.Rotor, 360)) > 1e-9 {
				t.Fatalf("%d: %+v, mirrored %+v\n%+v", i, f, g, d)
			}
		}
		a, _, err := d.Ways(w)
		if err != nil {
			t.Fatal(err)
		}
		b, _, err := m.Ways(w)
		if err != nil {
			t.Fatal(i, err)
		}
		if len(a) != len(b) {
			t.Fatalf("%d: %d ways, mirrored %d\n%+v\n%+v", i, len(a), len(b), d, w)
		}
		type key struct {
			leads, mesh     int
			lifted          bool
			trigger, sleeve int
			housing         int
		}
		at := func(w Way, sign float64) key {
			q := func(x float64) int { return int(math.Round(sign * x * 1e3)) }
			return key{w.Move.Leads, w.Move.Mesh, w.Lifted, q(w.Move.Trigger), q(w.Move.Sleeve), q(w.Move.Housing)}
		}
		have := map[key]int{}
		for _, x := range a {
			have[at(x, 1)]++
		}
		missing := 0
		for _, y := range b {
			if have[at(y, -1)] == 0 {
				missing++ // a thousandth rounded the other way: looked at below
				ok := false
				for _, x := range a {
					ok = ok || x.Move.Leads == y.Move.Leads && x.Move.Mesh == y.Move.Mesh && math.Abs(x.Move.Housing+y.Move.Housing) < 1e-6 &&
						math.Abs(x.Move.Trigger+y.Move.Trigger) < 1e-6 && math.Abs(x.Move.Sleeve+y.Move.Sleeve) < 1e-6
				}
				if !ok {
					t.Fatalf("%d: mirrored way %s has no fellow\n%+v\n%+v", i, show(y.Move), d, w)
				}
			}
		}
		for j := range a {
			if math.Abs(a[j].Score-b[j].Score) > 1e-6 {
				t.Fatalf("%d: scores %g and %g", i, a[j].Score, b[j].Score)
			}
		}
		ways += len(a)
	}
	t.Logf("%d distributors, %d ways mirrored", n, ways)
}

// The move equation, and that housing, leads and mesh leave phase alone.
func TestMoveEquation(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range few(10000) {
		d := randomDistributor(r)
		n, s := len(d.Lobes), float64(d.Rotation)
		d.Lobes, d.Towers, d.FiringAt = Even(n), Even(n), EvenFiring(n)
		d.Plate = Plate{}
		m := Move{Housing: -180 + 360*r.Float64(), Leads: r.IntN(2*n) - n, Mesh: r.IntN(20) - 10}
		before, after := d, d.Apply(m)
		want := -2*s*m.Housing + 2*float64(m.Mesh)*360/float64(d.Teeth) - float64(m.Leads)*720/float64(n)
		if got := after.Timing(3, 2) - before.Timing(3, 2); math.Abs(math.Remainder(got-want, 720)) > 1e-8 {
			t.Fatalf("%s: %g, want %g", show(m), got, want)
		}
		if a, b := before.Register(5, 3, 1), after.Register(5, 3, 1); a != b {
			t.Fatalf("register %+v became %+v", a, b)
		}
		// Trigger and sleeve the same way together cancel, in timing and phase.
		x := -5 + 10*r.Float64()
		after = d.Apply(Move{Trigger: x, Sleeve: x})
		if got := after.Timing(3, 2) - before.Timing(3, 2); math.Abs(math.Remainder(got, 720)) > 1e-8 {
			t.Fatalf("trigger with sleeve: %g", got)
		}
		// By themselves, small enough to stay with their tower: 2 to 1.
		p := before.Fire(3, 2)[0].Phase
		x *= 0.01
		for sign, after := range map[float64]Distributor{-1: d.Apply(Move{Trigger: x}), 1: d.Apply(Move{Sleeve: x})} {
			q := after.Fire(3, 2)[0].Phase
			if math.Abs(p) > 170/float64(n) {
				continue
			}
			if math.Abs(q-p+sign*s*x) > 1e-9 || math.Abs(math.Remainder(after.Timing(3, 2)-before.Timing(3, 2)-sign*2*s*x, 720)) > 1e-8 {
				t.Fatalf("shift %g: phase %g to %g", x, p, q)
			}
		}
	}
}

// Fire against turning the crank in small steps and watching, as vectors, each
// lobe come past the trigger.
func TestFireByTurning(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	const step = 0.5
	var sparks int
	for i := range few(400) {
		d := randomDistributor(r)
		s, c, v := float64(d.Rotation), 12*r.Float64(), d.VacuumTravel*r.Float64()
		e, _ := d.SensorShift(v)
		sin, cos := math.Sincos(radians(d.Housing + d.Trigger - s*e))
		fired := d.Fire(c, v)
		for j := range d.Lobes {
			across := func(phi float64) (side, facing float64) {
				y, x := math.Sincos(radians(s*phi/2 + d.Mesh + s*c + d.Cam - s*d.Lobes[j]))
				return s * (cos*y - sin*x), cos*x + sin*y
			}
			for phi := 0.0; phi < 720; phi += step {
				a, facing := across(phi)
				b, _ := across(phi + step)
				if !(a < 0 && b >= 0 && facing > 0) {
					continue
				}
				sparks++
				at := phi + step*a/(a-b)
				if math.Abs(math.Remainder(at-fired[j].Crank, 720)) > 0.001 {
					t.Fatalf("%d: lobe %d at %g, Fire %g", i, j, at, fired[j].Crank)
				}
				p := d.RotorAt(-at) // no centrifugal advance in it
				if math.Abs(math.Remainder(p.Housing+s*c-fired[j].Rotor, 360)) > 0.001 {
					t.Fatalf("%d: rotor at %g, Fire %g", i, p.Housing+s*c, fired[j].Rotor)
				}
			}
		}
	}
	t.Logf("%d sparks", sparks)
	if sparks == 0 {
		t.Error("none seen")
	}
}

// The register against a walk through travel and scatter.
func TestRegisterByWalking(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	seen := map[RegisterVerdict]int{}
	for i := range few(3000) {
		d := randomDistributor(r)
		reg := d.Register(6, 3, 0.7)
		seen[reg.Verdict]++
		worst, best := 0.0, 360.0
		for k := 0; k <= 200; k++ {
			for _, f := range d.Fire(0, d.VacuumTravel*float64(k)/200) {
				worst = math.Max(worst, math.Abs(f.Phase))
				best = math.Min(best, math.Abs(f.Phase))
			}
		}
		if reg.Verdict != WrongTower {
			if math.Abs(worst+0.7-math.Abs(reg.Worst)) > 0.01 || math.Abs(math.Max(0, best-0.7)-math.Abs(reg.Best)) > 0.1 {
				t.Fatalf("%d: %+v, walked worst %g, best %g\n%+v", i, reg, worst, best, d)
			}
			if reg.WrongTower {
				t.Fatalf("%+v", reg)
			}
		}
		even := len(d.Lobes) > 1 && math.Abs(d.Towers[1]-360/float64(len(d.Lobes))) < 1e-9
		if even && reg.WrongTower != (reg.Worst >= reg.CrossAt[1]-1e-9 || reg.Worst <= reg.CrossAt[0]+1e-9) {
			t.Fatalf("%d: %+v", i, reg)
		}
	}
	t.Logf("verdicts %v", seen)
	for v := InRegister; v <= WrongTower; v++ {
		if seen[v] == 0 {
			t.Errorf("no %v among them", v)
		}
	}
}

// The least shift of the trigger against a walk through its range, and the
// sleeve's only where the trigger's will not do.
func TestLeastShift(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	const step = 0.05
	w := Wish{SpareKV: 6, KVPerMM: 3, ScatterDeg: 0.5, MayMoveTrigger: true}
	var shifted, edged, slept, none int
	for i := range few(600) {
		d := randomDistributor(r)
		verdict := func(m Move) RegisterVerdict {
			b := d.Apply(m)
			return b.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg).Verdict
		}
		if verdict(Move{}) == InRegister {
			continue
		}
		walk := func(span [2]float64, by func(float64) Move, want RegisterVerdict) (float64, bool) {
			for x := step; x <= math.Max(-span[0], span[1]); x += step {
				if x <= span[1] && verdict(by(x)) <= want || x <= -span[0] && verdict(by(-x)) <= want {
					return x, true
				}
			}
			return 0, false
		}
		trigger := func(x float64) Move { return Move{Trigger: x} }
		s, ok := d.registered(w)
		least, can := walk(d.TriggerRange, trigger, InRegister)
		fail := func(what string) {
			t.Helper()
			t.Fatalf("%d: %s: %+v %v, walked %g %v\n%+v", i, what, s, ok, least, can, d)
		}
		switch got := verdict(Move{Trigger: s.trigger, Sleeve: s.sleeve}); {
		case can:
			// It may be less than was walked to: a stretch narrower than a step is walked past.
			if !ok || s.sleeve != 0 || got != InRegister || math.Abs(s.trigger) > least+1e-5 {
				fail("trigger")
			}
			shifted++
		case ok && got == InRegister:
			slept++
		case ok && got == OnEdge:
			edged++
		case ok:
			fail("a shift to nothing better")
		default:
			none++
			if _, can := walk(d.TriggerRange, trigger, OnEdge); can && verdict(Move{}) > OnEdge {
				fail("jump window")
			}
			if _, can := walk(d.SleeveRange, func(x float64) Move { return Move{Sleeve: x} }, InRegister); can {
				fail("sleeve")
			}
		}
	}
	t.Logf("%d by the trigger, %d with the sleeve, %d to the edge, %d not at all", shifted, slept, edged, none)
	if shifted == 0 || slept == 0 || edged == 0 || none == 0 {
		t.Error("the draw does not reach everything")
	}
}
