package measure

import (
	"math"
	"slices"

	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/twin"
)

// lightSpeeds are those at which the timing is looked at, rpm: the readings'
// and those at which an engine is asked for its timing at full load.
var lightSpeeds = [...]float64{0, 1000, 1500, 2000, 2500, 3000, 3500}

const idleStep = 100.0 // rpm over which the advance's steepness at idle is taken

// A spark further than this from its cylinder's top lights nothing of use,
// crank degrees [from memory].
const outOfTurn = 70.0

// lightAt is what a timing light shows at an engine speed, hose off.
func (v *visit) lightAt(rpm float64) float64 {
	p := v.place()
	return atMark(p.light(p.weights(rpm).Mid))
}

// canSwing is how far the can has pulled the plate in this state, distributor
// degrees. The throttle of a ported source is at its stop at idle and while
// cranking, and far enough open at speed.
func (v *visit) canSwing() float64 {
	if v.c.Advance.Source == car.NoVacuum {
		return 0
	}
	throttle := 1.0
	if v.k.Engine != car.Running || twin.Idling(v.c, v.k) {
		throttle = 0
	}
	p := advance.Depression(twin.Source(v.c), advance.Ambient(v.c.Advance.Altitude.X), v.k.Manifold.X, throttle)
	return orZero(twin.Can(v.c).At(p).Mid)
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// ofGeometry is where sparks go and when.
func (v *visit) ofGeometry(f *facts) {
	p := v.place()
	rpm := v.k.Speed.X
	now := p.weights(rpm).Mid
	if v.s == lampsOff {
		f.steep = 2 * (p.weights(rpm+idleStep).Mid - now)
	}
	swing := v.canSwing()
	seen := p.light(now) + 2*swing
	f.total = seen + v.unseen(seen)
	f.timing = f.total - 2*swing
	f.scatter = 2 * math.Abs(v.c.Distributor.Scatter.X)
	if !p.sound {
		return
	}
	v.rightPlace(f, p, now, swing, f.total-seen)
	if v.s == cruise {
		v.margins(f, f.total-seen)
	}
}

// unseen is by how much the plugs fire earlier than a light shows, crank
// degrees. What a change does to the condition's advance is what it does to
// the plugs; what it does to the timing seen is what a light shows of it, and
// a damper whose ring has crept shows what is not. Leads put in other towers
// change both, and are followed tower by tower instead.
func (v *visit) unseen(seen float64) float64 {
	if !v.changed || !slices.Equal(v.c.Distributor.Leads, v.b.drawn.Distributor.Leads) {
		return 0
	}
	p := v.b.drawnPlace()
	was := p.light(p.weights(v.before.rpm).Mid) + 2*v.before.swing
	return was + v.k.Advance.X - v.before.advance - seen
}

// rightPlace is the share of sparks that strike in the right cylinder, and
// what the first start is like with all of them counted.
func (v *visit) rightPlace(f *facts, p *place, weights, swing, off float64) {
	turn := p.swung(swing)
	n := float64(len(turn.fired))
	if n == 0 {
		return
	}
	loaded := v.s == cruise || v.s == topSpeed
	pitch := 720 / n
	sd := math.Max(math.Abs(v.c.Distributor.Scatter.X)/1.96, 0.2)
	f.right, f.snapped = 0, 0
	starting := v.k.Engine == car.Cranking
	if starting {
		f.chances = [6]float64{}
	}
	for i := range turn.fired {
		x := &turn.fired[i]
		early := math.Remainder(x.Advance+2*weights+off, 720)
		if x.Cylinder == 1 {
			f.mark = atMark(x.Advance + 2*(weights-swing))
		}
		own := 1.0
		if math.Abs(math.Remainder(early-f.total, 720)) > pitch/2 || math.Abs(early) > outOfTurn {
			own = 0
		}
		if own > 0 {
			c := p.crossing(x.Tower, loaded)
			own = math.Max(below((c.past-x.Phase)/sd)-below((c.back-x.Phase)/sd), 0)
			more := turn.extra[i] * 1e3 * distributor.UsualKVPerMM * 1e3
			f.right += own * strikes(f.available, f.asked+more) / n
			f.snapped += own * strikes(f.available, f.snap+more) / n
		}
		if starting {
			for j, chance := range v.b.first(early, f.scatter) {
				f.chances[j] += chance / n
			}
		}
	}
}

// start is the last first start worked out.
type start struct {
	advance, scatter float64
	chances          [6]float64
}

// first is what a first start with a timing is like.
func (b *Bench) first(advance, scatter float64) [6]float64 {
	if b.started.advance != advance || b.started.scatter != scatter {
		s := distributor.FirstStart(advance, scatter, 0)
		b.started = start{advance: advance, scatter: scatter}
		copy(b.started.chances[:], s.Chances[:])
	}
	return b.started.chances
}
