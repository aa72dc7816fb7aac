package distributor

import (
	"fmt"
	"math"
)

const (
	// UsualKVPerMM is what a millimetre of open air more costs between rotor tip
	// and contact, about 3 kV [common practice, no source]. It is taken where 0
	// is passed.
	UsualKVPerMM = 3.0

	// NeighbourEaseKV is by how much less the plug of the neighbouring tower asks
	// than the plug whose turn it is: an estimate. The own plug, in compressed
	// charge, asks some 12 kV under load; the neighbour's is in a cylinder near
	// the start of its compression, or already burnt out, at about the pressure of
	// the air or less, and asks some 4 kV [from memory]. At a quiet idle the own
	// plug asks 8 kV and the ease is half of this.
	NeighbourEaseKV = 8.0
)

// Window is how far the rotor may be out.
type Window struct {
	OverlapDeg float64 // up to this phase, to either side, tip and contact still face each other
	JumpDeg    float64 // up to this the further air costs no more than what is spare
	Pitch      float64 // least angle between neighbouring towers
}

// Window returns how many distributor degrees the tip may be from a tower, with
// spareKV to spare over what the plug asks and kvPerMM for a millimetre of air
// (0: UsualKVPerMM). OverlapDeg is half of the tip's arc and the contact's arc
// together, each its width over its radius. JumpDeg turns
// [Distributor.ExtraGapM] round.
func (d *Distributor) Window(spareKV, kvPerMM float64) Window {
	w := Window{OverlapDeg: d.overlap(), Pitch: 360}
	for k := range d.Towers {
		if _, on := d.gaps(k); on < w.Pitch {
			w.Pitch = on
		}
	}
	radial := d.ElectrodeRadiusM - d.TipRadiusM
	path := radial + math.Max(spareKV, 0)/perMM(kvPerMM)*1e-3
	half := math.Sqrt(path*path-radial*radial) / (2 * math.Sqrt(d.TipRadiusM*d.ElectrodeRadiusM))
	w.JumpDeg = math.Min(180, w.OverlapDeg+degrees(2*math.Asin(math.Min(1, half))))
	return w
}

func perMM(kv float64) float64 {
	if kv == 0 {
		return UsualKVPerMM
	}
	return kv
}

func (d *Distributor) overlap() float64 {
	return degrees(d.TipWidthM/d.TipRadiusM+d.ElectrodeWidthM/d.ElectrodeRadiusM) / 2
}

// ExtraGapM returns the air, in metres, that a spark has to cross beyond the
// radial gap when the tip is phase degrees from the tower. While they face each
// other there is none. Beyond, with β the angle between the edges that face each
// other, the straight way between them is
//
//	√(g² + a²) − g,  a = 2·√(rt·re)·sin(β/2)
//
// with g = re − rt the radial gap: the law of cosines, exact in the plane of the
// rotor. For small β, a is the arc at the mean radius. Held at β = 180 degrees
// beyond that.
func (d *Distributor) ExtraGapM(phase float64) float64 {
	beta := math.Min(180, math.Abs(phase)-d.overlap())
	if beta <= 0 {
		return 0
	}
	g := d.ElectrodeRadiusM - d.TipRadiusM
	a := 2 * math.Sqrt(d.TipRadiusM*d.ElectrodeRadiusM) * math.Sin(radians(beta/2))
	return math.Hypot(g, a) - g
}

// crosses reports whether a spark meant for a tower goes to the neighbour that
// stands gap degrees away, the tip toward degrees on its way there (negative:
// away from it).
func (d *Distributor) crosses(toward, gap, easeM float64) bool {
	return d.ExtraGapM(math.Max(0, gap-toward))-d.ExtraGapM(toward) <= easeM
}

// CrossFire returns the phases at which the spark of a tower goes to its
// neighbours: from back (negative) down to the tower before, from past up to
// the one after. easeKV is by how much less the neighbour's plug asks, see
// [NeighbourEaseKV]. It returns zeros where the tower does not exist.
//
// The spark takes the way that asks less. Its own is kv·(g + own) + V, the
// neighbour's kv·(g + other) + V − ease, with own and other the air beyond the
// radial gap g. The neighbour wins as soon as
//
//	other − own <= ease/kv
//
// whatever the coil has to spare. Half way between towers the two are equal,
// so it always happens before that. For a tip so wide, or towers so near, that
// it happens even in the middle of the own tower, the limit lies on the other side
// of 0, at most as far as tip and contact overlap.
func (d *Distributor) CrossFire(tower int, easeKV, kvPerMM float64) (back, past float64) {
	if tower < 0 || tower >= len(d.Towers) {
		return 0, 0
	}
	easeM := easeKV / perMM(kvPerMM) * 1e-3
	before, after := d.gaps(tower)
	return -d.crossAt(before, easeM), d.crossAt(after, easeM)
}

// crossAt is how far towards a neighbour gap degrees away the tip has to be for
// its spark to cross.
func (d *Distributor) crossAt(gap, easeM float64) float64 {
	low, high := -math.Min(d.overlap(), gap/2), gap/2
	if d.crosses(low, gap, easeM) {
		return low
	}
	for high-low > 1e-11 {
		mid := low + (high-low)/2
		if mid <= low || mid >= high {
			break
		}
		if d.crosses(mid, gap, easeM) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// crossing returns the limits of CrossFire for every tower.
func (d *Distributor) crossing(easeM float64) [][2]float64 {
	n := len(d.Towers)
	out := make([][2]float64, n)
	was, at := math.NaN(), 0.0 // even towers have one gap, worked out once
	for k := range d.Towers {
		_, gap := d.gaps(k)
		if !(math.Abs(gap-was) <= touch) {
			was, at = gap, d.crossAt(gap, easeM)
		}
		out[k][1], out[place(k+1, n)][0] = at, -at
	}
	return out
}

// RegisterVerdict says how rotor and cap agree. It rises from good to bad.
type RegisterVerdict uint8

// The verdicts, good to bad.
const (
	InRegister RegisterVerdict = iota // tip and contact face each other throughout
	OnEdge                            // past that, but the further air costs no more than what is spare
	Jumps                             // it costs more than what is spare: misses, or the spark finds another way
	WrongTower                        // the neighbour's plug is the easier way: cross-fires
)

func (v RegisterVerdict) String() string {
	switch v {
	case InRegister:
		return "in register"
	case OnEdge:
		return "on the edge"
	case Jumps:
		return "jumps"
	case WrongTower:
		return "wrong tower"
	}
	return fmt.Sprintf("verdict %d", uint8(v))
}

// Register is how rotor and cap agree over the whole travel of the plate and
// the scatter of the drive, all lobes taken together. Phases are in degrees,
// positive past the tower.
type Register struct {
	Worst, Best    float64 // the phases furthest from and nearest to a tower
	AtRest, AtFull float64 // of the worst lobe, without scatter: vacuum off, and full
	OverlapLeftDeg float64 // degrees of overlap left at Worst; negative: beyond it
	ExtraGapM      float64 // air beyond the radial gap at Worst
	ExtraKV        float64 // and what it costs
	WrongTower     bool
	WrongTowerAt   float64    // the phase from which the lobe that is nearest to it cross-fires
	CrossAt        [2]float64 // the least phases, back and past, at which any tower cross-fires
	Verdict        RegisterVerdict
}

// Register returns how rotor and cap agree with the plate anywhere in its
// travel and the drive's scatter of ± scatterDeg distributor degrees, spareKV
// to spare and kvPerMM for a millimetre of air (0: UsualKVPerMM).
//
// Each lobe is held against the tower nearest in the middle of the travel;
// where a part of the travel is nearer to another tower the verdict is
// WrongTower, since half way between towers the spark has long gone to the
// other ([Distributor.CrossFire] with NeighbourEaseKV).
//
// The register is the same wherever the housing is turned to, in whichever
// towers the leads sit and whichever tooth the drive is on: H, G, c and Leads
// do not come into it. Only a shift of the trigger, of the sleeve, or of the
// rotor on its shaft changes it.
func (d *Distributor) Register(spareKV, kvPerMM, scatterDeg float64) Register {
	if d.sized() == 0 {
		return Register{Verdict: WrongTower}
	}
	w := d.Window(spareKV, kvPerMM)
	r := Register{CrossAt: [2]float64{-360, 360}, Best: 360}
	cross := d.crossing(NeighbourEaseKV / perMM(kvPerMM) * 1e-3)
	for k := range d.Towers {
		r.CrossAt[0] = math.Max(r.CrossAt[0], cross[k][0])
		r.CrossAt[1] = math.Min(r.CrossAt[1], cross[k][1])
	}
	margin := math.Inf(1) // least way left to a cross-fire
	for _, p := range d.phases(scatterDeg) {
		if p.low <= cross[p.tower][0] || p.high >= cross[p.tower][1] {
			r.WrongTower = true
		}
		if m := p.low - cross[p.tower][0]; m < margin {
			margin, r.WrongTowerAt = m, cross[p.tower][0]
		}
		if m := cross[p.tower][1] - p.high; m < margin {
			margin, r.WrongTowerAt = m, cross[p.tower][1]
		}
		for _, x := range []float64{p.low, p.high} {
			if math.Abs(x) > math.Abs(r.Worst) {
				r.Worst, r.AtRest, r.AtFull = x, p.rest, p.full
			}
		}
		if best := math.Max(p.low, math.Min(p.high, 0)); math.Abs(best) < math.Abs(r.Best) {
			r.Best = best
		}
	}
	r.OverlapLeftDeg = w.OverlapDeg - math.Abs(r.Worst)
	r.ExtraGapM = d.ExtraGapM(r.Worst)
	r.ExtraKV = r.ExtraGapM * 1e3 * perMM(kvPerMM)
	switch {
	case r.WrongTower:
		r.Verdict = WrongTower
	case math.Abs(r.Worst) <= w.OverlapDeg:
		r.Verdict = InRegister
	case math.Abs(r.Worst) <= w.JumpDeg:
		r.Verdict = OnEdge
	default: // NaN too
		r.Verdict = Jumps
	}
	return r
}

// lobePhase is the phase of one lobe over the travel of the plate.
type lobePhase struct {
	tower      int     // nearest in the middle of the travel
	rest, full float64 // vacuum off, and full
	low, high  float64 // least and most, scatter included
}

func (d *Distributor) phases(scatterDeg float64) []lobePhase {
	s := float64(d.Rotation)
	least, most := d.shiftSpan()
	full, _ := d.SensorShift(d.VacuumTravel)
	out := make([]lobePhase, len(d.Lobes))
	for j, lobe := range d.Lobes {
		mid := (least + most) / 2
		tower, phase := d.nearest(d.Trigger - s*mid - d.Cam + d.Rotor + s*lobe)
		rest := phase + mid
		out[j] = lobePhase{tower, rest, rest - full, rest - most - scatterDeg, rest - least + scatterDeg}
	}
	return out
}
