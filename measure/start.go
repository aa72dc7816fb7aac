package measure

import (
	"math"

	"dwellwright/distributor"
)

// What an engine makes of its sparks. Where physics ends, these are estimates,
// one standard deviation with each.
const (
	startShare, startShareSD = 0.5, 0.12 // share of sparks in the right place with which an engine still starts
	quickShare, quickShareSD = 0.8, 0.1  // with which it starts at once
	runShare, runShareSD     = 0.6, 0.1  // with which it keeps running
	crankLeast, crankSD      = 0.4, 0.1  // cranking speed over the rated one with which it starts
	slowCrank, slowCrankSD   = 0.72, 0.1 // below which the owner calls it slow
	lateStart                = 0.85      // share of starts that are in time with timing a little late
	hardStart                = 0.5       // with timing hard to start on
	lampPower                = 3.4       // a lamp's light goes as this power of its volts [handbook of incandescent lamps]
	ownerLapse               = 0.02      // share of owners who report what is not so, an estimate
	ownerTells               = 0.9       // share who report what is so, an estimate
)

// works is how far a state is worked out for its sparks.
const works = network | firingOf | geometry

// starts is the chance that the engine starts while it is cranked.
func starts(f *facts) float64 {
	return f.alive * below((f.right-startShare)/startShareSD) * inTime(f) * over(f.cranks, crankLeast, crankSD)
}

// startsAtOnce is the chance that it does so within a few turns.
func startsAtOnce(f *facts) float64 {
	return f.alive * below((f.right-quickShare)/quickShareSD) * inTime(f) * over(f.cranks, slowCrank, slowCrankSD)
}

// inTime is what the timing leaves of it.
func inTime(f *facts) float64 {
	return f.chances[distributor.StartsWell] + lateStart*f.chances[distributor.StartsLate] + hardStart*f.chances[distributor.HardToStart]
}

// runs is the chance that the engine keeps running in a state.
func runs(f *facts) float64 { return f.alive * below((f.right-runShare)/runShareSD) }

// sparks is the chance that there is any spark at a plug.
func sparks(f *facts) float64 { return f.alive * strikes(f.available, f.asked) }

func owner(p float64) float64 { return told(p, ownerTells, ownerLapse) }

// startEntries are what the owner says of starting.
func startEntries() []entry {
	ask := how{Owner, "ask", 1, "", NeedsNothing}
	crank := how{Owner, "ask", 1, "RW", NeedsCrank}
	both := [states]depth{coolCrank: works, coldFast: works}
	cold := [states]depth{coolCrank: works}
	freezing := [states]depth{coldCrank: works}
	hot := [states]depth{hotRestart: works}
	return []entry{
		crank.seen("no_spark_crank", "turns over, and there is no spark at the plugs", "asked, or a tester on a plug lead", "cranking, engine cold", 1, "there is a spark",
			cold, func(f *[states]facts) float64 { return owner(1 - sparks(&f[coolCrank])) }),
		ask.seen("no_start", "turns over and does not start", "asked", "cranking, engine cold", 1, "it starts",
			cold, func(f *[states]facts) float64 { return owner(1 - starts(&f[coolCrank])) }),
		ask.seen("catches_on_release", "catches only as the key is let go", "asked: what exactly happens as the key is let go?", "cranking, then key in run", 1, "it catches while cranking",
			both, func(f *[states]facts) float64 { return owner((1 - sparks(&f[coolCrank])) * runs(&f[coldFast])) }),
		ask.seen("dies_on_release", "starts, and dies as the key is let go", "asked: what exactly happens as the key is let go?", "cranking, then key in run", 1, "it keeps running",
			both, func(f *[states]facts) float64 { return owner(starts(&f[coolCrank]) * (1 - runs(&f[coldFast]))) }),
		ask.seen("hard_start_cold", "hard to start in the cold", "asked", "cranking, engine cold, a frosty day", 1, "it starts within a few turns",
			freezing, func(f *[states]facts) float64 { return owner(1 - startsAtOnce(&f[coldCrank])) }),
		ask.seen("hard_start_hot", "hard to start hot, a quarter of an hour after stopping", "asked", "cranking, engine hot", 1, "it starts within a few turns",
			hot, func(f *[states]facts) float64 { return owner(1 - startsAtOnce(&f[hotRestart])) }),
		ask.seen("hard_start_damp", "will not start in the damp, starts when dry", "asked", "cranking, engine cold", 1, "damp makes no difference",
			cold, func(f *[states]facts) float64 { return owner(starts(&f[coolCrank]) * (1 - f[coolCrank].damp)) }),
		ask.seen("slow_crank", "turns over slowly", "asked, or listened to", "cranking, engine cold", 1, "150 to 250 rpm warm [common practice]",
			cold, func(f *[states]facts) float64 { return owner(under(f[coolCrank].cranks, slowCrank, slowCrankSD)) }),
		ask.seen("lights_dim_crank", "headlamps go nearly out while cranking", "lamps on a wall", "cranking, engine hot", 2, "they dim and stay yellow",
			[states]depth{hotRestart: network, cruise: network}, func(f *[states]facts) float64 {
				return owner(dimmer(f[hotRestart].lamps, f[cruise].lamps, 0.12, 0.35))
			}),
		crank.seen("kicks_back", "kicks the starter back", "asked", "cranking, engine hot", 1, "it turns evenly",
			hot, func(f *[states]facts) float64 {
				h := &f[hotRestart]
				return owner(sparks(h) * h.chances[distributor.KicksBack])
			}),
		crank.seen("backfires_start", "bangs or spits flame through the carburettor on starting", "asked; nobody's face over the carburettor", "cranking, engine cold", 1, "it does not",
			cold, func(f *[states]facts) float64 {
				c := &f[coolCrank]
				// One spark in the wrong stroke out of many is enough.
				wrong := c.chances[distributor.Backfires] + c.chances[distributor.FiresOnOverlap]
				return owner(sparks(c) * (1 - math.Pow(1-math.Min(wrong, 1), 4)))
			}),
		ask.seen("no_power_to_coil", "the charge lamp or gauges are out with the key on", "asked, or seen", "key on, engine stopped", 1, "they come on",
			[states]depth{keyClosed: network}, func(f *[states]facts) float64 {
				k := &f[keyClosed]
				return owner(under(k.out/math.Max(k.battery, 1e-3), 0.5, 0.15))
			}),
	}
}

// dimmer is the chance that a lamp's light at some volts is noticed to be under
// a share of what it is at others. Light goes as the power 3.4 of volts.
func dimmer(volts, usual, share, spread float64) float64 {
	if !(usual > 0) {
		return nan
	}
	return under(lampPower*math.Log(math.Max(volts, 1e-3)/usual), math.Log(share), spread)
}
