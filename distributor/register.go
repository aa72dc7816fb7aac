package distributor

import "math"

// inside is how far, in degrees, a register that is shifted to an edge is kept
// inside it, against rounding.
const inside = 1e-6

// registered returns the least shift of the trigger, else of trigger and
// sleeve, that brings the register into overlap; else into the jump window.
func (d *Distributor) registered(w Wish) (setting, bool) {
	win := d.Window(w.SpareKV, w.KVPerMM)
	now := d.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg)
	cross := math.Min(now.CrossAt[1], -now.CrossAt[0])
	keyed := d.SleeveRange == [2]float64{}
	for _, want := range []struct {
		half float64
		good RegisterVerdict
	}{{win.OverlapDeg, InRegister}, {win.JumpDeg, OnEdge}} {
		if want.good > InRegister && now.Verdict == OnEdge {
			break // it is there already
		}
		half := math.Min(want.half, cross) - inside
		for _, sleeve := range []bool{false, true} {
			if sleeve && keyed {
				continue
			}
			if s, ok := d.shiftInto(half, w.ScatterDeg, sleeve); ok {
				b := d.Apply(Move{Trigger: s.trigger, Sleeve: s.sleeve})
				if b.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg).Verdict <= want.good {
					return s, true
				}
			}
		}
	}
	return setting{}, false
}

// shiftInto finds the least shift of phase that brings every lobe within ±half
// of some tower. A shift of x degrees of the trigger, or -x of the sleeve, in
// the direction of rotation moves every phase by x. With an eccentric plate the
// travel of the sensor changes a little as the trigger is moved, so it is taken
// where the trigger comes to stand, and again.
func (d *Distributor) shiftInto(half, scatterDeg float64, sleeve bool) (setting, bool) {
	s := float64(d.Rotation)
	low, high := d.TriggerRange[0], d.TriggerRange[1]
	if sleeve {
		low, high = low-d.SleeveRange[1], high-d.SleeveRange[0]
	}
	var set setting
	for range 20 {
		b := d.Apply(Move{Trigger: set.trigger})
		least, most := b.shiftSpan()
		x, ok := d.leastShift(half, -most-scatterDeg, -least+scatterDeg, min(s*low, s*high), max(s*low, s*high))
		if !ok {
			return setting{}, false
		}
		x *= s
		next := setting{trigger: math.Max(d.TriggerRange[0], math.Min(d.TriggerRange[1], x))}
		if sleeve {
			next.sleeve = next.trigger - x
		}
		if math.Abs(next.trigger-set.trigger) < inside/10 {
			return next, true
		}
		set = next
	}
	return set, true
}

// leastShift finds the least |x| in [low, high] such that for every lobe, whose
// phase with the vacuum off goes from rest + from to rest + to, there is a tower
// with that stretch, moved by x, within ±half.
func (d *Distributor) leastShift(half, from, to, low, high float64) (float64, bool) {
	if to-from > 2*half {
		return 0, false
	}
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
			for _, t := range d.Towers {
				mid := near(r+x-t+(from+to)/2, 360)
				if math.Abs(mid)+(to-from)/2 <= half+touch {
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
	best, found := 0.0, fits(0)
	if found {
		return 0, true
	}
	for _, r := range rest {
		for _, t := range d.Towers {
			// The stretch just inside at either edge.
			for _, edge := range [2]float64{half - to, -half - from} {
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
