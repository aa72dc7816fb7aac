package workshop

import (
	"fmt"
	"math"
	"net/url"
	"sort"
	"strconv"
	"strings"

	"dwellwright/car"
	"dwellwright/twin"
	"dwellwright/units"
)

// Bench is what a person has set at the bench beside a car: which condition
// and wiring they look at, and which figures they are trying out. It lives in
// the address of a page, so that a page can be kept and sent. A nil figure is
// left as the car file has it.
type Bench struct {
	Condition string
	Option    string
	Speed     *float64 // engine rpm, in the condition looked at
	Charge    *float64 // state of charge 0..1, in the condition looked at
	Bay       *float64 // °C, in the condition looked at
	Loads     []string // loads switched on in the condition looked at; nil as filed
	LoadsSet  bool
	Ground    *float64 // ohm, breaker plate to battery
	Ballast   *float64 // ohm cold
	SetPoint  *float64 // V, regulator
	Draws     int
	Units     units.System
}

// figureField ties a query name to a figure of the bench.
var benchFigures = []struct {
	name string
	kind units.Kind
	at   func(*Bench) **float64
	lo   float64
	hi   float64
}{
	{"speed", units.Speed, func(b *Bench) **float64 { return &b.Speed }, 50, 8000},
	{"charge", units.Fraction, func(b *Bench) **float64 { return &b.Charge }, 0.05, 1},
	{"bay", units.Temperature, func(b *Bench) **float64 { return &b.Bay }, -40, 150},
	{"ground", units.Resistance, func(b *Bench) **float64 { return &b.Ground }, 0.001, 20},
	{"ballast", units.Resistance, func(b *Bench) **float64 { return &b.Ballast }, 0.05, 10},
	{"set_point", units.Voltage, func(b *Bench) **float64 { return &b.SetPoint }, 5, 18},
}

// FieldError is a bench figure that can't be used.
type FieldError struct{ Field, What string }

func (e *FieldError) Error() string { return e.Field + ": " + e.What }

// ParseBench reads a bench from an address. Figures are typed with or
// without a unit. All mistakes are returned.
func ParseBench(c *car.Car, q url.Values) (Bench, []*FieldError) {
	b := Bench{Condition: q.Get("condition"), Option: q.Get("option"), Draws: 200}
	var errs []*FieldError
	bad := func(field, format string, args ...any) {
		errs = append(errs, &FieldError{field, fmt.Sprintf(format, args...)})
	}
	if q.Get("units") == "inch" {
		b.Units = units.Inch
	}
	if b.Condition == "" {
		b.Condition = defaultCondition(c)
	}
	if !hasCondition(c, b.Condition) {
		bad("condition", "%q is not a condition of this car", b.Condition)
		b.Condition = defaultCondition(c)
	}
	if b.Option == "" {
		b.Option = twin.AsFitted
	}
	if o, err := twin.OptionByID(b.Option); err != nil {
		bad("option", "%v", err)
		b.Option = twin.AsFitted
	} else if why := o.Unfit(c); why != "" {
		bad("option", "%s: %s", o.Name, why)
		b.Option = twin.AsFitted
	}
	for _, f := range benchFigures {
		text := strings.TrimSpace(q.Get(f.name))
		if text == "" {
			continue
		}
		v, err := units.Parse(f.kind, text)
		switch {
		case err != nil:
			bad(f.name, "%v", err)
		case f.name == "ground" && v.X < LeastGround(c):
			bad(f.name, "%s; housing clamp and earth cable alone are %s, at least that is accepted", units.Format(f.kind, v.X, b.Units), units.Format(f.kind, LeastGround(c), b.Units))
		case v.X < f.lo || v.X > f.hi:
			bad(f.name, "%s; from %s to %s is accepted", units.Format(f.kind, v.X, b.Units), units.Format(f.kind, f.lo, b.Units), units.Format(f.kind, f.hi, b.Units))
		default:
			x := v.X
			*f.at(&b) = &x
		}
	}
	if q.Has("loads_set") {
		b.LoadsSet = true
		for _, l := range q["load"] {
			if !hasLoad(c, l) {
				bad("load", "%q is not a load of this car", l)
				continue
			}
			b.Loads = append(b.Loads, l)
		}
	}
	if t := q.Get("draws"); t != "" {
		n, err := strconv.Atoi(t)
		if err != nil || n < 0 || n > 5000 {
			bad("draws", "%q; a whole number from 0 to 5000 is accepted", t)
		} else {
			b.Draws = n
		}
	}
	return b, errs
}

// Query writes the bench as it stands in an address.
func (b Bench) Query() url.Values {
	q := url.Values{}
	q.Set("condition", b.Condition)
	if b.Option != twin.AsFitted {
		q.Set("option", b.Option)
	}
	for _, f := range benchFigures {
		if p := *f.at(&b); p != nil {
			q.Set(f.name, strconv.FormatFloat(*p, 'g', 6, 64))
		}
	}
	if b.LoadsSet {
		q.Set("loads_set", "1")
		q["load"] = b.Loads
	}
	if b.Units == units.Inch {
		q.Set("units", "inch")
	}
	return q
}

// defaultCondition is hot idle where the car has it: the hard one.
func defaultCondition(c *car.Car) string {
	if hasCondition(c, "hot_idle") {
		return "hot_idle"
	}
	return c.Conditions[0].ID
}

func hasCondition(c *car.Car, id string) bool {
	for i := range c.Conditions {
		if c.Conditions[i].ID == id {
			return true
		}
	}
	return false
}

func hasLoad(c *car.Car, id string) bool {
	for i := range c.Loads {
		if c.Loads[i].ID == id {
			return true
		}
	}
	return false
}

// set fixes a figure at what the person tries: no spread of its own.
func set(p *car.Param, x float64) {
	p.Value = units.Value{X: x}
	p.Origin = car.Stated
}

// Apply returns the car with what is tried at the bench; the car given is
// not changed.
func (b Bench) Apply(c *car.Car) *car.Car {
	d := c.Clone()
	for i := range d.Conditions {
		k := &d.Conditions[i]
		if k.ID != b.Condition {
			continue
		}
		if b.Speed != nil && (k.Engine == car.Running || k.Engine == car.Cranking) {
			set(&k.Speed, *b.Speed)
		}
		if b.Charge != nil {
			set(&k.StateOfCharge, *b.Charge)
		}
		if b.Bay != nil {
			set(&k.BayTemp, *b.Bay)
		}
		if b.LoadsSet {
			k.Loads = append([]string(nil), b.Loads...)
		}
	}
	if b.Ballast != nil && d.Ballast.Fitted {
		set(&d.Ballast.Cold, *b.Ballast)
	}
	if b.SetPoint != nil {
		set(&d.Charging.SetPoint, *b.SetPoint)
	}
	if b.Ground != nil {
		l := &d.Wiring[car.PivotWire]
		l.Given = true
		l.Resistance.Kind = units.Resistance
		set(&l.Resistance, math.Max(*b.Ground-LeastGround(c), 1e-4))
	}
	return d
}

// GroundPath is the resistance from breaker plate to battery as the car file
// has it, in ohm at 20 °C: pivot wire, housing clamp and earth cable.
func GroundPath(c *car.Car) float64 {
	return twin.LegOhms(&c.Wiring[car.PivotWire], 20) + LeastGround(c)
}

// LeastGround is what remains of the ground path with a perfect pivot wire,
// in ohm at 20 °C; what is tried of the ground path is tried on that wire.
func LeastGround(c *car.Car) float64 {
	return twin.LegOhms(&c.Wiring[car.HousingClamp], 20) + twin.LegOhms(&c.Wiring[car.EarthCable], 20)
}

// Tried says in words what is tried at the bench.
func (b Bench) Tried(c *car.Car) []string {
	var out []string
	names := map[string]string{"speed": "engine speed", "charge": "state of charge", "bay": "engine bay air", "ground": "ground path", "ballast": "ballast cold", "set_point": "regulator"}
	for _, f := range benchFigures {
		if p := *f.at(&b); p != nil {
			out = append(out, names[f.name]+" "+units.Format(f.kind, *p, b.Units))
		}
	}
	if b.LoadsSet {
		on := append([]string(nil), b.Loads...)
		sort.Strings(on)
		if len(on) == 0 {
			out = append(out, "no loads on")
		} else {
			out = append(out, "loads on: "+strings.ReplaceAll(strings.Join(on, ", "), "_", " "))
		}
	}
	return out
}

// Explain writes an error for a person.
func Explain(err error) string {
	return "dwellwright: " + strings.TrimPrefix(err.Error(), "dwellwright: ")
}
