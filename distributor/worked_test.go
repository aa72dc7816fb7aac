package distributor

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

func find(ways []Way, ok func(Way) bool) (Way, bool) {
	i := slices.IndexFunc(ways, ok)
	if i < 0 {
		return Way{}, false
	}
	return ways[i], true
}

func mustWays(t *testing.T, d Distributor, w Wish) ([]Way, []Refused) {
	t.Helper()
	ways, why, err := d.Ways(w)
	if err != nil {
		t.Fatal(err)
	}
	return ways, why
}

// A trigger that came out 20 distributor degrees further in the direction of
// rotation is met 20 degrees, 40 at the crank, later.
func TestEightTriggerLate(t *testing.T) {
	d := eight()
	same(t, "as it was", d.Timing(0, 0), 10, 1e-9)
	d.Trigger += 20 // −10 → 10
	// 2·(G + K − H − T) = 2·(−15 + 10 − 0 − 10) = −30: 40 late.
	same(t, "late", d.Timing(0, 0), -30, 1e-9)
	for j, f := range d.Fire(0, 0) {
		// T − K + R = 10 − 10 + 50 = 50, tower at 30: 20 past, every lobe.
		same(t, "phase", f.Phase, 20, 1e-9)
		same(t, "rotor", f.Rotor, math.Mod(50+45*float64(j), 360), 1e-9)
		same(t, "advance", f.Advance, -30, 1e-9)
		if f.Tower != j || f.Cylinder != d.FiringOrder[j] {
			t.Errorf("lobe %d: %+v", j, f)
		}
	}
	ways, why := mustWays(t, d, Wish{Advance: 10, SpareKV: 10, KVPerMM: 3, ScatterDeg: 1, MayMoveLeads: true})

	// Housing alone: 40 more, 20 degrees against rotation, anticlockwise. The can
	// is 40 wide and stands from −20 to 20, the hose ends at −35, 3 degrees are to
	// be kept: −20 − (−35) − 3 = 12 degrees are free. Blocked.
	//
	// Leads one tower against rotation: −30 + 720/8 = 60, 50 too early: housing
	// 25 degrees with rotation, clockwise. The manifold is at 60: 60 − 20 − 3 = 37
	// free, 37 − 25 = 12 left that way, 12 + 25 = 37 the other.
	// Others: one on, −120: −65; two against, 150: +70; three against, 240: +115;
	// two on, −210: −110; three on, −300: −155; four on, −390 = 330: +160. None in −12..37.
	if len(ways) != 1 {
		t.Fatalf("%d ways: %+v", len(ways), ways)
	}
	w := ways[0]
	if w.Move.Leads != -1 || w.Lifted || w.Move.Mesh != 0 {
		t.Errorf("%+v", w)
	}
	same(t, "housing", w.Move.Housing, 25, 1e-9)
	same(t, "housing at the clamp", w.HousingM, 25*math.Pi/180*0.035, 1e-12) // 15.3 mm
	same(t, "timing", w.Timing, 10, 1e-9)
	same(t, "room anticlockwise", w.Room[0], 37, 1e-9)
	same(t, "room clockwise", w.Room[1], 12, 1e-9)
	same(t, "minutes", w.Minutes, 6, 0)
	if len(why) != 7 {
		t.Errorf("%d refused: %+v", len(why), why)
	}
	for _, r := range why {
		if r.Move.Leads == 0 {
			same(t, "refused housing", r.Move.Housing, -20, 1e-9)
			if !strings.Contains(r.Why, "the vacuum can would meet the heater hose") {
				t.Error(r.Why)
			}
		}
	}

	// None of that helps the rotor. Overlap (10/27 + 4/28)/2 = 0.25661 rad =
	// 14.703 degrees. Worst phase 20 + 1 scatter = 21: edges 21 − 14.703 = 6.297
	// degrees apart, a = 2·√(27·28)·sin 3.1485° = 54.991·0.054924 = 3.0203 mm,
	// √(1² + 3.0203²) − 1 = 2.1816 mm, 6.545 kV at 3 kV/mm. The neighbour is at
	// 45 − 21 = 24: 9.297 degrees, a = 54.991·sin 4.6485° = 54.991·0.081042 =
	// 4.4566 mm, √(1 + 19.861) − 1 = 3.5674 mm. 3.5674 − 2.1816 = 1.386 mm <
	// 8/3 = 2.667 mm: the neighbour's plug is the easier way.
	reg := w.Register
	same(t, "worst", reg.Worst, 21, 1e-9)
	same(t, "at rest", reg.AtRest, 20, 1e-9)
	same(t, "overlap left", reg.OverlapLeftDeg, 14.703-21, 0.001)
	same(t, "extra gap", reg.ExtraGapM*1e3, 2.1816, 0.001)
	same(t, "extra kV", reg.ExtraKV, 6.545, 0.003)
	if !reg.WrongTower || reg.Verdict != WrongTower || !(reg.WrongTowerAt > 14.7 && reg.WrongTowerAt < 20) {
		t.Errorf("%+v", reg)
	}
	same(t, "both signs", reg.CrossAt[0], -reg.CrossAt[1], 1e-9)
	other, own := d.ExtraGapM(45-reg.WrongTowerAt), d.ExtraGapM(reg.WrongTowerAt)
	same(t, "at the limit", other-own, NeighbourEaseKV/3*1e-3, 1e-9)

	// So the trigger must move. By the least that will do, 6.297 degrees against
	// rotation, timing comes to −30 + 12.594 = −17.406; leads one against: 72.594,
	// housing (72.594 − 10)/2 = 31.297. By all of its 20 degrees, housing and leads
	// stay.
	d.TriggerRange = [2]float64{-25, 5}
	ways, _ = mustWays(t, d, Wish{Advance: 10, SpareKV: 10, KVPerMM: 3, ScatterDeg: 1, MayMoveLeads: true, MayMoveTrigger: true})
	if m := ways[0].Move; math.Abs(m.Trigger+20) > 1e-9 || m.Housing != 0 || m.Leads != 0 {
		t.Errorf("best: %s", show(m))
	}
	same(t, "in the middle", ways[0].Register.AtRest, 0, 1e-9)
	least, ok := find(ways, func(w Way) bool { return math.Abs(w.Move.Trigger) > 1 && math.Abs(w.Move.Trigger) < 10 })
	if !ok {
		t.Fatal("no least shift")
	}
	same(t, "least shift", least.Move.Trigger, -6.297, 0.001)
	same(t, "its housing", least.Move.Housing, 31.297, 0.001)
	if least.Move.Leads != -1 || least.Register.Verdict != InRegister {
		t.Errorf("%+v", least)
	}
	if last := ways[len(ways)-1]; last.Register.Verdict != WrongTower || last.Move.Trigger != 0 {
		t.Errorf("the way that leaves the trigger comes last: %+v", last)
	}
}

// What the trigger would need is said where its plate does not allow it.
func TestOutOfReach(t *testing.T) {
	d := eight()
	d.Trigger += 20
	d.TriggerRange = [2]float64{-2, 2}
	w := Wish{Advance: 10, SpareKV: 3, ScatterDeg: 1, MayMoveTrigger: true, MayMoveLeads: true}
	_, why := mustWays(t, d, w)
	// 21 − 14.703 against rotation; with 3 kV, 1 mm, the window ends near 18.3.
	if !strings.Contains(why[0].Why, "6.3 degrees against rotation") {
		t.Error(why[0].Why)
	}
	// More travel than overlap.
	d.VacuumTravel = 29
	_, why = mustWays(t, d, w)
	if !strings.Contains(why[0].Why, "no place of the trigger") {
		t.Error(why[0].Why)
	}
	// Half a window's width from the edge: only the jump window is reached.
	d.VacuumTravel, d.TriggerRange = 0, [2]float64{-4, 4}
	ways, _ := mustWays(t, d, w)
	if ways[0].Register.Verdict != OnEdge || !(ways[0].Move.Trigger < -2 && ways[0].Move.Trigger >= -4) {
		t.Errorf("%+v", ways[0])
	}
	same(t, "just costs what is spare", ways[0].Register.ExtraKV, 3, 0.001)
}

// Cam and rotor together 20 degrees back on the shaft, or the gear: just as
// late, and the rotor where it was.
func TestEightLateInRegister(t *testing.T) {
	late := map[string]func(*Distributor){
		"cam with rotor": func(d *Distributor) { d.Cam -= 20; d.Rotor -= 20 },
		"mesh":           func(d *Distributor) { d.Mesh -= 20 },
		"housing":        func(d *Distributor) { d.Housing += 20 },
	}
	for name, change := range late {
		d := eight()
		change(&d)
		same(t, name+" timing", d.Timing(0, 0), -30, 1e-9)
		reg := d.Register(10, 3, 1)
		same(t, name+" worst", math.Abs(reg.Worst), 1, 1e-9)
		if reg.Verdict != InRegister {
			t.Errorf("%s: %v", name, reg.Verdict)
		}
	}
	// A sleeve turned back by itself is the trigger's error over again.
	d := eight()
	d.Cam -= 20
	same(t, "sleeve timing", d.Timing(0, 0), -30, 1e-9)
	same(t, "sleeve phase", d.Fire(0, 0)[0].Phase, 20, 1e-9)
	d.SleeveRange = [2]float64{-30, 30}
	ways, _ := mustWays(t, d, Wish{Advance: 10, SpareKV: 10, ScatterDeg: 1, MayMoveTrigger: true, MayMoveLeads: true})
	// The sleeve forward by 6.297: −30 + 12.594.
	same(t, "sleeve back", ways[0].Move.Sleeve, 6.297, 0.001)
	if ways[0].Register.Verdict != InRegister || ways[0].Move.Trigger != 0 {
		t.Errorf("%+v", ways[0])
	}
}

// One of 13 teeth is 360/13 = 27.69 distributor, 55.4 crank degrees: no tower of
// an eight (90), so the leads leave 90 − 55.4 = 34.6 crank degrees, 17.3 of the
// housing [the trade's arithmetic, common practice].
func TestThirteenTeeth(t *testing.T) {
	d := eight()
	d = d.Apply(Move{Mesh: 1})
	same(t, "one tooth", d.Timing(0, 0), 10+55.3846, 0.0001)
	d.Obstacles = nil
	ways, _ := mustWays(t, d, Wish{Advance: 10, MayMoveLeads: true, SpareKV: 10})
	w, ok := find(ways, func(w Way) bool { return w.Move.Leads == 1 })
	if !ok {
		t.Fatal("no way with the leads one tower on")
	}
	// Leads on: −90, so 34.6 late: 17.3 against rotation.
	same(t, "left for the housing", w.Move.Housing, -17.3077, 0.0001)
	if w.Room != [2]float64{180, 180} {
		t.Errorf("room %v", w.Room)
	}
	// Lifted, the tooth is put back.
	ways, _ = mustWays(t, d, Wish{Advance: 10, MayMoveLeads: true, MayLift: true, SpareKV: 10})
	if len(ways) != 8*13 {
		t.Errorf("%d ways, want every tower with every tooth", len(ways))
	}
	w, _ = find(ways, func(w Way) bool { return w.Move.Leads == 0 && w.Move.Mesh == -1 })
	same(t, "tooth back", w.Move.Housing, 0, 1e-9)
	same(t, "minutes", w.Minutes, 20, 0)
}

// Past the hose on the same tooth, by lifting.
func TestLiftPastObstacle(t *testing.T) {
	d := eight()
	d.Teeth = 1
	d.Housing = 60 - 20 - 3 // against the manifold
	d.Obstacles[1].To = 70
	// Timing 10 − 2·37 = −64; wanted −164: (−64 + 164)/2 = 50 with rotation. The
	// can, now from 17 to 57, would be from 67 to 107, the manifold is from 60 to 70.
	w := Wish{Advance: -164, SpareKV: 10}
	ways, why := mustWays(t, d, w)
	if len(ways) != 0 || len(why) != 1 || !strings.Contains(why[0].Why, "meet the manifold") {
		t.Errorf("%+v %+v", ways, why)
	}
	w.Advance = -184 // 60 with rotation: can from 77, clear by 7
	ways, why = mustWays(t, d, w)
	if len(ways) != 0 || len(why) != 1 || !strings.Contains(why[0].Why, "lifted out") {
		t.Errorf("%+v %+v", ways, why)
	}
	w.MayLift = true
	ways, _ = mustWays(t, d, w)
	if len(ways) != 1 || !ways[0].Lifted || math.Abs(ways[0].Move.Housing-60) > 1e-9 {
		t.Errorf("%+v", ways)
	}
	same(t, "room behind", ways[0].Room[0], 4, 1e-9) // 77 − 70 − 3
}

// An anticlockwise four.
func TestFourAnticlockwise(t *testing.T) {
	d := Distributor{
		Rotation: Anticlockwise, Lobes: Even(4), Towers: Even(4), FirstTower: -50,
		Leads: []int{1, 3, 4, 2}, FiringOrder: []int{1, 3, 4, 2}, FiringAt: EvenFiring(4),
		Trigger: 30, Cam: 5, Rotor: -71, Mesh: 40, Housing: 20, VacuumTravel: 10, Teeth: 2,
		TipRadiusM: 0.025, ElectrodeRadiusM: 0.026, TipWidthM: 0.008, ElectrodeWidthM: 0.004, ClampRadiusM: 0.03,
	}
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	// 2·(−(40 + 5 − 20 − 30)) = 10; with c = 3 and v = 4: 10 + 2·7 = 24.
	same(t, "advance", d.Timing(0, 0), 10, 1e-9)
	same(t, "with c and v", d.Timing(3, 4), 24, 1e-9)
	// Rotor T − K + R = 30 − 5 − 71 = −46; tower at −50; rotation is towards
	// lower angles: 4 short of it, phase −4. Vacuum takes it to −46 + 10 = −36: −14.
	f := d.Fire(0, 0)
	same(t, "phase", f[0].Phase, -4, 1e-9)
	same(t, "phase, full vacuum", d.Fire(0, 10)[0].Phase, -14, 1e-9)
	same(t, "rotor", f[1].Rotor, 360-46-90, 1e-9)
	// No. 3 is fired by lobe 1 at 180 − 10.
	same(t, "crank", f[1].Crank, 170, 1e-9)
	if f[1].Cylinder != 3 || f[2].Cylinder != 4 || f[3].Cylinder != 2 {
		t.Errorf("%+v", f)
	}
	reg := d.Register(6, 0, 0.5)
	same(t, "at rest", reg.AtRest, -4, 1e-9)
	same(t, "at full", reg.AtFull, -14, 1e-9)
	same(t, "worst", reg.Worst, -14.5, 1e-9)
	same(t, "best", reg.Best, -3.5, 1e-9)
	// Overlap (8/25 + 4/26)/2 = 0.23692 rad = 13.575 degrees: past the edge by 0.925.
	same(t, "left", reg.OverlapLeftDeg, 13.575-14.5, 0.001)
	if reg.Verdict != OnEdge {
		t.Error(reg.Verdict)
	}
	// Against rotation is clockwise here: 10 degrees more advance 20.
	d.Housing += 10
	same(t, "against rotation", d.Timing(0, 0), 30, 1e-9)
	// Centred tang the other way round: 360 crank degrees.
	turned := d.Apply(Move{Mesh: 1})
	same(t, "tang", turned.Timing(0, 0), 30-360, 1e-9)
}

// Six, clockwise: one tower is 120 crank degrees, leads moved on in the
// direction of rotation fire later.
func TestSixLeads(t *testing.T) {
	d := eight()
	d.Lobes, d.Towers, d.FiringAt = Even(6), Even(6), EvenFiring(6)
	d.FiringOrder = []int{1, 5, 3, 6, 2, 4}
	d.Leads = slices.Clone(d.FiringOrder)
	same(t, "as it was", d.Timing(0, 0), 10, 1e-9)
	on := d.Apply(Move{Leads: 1})
	same(t, "one on", on.Timing(0, 0), -110, 1e-9)
	if !slices.Equal(on.Leads, []int{4, 1, 5, 3, 6, 2}) {
		t.Error(on.Leads)
	}
	if !slices.Equal(d.Leads, d.FiringOrder) {
		t.Error("Apply changed what it was given")
	}
	// Two leads swapped: no turn of the housing cures that.
	d.Leads[1], d.Leads[2] = 3, 5
	ways, why := mustWays(t, d, Wish{Advance: 10, MayMoveLeads: true, MayLift: true})
	if len(ways) != 0 || len(why) != 6 {
		t.Errorf("%d ways, refused %+v", len(ways), why)
	}
}

// A 90-degree vee of six on shared crankpins fires 150 and 90 crank degrees
// apart in turn, 75 and 45 of the distributor [common practice, no source].
func TestOddFire(t *testing.T) {
	d := eight()
	d.FiringAt = []float64{0, 150, 240, 390, 480, 630}
	d.Lobes = []float64{0, 75, 120, 195, 240, 315}
	d.Towers = slices.Clone(d.Lobes)
	d.FiringOrder = []int{1, 6, 5, 4, 3, 2}
	d.Leads = slices.Clone(d.FiringOrder)
	d.Obstacles = nil
	for _, f := range d.Fire(0, 0) {
		same(t, "every cylinder", f.Advance, 10, 1e-9)
	}
	same(t, "pitch", d.Window(0, 0).Pitch, 45, 1e-9)
	ways, why := mustWays(t, d, Wish{Advance: 10, MayMoveLeads: true, SpareKV: 10})
	// Leads by an odd number of towers put the short interval where the long one
	// belongs: 60 out for every other cylinder.
	var by []int
	for _, w := range ways {
		by = append(by, w.Move.Leads)
		if w.Move.Leads == 2 { // 240 crank degrees later: 120 against rotation
			same(t, "two on", w.Move.Housing, -120, 1e-9)
		}
	}
	slices.Sort(by)
	if !slices.Equal(by, []int{-2, 0, 2}) {
		t.Errorf("leads moved by %v", by)
	}
	if len(why) != 3 {
		t.Errorf("refused %+v", why)
	}
	for _, r := range why {
		if !strings.Contains(r.Why, "60.0 crank degrees") {
			t.Error(r.Why)
		}
	}
	// Lobes a quarter of a degree out are lobes with an error, not another
	// engine's: still ways.
	d.Lobes[3] += 0.25
	if ways, _ := mustWays(t, d, Wish{Advance: 10, MayMoveLeads: true}); len(ways) != 3 {
		t.Errorf("%d ways with a worn lobe", len(ways))
	}
	// Even lobes in this engine are: 30 out.
	d.Lobes = Even(6)
	ways, why = mustWays(t, d, Wish{Advance: 10, MayMoveLeads: true})
	if len(ways) != 0 || !strings.Contains(why[0].Why, "do not match") {
		t.Errorf("%d ways, %+v", len(ways), why)
	}
}

// Lobes unevenly past their towers: the worst counts.
func TestUnequalLobes(t *testing.T) {
	d := eight()
	d.Lobes[5] += 2 // later, further in the direction of rotation: 4 at the crank
	f := d.Fire(0, 0)
	same(t, "advance", f[5].Advance, 6, 1e-9)
	same(t, "phase", f[5].Phase, 2, 1e-9)
	reg := d.Register(10, 3, 0)
	same(t, "worst", reg.Worst, 2, 1e-9)
	same(t, "best", reg.Best, 0, 1e-9)
}

func TestRotorAt(t *testing.T) {
	d := eight()
	// At the firing point the rotor stands where Fire has it.
	p := d.RotorAt(d.Timing(0, 0))
	if p.Tower != 0 || p.Cylinder != 1 {
		t.Errorf("%+v", p)
	}
	same(t, "phase", p.Phase, 0, 1e-9)
	same(t, "engine frame", p.Engine, 30, 1e-9) // G + R − 10/2 = −15 + 50 − 5
	// On overlap, a turn of the crank on, it points opposite.
	p = d.RotorAt(d.Timing(0, 0) - 360)
	if p.Tower != 4 {
		t.Errorf("%+v", p)
	}
}

// P = (−20, 0), S = (30, 0): S' = (−20 + 50·cos 10°, 50·sin 10°) = (29.2404,
// 8.6824): atan(8.6824/29.2404) = 16.537°, |S'| = 30.502 mm.
func TestPlatePivot(t *testing.T) {
	for _, rot := range []Rotation{Clockwise, Anticlockwise} {
		d := eight()
		d.Rotation = rot
		d.Plate = Plate{PivotRadiusM: 0.020, PivotAngle: d.Trigger + 180, SensorRadiusM: 0.030}
		d.VacuumTravel = 10
		if err := d.Validate(); err != nil {
			t.Fatal(err)
		}
		a, r := d.SensorShift(10)
		same(t, "angle", a, 16.537, 0.001)
		same(t, "radius", r*1e3, 0.502, 0.001)
		same(t, "advance of it", d.Timing(0, 10)-d.Timing(0, 0), 2*a, 1e-9)
		same(t, "phase of it", d.Fire(0, 10)[0].Phase-d.Fire(0, 0)[0].Phase, -a, 1e-9)
		d.Plate = Plate{}
		a, r = d.SensorShift(7)
		same(t, "about the shaft", a, 7, 0)
		same(t, "about the shaft", r, 0, 0)
	}
	// A pin beyond the sensor: the can pulls the other way and still advances.
	d := eight()
	d.VacuumTravel = 8
	d.Plate = Plate{PivotRadiusM: 0.040, PivotAngle: d.Trigger + 5, SensorRadiusM: 0.025}
	if a, _ := d.SensorShift(8); a <= 0 {
		t.Error(a)
	}
	// Square to it: the sensor goes in and out only.
	d.Plate = Plate{PivotRadiusM: 0.025, PivotAngle: d.Trigger, SensorRadiusM: 0.025}
	if err := d.Validate(); !errors.Is(err, ErrPlate) {
		t.Error(err)
	}
}

// A rotor tip travels 0.45 to 0.5 mm per distributor degree at 25 to 30 mm
// radius (r·π/180: 0.44 to 0.52) [common practice]; so a contact a millimetre
// wider overlaps by half that: about one degree.
func TestWindow(t *testing.T) {
	d := eight()
	w := d.Window(6, 3)
	d.ElectrodeWidthM += 1e-3
	same(t, "a millimetre wider", d.Window(6, 3).OverlapDeg-w.OverlapDeg, 1, 0.06)
	d.ElectrodeWidthM -= 1e-3
	same(t, "overlap", w.OverlapDeg, 14.703, 0.001)
	// At the edge of the window the extra air costs what is spare: 6 kV, 2 mm.
	same(t, "jump", d.ExtraGapM(w.JumpDeg)*1e3, 2, 1e-9)
	same(t, "jump", d.ExtraGapM(-w.JumpDeg)*1e3, 2, 1e-9)
	same(t, "nothing spare", d.Window(0, 3).JumpDeg, w.OverlapDeg, 1e-9)
	same(t, "0 is the usual", d.Window(6, 0).JumpDeg, w.JumpDeg, 0)
	// Law of cosines with the tip's edge at 27 and the contact's at 28 mm.
	beta := (20 - w.OverlapDeg) * math.Pi / 180
	same(t, "law of cosines", d.ExtraGapM(20), math.Sqrt(0.027*0.027+0.028*0.028-2*0.027*0.028*math.Cos(beta))-0.001, 1e-12)
}

// The neighbour at unequal towers: the nearer one is crossed to sooner.
func TestCrossFireUnequal(t *testing.T) {
	d := eight()
	d.Towers = []float64{0, 75, 120, 195, 240, 315}
	back, past := d.CrossFire(0, 8, 3) // 45 back, 75 on
	if !(back > -22.5 && back < 0 && past > 22.5 && past < 37.5) {
		t.Errorf("%g %g", back, past)
	}
	same(t, "no ease: half way", func() float64 { _, p := d.CrossFire(1, 0, 3); return p }(), 22.5, 1e-6)
	if b, p := d.CrossFire(9, 8, 3); b != 0 || p != 0 {
		t.Error("a tower that is none")
	}
}

// A register past half way belongs to neither tower.
func TestRegisterHalfWay(t *testing.T) {
	d := eight()
	d.Trigger += 22
	d.VacuumTravel = 0
	if r := d.Register(50, 3, 1); r.Verdict != WrongTower {
		t.Errorf("%+v", r)
	}
	// A coil with nothing to spare, off the edge but not yet another's.
	d = eight()
	d.Trigger += 15
	if r := d.Register(0, 3, 0); r.Verdict != Jumps {
		t.Errorf("%+v", r)
	}
	if r := d.Register(1, 3, 0); r.Verdict != OnEdge {
		t.Errorf("%+v", r)
	}
}

func TestValidate(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, c := range map[string]struct {
		want   error
		change func(*Distributor)
	}{
		"rotation":           {ErrRotation, func(d *Distributor) { d.Rotation = 0 }},
		"towers missing":     {ErrCount, func(d *Distributor) { d.Towers = d.Towers[:7] }},
		"leads missing":      {ErrCount, func(d *Distributor) { d.Leads = nil }},
		"one lobe":           {ErrCount, func(d *Distributor) { d.Lobes = d.Lobes[:1] }},
		"lobes fall":         {ErrRising, func(d *Distributor) { d.Lobes[3] = 60 }},
		"lobes not a number": {ErrRising, func(d *Distributor) { d.Lobes[3] = nan }},
		"first lobe":         {ErrRising, func(d *Distributor) { d.Lobes[0] = 1 }},
		"last tower":         {ErrRising, func(d *Distributor) { d.Towers[7] = 360 }},
		"firing at":          {ErrRising, func(d *Distributor) { d.FiringAt[7] = 720 }},
		"twice in order":     {ErrPermutation, func(d *Distributor) { d.FiringOrder = []int{1, 8, 4, 3, 6, 5, 7, 7} }},
		"not from 1":         {ErrPermutation, func(d *Distributor) { d.FiringOrder = []int{8, 4, 3, 6, 5, 7, 2, 1} }},
		"lead of none":       {ErrPermutation, func(d *Distributor) { d.Leads = []int{1, 8, 4, 3, 6, 5, 7, 9} }},
		"trigger":            {ErrNumber, func(d *Distributor) { d.Trigger = nan }},
		"mesh":               {ErrNumber, func(d *Distributor) { d.Mesh = inf }},
		"teeth":              {ErrNumber, func(d *Distributor) { d.Teeth = 0 }},
		"travel":             {ErrNumber, func(d *Distributor) { d.VacuumTravel = -1 }},
		"clamp":              {ErrNumber, func(d *Distributor) { d.ClampRadiusM = 0 }},
		"rotor too long":     {ErrRotorTooLong, func(d *Distributor) { d.TipRadiusM = 0.028 }},
		"towers overlap":     {ErrTowersOverlap, func(d *Distributor) { d.Towers[1] = 5 }},
		"tip round":          {ErrNoRoom, func(d *Distributor) { d.TipWidthM = 0.18 }},
		"empty arc":          {ErrArc, func(d *Distributor) { d.Features[0].To = -20 }},
		"arc not a number":   {ErrArc, func(d *Distributor) { d.Obstacles[0].From = nan }},
		"arc right round":    {ErrArc, func(d *Distributor) { d.Obstacles[0].To = 315 }},
		"can in the hose":    {ErrFouled, func(d *Distributor) { d.Housing = -20 }},
		"can too near":       {ErrFouled, func(d *Distributor) { d.Housing = -13 }},
		"no room at all":     {ErrNoRoom, func(d *Distributor) { d.Obstacles[0].From = -360 }},
		"trigger range":      {ErrRange, func(d *Distributor) { d.TriggerRange = [2]float64{1, 5} }},
		"sleeve range":       {ErrRange, func(d *Distributor) { d.SleeveRange = [2]float64{0, nan} }},
		"plate":              {ErrPlate, func(d *Distributor) { d.Plate.PivotRadiusM = 0.02 }},
	} {
		d := eight()
		c.change(&d)
		err := d.Validate()
		var e *Error
		if !errors.Is(err, c.want) || !errors.As(err, &e) || e.Field == "" || e.Accept == "" {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
		if _, _, werr := d.Ways(Wish{}); !errors.Is(werr, c.want) {
			t.Errorf("%s: Ways: %v", name, werr)
		}
	}
	d := eight()
	d.Housing = -12 // just clear
	if err := d.Validate(); err != nil {
		t.Error(err)
	}
	for _, w := range []Wish{{Advance: nan}, {Advance: 361}, {V: 1}, {C: -1}, {SpareKV: inf}, {KVPerMM: -3}, {ScatterDeg: nan}} {
		if _, _, err := d.Ways(w); !errors.Is(err, ErrWish) {
			t.Errorf("%+v: %v", w, err)
		}
	}
}

func TestFreeTurn(t *testing.T) {
	d := eight()
	// Blocked: the hose from −45 − 20 − 3 = −68 to −35 + 20 + 3 = −12, the manifold
	// from 60 − 23 = 37 to 90 + 23 = 113.
	want := [][2]float64{{-12, 37}, {113, 292}}
	got := d.FreeTurn(true)
	// 113 to 292 has its middle beyond 180: the same places as −247 to −68.
	want[0], want[1] = [2]float64{-247, -68}, want[0]
	if len(got) != 2 {
		t.Fatal(got)
	}
	for i := range want {
		same(t, "low", got[i][0], want[i][0], 1e-9)
		same(t, "high", got[i][1], want[i][1], 1e-9)
	}
	if got := d.FreeTurn(false); len(got) != 1 || math.Abs(got[0][1]-37) > 1e-9 {
		t.Error(got)
	}
	d.Obstacles = nil
	if got := d.FreeTurn(false); len(got) != 1 || got[0] != [2]float64{-180, 180} {
		t.Error(got)
	}
}
