package cli

import (
	"fmt"
	"io"
	"strings"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/measure"
	"dwellwright/twin"
	"dwellwright/units"
)

type readingsCmd struct {
	Car   string `arg:"" optional:"" help:"Car file, 'demo', or - for standard input: what can be read of this car, and what it shows in order. Left out: everything."`
	Draws int    `default:"200" help:"Cars drawn from the spreads of the uncertain figures, 0 to 2000."`
	Seed  uint64 `default:"1" help:"Seed of the draws: the same seed gives the same figures."`
	Inch  bool   `help:"Inch, mil and Fahrenheit instead of metric."`
	JSON  bool   `name:"json" help:"Write JSON (its schema: dwellwright schema readings)."`
}

// Run lists what can be read.
func (c *readingsCmd) Run(s *session) error {
	if c.Draws < 0 || c.Draws > 2000 {
		return fmt.Errorf("dwellwright: --draws %d; 0 to 2000 is accepted", c.Draws)
	}
	var k *car.Car
	if c.Car != "" {
		var err error
		if k, err = workshop.Open(c.Car, s.In); err != nil {
			return err
		}
	}
	list, err := workshop.Readings(k, c.Draws, c.Seed)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s, readingsDocument(k, list, c.Draws, c.Seed))
	}
	sys := drawing{Inch: c.Inch}.system()
	writeReadings(s.Out, k, list, c.Draws, s.Width, sys)
	return nil
}

// skills are what a reading asks of the person.
var skills = map[int]string{1: "a careful owner", 2: "a mechanic", 3: "an ignition specialist"}

func setupOf(id string) measure.Setup {
	for _, s := range measure.Setups() {
		if s.ID == id {
			return s
		}
	}
	return measure.Setup{ID: id, Name: id}
}

// writeReadings writes the catalogue of readings, by what has to be set up:
// that is done once for all readings under it.
func writeReadings(w io.Writer, c *car.Car, list []workshop.Readable, draws, width int, sys units.System) {
	head := fmt.Sprintf("WHAT CAN BE READ, SEEN AND ASKED: %d readings, under what has to be set up for them. All minutes are estimates.", len(list))
	if c != nil {
		head = fmt.Sprintf("WHAT CAN BE READ, SEEN AND ASKED OF %s: %d readings, under what has to be set up for them. All minutes are estimates. ", strings.ToUpper(c.Name), len(list))
		head += "Here: what this car shows in order, predicted"
		if draws > 0 {
			head += fmt.Sprintf(", the 95 %% interval of %d draws of its uncertain figures", draws)
		}
		head += "; the instrument's own error comes on top."
	}
	writeWrapped(w, "", together(head), width)
	for _, setup := range measure.Setups() {
		first := true
		for i := range list {
			if list[i].Setup != setup.ID {
				continue
			}
			if first {
				heading(w, together(fmt.Sprintf("%s: %.0f min, once for all of these", strings.ToUpper(setup.Name), setup.Minutes)), width)
				first = false
			}
			writeReadable(w, &list[i], width, sys)
		}
	}
	heading(w, "BEFORE YOU READ OR TOUCH; the letters stand at the readings", width)
	for _, h := range measure.Hazards() {
		writeWrapped(w, "  ! ", fmt.Sprintf("%s, %s: %s", h.Letter(), h, h.Caution()), width)
	}
	writeWrapped(w, "  ! ", "It advises; local codes and licensed practice decide.", width)
}

func writeReadable(w io.Writer, r *workshop.Readable, width int, sys units.System) {
	writeWrapped(w, "  ", upperFirst(r.Name)+" ("+r.ID+")", width)
	const lead = "      "
	if len(r.Hazards) > 0 {
		writeWrapped(w, lead, "! "+hazardWords(r.Hazards), width)
	}
	kind := r.Kind.String()
	if r.Observation {
		kind = "yes or no"
	}
	writeWrapped(w, lead, together(fmt.Sprintf("%s %s: %s; %.0f min, for %s.", sentence(r.Probes), upperFirst(r.Engine), kind, r.Minutes, skills[r.Skill])), width)
	writeWrapped(w, lead, "With "+r.With+".", width)
	words := sentence("in order: " + r.Healthy)
	if r.InOrder != nil {
		words += " Here: " + inOrderWords(r, sys) + "."
	}
	writeWrapped(w, lead, together(words), width)
}

// inOrderWords is what the car at hand shows in order.
func inOrderWords(r *workshop.Readable, sys units.System) string {
	if r.Observation {
		return "so in " + percent(r.InOrder.Mid) + " of such cars (predicted)"
	}
	return between(r.Kind, *r.InOrder, sys) + " (predicted)"
}

// between is an interval by its ends where its middle is not in the middle.
func between(k units.Kind, i twin.Interval, sys units.System) string {
	if up, down := i.Hi-i.Mid, i.Mid-i.Lo; up > 1.5*down || down > 1.5*up {
		lo, hi := units.Format(k, still(i.Lo), sys), units.Format(k, still(i.Hi), sys)
		if lo == hi {
			return lo
		}
		return lo + " to " + hi
	}
	i.Mid, i.Lo, i.Hi = still(i.Mid), still(i.Lo), still(i.Hi)
	return ofInterval(k, i, sys)
}

// hazardWords names hazards with their letters.
func hazardWords(list []measure.Hazard) string {
	var out []string
	for _, h := range list {
		out = append(out, h.Letter()+" "+h.String())
	}
	return strings.Join(out, ", ")
}

// ReadingsDocument is what the command readings lists, as JSON: figures in the
// units that each names. Its JSON Schema is schema/readings.schema.json.
type ReadingsDocument struct {
	Format   string            `json:"format" jsonschema:"enum=dwellwright-readings-1" jsonschema_description:"what this document is"`
	Car      string            `json:"car,omitempty" jsonschema_description:"name of the car; left out for the whole catalogue"`
	Draws    int               `json:"draws"`
	Seed     uint64            `json:"seed"`
	Readings []ReadingDocument `json:"readings"`
}

// ReadingDocument is something that can be read, seen or asked.
type ReadingDocument struct {
	ID           string           `json:"id"`
	Name         string           `json:"name"`
	Group        string           `json:"group" jsonschema:"enum=supply,enum=feed,enum=ground,enum=primary,enum=trigger,enum=secondary,enum=timing,enum=advance,enum=look,enum=owner"`
	YesNo        bool             `json:"yes_or_no" jsonschema_description:"an owner's report or a look; else a figure"`
	Quantity     string           `json:"quantity,omitempty" jsonschema_description:"of a figure"`
	Unit         string           `json:"unit,omitempty" jsonschema_description:"of the figures here"`
	Probes       string           `json:"probes" jsonschema_description:"where each lead goes, or where to look"`
	Engine       string           `json:"engine" jsonschema_description:"what engine and key are doing"`
	With         string           `json:"with" jsonschema_description:"the instrument and its error"`
	Setup        string           `json:"setup"`
	SetupMinutes float64          `json:"setup_minutes_estimate" jsonschema_description:"once for all readings of the set-up"`
	Minutes      float64          `json:"minutes_estimate"`
	Skill        int              `json:"skill" jsonschema:"minimum=1,maximum=3" jsonschema_description:"1 a careful owner, 2 a mechanic, 3 an ignition specialist"`
	Cautions     []string         `json:"cautions" jsonschema_description:"to be read before"`
	Healthy      string           `json:"in_order" jsonschema_description:"what a car in order shows, in words, and who says so"`
	InOrder      *ExpectedFigures `json:"in_order_here,omitempty" jsonschema_description:"what this car shows in order, predicted"`
}

// ExpectedFigures is what a reading is expected to show.
type ExpectedFigures struct {
	Low    *float64 `json:"low,omitempty" jsonschema_description:"2.5 in 100 read less"`
	Middle *float64 `json:"middle,omitempty"`
	High   *float64 `json:"high,omitempty" jsonschema_description:"2.5 in 100 read more"`
	Yes    *float64 `json:"chance_of_yes,omitempty" jsonschema_description:"of an observation, 0 to 1"`
	Origin string   `json:"origin" jsonschema:"enum=predicted"`
}

func readingDocument(m *measure.Measure) ReadingDocument {
	setup := setupOf(m.Setup)
	d := ReadingDocument{ID: m.ID, Name: m.Name, Group: m.Group.String(), YesNo: m.Observation, Probes: m.Probes, Engine: m.Engine, With: m.With,
		Setup: setup.Name, SetupMinutes: setup.Minutes, Minutes: m.Minutes, Skill: m.Skill, Cautions: []string{}, Healthy: m.Healthy}
	if !m.Observation {
		d.Quantity, d.Unit = m.Kind.String(), plainUnit(m.Kind)
	}
	for _, h := range m.Hazards {
		d.Cautions = append(d.Cautions, upperFirst(h.String())+": "+h.Caution())
	}
	return d
}

// plainUnit is the unit that a figure of a kind is kept in.
func plainUnit(k units.Kind) string {
	if u := unitOf(k); u != "" {
		return u
	}
	switch k {
	case units.Resistance:
		return "ohm"
	case units.Capacitance:
		return "F"
	case units.Inductance:
		return "H"
	case units.Current:
		return "A"
	case units.Temperature:
		return "°C"
	case units.Time:
		return "s"
	case units.Energy:
		return "J"
	case units.Power:
		return "W"
	case units.FluxDensity:
		return "T"
	}
	return ""
}

func readingsDocument(c *car.Car, list []workshop.Readable, draws int, seed uint64) ReadingsDocument {
	d := ReadingsDocument{Format: "dwellwright-readings-1", Draws: draws, Seed: seed, Readings: []ReadingDocument{}}
	if c != nil {
		d.Car = c.Name
	}
	for i := range list {
		r := readingDocument(&list[i].Measure)
		if x := list[i].InOrder; x != nil {
			r.InOrder = &ExpectedFigures{Origin: predicted}
			if list[i].Observation {
				r.InOrder.Yes = &x.Mid
			} else {
				r.InOrder.Low, r.InOrder.Middle, r.InOrder.High = &x.Lo, &x.Mid, &x.Hi
			}
		}
		d.Readings = append(d.Readings, r)
	}
	return d
}
