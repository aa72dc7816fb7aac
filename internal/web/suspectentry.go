package web

import (
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/measure"
	"dwellwright/units"
)

// mostSaid is how many complaints, and how many entries after them, an address
// may carry: every reading of the catalogue once, and some again.
const mostSaid = 160

// said is what a person said at a car under diagnosis, as it stands in the
// address: c for each complaint, r for each reading, skipped question or repair,
// in order.
type said struct {
	Complaints []string // ids, in the order of the catalogue
	Entries    []workshop.Entry
	Wrong      []string // what of the address could not be used
}

// repaired marks an r of the address that is a repair and no reading.
const repaired = "done"

// whatIsSaid are the words of the address for what is no figure.
var whatIsSaid = map[string]workshop.Doing{"yes": workshop.Report, "no": workshop.Not, "cannot": workshop.Cannot, "leave": workshop.LeaveOut}

// parseSaid reads what was said from an address; what cannot be used is left
// out and told.
func parseSaid(c *car.Car, q url.Values) said {
	var s said
	for _, id := range q["c"] {
		switch m, err := measure.Find(c, id); {
		case err != nil || m.Group != measure.Owner:
			s.Wrong = append(s.Wrong, fmt.Sprintf("%q is no complaint of the list", shortened(id)))
		case !slices.Contains(s.Complaints, id):
			s.Complaints = append(s.Complaints, id)
		}
	}
	slices.SortFunc(s.Complaints, func(a, b string) int { return slices.Index(measure.IDs(), a) - slices.Index(measure.IDs(), b) })
	for i, text := range q["r"] {
		if i == mostSaid {
			s.Wrong = append(s.Wrong, fmt.Sprintf("only the first %d readings are taken", mostSaid))
			break
		}
		e, err := entryOf(c, text)
		if err != nil {
			s.Wrong = append(s.Wrong, fmt.Sprintf("%q: %s", shortened(text), plainEntry(err)))
			continue
		}
		s.Entries = append(s.Entries, e)
	}
	return s
}

// entryOf reads one r of an address: "coil_feed_closed:5.9 V", "no_start:no",
// "points_gap:leave", "done:renew_ballast:gone".
func entryOf(c *car.Car, text string) (workshop.Entry, error) {
	id, what, _ := strings.Cut(text, ":")
	e := workshop.Entry{ID: id, Text: what}
	if id == repaired {
		e.Do = workshop.Done
		e.ID, e.Text, _ = strings.Cut(what, ":")
	} else if do, ok := whatIsSaid[what]; ok {
		e.Do, e.Text = do, ""
	}
	return e, workshop.ReadEntry(c, e)
}

// written is an entry as entryOf reads it.
func written(e workshop.Entry) string {
	switch e.Do {
	case workshop.Done:
		return repaired + ":" + e.ID + ":" + e.Text
	case workshop.Figure:
		return e.ID + ":" + e.Text
	}
	for word, do := range whatIsSaid {
		if do == e.Do {
			return e.ID + ":" + word
		}
	}
	return ""
}

// add writes what was said into an address.
func (s said) add(q url.Values) {
	if len(s.Complaints) > 0 {
		q["c"] = s.Complaints
	}
	for _, e := range s.Entries {
		q.Add("r", written(e))
	}
}

// all is everything said, complaints first, as entries.
func (s said) all() []workshop.Entry {
	var list []workshop.Entry
	for _, id := range s.Complaints {
		list = append(list, workshop.Entry{Do: workshop.Report, ID: id})
	}
	return append(list, s.Entries...)
}

// with is what was said and one entry more.
func (s said) with(e workshop.Entry) said {
	s.Entries = append(slices.Clip(s.Entries), e)
	return s
}

// without is what was said less entry i.
func (s said) without(i int) said {
	s.Entries = slices.Delete(slices.Clone(s.Entries), i, i+1)
	return s
}

// answered reads the form of a card: what is asked for, and what was answered.
// ok is false where nothing was answered; wrong says what cannot be taken.
func answered(c *car.Car, q url.Values) (e workshop.Entry, ok bool, wrong string) {
	id, do, text := q.Get("ask"), q.Get("do"), strings.TrimSpace(q.Get("say"))
	switch {
	case do == repaired:
		e = workshop.Entry{Do: workshop.Done, ID: q.Get("mend"), Text: q.Get("then")}
	case id == "":
		return e, false, ""
	case do == "figure" || do == "" && text != "":
		m, err := measure.Find(c, id)
		if err != nil {
			return e, false, plainly(err)
		}
		if text == "" {
			return e, false, "Nothing stands in the field: write the figure that the instrument shows, or say that you can't do this one."
		}
		e = workshop.Entry{Do: workshop.Figure, ID: id, Text: withUnit(m.Kind, text, q.Get("unit"))}
	default:
		d, known := whatIsSaid[do]
		if !known {
			return e, false, ""
		}
		e = workshop.Entry{Do: d, ID: id}
	}
	if len(e.Text) > 60 {
		return e, false, "That is longer than any figure."
	}
	if err := workshop.ReadEntry(c, e); err != nil {
		return e, false, plainEntry(err)
	}
	return e, true, ""
}

var hasUnit = regexp.MustCompile(`[A-Za-zΩµμ°%"″']`)

// withUnit writes the unit chosen beside a figure that was typed without one.
func withUnit(k units.Kind, text, unit string) string {
	if unit == "" || !slices.ContainsFunc(unitsOf(k, units.Metric, 0), func(u unitChoice) bool { return u.Unit == unit }) {
		return text
	}
	mid, pm := text, ""
	for _, sign := range []string{"±", "+/-", "+-"} {
		if i := strings.Index(text, sign); i >= 0 {
			mid, pm = strings.TrimSpace(text[:i]), " ± "+strings.TrimSpace(text[i+len(sign):])
			break
		}
	}
	switch {
	case hasUnit.MatchString(mid):
		return text
	case pm == "":
		return mid + " " + unit
	case strings.Contains(pm, "%"):
		return mid + " " + unit + pm
	case hasUnit.MatchString(pm):
		return text
	}
	return mid + pm + " " + unit
}

// unitChoice is a unit to be had beside the field.
type unitChoice struct {
	Unit, Shown string
	On          bool
}

// unitNames are the units of each kind, the one an instrument shows first.
var unitNames = map[units.Kind][]string{
	units.Voltage: {"V", "mV", "kV"}, units.Current: {"A", "mA"}, units.Resistance: {"ohm", "kohm", "Mohm"},
	units.Length: {"mm", "inch"}, units.Time: {"ms", "µs"}, units.Capacitance: {"µF", "nF"}, units.Temperature: {"°C", "°F"},
	units.CrankAngle: {"°"}, units.DistributorAngle: {"°"}, units.Vacuum: {"mbar", "inHg"}, units.GaugePressure: {"bar", "psi"}, units.Force: {"N", "oz"},
	units.Speed: {"rpm"}, units.Fraction: {"%"},
}

// unitsOf are the units a figure of a kind is typed in. The one that is set is
// the one people use for figures as large as about, 0 for not known.
func unitsOf(k units.Kind, sys units.System, about float64) []unitChoice {
	var list []unitChoice
	for _, u := range unitNames[k] {
		list = append(list, unitChoice{Unit: u, Shown: strings.ReplaceAll(u, "ohm", "Ω")})
	}
	if len(list) == 0 {
		return nil
	}
	on := 0
	switch k {
	case units.Voltage:
		if about >= 1000 {
			on = 2
		}
	case units.Resistance:
		switch {
		case about >= 1e6:
			on = 2
		case about >= 1000:
			on = 1
		}
	case units.Length, units.Temperature, units.Vacuum, units.GaugePressure:
		if sys == units.Inch {
			on = 1
		}
	}
	list[on].On = true
	return list
}

// plainEntry says what is wrong with an entry as a page does, not the shell.
func plainEntry(err error) string {
	text := err.Error()
	if strings.HasPrefix(text, "--") {
		if _, after, ok := strings.Cut(text, ": "); ok {
			text = after
		}
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

func shortened(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
