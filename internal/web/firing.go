package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/firing"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/spark"
)

// firingView is one firing over time.
type firingView struct {
	Address    string // of its trace
	Later      bool
	Wide, Tall html
	Caption    string
}

// tracePoints is about how many points of a firing the page is given.
const tracePoints = 3000

// traceOf is the middle car's firing in the condition looked at.
func traceOf(a *sparkAsk) (*spark.Trace, error) {
	return kept(a.shelf, a.key("trace", true), func() (*spark.Trace, error) {
		return workshop.Trace(a.c, a.b.Option, a.b.Condition)
	})
}

// stretch is what of a firing is shown first, s from the opening: from a
// little before it to a little after the spark is out.
func stretch(t *spark.Trace) (from, to float64) {
	last := 0.0
	for _, m := range t.Moments {
		if m.What == firing.GoesOut {
			last = m.T
		}
	}
	if last < 0.2e-3 {
		last = 1e-3
	}
	from, to = -0.15*last, 1.3*last
	if n := len(t.Points); n > 0 {
		from, to = math.Max(from, t.Points[0].T), math.Min(to, t.Points[n-1].T)
	}
	return from, to
}

// moments names what happens in a firing, in ms; what happens many times over
// is named once.
func moments(t *spark.Trace, electronic bool) []draw.Moment {
	names := map[firing.Happening]string{
		firing.Opens: "points open", firing.Breaks: "plug breaks down", firing.GoesOut: "spark goes out",
		firing.Strikes: "contacts strike again", firing.ArcsOver: "an arc stands at the contacts",
		firing.Clamps: "the clamp holds the primary", firing.Bends: "the iron saturates",
	}
	if electronic {
		names[firing.Opens] = "trigger switches off"
	}
	count := map[firing.Happening]int{}
	for _, m := range t.Moments {
		count[m.What]++
	}
	seen := map[firing.Happening]int{}
	var list []draw.Moment
	for _, m := range t.Moments {
		seen[m.What]++
		name := names[m.What]
		n := count[m.What]
		switch {
		case m.What == firing.GoesOut && n > 1:
			if seen[m.What] < n {
				continue // the last is what matters
			}
			name += " for good"
		case seen[m.What] > 1:
			continue
		case n > 1 && m.What != firing.Bends: // every other time it no longer does
			name += fmt.Sprintf(", the first of %d times", n)
		}
		list = append(list, draw.Moment{Name: name, At: 1e3 * m.T})
	}
	return list
}

// viewFiring draws one firing; twin.ErrNoFiring when nothing switches.
func viewFiring(a *sparkAsk, quick bool) (*firingView, error) {
	t, err := traceOf(a)
	if err != nil || len(t.Points) < 2 {
		return nil, err
	}
	k := condition(a.c, a.b.Condition)
	v := &firingView{Later: quick, Caption: fmt.Sprintf("One firing in %s, every figure of the car at its middle: predicted. Time counts from the opening; a positive secondary is one of the coil's own polarity.", lower(k.Name))}
	if quick {
		return v, nil
	}
	from, to := stretch(t)
	if a.layout != "tall" {
		scene, err := draw.Stack(firingStack(a.electronic(), t, k, from, to, 900, 116))
		v.Wide = picture(scene, err, "firing-wide")
	}
	if a.layout != "wide" {
		scene, err := draw.Stack(firingStack(a.electronic(), t, k, from, to, 360, 110))
		v.Tall = picture(scene, err, "firing-tall")
	}
	return v, nil
}

// electronic reports whether the car as wired at the bench has a trigger.
func (a *sparkAsk) electronic() bool {
	d, err := wiredCar(a)
	return err == nil && d.Switch.Kind.Electronic()
}

// pointAt is the trace at a time between two of its points.
func pointAt(t *spark.Trace, at float64) (firing.Point, bool) {
	for i := 1; i < len(t.Points); i++ {
		a, b := t.Points[i-1], t.Points[i]
		if !(a.T < at && at < b.T) {
			continue
		}
		u := (at - a.T) / (b.T - a.T)
		mix := func(x, y float64) float64 { return x + u*(y-x) }
		return firing.Point{T: at, PrimaryA: mix(a.PrimaryA, b.PrimaryA), PrimaryV: mix(a.PrimaryV, b.PrimaryV), SecondaryV: mix(a.SecondaryV, b.SecondaryV), GapA: mix(a.GapA, b.GapA)}, true
	}
	return firing.Point{}, false
}

func firingStack(electronic bool, t *spark.Trace, k *car.Condition, from, to, wide, high float64) draw.StackSpec {
	var ms, amps, volts, kv []float64
	in := t.Thin(from, to, tracePoints)
	if p, ok := pointAt(t, from); ok { // the walk's steps are long where nothing happens
		in = append([]firing.Point{p}, in...)
	}
	if p, ok := pointAt(t, to); ok {
		in = append(in, p)
	}
	for _, p := range in {
		ms, amps, volts, kv = append(ms, 1e3*p.T), append(amps, p.PrimaryA), append(volts, p.PrimaryV), append(kv, p.SecondaryV/1e3)
	}
	chart := func(name, unit string, y []float64) draw.StackChart {
		return draw.StackChart{Y: draw.Axis{Label: name, Unit: unit}, Series: []draw.Series{{Name: name, X: ms, Y: y, Origin: draw.Predicted}}}
	}
	spec := draw.StackSpec{
		Title: "One firing: " + prove.Title(k.Name), W: wide, ChartH: high,
		X:      draw.Axis{Label: "time from the opening", Unit: "ms", Lo: 1e3 * from, Hi: 1e3 * to},
		Charts: []draw.StackChart{chart("primary current", "A", amps), chart("primary voltage", "V", volts), chart("secondary voltage", "kV", kv)},
	}
	for _, m := range moments(t, electronic) {
		if m.At >= spec.X.Lo && m.At <= spec.X.Hi {
			m.At = math.Round(1e3*m.At) / 1e3
			spec.Moments = append(spec.Moments, m)
		}
	}
	return spec
}

// short is a number of five digits in JSON.
type short float64

// MarshalJSON writes null where there is no number.
func (x short) MarshalJSON() ([]byte, error) {
	v := float64(x)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, v, 'g', 5, 64), nil
}

// traceLine and traceAnswer are a trace as trace.js reads it.
type traceLine struct {
	Label  string  `json:"label"`
	Unit   string  `json:"unit"`
	Scale  string  `json:"scale"`
	Values []short `json:"values"`
	Origin string  `json:"origin"`
}

type traceMark struct {
	X     short  `json:"x"`
	Label string `json:"label"`
}

type traceAnswer struct {
	X struct {
		Label  string  `json:"label"`
		Unit   string  `json:"unit"`
		Values []short `json:"values"`
	} `json:"x"`
	Series []traceLine `json:"series"`
	Marks  []traceMark `json:"marks"`
	Show   [2]short    `json:"show"`
}

// answerTrace makes the answer of a firing. Two points that five digits make
// one are one.
func answerTrace(t *spark.Trace, electronic bool) *traceAnswer {
	a := &traceAnswer{}
	a.X.Label, a.X.Unit = "time", "ms"
	line := func(label, unit string) traceLine {
		return traceLine{Label: label, Unit: unit, Scale: unit, Origin: "predicted"}
	}
	a.Series = []traceLine{line("primary current", "A"), line("primary voltage", "V"), line("secondary voltage", "kV")}
	last := math.Inf(-1)
	for _, p := range t.Thin(math.Inf(-1), math.Inf(1), tracePoints) {
		ms := digits5(1e3 * p.T)
		if ms <= last {
			continue
		}
		last = ms
		a.X.Values = append(a.X.Values, short(ms))
		for i, y := range [...]float64{p.PrimaryA, p.PrimaryV, p.SecondaryV / 1e3} {
			a.Series[i].Values = append(a.Series[i].Values, short(y))
		}
	}
	for _, m := range moments(t, electronic) {
		a.Marks = append(a.Marks, traceMark{short(m.At), m.Name})
	}
	from, to := stretch(t)
	a.Show = [2]short{short(1e3 * from), short(1e3 * to)}
	return a
}

func digits5(x float64) float64 {
	v, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 5, 64), 64)
	if err != nil {
		return x
	}
	return v
}

// trace answers with the trace of a firing.
func (s *Server) trace(w http.ResponseWriter, a *sparkAsk) {
	t, err := traceOf(a)
	if err == nil && len(t.Points) < 2 {
		err = fmt.Errorf("the switch does not open in this condition")
	}
	if err != nil {
		refuse(w, http.StatusConflict, prove.Title(plainly(err))+".")
		return
	}
	s.json(w, http.StatusOK, answerTrace(t, a.electronic()))
}
