package workshop

import (
	"fmt"
	"math"
	"net/url"
	"strconv"
	"strings"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/units"
)

// FitTry is what a person tries at the stage Fit and time: what is turned and
// moved, how far the vacuum plate is drawn, and figures of gap and heights put
// in the place of the file's. It lives in the address of the page. The zero
// value tries nothing.
type FitTry struct {
	Move  distributor.Move
	Drawn float64  // distributor degrees the vacuum plate is drawn
	Gap   *float64 // m, ring to sensor
	Axial *float64 // m, magnets above the sensor; below: negative
	Lift  *float64 // m by which the sleeve holds the rotor up
	Play  *float64 // m the shaft can go up and down in all
}

// trySpan is how far trigger and sleeve can be tried where their own travel is
// less, distributor degrees: what they would have to be moved by is worth
// knowing before anything is filed.
const trySpan = 30

// FitSpan is how far each figure of a FitTry goes on a car: least and most,
// in SI units, degrees or whole things, by its name in the address.
func FitSpan(c *car.Car, name string) (least, most float64) {
	n := float64(c.Cylinders)
	switch name {
	case "turn":
		return -360, 360
	case "leads":
		return -math.Floor(n / 2), math.Floor(n / 2)
	case "teeth":
		return -math.Floor(float64(c.Distributor.Teeth) / 2), math.Floor(float64(c.Distributor.Teeth) / 2)
	case "trigger":
		return -math.Max(trySpan, c.Distributor.TriggerSlot.X), math.Max(trySpan, c.Distributor.TriggerSlot.X)
	case "sleeve":
		return -math.Max(trySpan, c.Distributor.SleeveTurn.X), math.Max(trySpan, c.Distributor.SleeveTurn.X)
	case "drawn":
		if c.Advance.Source == car.NoVacuum {
			return 0, 0
		}
		return 0, math.Max(c.Advance.Travel.X, 0)
	case "gap":
		return 0.05e-3, 5e-3
	case "axial":
		return -4e-3, 4e-3
	case "lift":
		return 0, 5e-3
	case "play":
		return 0, 3e-3
	}
	return 0, 0
}

// angles, wholes and lengths of a FitTry by their names in the address.
func (t *FitTry) angle(name string) *float64 {
	return map[string]*float64{"turn": &t.Move.Housing, "trigger": &t.Move.Trigger, "sleeve": &t.Move.Sleeve, "drawn": &t.Drawn}[name]
}

func (t *FitTry) whole(name string) *int {
	return map[string]*int{"leads": &t.Move.Leads, "teeth": &t.Move.Mesh}[name]
}

func (t *FitTry) length(name string) **float64 {
	return map[string]**float64{"gap": &t.Gap, "axial": &t.Axial, "lift": &t.Lift, "play": &t.Play}[name]
}

var (
	fitAngles  = []string{"turn", "trigger", "sleeve", "drawn"}
	fitWholes  = []string{"leads", "teeth"}
	fitLengths = []string{"gap", "axial", "lift", "play"}
)

// ParseFitTry reads what is tried from an address. All mistakes are returned;
// a figure that can't be used is left out.
func ParseFitTry(c *car.Car, q url.Values, sys units.System) (FitTry, []*FieldError) {
	var t FitTry
	var errs []*FieldError
	bad := func(field, format string, args ...any) {
		errs = append(errs, &FieldError{field, fmt.Sprintf(format, args...)})
	}
	typed := func(name string) string { return strings.ReplaceAll(strings.TrimSpace(q.Get(name)), "−", "-") }
	for _, name := range fitAngles {
		text := typed(name)
		if text == "" {
			continue
		}
		v, err := units.Parse(units.DistributorAngle, text)
		lo, hi := FitSpan(c, name)
		switch {
		case err != nil:
			bad(name, "%v", err)
		case v.X < lo-1e-9 || v.X > hi+1e-9:
			bad(name, "%s; from %s to %s is accepted", units.Format(units.DistributorAngle, v.X, sys), units.Format(units.DistributorAngle, lo, sys), units.Format(units.DistributorAngle, hi, sys))
		default:
			*t.angle(name) = v.X
		}
	}
	for _, name := range fitWholes {
		text := typed(name)
		if text == "" {
			continue
		}
		n, err := strconv.Atoi(strings.TrimPrefix(text, "+"))
		lo, hi := FitSpan(c, name)
		if err != nil || float64(n) < lo || float64(n) > hi {
			bad(name, "%q; a whole number from %.0f to %.0f is accepted", text, lo, hi)
			continue
		}
		*t.whole(name) = n
	}
	for _, name := range fitLengths {
		text := typed(name)
		if text == "" {
			continue
		}
		v, err := units.Parse(units.Length, strings.TrimPrefix(text, "-"))
		x := v.X
		if strings.HasPrefix(text, "-") {
			x = -x
		}
		lo, hi := FitSpan(c, name)
		switch {
		case err != nil:
			bad(name, "%v", err)
		case x < lo-1e-12 || x > hi+1e-12:
			bad(name, "%s; from %s to %s is accepted", units.Format(units.Length, x, sys), units.Format(units.Length, lo, sys), units.Format(units.Length, hi, sys))
		default:
			*t.length(name) = &x
		}
	}
	return t, errs
}

// Add writes what is tried into an address; lengths in mm, with their unit.
func (t FitTry) Add(q url.Values) {
	plain := func(x float64) string { return strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64) }
	for _, name := range fitAngles {
		if x := *t.angle(name); math.Abs(x) >= 0.005 {
			q.Set(name, plain(x))
		}
	}
	for _, name := range fitWholes {
		if n := *t.whole(name); n != 0 {
			q.Set(name, strconv.Itoa(n))
		}
	}
	for _, name := range fitLengths {
		if x := *t.length(name); x != nil {
			q.Set(name, strconv.FormatFloat(math.Round(*x*1e6)/1e3, 'f', -1, 64)+" mm")
		}
	}
}

// FitNames are the names of a FitTry's figures in an address.
func FitNames() []string {
	return append(append(append([]string(nil), fitAngles...), fitWholes...), fitLengths...)
}

// Text is a figure as a field of the bench shows it, "" where nothing is tried.
func (t FitTry) Text(name string, sys units.System) string {
	if p := t.angle(name); p != nil {
		if math.Abs(*p) < 0.005 {
			return ""
		}
		return units.Format(units.DistributorAngle, math.Round(*p*100)/100, sys)
	}
	if p := t.whole(name); p != nil {
		if *p == 0 {
			return ""
		}
		return strconv.Itoa(*p)
	}
	if p := t.length(name); p != nil && *p != nil {
		return units.Format(units.Length, **p, sys)
	}
	return ""
}

// At is a figure as it is tried, in SI units, degrees or whole things; filed
// where none is.
func (t FitTry) At(name string, filed float64) float64 {
	if p := t.angle(name); p != nil {
		return *p
	}
	if p := t.whole(name); p != nil {
		return float64(*p)
	}
	if p := t.length(name); p != nil && *p != nil {
		return **p
	}
	return filed
}

// Apply returns the car with the gap and the heights that are tried; the car
// given is not changed. What is turned and moved is not the car's business but
// fit.Try's.
func (t FitTry) Apply(c *car.Car) *car.Car {
	if t.Gap == nil && t.Axial == nil && t.Lift == nil && t.Play == nil {
		return c
	}
	d := c.Clone()
	for _, x := range []struct {
		at *float64
		to *car.Param
	}{{t.Gap, &d.Trigger.Gap}, {t.Axial, &d.Trigger.AxialOffset}, {t.Lift, &d.Trigger.RotorLift}, {t.Play, &d.Distributor.EndPlay}} {
		if x.at != nil {
			set(x.to, *x.at)
		}
	}
	return d
}

// Tried says in words what is tried, the moves left out, which fit.Brief says.
func (t FitTry) Tried(sys units.System) []string {
	var out []string
	say := func(name, what string) {
		if s := t.Text(name, sys); s != "" {
			out = append(out, what+" "+s)
		}
	}
	say("drawn", "vacuum plate drawn")
	say("gap", "air gap")
	say("axial", "magnets out of line by")
	say("lift", "rotor held up by")
	say("play", "end play")
	return out
}
