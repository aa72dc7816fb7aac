package measure

import (
	"math"

	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/twin"
	"dwellwright/units"
)

// timingEntries are the readings of timing and rotor.
func timingEntries() []entry {
	light := how{Timing, "light", 1, "RTC", NeedsRunning}
	window := how{Timing, "window", 3, "HR", NeedsRunning}
	hand := how{Timing, "eyes", 1, "", NeedsKey}
	bench := how{Timing, "bench", 2, "", NeedsNothing}
	return []entry{
		light.reads("timing_idle", "timing at hot idle, hose off", hotIdle, twin.TimingLight, "damper", "", 6,
			"the car's own figure within 2 degrees [factory manuals]"),
		hand.figure("timing_static", "timing at rest, with a lamp", keyOff, units.CrankAngle, "test lamp at the marks: 2 degrees", parts(0, 0, 2),
			"lamp on the coil's switched terminal; crank turned by hand, plugs out, until it changes, backlash taken up", 10,
			"the car's own figure", func(v *visit) float64 {
				if v.c.Switch.NeverOpens() {
					return nan // the lamp never changes
				}
				return v.lightAt(0)
			}),
		light.figure("timing_scatter", "dance of the timing mark either way at idle", hotIdle, units.CrankAngle, "timing light, by eye: 0.7 degrees", parts(0, 0, 0.7),
			"timing marks, steady idle", 2, "1 to 2 degrees [common practice]; more is bushes, drive or chain",
			func(v *visit) float64 { return 2 * math.Abs(v.c.Distributor.Scatter.X) }),
		light.figure("timing_hose", "change of the timing at idle as the hose is put on", hotIdle, units.CrankAngle, "timing light: 1 degree", parts(0, 0, 1),
			"timing marks, hose off and then on", 3, "none with a ported hose, all of the can with a manifold one [US Army TM 9-8000]",
			func(v *visit) float64 { return 2 * v.canSwing() }).unless(hasCan),
		window.reads("rotor_phase", "rotor past its tower at the spark, hose off", hotIdle, twin.WindowedCap, "rotor_tip", "", 8,
			"tip and electrode overlap [owners' and club practice]"),
		window.reads("rotor_phase_full", "rotor past its tower at the spark, can drawn all the way", hotIdle, twin.WindowedCap, "rotor_tip_full_vacuum", "", 8,
			"tip and electrode overlap still").unless(hasCan),
		bench.figure("side_play", "side play of the distributor shaft", keyOff, units.Length, "dial gauge: 0.01 mm", parts(0.05, 0, 0.01e-3),
			"dial gauge at the cam, pulled each way with 2 N, added", 8, "0.02 to 0.07 mm new, 0.15 mm at most [common practice; method of US Army TM 5-4210-230-14&P-1]",
			func(v *visit) float64 { return v.c.Distributor.SidePlay.X }),
		bench.figure("end_play", "end play of the distributor shaft", keyOff, units.Length, "dial gauge: 0.02 mm", parts(0.05, 0, 0.02e-3),
			"dial gauge on the shaft's end", 5, "0.1 to 0.9 mm by its design [factory figures]", func(v *visit) float64 { return v.c.Distributor.EndPlay.X }),
		how{Timing, "cap_off", 2, "", NeedsNothing}.reads("rotor_engagement", "length of shaft in the rotor's bore", keyOff, twin.Caliper, "rotor_engagement", "", 4,
			"what the rotor's maker wants, 8 mm and more [an estimate]"),
	}
}

// advanceEntries are the readings of the advance.
func advanceEntries() []entry {
	light := how{Advance, "light", 2, "RTC", NeedsRunning}
	pump := how{Advance, "pump", 1, "R", NeedsRunning}
	gauge := how{Advance, "gauge", 1, "R", NeedsRunning}
	var list []entry
	for _, at := range []struct {
		id, name string
		rpm      float64
	}{{"1000", "1000 rpm", 1000}, {"1500", "1500 rpm", 1500}, {"2000", "2000 rpm", 2000}, {"2500", "2500 rpm", 2500}, {"3500", "3500 rpm", 3500}} {
		list = append(list, light.figure("timing_"+at.id, "timing at "+at.name+" going up, hose off", cruise, units.CrankAngle, "timing light: 1.5 degrees, the speed's own error with it", parts(0, 0, 1.5),
			"timing marks, taped damper or a light that dials back", 3, "the car's own curve within 2 degrees [factory manuals, common practice]",
			func(v *visit) float64 { return v.goingUp(at.rpm) }).running(at.name+", hot, hose off and plugged, speed rising"))
	}
	for _, at := range []struct {
		id, name string
		rpm      float64
	}{{"1500", "1500 rpm", 1500}, {"2500", "2500 rpm", 2500}} {
		list = append(list, light.figure("timing_"+at.id+"_down", "timing at "+at.name+" coming down, hose off", cruise, units.CrankAngle, "timing light: 1.5 degrees, the speed's own error with it", parts(0, 0, 1.5),
			"timing marks, speed let down slowly from 3500 rpm", 3, "within 2 degrees of that going up [common practice]",
			func(v *visit) float64 { return v.comingDown(at.rpm) }).running(at.name+", hot, hose off and plugged, speed falling"))
	}
	return append(list,
		pump.figure("can_travel", "advance that the can gives, pumped", hotIdle, units.CrankAngle, "hand pump and timing light: 1.5 degrees", parts(0, 0, 1.5),
			"hand pump on the can at 16 inHg, timing marks; with the engine stopped, twice what the plate turns", 6, "10 to 20 degrees of the crank [common practice]",
			func(v *visit) float64 { return 2 * orZero(twin.Can(v.c).At(pumpPa).Mid) }).unless(hasCan),
		pump.figure("can_starts", "vacuum at which the can begins to pull", hotIdle, units.Vacuum, "hand pump: 1 inHg", parts(0, 0, 3386),
			"hand pump on the can, pumped slowly until the plate moves", 4, "4 to 8 inHg, 14 to 27 kPa [common practice]",
			func(v *visit) float64 {
				if v.c.Advance.Source == car.NoVacuum || v.c.Advance.Travel.X <= 0 {
					return nan
				}
				return v.c.Advance.Start.X
			}).unless(hasCan),
		gauge.figure("manifold_vacuum", "manifold's vacuum at hot idle", hotIdle, units.Vacuum, "vacuum gauge: 0.5 inHg", parts(0, 0, 1700),
			"vacuum gauge on the manifold", 5, "17 to 22 inHg, 58 to 75 kPa, less 1 inHg for each 300 m of height [US Army subcourse OD1001]",
			func(v *visit) float64 { return advance.Ambient(v.c.Advance.Altitude.X) - v.k.Manifold.X }),
		gauge.figure("hose_vacuum", "vacuum in the can's hose at hot idle", hotIdle, units.Vacuum, "vacuum gauge: 0.5 inHg", parts(0, 0, 1700),
			"vacuum gauge on the hose, off the can", 4, "none where it is ported, the manifold's where it is not [US Army TM 9-8000]",
			func(v *visit) float64 {
				return advance.Depression(twin.Source(v.c), advance.Ambient(v.c.Advance.Altitude.X), v.k.Manifold.X, 0)
			}).unless(hasCan),
	)
}

func (e entry) running(words string) entry {
	e.Engine = words
	return e
}

// goingUp is the timing with the speed rising: weights lag by their friction.
func (v *visit) goingUp(rpm float64) float64 {
	p := v.place()
	return atMark(p.light(p.weights(rpm).Rising))
}

// comingDown is the timing with the speed falling.
func (v *visit) comingDown(rpm float64) float64 {
	p := v.place()
	return atMark(p.light(p.weights(rpm).Falling))
}
