package measure

import "math"

// How owners notice, one standard deviation with each; estimates.
const (
	missNoticed, missSpread = 0.02, 0.8 // share of sparks that fail from which a miss is noticed, and its spread as a logarithm
	missLeast               = 1e-4      // no miss is told below
	stopsAnyhow             = 0.01      // share of cars in order whose owner has had a stop that nothing explains
	coilOver, coilOverSD    = 1.2, 0.15 // watts over what the can stands at which it is "far too hot"; 70 to 80 °C, too hot to hold, can be normal [common practice]
	coilHotC, coilHotSD     = 135, 8    // °C of the winding at which it is so whatever it takes
	runsOnBase              = 0.03      // share of cars that run on with nothing amiss in the ignition
	dimShare                = 0.6       // light that is noticed to have dimmed plainly
)

// notices is the chance that a miss is noticed of the share of sparks that
// light their own cylinder.
func notices(right float64) float64 {
	return below(math.Log(math.Max(1-right, missLeast)/missNoticed) / missSpread)
}

// misses is the chance that a miss is noticed in a state.
func misses(f *facts) float64 { return f.alive * notices(f.right) }

// runEntries are what the owner says of an engine that runs.
func runEntries() []entry {
	ask := how{Owner, "ask", 1, "", NeedsNothing}
	return []entry{
		ask.seen("dies_at_stop_lights", "dies at a stop with the lamps on, not with them off", "asked: lamps, blower, brake?", "hot idle, with every load and with none", 1, "it idles on",
			[states]depth{hotIdle: works, lampsOff: works}, func(f *[states]facts) float64 {
				return owner(runs(&f[lampsOff]) * (1 - runs(&f[hotIdle])))
			}),
		ask.seen("dies_at_idle", "dies at hot idle whatever is on", "asked", "hot idle, every load off", 1, "it idles on",
			[states]depth{lampsOff: works}, func(f *[states]facts) float64 { return owner(1 - runs(&f[lampsOff])) }),
		ask.seen("dies_hot", "runs cold, stops when hot, starts again cool", "asked: how long until it starts again?", "cold, then hot", 1, "it runs on",
			[states]depth{coldFast: works, lampsOff: works, cruise: works}, func(f *[states]facts) float64 {
				return owner(runs(&f[coldFast]) * (1 - runs(&f[lampsOff])*runs(&f[cruise])))
			}),
		ask.seen("cuts_out", "stops dead on the road and starts again as if nothing had been", "asked: gauges dead with it, or bumps?", "cruise", 1, "never",
			[states]depth{cruise: works, coolCrank: works}, func(f *[states]facts) float64 {
				return owner(either(stopsAnyhow, (1-runs(&f[cruise]))*starts(&f[coolCrank])))
			}),
		ask.seen("misses_idle", "misses at idle", "asked, or listened to at the exhaust", "hot idle, every load off", 2, "even",
			[states]depth{lampsOff: works}, func(f *[states]facts) float64 { return owner(misses(&f[lampsOff])) }),
		ask.seen("idle_hunts", "idle hunts", "asked, or listened to", "hot idle, every load off", 2, "steady",
			[states]depth{lampsOff: works}, func(f *[states]facts) float64 {
				i := &f[lampsOff]
				// Advance that comes in at idle feeds on itself; scatter shakes.
				return owner(either(over(i.steep, 3, 1), over(i.scatter, 6, 1.5), 0.5*misses(i)))
			}),
		ask.seen("lights_dim_idle", "lamps dim plainly at idle", "lamps on a wall, idle and 2000 rpm", "hot idle, every load on", 2, "alternator hardly; with a generator it is its way [common practice]",
			[states]depth{hotIdle: network, cruise: network}, func(f *[states]facts) float64 {
				return owner(dimmer(f[hotIdle].lamps, f[cruise].lamps, dimShare, 0.15))
			}),
		ask.seen("coil_too_hot", "the coil is far too hot to touch", "asked, or the back of a hand near it", "hot idle, every load on", 1, "too hot to hold can be normal [common practice]",
			[states]depth{hotIdle: network | firingOf, cruise: network | firingOf}, func(f *[states]facts) float64 {
				watts := math.Max(f[hotIdle].coilOver, f[cruise].coilOver)
				return owner(either(over(math.Log(math.Max(watts, 1e-3)), math.Log(coilOver), coilOverSD),
					over(math.Max(f[hotIdle].coilC, f[cruise].coilC), coilHotC, coilHotSD)))
			}),
		ask.seen("burns_points", "burns its points in a few hundred miles", "asked", "hot idle and cruise", 1, "12 000 miles [mechanics' columns]",
			[states]depth{hotIdle: network | firingOf, cruise: network}, func(f *[states]facts) float64 {
				i := &f[hotIdle]
				return owner(either(below(math.Log(math.Max(i.contact, 1e-9)/arcJ)/0.5), over(math.Max(i.switchLoad, f[cruise].switchLoad), 1.35, 0.1)))
			}).unless(electronic),
		ask.seen("smells_hot", "smells of hot wiring", "asked; stop, and battery off, until it is found", "key on", 1, "never",
			[states]depth{keyClosed: network}, func(f *[states]facts) float64 {
				return owner(below(math.Log(math.Max(f[keyClosed].legs, 1e-9)/5) / 0.5))
			}),
		ask.seen("runs_on", "runs on with the key off", "asked", "key off after a hot run", 1, "it stops",
			[states]depth{lampsOff: geometry}, func(f *[states]facts) float64 {
				// A late idle wants a wide throttle, and that lets it run on. How
				// much is an estimate; so is the rest, fuel and heat.
				return owner(either(runsOnBase, 0.3*under(f[lampsOff].timing, -2, 3)))
			}),
	}
}
