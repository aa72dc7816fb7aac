package spike

import (
	"fmt"
	"math"
	"strconv"

	"dwellwright/pulse"
)

// Words says a result in plain sentences: what happens, what the trigger sees,
// what each protection does about it, and the cautions that go with it. All
// figures are predicted; where no plus-or-minus stands they are those of the
// car's middle figures.
func Words(r *Result) []string {
	say := []string{happening(r)}
	if r.Refused != "" {
		return append(say, refusal(r.Refused))
	}
	if r.TwelveVoltLevels && r.Case.Kind != LoadOff {
		if r.Case.Kind == BatteryOff {
			say = append(say, "The standard has no levels for 6 V cars. The generator's own resistance is reckoned with 7 V; how high it goes is taken from the levels for 12 V.")
		} else {
			say = append(say, "The standard has no levels for 6 V cars: those for 12 V are applied as they are, which is harder on it than its own supply is likely to be.")
		}
	}
	where := "between the trigger's supply terminal and the breaker plate"
	if r.Points {
		where = "at the coil's feed terminal (with points there is no module to hurt)"
	}
	s := &r.Without
	say = append(say, fmt.Sprintf("Predicted %s, with nothing fitted against it: from %s it goes to %s at most and %s at least.", where, volts(s.RestV), within(s.PeakV, s.PeakPM), within(s.LowestV, s.LowestPM)))
	say = append(say, against(r, s))
	for i := range r.With {
		say = append(say, protected(r, &r.With[i]))
	}
	return append(say, cautions(r)...)
}

// happening says what the case is.
func happening(r *Result) string {
	k := &r.Case
	switch k.Kind {
	case TestPulse:
		at := map[Place]string{IgnitionLine: "on the ignition line", BatteryLive: "at the battery's live post", GeneratorOutput: "at the generator's output"}[k.At]
		battery := "battery joined"
		if k.BatteryOff {
			battery = "battery off"
		}
		line := "counted from the supply"
		if k.Pulse.Rides == pulse.OnDeadLine {
			line = "the supply cut off at the same instant"
		}
		return fmt.Sprintf("Test pulse %s (%s): %s through %s, %s long, %s, %s, %s.", k.Pulse.ID, k.Pulse.Name, signed(k.Pulse.PeakV), ohms(k.Pulse.Ohm), seconds(k.Pulse.DurationS), line, at, battery)
	case LoadOff:
		return fmt.Sprintf("Ignition line switched off with a %s on it: %.3g A in %s, and the opening contact arcs at %s.", k.Load.Name, k.Load.Amps, henries(k.Load.Henries), volts(k.Load.ArcV))
	case BatteryOff:
		if r.Refused != "" {
			return "A battery terminal comes off while the generator charges."
		}
		return fmt.Sprintf("A battery terminal comes off while the generator charges: reckoned %s above the supply through %s, %s long.", volts(r.SourceV), ohms(r.SourceOhm), seconds(r.DurationS))
	case JumpStart:
		with := "with this car's battery joined"
		if k.BatteryOff {
			with = "without this car's battery"
		}
		return fmt.Sprintf("Jump start from %s, %s, for %s.", volts(k.Level.Volts), with, seconds(k.Level.TimeS))
	case ReverseBattery:
		return fmt.Sprintf("Battery the wrong way round: %s for %s.", volts(k.Level.Volts), seconds(k.Level.TimeS))
	}
	return fmt.Sprintf("Starting profile %s: the supply falls from %s to %s for %s, then cranks at %s.", k.Profile.Level, volts(k.Profile.LineV), volts(k.Profile.DipV), seconds(k.Profile.DipS), volts(k.Profile.CrankV))
}

func refusal(r Reason) string {
	switch r {
	case NotCharging:
		return "No figures: the generator gives nothing in this condition, so there is nothing to shed. Choose a condition with the engine running fast enough to charge."
	case LineNotFed:
		return "No figures: in this condition the ignition line is not fed through its own switch, so it can't be switched off. Choose a condition with the key at run."
	case NoSixVoltLevels:
		return "No figures: the standard's profiles are for 12 V cars and stand above a 6 V car's own voltage. The cranking conditions of this car say what its supply falls to."
	}
	return "No figures: " + string(r) + "."
}

// against compares what is seen with the limit.
func against(r *Result, s *Seen) string {
	limit := fmt.Sprintf("the limit of %s to %s", volts(r.Limit.LowestV), volts(r.Limit.PeakV))
	if r.Limit.Sheet {
		limit += " on the sheet"
	} else {
		limit += " (assumed; " + r.Limit.Source + ")"
	}
	switch {
	case s.AboveS > 0 && s.BelowS > 0:
		return fmt.Sprintf("That is above %s for %s and below it for %s.", limit, seconds(s.AboveS), seconds(s.BelowS))
	case s.AboveS > 0:
		return fmt.Sprintf("That is above %s for %s.", limit, seconds(s.AboveS))
	case s.BelowS > 0:
		return fmt.Sprintf("That is below %s for %s.", limit, seconds(s.BelowS))
	}
	return fmt.Sprintf("That is within %s.", limit)
}

// protected says what one protection does.
func protected(r *Result, w *With) string {
	what := fitted(&w.Protection)
	did := fmt.Sprintf("takes %.0f %% of it", 100*w.ShareTaken)
	switch share := w.ShareTaken; {
	case share >= 0.9:
		did = fmt.Sprintf("takes almost all of it (%.0f %%)", math.Min(math.Floor(100*share), 99))
	case share < -0.02:
		did = fmt.Sprintf("makes it %.0f %% worse", -100*share)
	case share < 0.02:
		did = "does nothing against it"
	}
	end := fmt.Sprintf("%s at most, %s at least", within(w.PeakV, w.PeakPM), within(w.LowestV, w.LowestPM))
	if w.ClampPeakA > 0.01 {
		end += fmt.Sprintf("; the clamp carries %.3g A at most and takes %s", w.ClampPeakA, joules(w.ClampJ))
	}
	held := "within the limit"
	if w.AboveS > 0 || w.BelowS > 0 {
		held = "still beyond the limit"
	}
	return fmt.Sprintf("%s %s: %s, %s.", what, did, end, held)
}

// fitted names a protection.
func fitted(p *Protection) string {
	out := ""
	add := func(s string) {
		if out != "" {
			out += " with "
		}
		out += s
	}
	if c := &p.Capacitor; c.Farads > 0 {
		lead := "without lead"
		if c.LeadHenries > 0 {
			lead = "on " + henries(c.LeadHenries) + " of lead"
		}
		add(fmt.Sprintf("a %s capacitor %s", farads(c.Farads), lead))
	}
	if c := &p.Clamp; c.Volts > 0 {
		add(fmt.Sprintf("a clamp at %s", volts(c.Volts)))
	}
	if p.HealthyBattery {
		add("a healthy battery, firmly joined,")
	}
	if out == "" {
		return "Nothing fitted"
	}
	return string(out[0]-'a'+'A') + out[1:]
}

// cautions are what can hurt in meddling with it.
func cautions(r *Result) []string {
	var say []string
	switch r.Case.Kind {
	case BatteryOff:
		say = append(say, "Never take a battery terminal off with the engine running, not to test the generator either: it is this spike that destroys modules, and the battery's gas can catch from the spark.")
	case TestPulse:
		if r.Case.Pulse.ID == "5a" || r.Case.Pulse.ID == "5b" {
			say = append(say, "Never take a battery terminal off with the engine running: that is what makes this spike.")
		} else {
			say = append(say, "These are test levels for a laboratory's generator; do not try to make them on the car.")
		}
	case JumpStart:
		say = append(say, "Do not start a car from a supply of higher voltage: hundreds of amps can flow into the battery, which can burst and throws acid. Join the last lead to the engine, away from the battery.")
	case ReverseBattery:
		say = append(say, "Check which post is earthed before joining a battery. The wrong way round, wires can burn; take the earth lead off first and put it on last.")
	case LoadOff:
		say = append(say, "A diode or resistor across the load's own winding stops this at its source; mind which way round a diode goes.")
	}
	for i := range r.With {
		if r.With[i].Protection.Capacitor.Farads > 0 {
			say = append(say, "A capacitor can hold its charge: with the power off, discharge it through a resistor before touching its terminals.")
			break
		}
	}
	return say
}

// The figures of a person: three digits and a prefix.

func prefixed(v float64, unit string) string {
	a := math.Abs(v)
	for _, p := range []struct {
		at   float64
		name string
	}{{1, ""}, {1e-3, "m"}, {1e-6, "µ"}, {1e-9, "n"}} {
		if a >= 0.9995*p.at || p.at == 1e-9 {
			return digits(v/p.at) + " " + p.name + unit
		}
	}
	return digits(v) + " " + unit
}

// digits writes three digits, never as a power of ten.
func digits(v float64) string {
	a := math.Abs(v)
	switch {
	case a >= 100 || a == 0:
		return fmt.Sprintf("%.0f", v)
	case a >= 10:
		return trim(fmt.Sprintf("%.1f", v))
	}
	return trim(fmt.Sprintf("%.2f", v))
}

func trim(s string) string {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return s
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func volts(v float64) string {
	if math.Abs(v) < 0.05 {
		return "0 V"
	}
	return trim(fmt.Sprintf("%.1f", v)) + " V"
}

// within writes volts with their plus-or-minus where there is one.
func within(v, pm float64) string {
	if !(pm > 0) {
		return volts(v)
	}
	return fmt.Sprintf("%s ± %s V", trim(fmt.Sprintf("%.1f", v)), trim(fmt.Sprintf("%.1f", math.Max(pm, 0.1))))
}

func signed(v float64) string {
	if v > 0 {
		return "+" + volts(v)
	}
	return volts(v)
}

func seconds(v float64) string { return prefixed(v, "s") }
func ohms(v float64) string {
	if v >= 0.1 && v < 1 { // as said in the trade
		return digits(v) + " ohm"
	}
	return prefixed(v, "ohm")
}
func henries(v float64) string { return prefixed(v, "H") }
func farads(v float64) string {
	if v >= 1e-7 && v < 1e-3 { // as suppression capacitors are marked
		return digits(v*1e6) + " µF"
	}
	return prefixed(v, "F")
}
func joules(v float64) string { return prefixed(v, "J") }
