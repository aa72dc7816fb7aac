package distributor

import "math"

// A trigger that has to be moved for the register's sake need not go by the
// least shift: within the window any shift will do, and housing and trigger
// trade angle for angle. So a place of leads and drive whose housing meets
// something, or has hardly room, may have both with another shift.

// elsewhere looks, for every place of leads and drive that was tried with the
// trigger at set, for a shift that leaves the housing more room and the
// register no worse, and returns the ways with it; no way is left out whose
// housing can get clear of everything with some shift in the window. Ways and
// refusals that are bettered are taken off the lists.
func (d *Distributor) elsewhere(set setting, w Wish, ways []Way, why []Refused) ([]Way, []Refused) {
	free, around := d.FreeTurn(true), d.FreeTurn(false)
	b := d.Apply(Move{Trigger: set.trigger})
	most := b.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg).Verdict
	windows := d.windows(set.trigger, w, most)
	try := func(m Move, has float64) *Way {
		stretches := around
		switch {
		case m.Mesh != 0:
			stretches = free
		case has < 0 && w.MayLift:
			stretches = append(append([][2]float64{}, around...), free...)
		}
		shift, room, ok := d.roomiest(set.trigger, m.Housing+m.Trigger, stretches, windows)
		if !ok || room <= has+0.5 {
			return nil
		}
		found, _ := d.at(setting{trigger: shift}, w, &[2]int{m.Leads, m.Mesh})
		for i := range found {
			if found[i].Free > has && found[i].Register.Verdict <= most {
				return &found[i]
			}
		}
		return nil
	}
	var better []Way
	var still []Refused
	for _, x := range ways {
		if x.Free < SnugDeg {
			if y := try(x.Move, x.Free); y != nil && y.Lifted == x.Lifted {
				x = *y
			}
		}
		better = append(better, x)
	}
	for _, no := range why {
		if no.blocked {
			if y := try(no.Move, -1); y != nil {
				better = append(better, *y)
				continue
			}
		}
		still = append(still, no)
	}
	return better, still
}

// roomiest finds the shift of the trigger in one of the windows that leaves the
// housing the most room, up to SnugDeg; sum is the clockwise turn of housing
// and trigger together that the timing takes. Of shifts with the same room it
// takes the one nearest to from.
func (d *Distributor) roomiest(from, sum float64, stretches, windows [][2]float64) (shift, room float64, ok bool) {
	s := float64(d.Rotation)
	room = -1
	for _, f := range stretches {
		for _, turn := range [3]float64{sum, sum - 360, sum + 360} {
			for _, win := range windows {
				low, high := math.Max(turn-f[1], win[0]), math.Min(turn-f[0], win[1])
				if low > high {
					continue
				}
				for _, x := range [5]float64{from, low, high, turn - f[1] + SnugDeg, turn - f[0] - SnugDeg} {
					x = math.Max(low, math.Min(high, x))
					left := math.Min(math.Min(turn-x-f[0], f[1]-(turn-x)), SnugDeg)
					nearer := math.Abs(x-from) - math.Abs(shift-from)
					if !ok || left > room+touch || left > room-touch && (nearer < -touch || nearer < touch && s*x < s*shift-touch) {
						shift, room, ok = x, left, true
					}
				}
			}
		}
	}
	return shift, room, ok
}

// windowStep is how finely the trigger's range is looked through for where the
// register is good; a narrower window may be overlooked, degrees.
const windowStep = 0.25

// windows are the stretches of the trigger's range in which the register is no
// worse than most; at is one place in them.
func (d *Distributor) windows(at float64, w Wish, most RegisterVerdict) [][2]float64 {
	good := func(x float64) bool {
		b := d.Apply(Move{Trigger: x})
		return b.Register(w.SpareKV, w.KVPerMM, w.ScatterDeg).Verdict <= most
	}
	// edge closes in on where good goes over into bad.
	edge := func(in, out float64) float64 {
		for range 30 {
			if mid := (in + out) / 2; good(mid) {
				in = mid
			} else {
				out = mid
			}
		}
		return in
	}
	low, high := d.TriggerRange[0], d.TriggerRange[1]
	n := math.Ceil(math.Min((high-low)/windowStep, 2000))
	if !(n >= 1) {
		return [][2]float64{{at, at}}
	}
	place := func(i float64) float64 { return math.Min(low+(high-low)*i/n, high) }
	var list [][2]float64
	was := false
	for i := 0.0; i <= n; i++ {
		x, is := place(i), good(place(i))
		switch {
		case is && !was:
			start := x
			if i > 0 {
				start = edge(x, place(i-1))
			}
			list = append(list, [2]float64{start, x})
		case !is && was:
			list[len(list)-1][1] = edge(place(i-1), x)
		case is:
			list[len(list)-1][1] = x
		}
		was = is
	}
	if len(list) == 0 {
		return [][2]float64{{at, at}} // narrower than a step
	}
	return list
}
