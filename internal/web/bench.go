package web

import (
	"fmt"
	"maps"
	"math"
	"net/url"
	"slices"
	"strconv"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/twin"
	"dwellwright/units"
)

// benchView is the bench as the page shows it.
type benchView struct {
	Action     string // the page a form goes to
	Stage      string
	Condition  string // id
	CondName   string
	Conditions []choice
	Option     string
	Options    []choice // nil where the stage compares them all
	Controls   []control
	Loads      []choice
	LoadsTried bool
	LoadsReset string
	Inch       bool
	Tried      []string
	AllFiled   string // address with nothing tried
	Errors     []string
	Own        bool    // the controls are this stage's own; no condition and no loads are asked for
	Kept       []field // what is carried along without a control
	Points     []pointRowView
	First      string // the control at hand on a phone at first; "": the first there is
}

// choice is one of a few that can be had.
type choice struct {
	ID, Name, Note string
	On             bool
	Off            string // why it can't be had
}

// control is one figure of the bench.
type control struct {
	Name, Label string
	Brief       string // the label in a word
	Text        string // what stands in the field: empty as filed
	Filed       string // the file's figure with its plus-or-minus and origin
	Tried       bool
	Error       string
	Off         string // why it can't be set
	Reset       string // address without it
	Slider      slider
	Steps       bool // whole steps: buttons in the place of a slider
	Back        string
	Still       string // what stands in the field where nothing is tried
	Group       string // heading before it
}

// slider is the range that moves a control, in the unit shown, or in powers
// of ten of it.
type slider struct {
	Lo, Hi, Step, At string
	Filed            string // where the file's figure is
	Unit             string // written behind the figure
	Power            bool
}

// dial is how a figure is moved: its range in the unit shown.
type dial struct {
	lo, hi, step float64
	unit         string
	power        bool
	shown        func(si float64) float64
}

func (d dial) slider(filed, at float64) slider {
	place := func(x float64) string {
		x = d.shown(x)
		if d.power {
			x = math.Log10(math.Max(x, 1e-6))
		}
		x = math.Min(math.Max(x, d.lo), d.hi)
		return plain(d.lo + math.Round((x-d.lo)/d.step)*d.step)
	}
	return slider{plain(d.lo), plain(d.hi), plain(d.step), place(at), place(filed), d.unit, d.power}
}

// plain writes a number with no more digits than a slider needs.
func plain(x float64) string {
	return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64)
}

func same(x float64) float64 { return x }

// dials gives the range of each figure: what a car of that kind, in that
// condition, can be thought to do.
func dials(c *car.Car, k *car.Condition, sys units.System) map[string]dial {
	d := map[string]dial{
		"speed":     {300, 6000, 10, " rpm", false, same},
		"charge":    {5, 100, 1, " %", false, func(x float64) float64 { return 100 * x }},
		"bay":       {-40, 150, 1, " °C", false, same},
		"ground":    {-2.3, 1.3, 0.01, " Ω", true, same},
		"ballast":   {0.05, 3, 0.01, " Ω", false, same},
		"set_point": {12.5, 16.5, 0.05, " V", false, same},
	}
	if k.Engine == car.Cranking {
		d["speed"] = dial{50, 400, 5, " rpm", false, same}
	}
	if c.NominalV == 6 {
		d["set_point"] = dial{6.2, 8.4, 0.05, " V", false, same}
		d["ballast"] = dial{0.05, 2, 0.01, " Ω", false, same}
	}
	if sys == units.Inch {
		d["bay"] = dial{-40, 302, 2, " °F", false, func(x float64) float64 { return x*9/5 + 32 }}
	}
	least := d["ground"]
	least.lo = math.Ceil(100*math.Log10(workshop.LeastGround(c))) / 100
	d["ground"] = least
	return d
}

func viewBench(st *stage, n int, c *car.Car, b workshop.Bench, look picks, errs []*workshop.FieldError, q url.Values) benchView {
	k := condition(c, b.Condition)
	path := fmt.Sprintf("/cars/%d/%s", n, st.ID)
	without := func(names ...string) string {
		r := b.Query()
		look.add(r)
		for _, name := range names {
			r.Del(name)
		}
		return path + "?" + r.Encode()
	}
	v := benchView{
		Own:    st.own,
		Action: path, Stage: st.ID, Condition: b.Condition, CondName: k.Name, Option: b.Option, Inch: b.Units == units.Inch,
		Tried: b.Tried(c), LoadsTried: b.LoadsSet, LoadsReset: without("load", "loads_set"),
		AllFiled: without(append([]string{"speed", "charge", "bay", "ground", "ballast", "set_point", "load", "loads_set", "w"}, workshop.FitNames()...)...),
	}
	for i := range c.Conditions {
		x := &c.Conditions[i]
		v.Conditions = append(v.Conditions, choice{ID: x.ID, Name: x.Name, On: x.ID == b.Condition})
	}
	if st.wired {
		for _, o := range twin.Options() {
			v.Options = append(v.Options, choice{ID: o.ID, Name: o.Name, On: o.ID == b.Option, Off: o.Unfit(c)})
		}
	}
	switch st.ID {
	case "fit":
		fitBench(&v, c, b, look)
	case "curve":
		curveBench(&v, c, look, q, errs)
	default:
		v.Controls = controls(c, k, b)
	}
	said := map[string]string{}
	for _, e := range errs {
		said[e.Field] = e.What
		if !slices.ContainsFunc(v.Controls, func(x control) bool { return x.Name == e.Field }) {
			v.Errors = append(v.Errors, e.What)
		}
	}
	for i := range v.Controls {
		x := &v.Controls[i]
		x.Reset = without(x.Name)
		if x.Error = said[x.Name]; x.Error != "" {
			x.Text = q.Get(x.Name)
		}
	}
	v.keep(b, look)
	on := k.Loads
	if b.LoadsSet {
		on = b.Loads
	}
	for i := range c.Loads {
		l := &c.Loads[i]
		v.Loads = append(v.Loads, choice{ID: l.ID, Name: l.Name, Note: units.Format(units.Current, l.Current.X, b.Units), On: slices.Contains(on, l.ID)})
	}
	return v
}

// keep notes what stands in the address and has no control on this page.
func (v *benchView) keep(b workshop.Bench, look picks) {
	shown := map[string]bool{"units": true, "option": true}
	for _, x := range v.Controls {
		shown[x.Name] = true
	}
	switch v.Stage {
	case "curve":
		shown["w"] = true
	case "spark":
		shown["fitting"], shown["rival"], shown["spike"] = true, true, true
	}
	if !v.Own {
		shown["condition"], shown["loads_set"], shown["load"] = true, true, true
	}
	q := b.Query()
	look.add(q)
	for _, name := range slices.Sorted(maps.Keys(q)) {
		if shown[name] {
			continue
		}
		for _, x := range q[name] {
			v.Kept = append(v.Kept, field{name, x})
		}
	}
}

func controls(c *car.Car, k *car.Condition, b workshop.Bench) []control {
	d := dials(c, k, b.Units)
	var list []control
	add := func(name, brief, label string, tried *float64, filed *car.Param, off string) {
		x := control{Name: name, Brief: brief, Label: label, Off: off, Tried: tried != nil}
		x.Filed = units.FormatValue(filed.Kind, filed.Value, b.Units) + ", " + filed.Origin.String()
		at := filed.X
		if tried != nil {
			at = *tried
			x.Text = units.Format(filed.Kind, at, b.Units)
		}
		x.Slider = d[name].slider(filed.X, at)
		list = append(list, x)
	}
	stopped := ""
	if k.Engine != car.Running && k.Engine != car.Cranking {
		stopped = "the engine is stopped in this condition"
	}
	noCharge := ""
	if c.Charging.Kind == car.NoCharging {
		noCharge = "nothing charges on this car"
	}
	noBallast := ""
	if !c.Ballast.Fitted {
		noBallast = "the car has no ballast"
	}
	add("ballast", "Ballast", "Ballast, cold", b.Ballast, &c.Ballast.Cold, noBallast)
	add("ground", "Ground", "Ground to plate", b.Ground, filedGround(c), "")
	add("speed", "Speed", "Engine speed", b.Speed, &k.Speed, stopped)
	add("charge", "Charge", "Battery charge", b.Charge, &k.StateOfCharge, "")
	add("bay", "Air", "Engine bay air", b.Bay, &k.BayTemp, "")
	add("set_point", "Regulator", "Regulator", b.SetPoint, &c.Charging.SetPoint, noCharge)
	return list
}

// filedGround is the ground path as the file has it, cold.
func filedGround(c *car.Car) *car.Param {
	p := &car.Param{Kind: units.Resistance, Origin: car.Assumed}
	p.X = workshop.GroundPath(c)
	if w := &c.Wiring[car.PivotWire]; w.Given {
		p.Origin = w.Resistance.Origin
	}
	return p
}
