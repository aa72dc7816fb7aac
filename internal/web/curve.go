package web

import (
	"errors"
	"fmt"
	"math"
	"net/url"
	"strings"

	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/curve"
	"dwellwright/draw"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/twin"
	"dwellwright/units"
)

// curveView is the stage Curve.
type curveView struct {
	Wide, Tall chartHandles
	Facts      []factView
	Wanted     []wantedRow
	Builds     []buildRow
	NoKit      string // why nothing is built
	Rest       bool   // what stands below comes with this answer
	Parts      []partRow
	PartWords  string
	Measured   []measuredRow
	Vacuum     []vacuumRow
	VacuumSays string
	MapWide    html
	MapTall    html
	Cautions   []string
	Start      string // address with this mechanism's own curve as the wanted one; "" where one is wanted
}

// chartHandles is a chart with points that can be moved, and where its field
// lies.
type chartHandles struct {
	ID                               string
	Picture                          html
	X0, X1, Y0, Y1                   string // user units
	RPMLo, RPMHi, DegreeLo, DegreeHi string
}

type wantedRow struct {
	Speed, Wanted, Model, Off, Inside string
	Mark                              html
	Word                              string
}

type buildRow struct {
	Rank                     int
	Name, Set, Worst, Chance string
	Mark                     html
	Word                     string
	State                    string
	Points                   []string
}

type partRow struct{ Name, Figure, From string }

type measuredRow struct{ Speed, Going, Read, Model, Off string }

type vacuumRow struct {
	Name, Feels, Gives, Total string
	Here                      bool
}

// pointRowView is a wanted point as it is typed.
type pointRowView struct {
	N            int
	Speed, Angle string
	Blank        bool
}

// curveCar works out the stage Curve.
func curveCar(p *page, c *car.Car, b workshop.Bench, _ int) error {
	key := (&sparkAsk{b: b, edition: p.Edition}).key("curve", false, p.N)
	tried := b.Apply(c)
	v, anew, err := rested(p, key, func(draws int) (*curve.Curve, error) {
		return workshop.Curve(tried, curve.Settings{Draws: draws, Seed: 1})
	})
	if err != nil {
		return err
	}
	p.Draws = v.Draws
	if p.picks.Wanted != nil {
		most := math.MaxInt
		if p.moves() {
			most = 40
		}
		if v, err = v.Want(p.picks.Wanted, most); err != nil {
			return err
		}
	}
	p.Verdict = curveVerdict(v, b.Units)
	p.Curve = viewCurve(p, v, anew)
	return nil
}

// curveBench fills the bench of the stage Curve: the wanted points, and one
// row for another.
func curveBench(v *benchView, c *car.Car, look picks, q url.Values, errs []*workshop.FieldError) {
	v.First = "none"
	points := wantedOf(c, look.Wanted)
	wrong := false
	for _, e := range errs {
		wrong = wrong || e.Field == "wanted"
	}
	if wrong && (q.Has("wr") || q.Has("wd")) { // what was typed stays to be put right
		for i := range min(max(len(q["wr"]), len(q["wd"])), workshop.MostWanted+1) {
			r := pointRowView{N: i + 1}
			if i < len(q["wr"]) {
				r.Speed = q["wr"][i]
			}
			if i < len(q["wd"]) {
				r.Angle = q["wd"][i]
			}
			v.Points = append(v.Points, r)
		}
		return
	}
	for i, p := range points {
		v.Points = append(v.Points, pointRowView{N: i + 1, Speed: fmt.Sprintf("%.0f", p.RPM), Angle: minus(plain(math.Round(p.Advance*100) / 100))})
	}
	if len(points) < workshop.MostWanted {
		v.Points = append(v.Points, pointRowView{N: len(points) + 1, Blank: true})
	}
	if look.Wanted != nil {
		v.Tried = append(v.Tried, fmt.Sprintf("a wanted curve of %d points", len(points)))
	}
}

// insideState is how the chance stands that a wanted point is met.
func insideState(x float64) prove.State {
	switch {
	case x >= 0.9:
		return prove.NotProven
	case x <= 0.1:
		return prove.FallsShort
	}
	return prove.Doubtful
}

func curveVerdict(v *curve.Curve, sys units.System) verdict {
	if len(v.Wanted) == 0 {
		return verdict{Head: "No wanted curve is filed or tried",
			Detail: fmt.Sprintf("Add points beside the picture and this mechanism is held against them. It begins at %s and is all in at %s (predicted).", rpmWords(v.Begins), rpmWords(v.AllIn))}
	}
	state, missed := prove.None, 0
	worst, at := 0.0, 0.0
	for _, w := range v.Wanted {
		s := insideState(w.Inside)
		state = worse(state, s)
		if s == prove.FallsShort || w.Inside < 0.5 {
			missed++
		}
		if off := w.Model.Mid - w.Advance; math.Abs(off) >= math.Abs(worst) {
			worst, at = off, w.RPM
		}
	}
	out := verdict{Mark: mark(state), State: stateClass(state)}
	off := fmt.Sprintf("farthest off %s at %s", offBy(worst), units.Format(units.Speed, at, sys))
	if missed == 0 {
		out.Head = fmt.Sprintf("The curve as it is meets what is wanted; %s", off)
	} else {
		out.Head = fmt.Sprintf("The curve as it is misses %d of %d wanted points; %s", missed, len(v.Wanted), off)
	}
	if len(v.Builds) > 0 {
		b := &v.Builds[0]
		out.Detail = fmt.Sprintf("Best of the kit: %s, initial set to %.1f°: every point inside in %s (predicted). ", buildName(v, b), b.Initial, chance(b.Chance))
	}
	if len(v.Cautions) > 0 {
		out.Detail += v.Cautions[0]
	} else {
		out.Detail += "Predicted, vacuum hose off; only a light over the whole speed proves it."
	}
	return out
}

func rpmWords(x float64) string {
	if math.IsNaN(x) {
		return "no speed there is"
	}
	return units.Format(units.Speed, x, units.Metric)
}

// offBy says by how much a timing is off.
func offBy(x float64) string {
	switch r := math.Round(x*10) / 10; {
	case r > 0:
		return fmt.Sprintf("%.1f° early", r)
	case r < 0:
		return fmt.Sprintf("%.1f° late", -r)
	}
	return "0.0°"
}

// buildName says what a build is made of.
func buildName(v *curve.Curve, b *advance.Build) string {
	var say []string
	places := []string{"light", "heavy"}
	for i, id := range b.SpringIDs {
		place := fmt.Sprintf("spring %d", i+1)
		if i < len(places) {
			place = places[i] + " spring"
		}
		if id == "" {
			id = "as fitted"
		}
		say = append(say, place+" "+id)
	}
	piece := func(what, id string) {
		if id == "" {
			id = "as fitted"
		}
		say = append(say, what+" "+id)
	}
	if len(v.Car.Advance.Kit.Stops) > 0 {
		piece("stop", b.StopID)
	}
	if len(v.Car.Advance.Kit.Weights) > 0 {
		piece("weights", b.WeightID)
	}
	return strings.ReplaceAll(strings.Join(say, ", "), "_", " ")
}

func viewCurve(p *page, v *curve.Curve, anew bool) *curveView {
	sys := p.bench.Units
	out := &curveView{Rest: !p.moves(), Cautions: v.Cautions}
	if p.Layout != "tall" {
		out.Wide = curveChart(v, 900, 420, "curve-wide")
	}
	if p.Layout != "wide" {
		out.Tall = curveChart(v, 340, 440, "curve-tall")
	}
	out.Facts = curveFacts(v, sys)
	if len(v.Wanted) == 0 {
		tries := p.picks
		tries.Wanted = ownCurve(v)
		q := p.bench.Query()
		tries.add(q)
		out.Start = fmt.Sprintf("/cars/%d/curve?%s", p.N, q.Encode())
	}
	for i := range v.Wanted {
		w := &v.Wanted[i]
		st := insideState(w.Inside)
		out.Wanted = append(out.Wanted, wantedRow{
			Speed: units.Format(units.Speed, w.RPM, sys), Wanted: minus(plusMinus(w.Advance, w.Tolerance, "°")),
			Model: minus(plusMinus(w.Model.Mid, w.Model.PM(), "°")), Off: offBy(w.Model.Mid - w.Advance), Inside: chance(w.Inside), Mark: sign(st), Word: st.String(),
		})
	}
	out.builds(v, sys)
	if !out.Rest {
		return out
	}
	out.parts(v, sys)
	for _, m := range v.Measured {
		going := map[int8]string{1: "going up", -1: "going down"}[m.Going]
		out.Measured = append(out.Measured, measuredRow{units.Format(units.Speed, m.RPM, sys), going, minus(plusMinus(m.Advance, m.PM, "°")), minus(plusMinus(m.Model, 0, "°")), offBy(m.Advance - m.Model)})
	}
	for _, a := range v.Vacuum.At {
		out.Vacuum = append(out.Vacuum, vacuumRow{prove.Title(a.Name), workshop.Amount(units.Vacuum, a.FeltPa, sys), minus(plusMinus(a.Advance.Mid, a.Advance.PM(), "°")), minus(plusMinus(a.Total.Mid, a.Total.PM(), "°")), a.Condition == p.bench.Condition})
	}
	out.VacuumSays = vacuumSays(v, sys)
	if p.Layout != "tall" {
		scene, err := draw.Map(workshop.LoadMap(v, 900, 320, sys))
		out.MapWide = picture(scene, err, "load-wide")
	}
	if p.Layout != "wide" {
		scene, err := draw.Map(workshop.LoadMap(v, 340, 280, sys))
		out.MapTall = picture(scene, err, "load-tall")
	}
	return out
}

// ownCurve are points on the curve as it is, to start a wanted one from: at
// idle, where it begins and is all in, and between.
func ownCurve(v *curve.Curve) []curve.Point {
	var list []curve.Point
	begins, all := v.Begins, v.AllIn
	if math.IsNaN(begins) || math.IsNaN(all) || all <= begins {
		begins, all = 1000, 3000
	}
	for _, rpm := range []float64{begins - 300, begins, begins + (all-begins)/3, begins + 2*(all-begins)/3, all, all + 800} {
		rpm = math.Max(50*math.Round(rpm/50), 300)
		at := 0.0
		for i, x := range v.Speeds {
			if x <= rpm || i == 0 {
				at = v.Off[i].Mid
			}
		}
		if n := len(list); n == 0 || rpm > list[n-1].RPM {
			list = append(list, curve.Point{RPM: rpm, Advance: math.Round(2*at) / 2})
		}
	}
	return list
}

func curveChart(v *curve.Curve, w, h float64, id string) chartHandles {
	spec := workshop.CurvePicture(v, w, h, true)
	out := chartHandles{ID: id}
	scene, err := draw.Curve(spec)
	var se *draw.SpecError
	if errors.As(err, &se) && se.Where == "h" { // a long key on a narrow screen
		spec.H += 120
		scene, err = draw.Curve(spec)
	}
	if err == nil {
		var box draw.CurveBox
		if box, err = draw.CurvePlace(spec); err == nil {
			out.X0, out.X1, out.Y0, out.Y1 = plain(box.X0), plain(box.X1), plain(box.Y0), plain(box.Y1)
			out.RPMLo, out.RPMHi, out.DegreeLo, out.DegreeHi = plain(box.X.Lo), plain(box.X.Hi), plain(box.Y.Lo), plain(box.Y.Hi)
		}
	}
	out.Picture = picture(scene, err, id)
	return out
}

func curveFacts(v *curve.Curve, sys units.System) []factView {
	origin := "predicted, from typical springs"
	if v.Car.Advance.Light.Rate.Origin != car.Assumed {
		origin = "predicted, from the springs filed"
	}
	if v.Estimated != nil {
		origin = "estimated from the readings"
	}
	var list []factView
	fact := func(name string, i twin.Interval, note string) {
		x := factView{Name: name, Note: note}
		x.Mid, x.PM = parted(minus(plusMinus(i.Mid, i.PM(), "°")))
		list = append(list, x)
	}
	fact("Initial", v.Initial, origin+", crank")
	list = append(list, factView{Name: "Begins to advance", Mid: rpmWords(v.Begins), Note: origin + ", middle mechanism"})
	list = append(list, factView{Name: "All in", Mid: rpmWords(v.AllIn), Note: origin + ", middle mechanism"})
	fact("All in, with initial", v.Stop, origin+", crank, hose off")
	a := &v.Car.Advance
	if a.SafeMost.Origin != car.Assumed {
		st := prove.NotProven
		switch {
		case v.Stop.Lo > a.SafeMost.X:
			st = prove.FallsShort
		case v.Stop.Hi > a.SafeMost.X:
			st = prove.Doubtful
		}
		note := a.SafeMost.Origin.String()
		if a.SafeSource != "" {
			note += ": " + a.SafeSource
		}
		list = append(list, factView{Name: "Safe under load, at most", Mid: fmt.Sprintf("%.0f°", a.SafeMost.X), Note: note, Mark: sign(st), Word: st.String()})
	}
	return list
}

func (out *curveView) builds(v *curve.Curve, sys units.System) {
	k := v.Car.Advance.Kit
	switch {
	case len(k.Springs)+len(k.Stops)+len(k.Weights) == 0:
		out.NoKit = "The car file has no kit of springs, stops or weights (advance.kit), so nothing can be built."
	case len(v.Wanted) == 0:
		out.NoKit = "Without a wanted curve nothing can be ranked."
	}
	for i := range v.Builds {
		b := &v.Builds[i]
		st := insideState(b.Chance)
		r := buildRow{Rank: i + 1, Name: prove.Title(buildName(v, b)), Set: fmt.Sprintf("%.1f°", b.Initial), Chance: chance(b.Chance), Mark: sign(st), Word: st.String(), State: stateClass(st)}
		far := 0
		for j, x := range b.Points {
			if j < len(v.Wanted) && math.Abs(x.Off)/v.Wanted[j].Tolerance > math.Abs(b.Points[far].Off)/v.Wanted[far].Tolerance {
				far = j
			}
		}
		for j, x := range b.Points {
			if j < len(v.Wanted) {
				r.Points = append(r.Points, fmt.Sprintf("%s: %.1f°, %s, inside %s", units.Format(units.Speed, v.Wanted[j].RPM, sys), x.Advance.Mid, offBy(x.Off), chance(x.Chance)))
			}
		}
		if far < len(b.Points) && far < len(v.Wanted) {
			r.Worst = fmt.Sprintf("%s at %s", offBy(b.Points[far].Off), units.Format(units.Speed, v.Wanted[far].RPM, sys))
		}
		out.Builds = append(out.Builds, r)
	}
}

// parts lists what the readings say of springs, stop, friction and initial.
func (out *curveView) parts(v *curve.Curve, sys units.System) {
	e := v.Estimated
	if e == nil {
		out.PartWords = "There are no readings of the curve (advance.runs), so springs and stop are those of the car file or typical ones. Read the timing at six speeds or more, going up and going down, and they are estimated here."
		return
	}
	out.PartWords = "What weights and springs would have to be for the readings; in brackets the 95 % interval. Other weights with other springs give the same curve."
	row := func(name string, k units.Kind, f advance.Fig) {
		r := partRow{Name: name, Figure: units.Format(k, f.Mid, sys), From: "the readings narrow it"}
		switch {
		case f.Given:
			r.From = "taken over as filed"
		case !f.Known:
			r.From = "hardly narrowed by the readings"
		}
		if !f.Given {
			r.Figure += " (" + units.Format(k, f.Lo95, sys) + " to " + units.Format(k, f.Hi95, sys) + ")"
		}
		out.Parts = append(out.Parts, r)
	}
	for i, s := range e.Springs {
		name := []string{"Light spring", "Heavy spring"}[min(i, 1)]
		row(name+", rate", units.SpringRate, s.RateNPerM)
		row(name+", preload", units.Force, s.PreloadN)
		row(name+", takes up after", units.DistributorAngle, s.TakesUpDeg)
	}
	row("Stop, distributor", units.DistributorAngle, e.StopDeg)
	row("Friction at the weights", units.Torque, e.FrictionNm)
	row("Initial", units.CrankAngle, e.Initial)
}

func vacuumSays(v *curve.Curve, sys units.System) string {
	u := &v.Vacuum
	if u.Source == advance.NoVacuum {
		return "No vacuum advance is fitted: the total is initial and centrifugal."
	}
	from := "the carburettor's port, shut off at idle"
	if u.Source == advance.Manifold {
		from = "the manifold"
	}
	return fmt.Sprintf("The hose is joined to %s. The can starts at %s, is all in at %s and draws the plate %.1f° (distributor); the air outside stands at %s. Predicted.",
		from, units.Format(units.Vacuum, u.Can.StartPa, sys), units.Format(units.Vacuum, u.Can.FullPa, sys), u.Can.TravelDeg, units.Format(units.Pressure, u.AmbientPa, sys))
}
