package measure

import (
	"math"

	"dwellwright/car"
)

// Timing that engines stand, one standard deviation with each.
const (
	pingTotal, pingSD     = 40, 2.5 // crank degrees at full load that an engine pings with [30 to 38 is common, common practice; an estimate]
	pingOver              = 6       // crank degrees over a curve that is wanted or known as safe [an estimate]
	pingMid               = 30      // crank degrees at 1500 rpm
	pingLight, pingLights = 58, 3   // with the can's share, at a light throttle [45 to 55 is common; from memory]
	dullBy, dullSD        = 8, 2    // crank degrees late that an owner feels [an estimate]
	popsBy, popsSD        = 12, 3   // crank degrees late that pops while coasting [an estimate]
	usualAllIn            = 30      // crank degrees all in where nothing is said, the least that is common
)

// pingSpeeds are where an engine is asked for its timing at full load, rpm.
var pingSpeeds = [...]float64{1500, 2000, 2500, 3000, 3500}

// margins of the timing over speed against what the car's file wants or what
// is common: how far it is over what pings, and how far it is late. off is by
// how much the plugs fire earlier than a light shows.
func (v *visit) margins(f *facts, off float64) {
	p := v.place()
	f.early, f.late = math.Inf(-1), 0
	for _, rpm := range pingSpeeds {
		now := p.light(p.weights(rpm).Mid) + off
		f.early = math.Max(f.early, now-v.mostAt(rpm))
		if rpm >= 2500 {
			f.late = math.Max(f.late, v.leastAt(rpm)-now)
		}
	}
}

// mostAt is the timing over which the engine pings at full load.
func (v *visit) mostAt(rpm float64) float64 {
	a := &v.c.Advance
	most := pingMid + (pingTotal-pingMid)*math.Min(math.Max((rpm-1500)/1500, 0), 1)
	if w, ok := wantedAt(a.Wanted, rpm); ok {
		most = w + pingOver
	}
	if a.SafeMost.Origin != car.Assumed {
		most = math.Min(most, a.SafeMost.X+pingSD)
	}
	return most
}

// leastAt is the timing that the engine should have at least.
func (v *visit) leastAt(rpm float64) float64 {
	if w, ok := wantedAt(v.c.Advance.Wanted, rpm); ok {
		return w
	}
	return usualAllIn * math.Min(rpm/3000, 1)
}

// wantedAt is a curve's timing at a speed, straight between its points.
func wantedAt(list []car.CurvePoint, rpm float64) (float64, bool) {
	for i := range list {
		switch p := &list[i]; {
		case p.RPM.X == rpm:
			return p.Advance.X, true
		case p.RPM.X > rpm:
			if i == 0 {
				return 0, false
			}
			q := &list[i-1]
			return q.Advance.X + (p.Advance.X-q.Advance.X)*(rpm-q.RPM.X)/(p.RPM.X-q.RPM.X), true
		}
	}
	if n := len(list); n > 0 {
		return list[n-1].Advance.X, true // all in
	}
	return 0, false
}

// driveEntries are what the owner says of the road.
func driveEntries() []entry {
	ask := how{Owner, "ask", 1, "", NeedsNothing}
	fast := [states]depth{topSpeed: works, cruise: geometry | firingOf | network}
	return []entry{
		ask.seen("misses_hot", "misses when hot, not when cold", "asked", "cruise, hot, and cold", 1, "it does not",
			[states]depth{cruise: works, coldFast: works}, func(f *[states]facts) float64 {
				return owner(misses(&f[cruise]) * (1 - misses(&f[coldFast])))
			}),
		ask.seen("misses_speed", "misses at high speed", "asked: above which speed?", "top speed", 1, "it does not",
			[states]depth{topSpeed: works}, func(f *[states]facts) float64 { return owner(misses(&f[topSpeed])) }),
		ask.seen("misses_load", "misses under load, not at an even throttle", "asked: uphill?", "cruise, throttle opened", 1, "it does not",
			[states]depth{cruise: works}, func(f *[states]facts) float64 {
				c := &f[cruise]
				return owner(c.alive * notices(c.snapped) * (1 - notices(c.right)))
			}),
		ask.seen("no_pull_speed", "no pull at high speed", "asked", "top speed", 1, "it pulls",
			fast, func(f *[states]facts) float64 {
				return owner(either(misses(&f[topSpeed]), 1-f[topSpeed].alive, over(f[cruise].late, dullBy, dullSD)))
			}),
		ask.seen("dull_hot", "dull everywhere, runs hot", "asked", "cruise", 1, "it does not",
			[states]depth{cruise: geometry, lampsOff: geometry}, func(f *[states]facts) float64 {
				return owner(over(math.Max(f[cruise].late, 0), dullBy+2, dullSD+1))
			}),
		ask.seen("pings_load", "pings under load", "asked: uphill, in top gear?", "1500 to 3500 rpm, throttle open", 1, "it does not, on the fuel it is set for",
			[states]depth{cruise: geometry}, func(f *[states]facts) float64 { return owner(over(f[cruise].early, 0, pingSD)) }),
		ask.seen("pings_light", "pings at a light throttle only", "asked; stops with the can's hose off?", "cruise", 1, "it does not",
			[states]depth{cruise: geometry}, func(f *[states]facts) float64 {
				c := &f[cruise]
				return owner(over(c.total, pingLight, pingLights) * under(c.early, 0, pingSD))
			}).unless(hasCan),
		ask.seen("pops_coasting", "pops in the exhaust while coasting", "asked", "cruise, throttle shut", 1, "it does not",
			[states]depth{cruise: works}, func(f *[states]facts) float64 {
				c := &f[cruise]
				return owner(either(over(c.late, popsBy, popsSD), 0.5*misses(c)))
			}),
	}
}
