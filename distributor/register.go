package distributor

import (
	"fmt"
	"math"
)

// inside is how far, in degrees, a register that is shifted to an edge is kept
// inside it, against rounding.
const inside = 1e-6

// plateStep is how finely, in degrees, the range of a trigger on an eccentric
// plate is walked through: a place narrower than this may be overlooked.
const plateStep = 0.05

// registered returns the least shift of the trigger, else of trigger and
// sleeve, that brings the register into overlap; else into the jump window.
func (d *Distributor) registered(w Wish) (setting, bool) {
	win := d.Window(w.SpareKV, w.KVPerMM)
	now := d.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg)
	windows := d.crossing(NeighbourEaseKV / perMM(w.KVPerMM) * 1e-3)
	room := make([][2]float64, len(windows))
	keyed := d.SleeveRange == [2]float64{}
	for _, want := range []struct {
		half float64
		good RegisterVerdict
	}{{win.OverlapDeg, InRegister}, {win.JumpDeg, OnEdge}} {
		if want.good > InRegister && now.Verdict == OnEdge {
			break // it is there already
		}
		for k, cross := range windows {
			room[k] = [2]float64{math.Max(-want.half, cross[0]) + inside, math.Min(want.half, cross[1]) - inside}
		}
		for _, sleeve := range []bool{false, true} {
			if sleeve && keyed {
				continue
			}
			if s, ok := d.shiftInto(room, w.ScatterDeg, sleeve); ok {
				b := d.Apply(Move{Trigger: s.trigger, Sleeve: s.sleeve})
				if b.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg).Verdict <= want.good {
					return s, true
				}
			}
		}
	}
	return setting{}, false
}

// outOfReach says why no shift was found.
func (d *Distributor) outOfReach(w Wish) string {
	half := d.Window(w.SpareKV, w.KVPerMM).OverlapDeg
	room := d.crossing(NeighbourEaseKV / perMM(w.KVPerMM) * 1e-3)
	for k, cross := range room {
		room[k] = [2]float64{math.Max(-half, cross[0]), math.Min(half, cross[1])}
	}
	least, most := d.shiftSpan()
	x, ok := d.leastShift(room, -most-w.ScatterDeg, -least+w.ScatterDeg, -180, 180)
	if !ok {
		return "no place of the trigger keeps the rotor in register: vacuum travel and scatter take more than the tips overlap"
	}
	way := "with rotation"
	if x < 0 {
		way = "against rotation"
	}
	return fmt.Sprintf("to bring the rotor into register the trigger would have to move %.1f degrees %s, more than trigger and sleeve allow", math.Abs(x), way)
}

// shiftInto finds the least shift of phase that brings every lobe within the
// room, least and greatest phase, of some tower. A shift of x degrees of the trigger, or -x of the sleeve, in
// the direction of rotation moves every phase by x. With an eccentric plate the
// travel of the sensor changes as the trigger is moved, so there the range is
// walked through from the middle in steps of plateStep, and the edge then found
// by halving.
func (d *Distributor) shiftInto(room [][2]float64, scatterDeg float64, sleeve bool) (setting, bool) {
	s := float64(d.Rotation)
	low, high := d.TriggerRange[0], d.TriggerRange[1]
	if sleeve {
		low, high = low-d.SleeveRange[1], high-d.SleeveRange[0]
	}
	to := func(x float64) setting {
		x *= s
		set := setting{trigger: math.Max(d.TriggerRange[0], math.Min(d.TriggerRange[1], x))}
		if sleeve {
			set.sleeve = set.trigger - x
		}
		return set
	}
	low, high = min(s*low, s*high), max(s*low, s*high)
	if d.Plate.PivotRadiusM == 0 {
		x, ok := d.leastShift(room, -d.VacuumTravel-scatterDeg, scatterDeg, low, high)
		return to(x), ok
	}
	fits := func(x float64) bool {
		b := d.Apply(Move{Trigger: to(x).trigger})
		least, most := b.shiftSpan()
		_, ok := d.leastShift(room, -most-scatterDeg, -least+scatterDeg, x, x)
		return ok
	}
	for x := plateStep; x <= math.Max(-low, high); x += plateStep {
		for _, y := range [2]float64{x, -x} {
			if y < low || y > high || !fits(y) {
				continue
			}
			out, in := y-math.Copysign(plateStep, y), y
			for range 24 {
				if mid := (out + in) / 2; fits(mid) {
					in = mid
				} else {
					out = mid
				}
			}
			return to(in), true
		}
	}
	return setting{}, false
}

// leastShift finds the least |x| in [low, high] such that for every lobe, whose
// phase with the vacuum off goes from rest + from to rest + to, there is a tower
// with that stretch, moved by x, within its room.
func (d *Distributor) leastShift(room [][2]float64, from, to, low, high float64) (float64, bool) {
	s := float64(d.Rotation)
	n := len(d.Lobes)
	rest := make([]float64, n) // in the direction of rotation from No. 1 tower
	for j, lobe := range d.Lobes {
		rest[j] = s*(d.Trigger-d.Cam+d.Rotor-d.FirstTower) + lobe
	}
	fits := func(x float64) bool {
		if !(x >= low && x <= high) {
			return false
		}
		for _, r := range rest {
			ok := false
			for k, t := range d.Towers {
				mid, half := near(r+x-t+(from+to)/2, 360), (to-from)/2
				if mid-half >= room[k][0]-touch && mid+half <= room[k][1]+touch {
					ok = true
					break
				}
			}
			if !ok {
				return false
			}
		}
		return true
	}
	best, found := 0.0, false
	if low == high {
		return low, fits(low)
	}
	if fits(0) {
		return 0, true
	}
	for _, r := range rest {
		for k, t := range d.Towers {
			// The stretch just inside at either edge.
			for _, edge := range [2]float64{room[k][1] - to, room[k][0] - from} {
				x := near(edge-r+t, 360)
				for _, x := range [3]float64{x, x - 360, x + 360} {
					if (!found || math.Abs(x) < math.Abs(best)) && fits(x) {
						best, found = x, true
					}
				}
			}
		}
	}
	return best, found
}

// triggerAlone returns the places of the trigger within its range at which one
// of the lobes gives No. 1 its timing with the housing where it is. From the
// equation at [Distributor.Fire], with x the shift and e the sensor's own shift
// at its new place,
//
//	x = s·(e + C − Lobes[j] − Advance/2) + G + K − H − T   (mod 360)
func (d *Distributor) triggerAlone(w Wish) []setting {
	s := float64(d.Rotation)
	var out []setting
	for _, lobe := range d.Lobes {
		var x float64
		for range 60 {
			b := d.Apply(Move{Trigger: x})
			e, _ := b.SensorShift(w.V)
			next := near(s*(e+w.C-lobe-w.Advance/2)+d.Mesh+d.Cam-d.Housing-d.Trigger, 360)
			moved := math.Abs(near(next-x, 360))
			x = next
			if moved < touch {
				break
			}
		}
		if x >= d.TriggerRange[0] && x <= d.TriggerRange[1] && math.Abs(x) > touch {
			out = append(out, setting{trigger: x, still: true})
		}
	}
	return out
}
