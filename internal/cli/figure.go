package cli

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"dwellwright/car"
	"dwellwright/twin"
	"dwellwright/units"
)

// figure is one named figure of a sheet: what it is, how wide its 95 %
// interval is and where it comes from. Text and JSON are made of the same.
type figure struct {
	id, name string
	kind     units.Kind
	of       twin.Interval
	origin   string // measured, predicted, stated or assumed
	text     string // in place of the interval, when that says it better
	note     string // behind it
	chance   bool   // a share of the drawn cars, in place of an interval
}

// predicted is the origin of what is worked out.
const predicted = "predicted"

// words is the figure with its plus-or-minus, unit, origin and note.
func (f *figure) words(sys units.System) string {
	t := f.text
	switch {
	case t != "":
	case f.chance:
		t = percent(f.of.Mid)
	default:
		t = ofInterval(f.kind, f.of, sys)
	}
	if f.origin != "" {
		t += " (" + f.origin + ")"
	}
	if f.note != "" {
		t += "; " + f.note
	}
	return t
}

// writeList writes figures one below the other, their names in a column.
func writeList(w io.Writer, list []figure, width int, sys units.System) {
	n := 0
	for i := range list {
		n = max(n, utf8.RuneCountInString(list[i].name))
	}
	for i := range list {
		writeWrapped(w, "  "+pad(list[i].name, n)+"  ", together(list[i].words(sys)), width)
	}
}

// Figure is a figure of a document: SI units (m, V, Pa, N/m, N, kg, N m),
// angles in degrees of what the unit says.
type Figure struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Unit   string `json:"unit" jsonschema_description:"SI; an angle's says whose degrees; empty: a bare number or a share"`
	Origin string `json:"origin" jsonschema:"enum=measured,enum=stated,enum=predicted,enum=assumed"`
	Interval
}

// toldFigures are figures as a document has them.
func toldFigures(list []figure) []Figure {
	out := []Figure{}
	for i := range list {
		f := &list[i]
		if f.id == "" || math.IsNaN(f.of.Mid) {
			continue
		}
		unit := ""
		if !f.chance {
			unit = unitOf(f.kind)
		}
		origin := f.origin
		if origin == "" { // estimated from readings: what the text says by its note
			origin = predicted
		}
		out = append(out, Figure{f.id, strings.TrimSpace(f.name), unit, origin, told(f.of)})
	}
	return out
}

// unitOf is the unit of a document's figures.
func unitOf(k units.Kind) string {
	switch k {
	case units.CrankAngle:
		return "° crank"
	case units.DistributorAngle:
		return "° distributor"
	case units.Length:
		return "m"
	case units.Voltage:
		return "V"
	case units.Pressure, units.Vacuum, units.GaugePressure:
		return "Pa"
	case units.SpringRate:
		return "N/m"
	case units.Force:
		return "N"
	case units.Torque:
		return "N m"
	case units.Speed:
		return "rpm"
	case units.Mass:
		return "kg"
	}
	return ""
}

// originOf is where a figure of the car file comes from, in a word.
func originOf(p *car.Param) string { return p.Origin.String() }

// workedFrom is the origin of what is worked out from figures of the file:
// assumed where every one of them is.
func workedFrom(list ...*car.Param) string {
	for _, p := range list {
		if p.Origin != car.Assumed {
			return predicted
		}
	}
	return car.Assumed.String()
}

// given is the interval of a figure of the car file: the middle and what the
// file's plus-or-minus spans.
func given(p *car.Param) twin.Interval { return twin.Interval{Mid: p.X, Lo: p.Lo(), Hi: p.Hi()} }

// alone is an interval without width.
func alone(x float64) twin.Interval { return twin.Interval{Mid: x, Lo: x, Hi: x} }

// btdc writes a timing: crank degrees before or after top dead centre.
func btdc(i twin.Interval) string {
	side := "before"
	if i.Mid < 0 {
		side = "after"
		i = twin.Interval{Mid: -i.Mid, Lo: -i.Hi, Hi: -i.Lo}
	}
	return ofInterval(units.CrankAngle, i, units.Metric) + " " + side + " top dead centre"
}

// lateEarly writes a crank angle by which a timing is off, early positive.
func lateEarly(i twin.Interval) string {
	side := " early"
	switch {
	case math.Abs(i.Mid) < 0.05:
		side = ""
	case i.Mid < 0:
		side = " late"
		i = twin.Interval{Mid: -i.Mid, Lo: -i.Hi, Hi: -i.Lo}
	}
	return ofInterval(units.CrankAngle, i, units.Metric) + side
}

// bothLengths writes a length in millimetres and in mils: slots are filed by
// whatever is at hand.
func bothLengths(m float64) string {
	return fmt.Sprintf("%.2f mm (%.0f mil)", 1e3*m, m/25.4e-6)
}
