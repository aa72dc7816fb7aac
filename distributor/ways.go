package distributor

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// SnugDeg is the room each way that a housing should have left for setting it
// with a light, degrees [common practice, no source]; less counts against a
// way, and so does a far turn, which takes hose and leads along.
const SnugDeg = 10.0

// Minutes of work, estimates, that a way is charged with.
const (
	HousingMinutes = 1.0  // slacken the clamp, turn, tighten
	LeadsMinutes   = 5.0  // move every lead on by as many towers
	TriggerMinutes = 15.0 // trigger on its plate, or sleeve on the shaft
	LiftMinutes    = 20.0 // lift the distributor and put it back, on another tooth or the same
)

const (
	// EveryCylinderDeg is how near, in crank degrees, every cylinder's timing has
	// to come to what is wanted, over what the lobes' own errors make of it.
	EveryCylinderDeg = 0.1

	// LobeErrorMost is the greatest error of a lobe, crank degrees, that is taken
	// for one: beyond, the lobes are not those of this engine. Good spacing is
	// within ±2 distributor degrees [army manual on distributors, from memory].
	LobeErrorMost = 8.0
)

// Way is one way to the wanted timing.
type Way struct {
	Move     Move
	Lifted   bool       // the distributor has to be lifted out: another tooth, or past an obstacle
	HousingM float64    // the housing's turn at ClampRadiusM, clockwise positive
	Timing   float64    // advance of No. 1 after it, from Fire
	Register Register   // after it
	Room     [2]float64 // degrees left before an obstacle: anticlockwise, clockwise; 180 each with none
	Free     float64    // the lesser of the two
	Minutes  float64    // of work, estimated
	Score    float64    // what ways are ranked by, least first: 1000 per step of the verdict + minutes + a minute for every 20 degrees of housing + half a minute for every degree of room under SnugDeg + less than 1 for little room
}

// Refused is a way that was looked at and will not do.
type Refused struct {
	Move Move
	Why  string

	blocked bool // by what stands round the housing
}

// setting is a place of trigger and sleeve that is worth looking at.
type setting struct {
	trigger, sleeve float64
	still           bool // the housing is to stay where it is
}

// Ways returns every way to the wanted timing that the wish allows, ranked by
// verdict of the register, minutes of work and room left, and those refused with
// the reason. It returns an error of [Distributor.Validate], or one wrapping
// ErrWish. No way at all is no error: the reasons tell.
//
// For every number of towers the leads may be moved on and every tooth the
// drive may be put on there is exactly one place of the housing, on the whole
// circle, that gives the timing: the equation at [Move], solved for Housing. It
// is a way if
//
//   - every cylinder gets that timing within EveryCylinderDeg, not No. 1 alone.
//     With unequal towers most moves of the leads fail this. Errors of the lobes
//     themselves, up to LobeErrorMost, are not held against it.
//   - the housing can get there: without lifting it only within the stretch
//     of [Distributor.FreeTurn]; lifted, to any free place. Lifted ways on the
//     same tooth are those past an obstacle.
//
// The trigger stays where it is while rotor and cap are in register. If they
// are not, and it may be moved, there are ways with the least shift that brings
// the whole register, travel and scatter, into overlap: of the trigger alone, else
// of trigger and sleeve. Where the housing then meets something, or has less
// than SnugDeg of room, the trigger alone takes another shift in the window that
// leaves it more. If overlap cannot be reached, all this into the jump window.
// The ways that leave it are listed as well, after them. In any case there are
// ways in which the trigger alone, or with the leads, gives the timing.
//
// Every way has been put through Fire before it is returned.
func (d *Distributor) Ways(w Wish) (ways []Way, why []Refused, err error) {
	if err := d.Validate(); err != nil {
		return nil, nil, err
	}
	if err := w.bad(d.VacuumTravel); err != nil {
		return nil, nil, err
	}
	settings := []setting{{}}
	if w.MayMoveTrigger {
		if d.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg).Verdict != InRegister {
			if s, ok := d.registered(w); ok {
				settings = append(settings, s)
			} else {
				why = append(why, Refused{Why: d.outOfReach(w)})
			}
		}
		settings = append(settings, d.triggerAlone(w)...)
	}
	for _, s := range settings {
		more, no := d.at(s, w, nil)
		if s.trigger != 0 && s.sleeve == 0 && !s.still {
			more, no = d.elsewhere(s, w, more, no)
		}
		ways, why = append(ways, more...), append(why, no...)
	}
	slices.SortStableFunc(ways, func(a, b Way) int {
		return cmp.Or(cmp.Compare(a.Score, b.Score),
			cmp.Compare(math.Abs(a.Move.Housing), math.Abs(b.Move.Housing)),
			cmp.Compare(a.Move.Leads, b.Move.Leads), cmp.Compare(a.Move.Mesh, b.Move.Mesh))
	})
	return ways, why, nil
}

// at finds the ways with trigger and sleeve set, for every place of leads and
// drive or only for one.
func (d *Distributor) at(set setting, w Wish, only *[2]int) (ways []Way, why []Refused) {
	m := Move{Trigger: set.trigger, Sleeve: set.sleeve}
	b := d.Apply(m)
	reg := b.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg)
	sparks := b.Fire(w.C, w.V)
	free, around := b.FreeTurn(true), b.FreeTurn(false)[0]
	n, teeth := len(d.Leads), d.Teeth
	leads, mesh := span(n, w.MayMoveLeads), span(teeth, w.MayLift && !set.still)
	if only != nil {
		leads, mesh = [2]int{only[0], only[0]}, [2]int{only[1], only[1]}
	}
	s := float64(d.Rotation)
	for k := leads[0]; k <= leads[1]; k++ {
		got := b.rotated(sparks, k)
		m.Leads, m.Mesh, m.Housing = k, 0, 0
		if got.wrong != "" {
			if !set.still {
				why = append(why, Refused{Move: m, Why: got.wrong})
			}
			continue
		}
		for m.Mesh = mesh[0]; m.Mesh <= mesh[1]; m.Mesh++ {
			short := near(w.Advance-got.advance-2*float64(m.Mesh)*360/float64(teeth), 720)
			turn := near(-s*short/2, 360)
			if math.Abs(turn) < touch {
				turn = 0
			}
			if set.still && turn != 0 {
				if math.Abs(turn) > EveryCylinderDeg/4 {
					continue
				}
				turn = 0
			}
			lifted, room, ok := m.Mesh != 0, [2]float64{}, false
			at := turn
			if !lifted {
				at, room, ok = reach(turn, [][2]float64{around})
			}
			if !ok && w.MayLift {
				lifted = true
				at, room, ok = reach(turn, free)
			}
			if !ok {
				m.Housing = turn
				no := Refused{Move: m, Why: b.blocker(turn, around, lifted), blocked: true}
				if _, _, elsewhere := reach(turn, free); elsewhere {
					no.Why += "; lifted out, the distributor could be put back past it"
				}
				why = append(why, no)
				continue
			}
			m.Housing = at
			done := d.Apply(m)
			way := Way{
				Move: m, Lifted: lifted,
				HousingM: radians(at) * d.ClampRadiusM,
				Timing:   done.Timing(w.C, w.V),
				Register: reg,
				Room:     room,
				Free:     math.Max(0, math.Min(room[0], room[1])),
			}
			if !(math.Abs(near(way.Timing-w.Advance, 720)) <= EveryCylinderDeg) {
				continue
			}
			way.Minutes = minutes(m, lifted)
			way.Score = 1000*float64(reg.Verdict) + way.Minutes + math.Abs(m.Housing)/20 + math.Max(SnugDeg-way.Free, 0)/2 + 1 - math.Min(way.Free, 180)/181
			ways = append(ways, way)
		}
	}
	return ways, why
}

func minutes(m Move, lifted bool) float64 {
	var t float64
	if m.Housing != 0 {
		t += HousingMinutes
	}
	if m.Leads != 0 {
		t += LeadsMinutes
	}
	if m.Trigger != 0 || m.Sleeve != 0 {
		t += TriggerMinutes
	}
	if lifted {
		t += LiftMinutes
	}
	return t
}

// span returns the least and greatest number of places to move on, out of n:
// all of them once, the shorter way round, n/2 forwards.
func span(n int, may bool) [2]int {
	if !may {
		return [2]int{}
	}
	return [2]int{-(n - 1) / 2, n / 2}
}

// reach looks for a turn, give or take whole turns, in free stretches, and
// returns it with the room left to either side. Of more than one it takes the
// least turn.
func reach(turn float64, free [][2]float64) (at float64, room [2]float64, ok bool) {
	for _, f := range free {
		for _, x := range [3]float64{turn, turn - 360, turn + 360} {
			if x >= f[0]-touch && x <= f[1]+touch && (!ok || math.Abs(x) < math.Abs(at)) {
				at, room, ok = x, [2]float64{x - f[0], f[1] - x}, true
			}
		}
	}
	if len(free) == 1 && free[0] == [2]float64{-180, 180} {
		room = [2]float64{180, 180} // nothing in the way
	}
	return at, room, ok
}

// rotatedTiming is what the cylinders get when the leads are moved on.
type rotatedTiming struct {
	advance float64 // of No. 1
	wrong   string  // why it is none for the others
}

// rotated looks at sparks with the leads moved k towers on in the direction of
// rotation.
func (d *Distributor) rotated(sparks []Firing, k int) rotatedTiming {
	n := len(sparks)
	if n == 0 {
		return rotatedTiming{advance: math.NaN(), wrong: "nothing fires"}
	}
	lead := func(tower int) int { return d.Leads[place(tower-k, n)] }
	first, best := -1, math.Inf(1)
	for j, f := range sparks {
		if lead(f.Tower) == 1 && math.Abs(f.Phase) < best {
			first, best = j, math.Abs(f.Phase)
		}
	}
	out := rotatedTiming{}
	if first < 0 { // no lobe fires No. 1: the one that comes nearest to its tower
		for k := range d.Towers {
			if lead(k) != 1 {
				continue
			}
			at := d.FirstTower + float64(d.Rotation)*d.Towers[k]
			for j, f := range sparks {
				if p := math.Abs(near(f.Rotor-at, 360)); p < best {
					first, best = j, p
				}
			}
		}
		out.wrong = "no lobe would fire No. 1"
		if first < 0 {
			return rotatedTiming{advance: math.NaN(), wrong: out.wrong}
		}
	}
	out.advance = near(d.top(1)-sparks[first].Crank, 720)
	if out.wrong != "" {
		return out
	}
	own, real := d.lobeError(first)
	if !(own <= LobeErrorMost && own <= 2*real+touch) {
		own = 0
	}
	var fired [cylindersMost + 1]int
	worst, whose := 0.0, 0
	for _, f := range sparks {
		c := lead(f.Tower)
		if c > 0 && c < len(fired) {
			fired[c]++
		}
		off := near(d.top(c)-f.Crank-out.advance, 720)
		if !(math.Abs(off) <= math.Abs(worst)) {
			worst, whose = off, c
		}
	}
	switch {
	case !(math.Abs(worst) <= EveryCylinderDeg+own):
		side := "early"
		if worst < 0 {
			side = "late"
		}
		out.wrong = fmt.Sprintf("No. %d would fire %.1f crank degrees %s against No. 1", whose, math.Abs(worst), side)
		if !(real <= LobeErrorMost) {
			out.wrong += fmt.Sprintf("; the lobes do not match the engine's firing intervals (%.1f crank degrees)", real)
		}
	default:
		for c := 1; c <= n && c < len(fired); c++ {
			if fired[c] == 0 {
				out.wrong = fmt.Sprintf("No. %d would get no spark", c)
				break
			}
		}
	}
	return out
}

// lobeError is what is wrong with the lobes themselves, crank degrees: the
// greatest error of a cylinder against No. 1 if lobe first fires No. 1 and the
// others follow in order; and the least that any choice of first can give. Of
// an engine that fires evenly the first is never more than twice the second,
// whichever lobe is chosen: by that an error is told from lobes whose uneven
// spacing has been put in the wrong place.
func (d *Distributor) lobeError(first int) (own, least float64) {
	n := len(d.Lobes)
	least = math.Inf(1)
	for a := range n {
		worst := 0.0
		for i, at := range d.FiringAt {
			off := math.Abs(near(at-2*(d.Lobes[(a+i)%n]-d.Lobes[a]), 720))
			worst = math.Max(worst, off)
		}
		if a == first {
			own = worst
		}
		least = math.Min(least, worst)
	}
	return own, least
}
