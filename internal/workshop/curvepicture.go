package workshop

import (
	"fmt"
	"math"
	"net/url"
	"slices"
	"sort"
	"strconv"
	"strings"

	"dwellwright/car"
	"dwellwright/curve"
	"dwellwright/draw"
	"dwellwright/units"
)

// MostWanted is how many wanted points can be tried.
const MostWanted = 12

// Limits of a wanted point: crank rpm and crank degrees.
const (
	leastWantedRPM, mostWantedRPM = 200, 9000
	leastWantedDeg, mostWantedDeg = -20, 60
)

// ParseWanted reads wanted points from an address: w=rpm:deg,rpm:deg as a
// page's address has them, or wr and wd, one of each for a point, as a form
// sends them; a row left blank is no point. nil, or no point at all: the file's. Tolerances are
// those of the file's point at that speed, else the curve's own. All mistakes
// are returned; a point that can't be used is left out.
func ParseWanted(c *car.Car, q url.Values) ([]curve.Point, []*FieldError) {
	var pairs [][2]string
	if q.Has("wr") || q.Has("wd") {
		rpm, deg := q["wr"], q["wd"]
		for i := range max(len(rpm), len(deg)) {
			var p [2]string
			if i < len(rpm) {
				p[0] = strings.TrimSpace(rpm[i])
			}
			if i < len(deg) {
				p[1] = strings.TrimSpace(deg[i])
			}
			pairs = append(pairs, p)
		}
	} else if q.Get("w") != "" {
		for _, t := range strings.Split(q.Get("w"), ",") {
			rpm, deg, _ := strings.Cut(t, ":")
			pairs = append(pairs, [2]string{strings.TrimSpace(rpm), strings.TrimSpace(deg)})
		}
	} else {
		return nil, nil
	}
	var errs []*FieldError
	bad := func(i int, format string, args ...any) {
		errs = append(errs, &FieldError{"wanted", fmt.Sprintf("wanted point %d: ", i+1) + fmt.Sprintf(format, args...)})
	}
	list := []curve.Point{}
	for i, p := range pairs {
		if p[0] == "" && p[1] == "" {
			continue
		}
		if p[0] == "" || p[1] == "" {
			bad(i, "a speed and a timing belong together; leave both blank for no point")
			continue
		}
		rpm, err := units.Parse(units.Speed, p[0])
		if err != nil {
			bad(i, "%v", err)
			continue
		}
		deg, err := units.Parse(units.CrankAngle, strings.ReplaceAll(p[1], "−", "-"))
		switch {
		case err != nil:
			bad(i, "%v", err)
		case rpm.X < leastWantedRPM || rpm.X > mostWantedRPM:
			bad(i, "%s; from %d to %d rpm is accepted", units.Format(units.Speed, rpm.X, units.Metric), leastWantedRPM, mostWantedRPM)
		case deg.X < leastWantedDeg || deg.X > mostWantedDeg:
			bad(i, "%.1f°; from %d to %d° of the crank is accepted", deg.X, leastWantedDeg, mostWantedDeg)
		case slices.ContainsFunc(list, func(o curve.Point) bool { return math.Abs(o.RPM-rpm.X) < 1 }):
			bad(i, "there is one at %s already", units.Format(units.Speed, rpm.X, units.Metric))
		case len(list) == MostWanted:
			bad(i, "%d points are accepted", MostWanted)
		default:
			list = append(list, curve.Point{RPM: rpm.X, Advance: deg.X, Tolerance: toleranceAt(c, rpm.X)})
		}
	}
	sort.SliceStable(list, func(a, b int) bool { return list[a].RPM < list[b].RPM })
	if len(list) == 0 || sameWanted(c, list) {
		return nil, errs
	}
	return list, errs
}

// toleranceAt is what the file allows at the wanted point nearest in speed.
func toleranceAt(c *car.Car, rpm float64) float64 {
	tol, near := 0.0, math.Inf(1)
	for _, p := range c.Advance.Wanted {
		if d := math.Abs(p.RPM.X - rpm); d < near {
			tol, near = p.Tolerance, d
		}
	}
	if tol == 0 {
		return curve.Tolerance
	}
	return tol
}

// sameWanted reports whether points are those of the file.
func sameWanted(c *car.Car, list []curve.Point) bool {
	if len(list) != len(c.Advance.Wanted) {
		return false
	}
	for i, p := range c.Advance.Wanted {
		if math.Abs(p.RPM.X-list[i].RPM) > 0.5 || math.Abs(p.Advance.X-list[i].Advance) > 0.005 {
			return false
		}
	}
	return true
}

// WantedQuery writes wanted points for an address; "" for the file's.
func WantedQuery(points []curve.Point) string {
	var t []string
	for _, p := range points {
		t = append(t, strconv.FormatFloat(math.Round(p.RPM), 'f', -1, 64)+":"+strconv.FormatFloat(math.Round(p.Advance*100)/100, 'f', -1, 64))
	}
	return strings.Join(t, ",")
}

// CurvePicture is the advance over engine speed, vacuum hose off: what was
// read, what the mechanism does, what is wanted. handles: the wanted points
// can be moved on the page.
func CurvePicture(v *curve.Curve, width, height float64, handles bool) draw.CurveSpec {
	spec := draw.CurveSpec{
		Title: "Timing over engine speed, vacuum hose off", W: width, H: height,
		X: draw.Axis{Label: "engine speed", Unit: "rpm", Lo: 0, Hi: v.Speeds[len(v.Speeds)-1]},
		Y: draw.Axis{Label: "before top dead centre, crank", Unit: "°"},
	}
	spec.Series = append(spec.Series, measured(v)...)
	model := draw.Series{Name: "this mechanism, 95 % bars", Origin: draw.Predicted}
	for i, x := range v.Speeds {
		if b := v.Off[i].Mid; !math.IsNaN(b) {
			model.X, model.Y = append(model.X, x), append(model.Y, b)
			model.Lo, model.Hi = append(model.Lo, math.Min(v.Spread[i].Lo, b)), append(model.Hi, math.Max(v.Spread[i].Hi, b))
		}
	}
	spec.Series = append(spec.Series, model)
	if len(v.Wanted) > 0 {
		want := draw.Series{Name: "wanted", Origin: draw.Stated, Handles: handles, Marks: !handles}
		band := draw.Band{Name: "tolerance"}
		for _, w := range v.Wanted {
			want.X, want.Y = append(want.X, w.RPM), append(want.Y, w.Advance)
			band.X, band.Lo, band.Hi = append(band.X, w.RPM), append(band.Lo, w.Advance-w.Tolerance), append(band.Hi, w.Advance+w.Tolerance)
		}
		spec.Series, spec.Band = append(spec.Series, want), band
	}
	a := &v.Car.Advance
	lo, hi := 0.0, 40.0
	if a.SafeMost.Origin != car.Assumed {
		spec.Limits = append(spec.Limits, draw.CurveLimit{Name: "most that is safe under load", Limit: draw.Limit{Side: draw.AtMost, At: a.SafeMost.X}})
		hi = math.Max(hi, a.SafeMost.X+4)
	}
	if a.SafeLeast.Origin != car.Assumed {
		spec.Limits = append(spec.Limits, draw.CurveLimit{Name: "least when all in", Limit: draw.Limit{Side: draw.AtLeast, At: a.SafeLeast.X}})
	}
	for _, s := range spec.Series {
		for i, y := range s.Y {
			lo, hi = math.Min(lo, y-2), math.Max(hi, y+2)
			spec.X.Hi = math.Max(spec.X.Hi, s.X[i])
		}
	}
	spec.Y.Lo, spec.Y.Hi = 5*math.Floor(lo/5), 5*math.Ceil(hi/5)
	return spec
}

// measured are the readings, those with the speed going up apart from those
// going down where the file says so of all.
func measured(v *curve.Curve) []draw.Series {
	byGoing := map[int8]*draw.Series{}
	var order []int8
	for _, m := range v.Measured {
		s := byGoing[m.Going]
		if s == nil {
			s = &draw.Series{Name: "read with a light", Origin: draw.Measured, NoLine: true, Going: m.Going}
			byGoing[m.Going], order = s, append(order, m.Going)
		}
		s.X, s.Y = append(s.X, m.RPM), append(s.Y, m.Advance)
	}
	if len(order) > 2 { // not told apart
		all := draw.Series{Name: "read with a light", Origin: draw.Measured, NoLine: true}
		for _, g := range order {
			all.X, all.Y = append(all.X, byGoing[g].X...), append(all.Y, byGoing[g].Y...)
		}
		return []draw.Series{all}
	}
	var list []draw.Series
	for _, g := range order {
		list = append(list, *byGoing[g])
	}
	return list
}

// LoadMap is the total timing over speed and manifold pressure, vacuum can
// included, with the conditions of the car marked on it.
func LoadMap(v *curve.Curve, width, fieldH float64, sys units.System) draw.MapSpec {
	per, unit := 1e3, "kPa"
	if sys == units.Inch {
		per, unit = 3386.389, "inHg"
	}
	spec := draw.MapSpec{
		Title: "Total timing over speed and load, crank degrees", W: width, FieldH: fieldH,
		X: draw.Axis{Label: "engine speed", Unit: "rpm"}, Y: draw.Axis{Label: "manifold pressure, full load at the top", Unit: unit},
		Value: "total timing before top dead centre", Unit: "°", Xs: v.Load.RPM, Z: v.Load.Total, Origin: draw.Predicted,
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, row := range v.Load.Total {
		for _, x := range row {
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
	}
	for _, p := range v.Load.ManifoldPa {
		spec.Ys = append(spec.Ys, p/per)
	}
	step := 5 * math.Max(1, math.Ceil((hi-lo)/4/5))
	for x := step * math.Ceil((lo+1)/step); x < hi-1 && len(spec.Levels) < 3; x += step {
		spec.Levels = append(spec.Levels, x)
	}
	for _, a := range v.Vacuum.At {
		k := conditionByID(v.Car, a.Condition)
		if k == nil || len(spec.Points) == 12 {
			continue
		}
		spec.Points = append(spec.Points, draw.MapPoint{Name: a.Name, X: a.RPM, Y: k.Manifold.X / per, Text: Amount(units.CrankAngle, a.Total, sys), Origin: draw.Predicted})
	}
	return spec
}

func conditionByID(c *car.Car, id string) *car.Condition {
	for i := range c.Conditions {
		if c.Conditions[i].ID == id {
			return &c.Conditions[i]
		}
	}
	return nil
}
