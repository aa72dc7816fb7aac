package cli

import (
	"fmt"
	"io"
	"strings"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/internal/workshop"
)

type faultsCmd struct {
	Car  string `arg:"" optional:"" help:"Car file, 'demo', or - for standard input: only what this car can have. Left out: everything."`
	JSON bool   `name:"json" help:"Write JSON (its schema: dwellwright schema faults)."`
}

// Run lists what can go wrong.
func (c *faultsCmd) Run(s *session) error {
	var k *car.Car
	if c.Car != "" {
		var err error
		if k, err = workshop.Open(c.Car, s.In); err != nil {
			return err
		}
	}
	list := workshop.Faults(k)
	if c.JSON {
		return writeJSON(s, faultsDocument(k, list))
	}
	writeFaults(s.Out, k, list, s.Width)
	return nil
}

var faultGroups = map[fault.Group]string{
	fault.Supply: "SUPPLY: battery, charging, starter and their cables", fault.Feed: "FEED: the way of the current to coil and trigger, and back",
	fault.CoilGroup: "COIL", fault.Points: "POINTS AND CONDENSER", fault.Trigger: "TRIGGER", fault.Timing: "TIMING, LEADS AND DRIVE",
	fault.Advance: "ADVANCE, and wear of the shaft", fault.Secondary: "HIGH-VOLTAGE SIDE: rotor, cap, leads, plugs", fault.Elsewhere: "ELSEWHERE: not ignition, but it looks like it",
}

// writeFaults writes the catalogue of faults, group by group, then what mends
// them: many mend alike.
func writeFaults(w io.Writer, c *car.Car, list []fault.Fault, width int) {
	of := "an ignition"
	if c != nil {
		of = c.Name
	}
	writeWrapped(w, "", fmt.Sprintf("WHAT CAN GO WRONG WITH %s: %d faults. How often each is met is an estimate, in cases of 100 ignition complaints: no survey was found. All minutes are estimates.", strings.ToUpper(of), len(list)), width)
	var group fault.Group
	var cures []fault.Remedy
	have := map[string]bool{}
	for i := range list {
		f := &list[i]
		if f.Group != group {
			group = f.Group
			heading(w, faultGroups[group], width)
		}
		writeWrapped(w, "  ", upperFirst(f.Name)+" ("+f.ID+")", width)
		writeWrapped(w, "      ", fmt.Sprintf("%s [%s].", upperFirst(f.Change), f.Evidence), width)
		writeWrapped(w, "      ", together(fmt.Sprintf("When: %s. About %s of 100 [estimate]%s. Mended by %s.", whenWords(f), casesOf(f.Prior), likelierWords(f.Likelier), f.Remedy.ID)), width)
		if f.Unseen != "" {
			writeWrapped(w, "      ", "Never a suspect here: "+f.Unseen+".", width)
		}
		if !have[f.Remedy.ID] {
			have[f.Remedy.ID] = true
			cures = append(cures, f.Remedy)
		}
	}
	writeRemedies(w, cures, width)
}

// writeRemedies writes the remedies, each caution once, by its number.
func writeRemedies(w io.Writer, cures []fault.Remedy, width int) {
	heading(w, "WHAT MENDS THEM; ! are the cautions below to be read before", width)
	var cautions []string
	number := map[string]int{}
	for _, r := range cures {
		for _, t := range r.Cautions {
			if number[t] == 0 {
				cautions = append(cautions, t)
				number[t] = len(cautions)
			}
		}
	}
	for _, r := range cures {
		marks := make([]string, len(r.Cautions))
		for i, t := range r.Cautions {
			marks[i] = fmt.Sprint(number[t])
		}
		writeWrapped(w, "  ", r.ID, width)
		writeWrapped(w, "      ", "! "+strings.Join(marks, ", "), width)
		writeWrapped(w, "      ", together(r.Words+" "+effort(&r)), width)
	}
	heading(w, "BEFORE YOU READ OR TOUCH", width)
	for i, t := range cautions {
		writeWrapped(w, fmt.Sprintf(" %2d ! ", i+1), t, width)
	}
}

// effort is the time that a remedy takes and what has to be bought.
func effort(r *fault.Remedy) string {
	parts := "Nothing to buy."
	if len(r.Parts) > 0 {
		parts = "Parts: " + strings.Join(r.Parts, ", ") + "."
	}
	return fmt.Sprintf("About %.0f min [estimate]. %s", r.Minutes, parts)
}

func whenWords(f *fault.Fault) string {
	if t := f.When.String(); t != "" {
		return t
	}
	return "always"
}

func casesOf(prior float64) string {
	if prior >= 0.95 {
		return fmt.Sprintf("%.0f", prior)
	}
	return fmt.Sprintf("%.1g", prior)
}

// storyWords is a story of a car with its words.
type storyWords struct {
	of        fault.Context
	id, words string
}

// stories are what may be known of a car beforehand.
var stories = []storyWords{
	{fault.JustConverted, "just_converted", "just converted"},
	{fault.LongUntouched, "long_untouched", "untouched for years"},
	{fault.QuitsHot, "quits_hot", "fine cold, quits hot"},
	{fault.SwitchWork, "switch_work", "after work on switch or starter"},
	{fault.Stored, "stored", "just out of long storage"},
}

func likelierWords(c fault.Context) string {
	var list []string
	for _, s := range stories {
		if c&s.of != 0 {
			list = append(list, s.words)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "; likelier if " + strings.Join(list, ", or ")
}

// upperFirst begins a sentence.
func upperFirst(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// sentence makes one of words: a capital, and an end.
func sentence(s string) string {
	if s != "" && !strings.ContainsAny(s[len(s)-1:], ".?!") {
		s += "."
	}
	return upperFirst(s)
}

// FaultsDocument is what the command faults lists, as JSON. Its JSON Schema is
// schema/faults.schema.json.
type FaultsDocument struct {
	Format   string           `json:"format" jsonschema:"enum=dwellwright-faults-1" jsonschema_description:"what this document is"`
	Car      string           `json:"car,omitempty" jsonschema_description:"name of the car; left out for the whole catalogue"`
	Faults   []FaultListed    `json:"faults"`
	Remedies []RemedyDocument `json:"remedies" jsonschema_description:"of those faults"`
}

// FaultListed is one fault of the catalogue.
type FaultListed struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Group    string   `json:"group" jsonschema:"enum=supply,enum=feed,enum=coil,enum=points,enum=trigger,enum=timing,enum=advance,enum=secondary,enum=elsewhere"`
	Change   string   `json:"change" jsonschema_description:"what physically changes"`
	Evidence string   `json:"evidence" jsonschema:"enum=common practice,enum=from memory,enum=estimate" jsonschema_description:"where the figures of the change come from"`
	When     string   `json:"when"`
	Prior    float64  `json:"prior_estimate" jsonschema_description:"cases per 100 ignition complaints, always an estimate"`
	Likelier []string `json:"likelier" jsonschema_description:"stories of a car that make it likelier"`
	Remedy   string   `json:"remedy"`
	Unseen   string   `json:"unseen,omitempty" jsonschema_description:"why no reading shows it"`
}

// RemedyDocument is what mends faults.
type RemedyDocument struct {
	ID       string   `json:"id"`
	Words    string   `json:"words"`
	Minutes  float64  `json:"minutes_estimate"`
	Parts    []string `json:"parts"`
	Cautions []string `json:"cautions" jsonschema_description:"to be read before anything is touched"`
}

func remedyDocument(r *fault.Remedy) RemedyDocument {
	return RemedyDocument{r.ID, r.Words, r.Minutes, append([]string{}, r.Parts...), append([]string{}, r.Cautions...)}
}

func faultsDocument(c *car.Car, list []fault.Fault) FaultsDocument {
	d := FaultsDocument{Format: "dwellwright-faults-1", Faults: []FaultListed{}, Remedies: []RemedyDocument{}}
	if c != nil {
		d.Car = c.Name
	}
	have := map[string]bool{}
	for i := range list {
		f := &list[i]
		x := FaultListed{ID: f.ID, Name: f.Name, Group: string(f.Group), Change: f.Change, Evidence: string(f.Evidence), When: whenWords(f),
			Prior: f.Prior, Likelier: []string{}, Remedy: f.Remedy.ID, Unseen: f.Unseen}
		for _, s := range stories {
			if f.Likelier&s.of != 0 {
				x.Likelier = append(x.Likelier, s.id)
			}
		}
		d.Faults = append(d.Faults, x)
		if !have[f.Remedy.ID] {
			have[f.Remedy.ID] = true
			d.Remedies = append(d.Remedies, remedyDocument(&f.Remedy))
		}
	}
	return d
}
