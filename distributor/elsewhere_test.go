package distributor

import (
	"math"
	"math/rand/v2"
	"testing"
)

// With the trigger to be moved as well: every place of the leads for which a
// walk over trigger (in degrees) and housing (in half degrees) finds the timing
// with rotor and cap in register is among the ways.
func TestWaysFindAllWithTheTriggerToo(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	const step, round = 0.5, 720
	looked, feasible := 0, 0
	for looked < few(300) {
		d := randomDistributor(r)
		d.Plate = Plate{}
		w := randomWish(r, &d)
		w.MayMoveTrigger, w.MayLift, w.MayMoveLeads = true, false, true
		if d.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg).Verdict == InRegister || d.TriggerRange[1]-d.TriggerRange[0] < 3 {
			continue
		}
		looked++
		found, _, err := d.Ways(w)
		if err != nil {
			t.Fatal(err)
		}
		got := map[int]bool{}
		for _, f := range found {
			if f.Register.Verdict == InRegister {
				got[f.Move.Leads] = true
			}
		}
		var reached [round]bool
		for _, dir := range []int{1, -1} {
			for h := 0; h < round && h > -round && clearAt(&d, float64(h)*step); h += dir {
				reached[place(h, round)] = true
			}
		}
		cyl := len(d.Lobes)
		done := map[int]bool{}
		for x := math.Ceil(d.TriggerRange[0]); x <= d.TriggerRange[1]; x++ {
			moved := d.Apply(Move{Trigger: x})
			if moved.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg).Verdict != InRegister {
				continue
			}
			for lead := -(cyl - 1) / 2; lead <= cyl/2; lead++ {
				try := moved.Apply(Move{Leads: lead})
				right, first := true, 0.0
				fired := map[int]bool{}
				for j, f := range try.Fire(w.C, w.V) {
					off := math.Remainder(f.Advance-w.Advance, 720)
					if j == 0 {
						first = off
					}
					right = right && math.Abs(math.Remainder(off-first, 720)) < 0.05
					fired[f.Cylinder] = true
				}
				if !right || len(fired) != cyl || done[lead] {
					continue
				}
				// A degree of housing against rotation is two more: so this turn.
				turn := first / 2 * float64(d.Rotation)
				h := int(math.Round(turn / step))
				if reached[place(h, round)] && reached[place(h-1, round)] && reached[place(h+1, round)] {
					done[lead] = true
					feasible++
					if !got[lead] {
						t.Fatalf("leads %+d, trigger %+.0f, housing %+.1f gives it in register, and is not found\n%+v\n%+v", lead, x, turn, d, w)
					}
				}
			}
		}
	}
	t.Logf("%d distributors, %d places of the leads with a trigger to move", looked, feasible)
	if feasible < looked/4 {
		t.Error("hardly anything was held against the walk")
	}
}
