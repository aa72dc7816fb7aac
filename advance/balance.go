package advance

import (
	"math"
	"slices"
	"sort"
)

// Band is one quantity three ways: without friction, as the speed (or the
// depression) rises, and as it falls back from full advance.
type Band struct{ Mid, Rising, Falling float64 }

// nowhere is the answer for a mechanism or a speed that is not sensible.
var nowhere = Band{math.NaN(), math.NaN(), math.NaN()}

// At is the centrifugal advance (distributor degrees) at a distributor speed
// (rpm, 0 and up). It is NaN for a negative speed or where Validate fails.
//
// Rising follows the speed up from standstill, Falling follows it down from
// the stop. Where the mechanism snaps (its pull grows faster than its springs)
// each stays on its own branch; Mid is then the rising one without friction.
// A snap is taken as damped: no weight flies past a place where it could rest.
func (m Mechanism) At(distRPM float64) Band {
	return m.Curve([]float64{distRPM})[0]
}

// Curve is At for many speeds, faster than one by one.
func (m Mechanism) Curve(distRPM []float64) []Band {
	out := make([]Band, len(distRPM))
	if m.Validate() != nil {
		for i := range out {
			out[i] = nowhere
		}
		return out
	}
	b := m.balance()
	for i, rpm := range distRPM {
		out[i] = b.at(rpm)
	}
	return out
}

// balance holds w^2 of balance along the swing, cut into cells at whose joints
// the springs take up.
//
// With Q(psi) = pull of the weights by w^2 and S(psi) = the springs' torque,
// the weights start outwards when w^2 Q > S + friction and inwards when
// w^2 Q < S - friction. So on rising speed they stand at the first psi where
// w^2 <= (S+friction)/Q, on falling speed at the last where
// w^2 >= (S-friction)/Q: a running maximum from the left and a running minimum
// from the right make both a search in a sorted list.
type balance struct {
	m     Mechanism
	psi   []float64 // joints of cells; a joint where a spring takes up stands twice
	rise  []float64 // running maximum of (S+friction)/Q
	mid   []float64 // the same without friction
	fall  []float64 // running minimum from the right of (S-friction)/Q
	loose [][]bool  // cell right of joint i: springs that hang loose
}

const cellsPerStretch = 48

func (m Mechanism) balance() *balance {
	end := m.swing(m.StopDeg)
	cuts := []float64{0, end}
	for _, s := range m.Springs {
		if at, ok := m.takesUp(s, end); ok && at > 0 && at < end {
			cuts = append(cuts, at)
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	b := &balance{m: m}
	var low, mid, high []float64
	add := func(psi float64, loose []bool) {
		q, s := b.forces(psi, loose)
		f := m.FrictionNm
		b.psi = append(b.psi, psi)
		b.loose = append(b.loose, loose)
		high = append(high, (s+f)/q)
		mid = append(mid, s/q)
		low = append(low, (s-f)/q)
	}
	for c := 1; c < len(cuts); c++ {
		from, to := cuts[c-1], cuts[c]
		loose := make([]bool, len(m.Springs))
		for i, s := range m.Springs {
			ext, _ := m.stretch(s, (from+to)/2)
			loose[i] = s.SlackM > 0 && ext <= s.SlackM
		}
		for k := range cellsPerStretch + 1 {
			add(from+(to-from)*float64(k)/cellsPerStretch, loose)
		}
	}
	for i := 1; i < len(high); i++ {
		high[i] = max(high[i], high[i-1])
		mid[i] = max(mid[i], mid[i-1])
	}
	for i := len(low) - 2; i >= 0; i-- {
		low[i] = min(low[i], low[i+1])
	}
	b.rise, b.mid, b.fall = high, mid, low
	return b
}

// forces is the weights' pull by w^2 (kg m^2) and the springs' torque (N m) at
// a swing, with the loose springs left out.
func (b *balance) forces(psi float64, loose []bool) (pull, torque float64) {
	for i, s := range b.m.Springs {
		if loose[i] {
			continue
		}
		ext, lever := b.m.stretch(s, psi)
		torque += (s.PreloadN + s.RateNPerM*max(0, ext-s.SlackM)) * lever
	}
	return b.m.Weights.pull(psi), torque
}

func (b *balance) at(rpm float64) Band {
	if !(rpm >= 0) {
		return nowhere
	}
	w2 := speedSquared(rpm)
	return Band{
		Mid:     b.outwards(b.mid, w2, 0),
		Rising:  b.outwards(b.rise, w2, b.m.FrictionNm),
		Falling: b.inwards(w2),
	}
}

// outwards is the advance at the first swing where w2 no longer beats springs
// and friction.
func (b *balance) outwards(top []float64, w2, friction float64) float64 {
	i := sort.Search(len(top), func(i int) bool { return top[i] >= w2 })
	switch i {
	case 0:
		return 0
	case len(top):
		return b.m.StopDeg
	}
	loose := b.loose[i]
	return b.bisect(i-1, i, func(psi float64) bool {
		q, s := b.forces(psi, loose)
		return (s+friction)/q >= w2
	})
}

// inwards is the advance at the last swing where the springs, less friction,
// do not beat w2.
func (b *balance) inwards(w2 float64) float64 {
	i := sort.Search(len(b.fall), func(i int) bool { return b.fall[i] > w2 })
	switch i {
	case 0:
		return 0
	case len(b.fall):
		return b.m.StopDeg
	}
	loose := b.loose[i-1]
	return b.bisect(i-1, i, func(psi float64) bool {
		q, s := b.forces(psi, loose)
		return (s-b.m.FrictionNm)/q > w2
	})
}

// bisect is the advance where beyond turns true between joints i and j.
func (b *balance) bisect(i, j int, beyond func(psi float64) bool) float64 {
	lo, hi := b.psi[i], b.psi[j]
	if lo == hi {
		return b.m.advance(lo)
	}
	for range 26 {
		mid := (lo + hi) / 2
		if beyond(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return min(b.m.advance((lo+hi)/2), b.m.StopDeg)
}

// Home reports whether the weights rest at their inner stops at a distributor
// speed (rpm), friction left out and the speed come up from standstill: At
// would give a Mid of 0. It costs a hundredth of it. It is false where
// Validate fails.
func (m Mechanism) Home(distRPM float64) bool {
	if !(distRPM >= 0) || m.Validate() != nil {
		return false
	}
	loose := make([]bool, len(m.Springs))
	for i, s := range m.Springs {
		loose[i] = s.SlackM > 0
	}
	b := balance{m: m}
	pull, torque := b.forces(0, loose)
	return speedSquared(distRPM)*pull <= torque
}
