package web

import (
	"errors"
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/spark"
	"dwellwright/twin"
	"dwellwright/units"
)

// driveView is the heat of a drive, and of a key left on.
type driveView struct {
	Drive     chartView
	Caption   string
	Peaks     []peakRow
	Mountings []mountRow
	Mounted   string // caption of the mountings
	KeyOn     chartView
	KeyWords  []string
}

// peakRow is how warm a place gets in a drive.
type peakRow struct {
	Place, Peak, When, Limit, Margin string
	Mark                             html
	Word                             string
}

// mountRow is a way to mount the module.
type mountRow struct {
	Name, Way, Peak, Margin, Over string
	Fitted                        bool
	Mark                          html
	Word                          string
}

// driven is the heat of a car, and of the same with a trigger where it has
// points.
type driven struct {
	car, trigger *car.Car // trigger is car where that has one
	coil, module *spark.DriveResult
	mounted      []spark.Mounted
	key          *spark.KeyOnResult
	keyWhy       string // why there is none
	planned      bool   // the trigger is the planned one
}

// legsOf is the usual drive in the conditions a car has: where one is missing
// the nearest running one stands in.
func legsOf(c *car.Car) ([]spark.Leg, error) {
	var slow, fast *car.Condition
	for i := range c.Conditions {
		k := &c.Conditions[i]
		if k.Engine != car.Running {
			continue
		}
		if slow == nil || k.Speed.X < slow.Speed.X {
			slow = k
		}
		if fast == nil || k.Speed.X > fast.Speed.X {
			fast = k
		}
	}
	if slow == nil {
		return nil, errors.New("no condition of this car has the engine running, so nothing can be driven")
	}
	legs := spark.UsualLegs()
	for i := range legs {
		id := legs[i].Condition
		if k := condition(c, id); id == "" || k != nil && k.Engine == car.Running {
			continue
		}
		legs[i].Condition = fast.ID
		if id == "hot_idle" {
			legs[i].Condition = slow.ID
		}
	}
	return legs, nil
}

func driveOf(a *sparkAsk) (*driven, error) {
	draws := partDraws(a.b.Draws, 12, 40)
	if draws == 0 {
		draws = -1 // the middle car alone
	}
	return kept(a.keep(a.b.Draws), a.key("drive", false, draws), func() (*driven, error) {
		d, err := wiredCar(a)
		if err != nil {
			return nil, err
		}
		x := &driven{car: d, trigger: d}
		if !d.Switch.Kind.Electronic() {
			f := spark.Darlington
			if d.Planned != nil && d.Planned.Switch.Kind.Electronic() {
				f, x.planned = spark.Of(&car.Car{Switch: d.Planned.Switch}), true
			}
			x.trigger = spark.Fit(d, f)
		}
		set := spark.DriveSettings{Draws: draws, Seed: 1}
		if set.Legs, err = legsOf(d); err != nil {
			return nil, err
		}
		if x.module, err = workshop.Heat(x.trigger, twin.AsFitted, set); err != nil {
			return nil, err
		}
		x.coil = x.module
		if x.trigger != d {
			if x.coil, err = workshop.Heat(d, twin.AsFitted, set); err != nil {
				return nil, err
			}
		}
		if x.mounted, err = workshop.Mountings(x.trigger, twin.AsFitted, set); err != nil {
			return nil, err
		}
		if x.key, err = workshop.KeyOn(d, twin.AsFitted, spark.KeyOnSettings{Draws: draws, Seed: 1}); err != nil {
			x.key, x.keyWhy = nil, "A key left on can't be worked out: "+plainly(err)+"."
		}
		return x, nil
	})
}

// triggerName is the trigger whose heat is shown.
func (x *driven) triggerName() string {
	name := "the " + spark.Of(x.trigger).String() + " fitted"
	switch {
	case x.trigger == x.car:
	case x.planned:
		name = "the planned " + spark.Of(x.trigger).String()
	default:
		name = "a usual " + spark.Of(x.trigger).String()
	}
	return name
}

// viewDrive shows the heat through a drive and of a key left on.
func viewDrive(a *sparkAsk) (*driveView, error) {
	x, err := driveOf(a)
	if err != nil {
		return nil, err
	}
	v := &driveView{}
	who := "The module is " + x.triggerName()
	if x.trigger != x.car {
		who = "The car has points as it is wired; the module's lines are those of " + x.triggerName() + " in their place"
	}
	v.Caption = "Predicted: town, road, a hill at full speed, then forty minutes parked hot, and the idle after the restart. " + who + ". The band is the plus-or-minus of its junction."
	draws := []struct {
		wide, high float64
		on         bool
		to         *html
		key        *html
		id         string
	}{{900, 400, a.layout != "tall", &v.Drive.Wide, &v.KeyOn.Wide, "wide"}, {360, 420, a.layout != "wide", &v.Drive.Tall, &v.KeyOn.Tall, "tall"}}
	for _, d := range draws {
		if !d.on {
			continue
		}
		scene, err := draw.Curve(driveSpec(x, d.wide, d.high))
		*d.to = picture(scene, err, "drive-"+d.id)
		if x.key != nil {
			scene, err = draw.Curve(keySpec(x, d.wide, math.Min(d.high, 330)))
			*d.key = picture(scene, err, "key-"+d.id)
		}
	}
	for _, p := range []spark.Place{spark.AtJunction, spark.AtBase, spark.AtHousing, spark.AtWinding, spark.AtCan, spark.AtAir} {
		r := x.module
		if p == spark.AtWinding || p == spark.AtCan || p == spark.AtAir {
			r = x.coil
		}
		if w := r.At(p); w != nil {
			v.Peaks = append(v.Peaks, peakRowOf(r, w, a.b.Units))
		}
	}
	v.Mounted = "The junction's peak in the same drive with the module mounted in each way: " + x.triggerName() + ", predicted"
	for _, m := range x.mounted {
		row := mountRow{
			Name: prove.Title(m.Mounting.String()), Fitted: m.Fitted, Way: of(units.ThermalResistance, m.KPerW, a.b.Units),
			Peak: of(units.Temperature, m.Peak, a.b.Units), Margin: kelvins(m.MarginK), Over: kelvins(m.OverK),
		}
		if m.OverK.Mid < 0.05 {
			row.Over = "the best"
		}
		st := margin(m.MarginK)
		row.Mark, row.Word = sign(st), st.String()
		v.Mountings = append(v.Mountings, row)
	}
	v.KeyWords = keyWords(x, a.b.Units)
	return v, nil
}

// margin is where a margin stands that should not be below nothing.
func margin(i spark.Interval) prove.State {
	switch {
	case i.Lo >= 0:
		return prove.Holds
	case i.Hi < 0:
		return prove.FallsShort
	}
	return prove.Doubtful
}

// kelvins writes a difference of temperatures.
func kelvins(i spark.Interval) string {
	return of(units.Ratio, i, units.Metric) + " K"
}

func peakRowOf(r *spark.DriveResult, w *spark.Warming, sys units.System) peakRow {
	row := peakRow{Place: prove.Title(w.Place.String()), Peak: of(units.Temperature, w.Peak, sys)}
	row.When = fmt.Sprintf("%.0f min, %s", w.PeakMin, r.Legs[w.PeakLeg].Name)
	if w.LimitC > 0 {
		row.Limit, row.Margin = units.Format(units.Temperature, w.LimitC, sys), kelvins(w.MarginK)
		st := margin(w.MarginK)
		row.Mark, row.Word = sign(st), st.String()
	}
	return row
}

// warmLine is the line of one place.
func warmLine(name string, minutes []float64, w *spark.Warming) draw.Series {
	s := draw.Series{Name: name, X: minutes, Origin: draw.Predicted}
	for _, c := range w.C {
		s.Y = append(s.Y, c.Mid)
	}
	return s
}

func driveSpec(x *driven, wide, high float64) draw.CurveSpec {
	spec := draw.CurveSpec{Title: "Heat through a drive with a hot soak", W: wide, H: high, X: draw.Axis{Label: "time", Unit: "min"}, Y: draw.Axis{Label: "temperature", Unit: "°C"}, Direct: true}
	for _, l := range x.coil.Legs {
		spec.Spans = append(spec.Spans, draw.Span{Name: l.Name, From: l.FromMin, To: l.ToMin})
	}
	for _, p := range []struct {
		r    *spark.DriveResult
		at   spark.Place
		name string
	}{{x.module, spark.AtJunction, "junction"}, {x.module, spark.AtHousing, "housing"}, {x.coil, spark.AtWinding, "winding"}, {x.coil, spark.AtAir, "bonnet air"}} {
		w := p.r.At(p.at)
		if w == nil {
			continue
		}
		spec.Series = append(spec.Series, warmLine(p.name, p.r.Minutes, w))
		switch p.at {
		case spark.AtJunction:
			spec.Limits = append(spec.Limits, draw.CurveLimit{Name: "junction", Limit: draw.Limit{Side: draw.AtMost, At: w.LimitC}})
			if x.module.Draws > 0 {
				spec.Band = draw.Band{Name: "junction, plus-or-minus", X: p.r.Minutes}
				for _, c := range w.C {
					spec.Band.Lo, spec.Band.Hi = append(spec.Band.Lo, c.Lo), append(spec.Band.Hi, c.Hi)
				}
			}
		case spark.AtWinding:
			spec.Limits = append(spec.Limits, draw.CurveLimit{Name: "winding", Limit: draw.Limit{Side: draw.AtMost, At: w.LimitC}})
		}
	}
	return spec
}

func keySpec(x *driven, wide, high float64) draw.CurveSpec {
	spec := draw.CurveSpec{Title: "Key left on, the coil conducting", W: wide, H: high, X: draw.Axis{Label: "time", Unit: "min"}, Y: draw.Axis{Label: "temperature", Unit: "°C"}, Direct: true}
	for _, p := range []struct {
		at   spark.Place
		name string
	}{{spark.AtWinding, "winding"}, {spark.AtCan, "can"}, {spark.AtJunction, "junction"}} {
		w := x.key.At(p.at)
		if w == nil {
			continue
		}
		spec.Series = append(spec.Series, warmLine(p.name, x.key.Minutes, w))
		if p.at == spark.AtWinding {
			spec.Limits = append(spec.Limits, draw.CurveLimit{Name: "winding", Limit: draw.Limit{Side: draw.AtMost, At: w.LimitC}})
			if x.key.Draws > 0 {
				spec.Band = draw.Band{Name: "winding, plus-or-minus", X: x.key.Minutes}
				for _, c := range w.C {
					spec.Band.Lo, spec.Band.Hi = append(spec.Band.Lo, c.Lo), append(spec.Band.Hi, c.Hi)
				}
			}
		}
	}
	return spec
}

// keyWords says what a key left on does, in sentences.
func keyWords(x *driven, sys units.System) []string {
	if x.key == nil {
		return []string{x.keyWhy}
	}
	k := x.key
	what := "points closed"
	if x.car.Switch.Kind.Electronic() {
		what = "trigger conducting"
	}
	out := []string{fmt.Sprintf("Key left on, engine stopped, %s (predicted): %s flow at first and put %s into the coil; after %.0f minutes it is %s.", what,
		of(units.Current, k.First.Amps, sys), of(units.Power, k.First.CoilW, sys), k.Minutes[len(k.Minutes)-1], of(units.Current, k.Last.Amps, sys))}
	if w := k.At(spark.AtWinding); w != nil {
		out = append(out, fmt.Sprintf("The winding comes to %s; %s.", of(units.Temperature, w.Peak, sys), reached("its limit", k.Coil, sys)))
	}
	if w := k.At(spark.AtBallast); w != nil {
		out = append(out, fmt.Sprintf("The ballast comes to %s after %.0f min: it burns fingers and chars what touches it.", of(units.Temperature, w.Peak, sys), math.Max(w.PeakMin, 1)))
	}
	if k.Module != nil {
		out = append(out, fmt.Sprintf("As to the module's junction, %s.", reached("its limit", *k.Module, sys)))
	}
	return out
}

// reached says when a limit is reached.
func reached(what string, r spark.Reach, sys units.System) string {
	limit := units.Format(units.Temperature, r.LimitC, sys)
	t := func(a spark.After) string {
		if !a.Reached {
			return "never in the time looked at"
		}
		return fmt.Sprintf("%.0f min", a.Minutes)
	}
	switch {
	case r.Mid.Reached && r.Earliest.Reached && r.Earliest != r.Latest:
		return fmt.Sprintf("%s of %s is reached after %s (earliest %s, latest %s)", what, limit, t(r.Mid), t(r.Earliest), t(r.Latest))
	case r.Mid.Reached:
		return fmt.Sprintf("%s of %s is reached after %s", what, limit, t(r.Mid))
	case r.Earliest.Reached:
		return fmt.Sprintf("%s of %s is not reached by the middle car, by the hottest of the drawn ones after %s", what, limit, t(r.Earliest))
	}
	if r.Share > 0 {
		return fmt.Sprintf("%s of %s is reached by only %.0f %% of the drawn cars", what, limit, 100*r.Share)
	}
	return fmt.Sprintf("%s of %s is not reached", what, limit)
}
