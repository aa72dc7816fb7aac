package web

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/spark"
	"dwellwright/twin"
	"dwellwright/units"
)

// mapView is the map of spark in hand.
type mapView struct {
	Wide, Tall html
	Caption    string
}

// wiredCar is the car as it is wired at the bench.
func wiredCar(a *sparkAsk) (*car.Car, error) {
	o, err := twin.OptionByID(a.b.Option)
	if err != nil {
		return nil, err
	}
	return o.Apply(a.c)
}

// partDraws is how many cars a part draws where the page draws so many: none
// while something moves, some for the page's first paint, most at rest.
func partDraws(draws, some, most int) int {
	switch {
	case draws <= quickDraws/4:
		return 0
	case draws <= quickDraws:
		return some
	}
	return most
}

// charted is a map with the firings of the same car.
type charted struct {
	car   *car.Car
	chart *spark.Chart
	shots []spark.Shot
}

func chartOf(a *sparkAsk, f spark.Fitting) (charted, error) {
	draws := partDraws(a.b.Draws, 24, 60)
	return kept(a.keep(a.b.Draws), a.key("map", false, f, draws), func() (charted, error) {
		d, err := wiredCar(a)
		if err != nil {
			return charted{}, err
		}
		set := spark.ChartSettings{Fitting: f, Draws: draws, Seed: 1}
		if draws == 0 {
			set.Speeds, set.Volts = 28, 18 // few while something moves
		}
		x := charted{car: spark.Fit(d, f)}
		if x.chart, err = workshop.SparkMap(a.c, a.b.Option, set); err != nil {
			return charted{}, err
		}
		_, x.shots, err = workshop.Shots(x.car, prove.Settings{Option: twin.AsFitted, Draws: 3 * draws, Seed: 1})
		return x, err
	})
}

// viewMap draws the map of spark in hand over engine speed and supply
// voltage.
func viewMap(a *sparkAsk) (*mapView, error) {
	d, err := wiredCar(a)
	if err != nil {
		return nil, err
	}
	f := spark.Of(d)
	if a.picks.Fitting != "" {
		if f, err = spark.ParseFitting(a.picks.Fitting); err != nil {
			return nil, err
		}
	}
	x, err := chartOf(a, f)
	if err != nil {
		return nil, err
	}
	spec := mapSpec(x, a.b.Units)
	v := &mapView{Caption: fmt.Sprintf("With %s and the throttle wide open, when a plug asks most. Supply is the battery's voltage with no coil current flowing. Predicted.", x.chart.Fitting)}
	if x.chart.PM != nil {
		v.Caption += " Dotted: the limit lies within the plus-or-minus of the drawn cars."
	}
	if a.layout != "tall" {
		spec.W, spec.FieldH = 900, 380
		scene, err := draw.Map(spec)
		v.Wide = picture(scene, err, "map-wide")
	}
	if a.layout != "wide" {
		spec.W, spec.FieldH = 360, 300
		scene, err := draw.Map(spec)
		v.Tall = picture(scene, err, "map-tall")
	}
	return v, nil
}

func mapSpec(x charted, sys units.System) draw.MapSpec {
	ch := x.chart
	spec := draw.MapSpec{
		Title: "Spark in hand over speed and supply, " + ch.Fitting.String(),
		X:     draw.Axis{Label: "engine speed", Unit: "rpm"}, Y: draw.Axis{Label: "supply", Unit: "V"},
		Value: "spark in hand, times what the plug asks", Xs: ch.RPM, Ys: ch.Volts, Z: ch.Hand, PM: ch.PM, Origin: draw.Predicted,
		Levels: []float64{0.7, wantedInHand, 2, 3}, Limit: draw.Limit{Side: draw.AtLeast, At: 1},
	}
	for i := range x.shots {
		s := &x.shots[i]
		f := s.Figure("snap_in_hand")
		if f == nil {
			f = s.Figure("spark_in_hand")
		}
		if f == nil || len(spec.Points) == 12 {
			continue
		}
		spec.Points = append(spec.Points, draw.MapPoint{
			Name: prove.Title(s.Name), X: s.RPM, Y: s.Spark.Primary.Supply,
			Text: times(f.Interval), Origin: draw.Predicted, Mark: marks[state(f.Interval)],
		})
	}
	return spec
}
