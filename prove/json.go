package prove

import (
	"strings"

	"dwellwright/car"
	"dwellwright/units"
)

// Document is a proof sheet as JSON. Figures are in SI units (V, ohm, A, W,
// °C), unrounded; "unit" of a row names it. Its JSON Schema is
// schema/proof.schema.json.
type Document struct {
	Format  string           `json:"format" jsonschema:"enum=dwellwright-proof-1" jsonschema_description:"what this document is"`
	Car     string           `json:"car" jsonschema_description:"name of the car"`
	Option  string           `json:"option" jsonschema_description:"how the car is wired: as_fitted or an option of plan"`
	Proven  bool             `json:"proven" jsonschema_description:"every critical cell holds"`
	Verdict string           `json:"verdict" jsonschema_description:"the sheet in a sentence"`
	Counts  map[string]int   `json:"counts" jsonschema_description:"critical cells by state"`
	Draws   int              `json:"draws" jsonschema_description:"cars drawn from the spreads for each condition"`
	Seed    uint64           `json:"seed" jsonschema_description:"seed of the draws; the same seed gives the same sheet"`
	Columns []DocumentColumn `json:"columns"`
	Rows    []DocumentRow    `json:"rows"`
	Assumed []DocumentFigure `json:"assumed" jsonschema_description:"figures the car file does not say, taken at typical values"`
	Loose   []DocumentLoose  `json:"loose_readings,omitempty" jsonschema_description:"readings that decide no cell"`
}

// DocumentColumn is a condition, or "at_rest" for the key off.
type DocumentColumn struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// DocumentRow is one thing that must hold.
type DocumentRow struct {
	ID       string         `json:"id"`
	Name     string         `json:"name"`
	Group    string         `json:"group"`
	Unit     string         `json:"unit"`
	Critical bool           `json:"critical" jsonschema_description:"only a reading can make its cells hold"`
	How      string         `json:"how" jsonschema_description:"how it is read"`
	Cells    []DocumentCell `json:"cells" jsonschema_description:"the columns in which the row has a meaning"`
}

// DocumentCell is one figure of the sheet.
type DocumentCell struct {
	Column    string   `json:"column"`
	State     string   `json:"state" jsonschema:"enum=none,enum=holds,enum=not_yet_proven,enum=doubtful,enum=falls_short"`
	Origin    string   `json:"origin" jsonschema:"enum=measured,enum=predicted" jsonschema_description:"where value comes from"`
	Value     float64  `json:"value"`
	PlusMinus float64  `json:"plus_minus" jsonschema_description:"half the width of the 95 % interval"`
	Predicted float64  `json:"predicted" jsonschema_description:"median of the draws"`
	PredLow   float64  `json:"predicted_low" jsonschema_description:"2.5 percentile"`
	PredHigh  float64  `json:"predicted_high" jsonschema_description:"97.5 percentile"`
	AtLeast   *float64 `json:"at_least,omitempty"`
	AtMost    *float64 `json:"at_most,omitempty"`
	LimitPM   float64  `json:"limit_plus_minus,omitempty"`
	LimitFrom string   `json:"limit_from,omitempty" jsonschema_description:"where the limit comes from"`
	WantedLow *float64 `json:"wanted_low,omitempty"`
	WantedTop *float64 `json:"wanted_high,omitempty"`
	Note      string   `json:"note,omitempty"`
	Reading   string   `json:"reading,omitempty" jsonschema_description:"file:line of the reading that decides"`
}

// DocumentFigure is one figure of the car.
type DocumentFigure struct {
	Field string `json:"field"`
	Value string `json:"value"`
}

// DocumentLoose is a reading that decides no cell.
type DocumentLoose struct {
	Reading string `json:"reading"`
	Why     string `json:"why"`
}

// Unit returns the SI unit a row's figures are in.
func Unit(k units.Kind) string {
	switch k {
	case units.Voltage:
		return "V"
	case units.Resistance:
		return "ohm"
	case units.Current:
		return "A"
	case units.Power:
		return "W"
	case units.Temperature:
		return "°C"
	case units.Energy:
		return "J"
	case units.Time:
		return "s"
	case units.Length:
		return "m"
	case units.CrankAngle, units.DistributorAngle:
		return "deg"
	}
	return k.String()
}

// Document returns the sheet as it is written in JSON.
func (s *Sheet) Document() Document {
	d := Document{
		Format: "dwellwright-proof-1", Car: s.Car.Name, Option: s.Option.ID, Proven: s.Proven(), Verdict: s.Verdict(),
		Counts: map[string]int{}, Draws: s.Settings.Draws, Seed: s.Settings.Seed,
		Columns: []DocumentColumn{}, Rows: []DocumentRow{}, Assumed: []DocumentFigure{},
	}
	for _, st := range []State{Holds, NotProven, Doubtful, FallsShort} {
		d.Counts[stateIDs[st]] = s.Count()[st]
	}
	for _, c := range s.Columns {
		d.Columns = append(d.Columns, DocumentColumn(c))
	}
	for _, r := range s.Rows {
		row := DocumentRow{ID: r.ID, Name: r.Name, Group: r.Group, Unit: Unit(r.Kind), Critical: r.Critical, How: r.How}
		for j, c := range r.Cells {
			if c.Shown {
				row.Cells = append(row.Cells, c.document(s.Columns[j].ID))
			}
		}
		d.Rows = append(d.Rows, row)
	}
	for _, a := range Assumed(s.Car) {
		d.Assumed = append(d.Assumed, DocumentFigure{a.Path, units.FormatValue(a.P.Kind, a.P.Value, units.Metric)})
	}
	for _, l := range s.Loose {
		d.Loose = append(d.Loose, DocumentLoose{place(l.Reading), l.Why})
	}
	return d
}

func (c *Cell) document(column string) DocumentCell {
	v, pm := c.Shows()
	out := DocumentCell{
		Column: column, State: stateIDs[c.State], Origin: c.Origin(), Value: v, PlusMinus: pm,
		Predicted: c.Predicted.Mid, PredLow: c.Predicted.Lo, PredHigh: c.Predicted.Hi,
		AtLeast: finite(c.Limit.Lo), AtMost: finite(c.Limit.Hi), LimitPM: c.Limit.PM, LimitFrom: c.Limit.Source, Note: c.Note,
	}
	if c.Wanted != nil {
		out.WantedLow, out.WantedTop = finite(c.Wanted.Lo), finite(c.Wanted.Hi)
	}
	if c.Reading != nil {
		out.Reading = place(c.Reading.Reading)
	}
	return out
}

// Shows returns the figure a cell shows and its half-width: the reading's
// when there is one, else the prediction's.
func (c *Cell) Shows() (v, pm float64) {
	if c.Reading != nil {
		return c.Reading.Value, c.Reading.PM
	}
	return c.Predicted.Mid, c.Predicted.PM()
}

// Origin says where the shown figure comes from.
func (c *Cell) Origin() string {
	if c.Reading != nil {
		return "measured"
	}
	return "predicted"
}

// Assumed lists the figures that matter to the car as it is wired, that the
// file does not say and that take a typical value.
func Assumed(c *car.Car) []car.ParamRef {
	var out []car.ParamRef
	for _, r := range car.Params(c) {
		if r.P.Origin == car.Assumed && (r.P.X != 0 || r.P.PM != 0) && matters(c, r.Path) {
			out = append(out, r)
		}
	}
	return out
}

// matters reports whether the car as wired has the part a figure is of.
func matters(c *car.Car, path string) bool {
	relay := c.Feed == car.FeedRelay
	switch {
	case strings.HasPrefix(path, "planned."):
		return false
	case strings.HasPrefix(path, "relay."), strings.HasPrefix(path, "wiring.relay_feed."):
		return relay
	case strings.HasPrefix(path, "wiring.feed_wire."):
		return c.Switch.Kind.Electronic()
	case strings.HasPrefix(path, "wiring.bypass_lead."):
		return c.KeySwitch.Bypass
	case strings.HasPrefix(path, "charging."), strings.HasPrefix(path, "wiring.charge_lead."):
		return c.Charging.Kind != car.NoCharging
	case strings.HasPrefix(path, "ballast."):
		return c.Ballast.Fitted
	}
	return true
}

func place(r *car.Reading) string { return r.Pos.String() }
