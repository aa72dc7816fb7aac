package measure

import (
	"math"

	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/twin"
	"dwellwright/units"
)

// Figures that looks turn on.
const (
	tester13mmV  = 15e3  // V that a tester's gap of 13 mm asks [needle gaps in air, some 1.1 to 1.2 kV a millimetre; from memory]
	tester6mmV   = 7.5e3 // V of 6 mm
	testerShare  = 0.1   // one standard deviation of that as a share [from memory]
	burntOhms    = 0.15  // ohm from which a contact looks burnt or oiled [points 0.1 V at 4 A are 0.025 ohm good; an estimate]
	arcJ         = 3e-3  // J at each break from which the arc at the points is plainly seen, an estimate
	whenSo       = 0.9   // share of what is so that a look finds, an estimate
	whenNot      = 0.03  // share of what is not so that a look still reports, an estimate
	reversalSees = 0.95  // share of reversed coils that a pencil in the gap shows, an estimate
	marksSee     = 0.9   // share of reversed coils whose marks say so, an estimate
	marksWrong   = 0.05  // share of others whose marks are for the other earth, or gone, an estimate
	glowOhms     = 10e6  // leak from which a glow or a tick is seen in the dark, an estimate
	sootOhms     = 3e6   // leak of a plug from which its insulator is seen to be fouled, an estimate
	roundWear    = 1.2   // volts over those of new electrodes from which they look round, an estimate
	airLeakPa    = 2e3   // Pa that a leak of the inlet lets in from which mist on it is heard, an estimate
	pressExp     = 1.15  // of what a gauge shows of a warm engine at cranking speed [8.5 to 1 gives 150 to 160 psi; from memory]
)

// lookEntries are what is seen with the bonnet up.
func lookEntries() []entry {
	crank := how{Look, "tester_crank", 1, "HFR", NeedsCrank}
	key := how{Look, "cap_off", 2, "", NeedsKey}
	off := how{Look, "cap_off", 1, "", NeedsNothing}
	run := how{Look, "eyes", 1, "RHC", NeedsRunning}
	plugs := how{Look, "plugs_out", 1, "T", NeedsNothing}
	return []entry{
		crank.seenHere("spark_at_tower", "a spark jumps 13 mm at the coil's tower while cranking", hotRestart, firingOf,
			"grounded tester on the coil's own tower, set to 13 mm", 4, "it jumps, blue and regular [US Army TM 5-4210-230-14&P-1]",
			func(v *visit) float64 { return jumps(v.facts.alive, v.facts.tower, tester13mmV) }),
		crank.seenHere("spark_at_lead", "a spark jumps 6 mm at a plug lead while cranking", hotRestart, firingOf|geometry,
			"grounded tester on a plug lead, set to 6 mm; two leads at least", 5, "it jumps, as at the tower", func(v *visit) float64 {
				more := 0.0
				if p := v.place(); p.sound {
					for _, x := range p.swung(0).extra {
						more += x * 1e3 * distributor.UsualKVPerMM * 1e3 / float64(v.c.Cylinders)
					}
				}
				rotor := 0.0
				if v.spark != nil {
					rotor = v.spark.Asked.RotorV
				}
				return jumps(v.facts.alive, v.facts.lead, tester6mmV+rotor+more)
			}),
		key.seenHere("trigger_switches", "the trigger switches once for every lobe as the engine is turned by hand", keyClosed, network,
			"voltmeter from the coil's switched terminal to the block, crank turned by hand; coil's lead on an earthed tester", 8, "low while conducting, high within 3 V of the supply between [data sheet of a Hall switch, common practice]",
			func(v *visit) float64 {
				if v.c.Trigger.Principle == car.Reluctance {
					return nan // too slow to be felt by the coil
				}
				// It swings where a current flows while it conducts, and is broken.
				swings := over(v.facts.coil, flowsA, flowsA/4)
				if v.c.Switch.NeverOpens() {
					swings = 0
				}
				return told(swings*v.facts.alive*under(v.c.Trigger.Gap.X, v.largestGap(), gapSD), 0.97, whenNot)
			}).unless(func(c *car.Car) string {
			if why := points(c); why != "" {
				return why
			}
			if c.Trigger.Principle == car.Reluctance {
				return "a toothed wheel and coil give nothing at the speed of a hand"
			}
			return ""
		}),
		off.seenHere("points_look_burnt", "the points look burnt, pitted or oily", keyOff, network,
			"contacts, held open, with a lens", 3, "full face, grey and clean [factory manuals]",
			func(v *visit) float64 {
				return told(below(math.Log(math.Max(v.c.Switch.On.X, 1e-6)/burntOhms)/0.6), whenSo, 0.08)
			}).unless(electronic),
		run.seenHere("points_arc", "a bright arc at the points at idle", hotIdle, firingOf, "points, cap's clip eased, in the dark; hands clear", 3, "hardly a spark to be seen [common practice]",
			func(v *visit) float64 {
				return told(below(math.Log(math.Max(v.facts.contact, 1e-9)/arcJ)/0.5), whenSo, whenNot)
			}).unless(electronic),
		off.seenHere("weights_spring_back", "the rotor, twisted the way it turns, springs back all the way", keyOff, network,
			"rotor twisted by hand and let go", 1, "it springs back, no stick [US Army TM 10-3930-644-14&P]", func(v *visit) float64 {
				return told(below(math.Log(springsOver(v.c))/0.4), 0.97, 0.05)
			}),
		off.seenHere("brush_touches", "the cap's centre brush is there, springs, and has touched the rotor", keyOff, network, "middle of the cap inside, bright spot on the rotor", 2, "it does [common practice]",
			func(v *visit) float64 { return sure(unlessSo(v.c.Cap.Breaks[car.BreakAtBrush])) }),
		off.seenHere("contacts_burnt_aside", "cap contacts or rotor tip burnt at one edge", keyOff, geometry, "inside of the cap, rotor's tip", 2, "burnt evenly and little [owners' and club practice]",
			func(v *visit) float64 { return told(aside(v.place()), 0.85, 0.05) }),
		off.seenHere("rotor_at_first_tower", "at No. 1's firing point the rotor stands at No. 1's tower", keyOff, geometry, "No. 1 on compression, marks at the timing; cap's towers traced to their leads", 8,
			"it does", func(v *visit) float64 { return told(v.atFirst(), 0.98, whenNot) }),
		how{Look, "light", 1, "RW", NeedsCrank}.seenHere("mark_in_sight", "the timing mark is near its pointer under the light while cranking", hotRestart, firingOf|geometry, "timing light on No. 1's lead, marks chalked", 4,
			"it is, within some 25 degrees", func(v *visit) float64 { return told(under(math.Abs(v.facts.mark-8), 25, 5), 0.98, whenNot) }),
		off.seenHere("leads_in_order", "the leads sit in the firing order", keyOff, geometry, "leads traced from tower to plug in the way the rotor turns", 5, "they do; the order proven, not by the book alone",
			func(v *visit) float64 { return told(inOrder(v.c), 0.98, whenNot) }),
		run.seenHere("coil_reversed", "a pencil's lead held in the gap flares on the plug's side", hotIdle, network, "grounded tester, pencil's lead in its gap", 3, "it flares on the earthed side: the plug's centre is negative [from memory]",
			func(v *visit) float64 {
				if v.c.Coil.Reversed {
					return reversalSees
				}
				return 1 - reversalSees
			}),
		how{Look, "eyes", 1, "", NeedsNothing}.seenHere("coil_marks_crossed", "the coil's two wires are crossed by its marks", keyOff, network,
			"marks of the coil's two small terminals, wires traced", 2, "the one marked for the points, distributor or the earthed side goes to the distributor [common practice]; marks may be for the other earth",
			func(v *visit) float64 {
				if v.c.Coil.Reversed {
					return marksSee
				}
				return marksWrong
			}),
		crank.seenHere("glow_in_dark", "a glow or a tick at cap, leads or coil's tower in the dark", hotRestart, firingOf,
			"in the dark, a tester wide open on one plug lead; hands clear", 3, "none [common practice]",
			func(v *visit) float64 {
				leak := v.c.Cap.LeakThrough(car.LeakAtCap, car.LeakAtKingLead, car.LeakAtLeads, car.LeakAtCoilTower)
				if !(leak > 0) || !(v.facts.available > 0) {
					return whenNot
				}
				return told(v.facts.alive*below(math.Log(glowOhms/leak)), 0.8, whenNot)
			}),
		plugs.seenHere("plugs_look_fouled", "the plugs' insulators are fouled: soot, oil or wet", keyOff, network,
			"every plug, in the order of its cylinders", 3, "dry, tan or grey-brown [factory manuals]",
			func(v *visit) float64 {
				leak := v.c.Cap.LeakThrough(car.LeakAtPlugs)
				if !(leak > 0) {
					return whenNot
				}
				return told(below(math.Log(sootOhms/leak)), 0.85, 0.08)
			}),
		plugs.seenHere("plugs_look_round", "the plugs' electrodes are worn round", keyOff, network,
			"edges of the centre electrodes, with a lens", 3, "edges sharp [common practice]",
			func(v *visit) float64 {
				return told(below(math.Log(math.Max(v.c.Plugs.Wear.X, 0.1)/roundWear)/0.08), whenSo, 0.08)
			}),
		run.seenHere("idle_answers_mist", "the idle changes as water is misted on the inlet's joints", lampsOff, network,
			"water, in a fine mist: manifold's joints, carburettor's foot and spindle, hoses; away from cap and leads; nothing that burns", 5, "it does not [common practice]",
			func(v *visit) float64 {
				in := v.k.Manifold.X - v.b.drawn.Conditions[conditionOf(v.b.drawn, v.s.from())].Manifold.X
				return told(below(math.Log(math.Max(in, 1)/airLeakPa)/0.5), 0.85, 0.04)
			}),
		how{Look, "plugs_out", 1, "RFWHT", NeedsCrank}.figure("compression", "compression, the middle of all cylinders", keyOff, units.GaugePressure, "compression gauge: 10 %, what the camshaft does to it with it", parts(0.10, 0, 0),
			"gauge in each plug hole in turn, all plugs out, coil's feed wire off", 12, "the book's figure, and the lowest within a tenth of the highest [factory manuals]",
			func(v *visit) float64 {
				return advance.Ambient(v.c.Advance.Altitude.X) * (math.Pow(v.c.Engine.Compression.X, pressExp) - 1)
			}).running("cranking, throttle wide open; a cold engine shows a little less"),
		how{Look, "meter", 1, "ST", NeedsKey}.seenHere("hot_joint", "a wire or joint of the ignition feed gets warm, key on for a minute", keyClosed, network,
			"the back of a hand along the feed, from key to coil and at the distributor; not the ballast", 3, "none does [common practice]",
			func(v *visit) float64 {
				return told(below(math.Log(math.Max(v.facts.legs, 1e-9)/1.5)/0.5), whenSo, whenNot)
			}),
	}
}

// jumps is the chance that a spark jumps a tester's gap.
func jumps(alive, available, gapV float64) float64 {
	if !(available > 0) {
		return 0 * alive
	}
	return alive * below(math.Log(available/gapV)/testerShare)
}

// springsOver is the torque with which the springs pull the weights home over
// the friction that holds them, a little off their rest:
//
//	Σ (preload + rate r θ) r / friction,  θ = 3 degrees
func springsOver(c *car.Car) float64 {
	m := twin.Mechanism(c)
	const swing = 3 * math.Pi / 180
	pull := 0.0
	for _, s := range m.Springs {
		if s.SlackM <= 0 {
			pull += (s.PreloadN + s.RateNPerM*s.PinRadiusM*swing) * s.PinRadiusM
		}
	}
	return math.Max(pull, 1e-9) / math.Max(m.FrictionNm, 1e-9)
}

// aside is the chance that the tip stands aside of its tower at the spark, for
// the lobe that is furthest off, by more than they overlap.
func aside(p *place) float64 {
	if !p.sound {
		return nan
	}
	return over(math.Abs(p.worst(0)), 0.75*p.d.Window(0, 0).OverlapDeg, 1.5)
}

// atFirst is the chance that the rotor stands at the tower of No. 1's lead, within
// a quarter of the way to the next, with the crank where No. 1 should fire: on its
// compression, the mark where it was before anything went wrong.
func (v *visit) atFirst() float64 {
	p := v.place()
	if !p.sound {
		return nan
	}
	at := p.d.RotorAt(atMark(v.b.drawnPlace().light(0)))
	if at.Cylinder != 1 {
		return 0
	}
	return under(math.Abs(at.Phase), 90/float64(len(p.d.Towers)), 1.5)
}

// inOrder is 1 where the leads follow the firing order, wherever they begin.
func inOrder(c *car.Car) float64 {
	leads, order := c.Distributor.Leads, c.Distributor.FiringOrder
	if len(leads) == 0 {
		return 1 // said to be the firing order
	}
	if len(leads) != len(order) {
		return nan
	}
	n := len(order)
	for shift := range n {
		same := true
		for i := range n {
			if leads[(i+shift)%n] != order[i] {
				same = false
				break
			}
		}
		if same {
			return 1
		}
	}
	return 0
}
