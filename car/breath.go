package car

import "dwellwright/units"

// breath is what a cylinder holds when its plug fires, as far as a condition
// decides it.
type breath struct {
	manifold units.Value // Pa absolute
	mixture  units.Value // °C as the inlet valve closes
	advance  units.Value // crank degrees before top dead centre
}

// outside is the air of a car that stands not far above the sea: the standard
// atmosphere of ISO 2533, give or take the weather and some 300 m of height.
var outside = about(101.325e3, 3e3)

// The breath of the built-in conditions [mem]: a starter draws hardly any
// vacuum; a hot idle 18 to 20 inHg of it, cruise 12 to 15, full throttle 1 to
// 3. The mixture is warmed by ports, valves and what the last stroke left
// behind. Timing at the crank: 4 to 12 degrees as set, 30 to 36 all in, and
// the vacuum's share on top of what has come in by cruising speed.

// breathe gives a condition the breath that goes with what is said of it, as
// far as its breath is not said itself. own is a built-in condition whose
// engine does what it usually does.
func breathe(f facts, k *Condition, own bool) {
	b := usualBreath(f, k, own)
	for _, p := range []struct {
		param *Param
		usual units.Value
	}{{&k.Manifold, b.manifold}, {&k.Charge, b.mixture}, {&k.Advance, b.advance}} {
		if p.param.Origin == Assumed {
			p.param.Value = p.usual
		}
	}
}

func usualBreath(f facts, k *Condition, own bool) breath {
	switch {
	case k.Engine >= StoppedClosed: // all has the bay's temperature
		return breath{outside, k.BayTemp.Value, exactly(0)}
	case k.Engine == Cranking:
		b := builtInByID("hot_restart").breath
		if own {
			b = builtInByID(k.ID).breath
		}
		if k.BatteryTemp.Origin != Assumed && k.ID != "hot_restart" { // it has long stood, see soak
			cold := builtInByID("cold_crank")
			b.mixture = k.BatteryTemp.Value
			b.mixture.X += cold.breath.mixture.X - cold.battery.X
			if least := cold.breath.mixture; b.mixture.PM < least.PM {
				b.mixture.PM, b.mixture.Shape = least.PM, least.Shape
			}
		}
		return b
	case own:
		return builtInByID(k.ID).breath
	}
	idle, cruise, top := builtInByID("hot_idle"), builtInByID("cruise"), builtInByID("top_speed")
	b := amid(k.Speed.X, f, idle, cruise)
	if k.Speed.X > cruise.speed(f).X {
		b = amid(k.Speed.X, f, cruise, top)
	}
	// What the right foot does is not known: twice the spread, as far as the
	// air outside allows.
	b.manifold.PM = min(2*b.manifold.PM, max(b.manifold.PM, outside.X-b.manifold.X))
	b.advance.PM *= 1.3
	return b
}

// amid is the breath at a speed between those of two conditions, and that of
// the nearer one outside them.
func amid(rpm float64, f facts, slow, fast *builtIn) breath {
	from, to := slow.speed(f).X, fast.speed(f).X
	share := min(max((rpm-from)/(to-from), 0), 1)
	mix := func(a, b units.Value) units.Value {
		return about(a.X+share*(b.X-a.X), a.PM+share*(b.PM-a.PM))
	}
	a, b := slow.breath, fast.breath
	return breath{mix(a.manifold, b.manifold), mix(a.mixture, b.mixture), mix(a.advance, b.advance)}
}
