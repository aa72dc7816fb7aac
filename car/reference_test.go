package car

import (
	"fmt"
	"strings"
	"testing"

	"dwellwright/units"
)

// TestReference checks the reference page against the field table; with
// -update it writes it.
func TestReference(t *testing.T) {
	golden(t, "../docs/car-file.md", []byte(reference()))
}

const referenceHead = `# The car file

<!-- Written by go test ./car -update from the field table. Do not edit. -->

A car file is YAML text saved as UTF-8. Two lines are enough; everything that
is not said is filled in with a typical figure and its spread, and shown as
*assumed*:

` + "```yaml" + `
# yaml-language-server: $schema=../schema/car.schema.json
format: 1
system: {voltage: 12 V, earth: negative, cylinders: 8}
` + "```" + `

**Figures** are written with their unit: ` + "`1.5 ohm`, `14.2 V`, `16 AWG`" + `. With the
uncertainty, if you know it: ` + "`1.5 ± 0.1 ohm`, `1.5 ohm ± 10 %`, `1.4 to 1.6 ohm`" + `.
To mark one as measured on this car: ` + "`{value: 1.5 ± 0.1 ohm, measured: yes}`" + `.
Written without a ±, a figure is taken as good to the part in the column
*plain*.

**Yes and no** are written ` + "`yes`, `no`, `true` or `false`" + `. **Ids** are names of your
own in small letters, digits and ` + "`_`" + `, a letter first.

**Not read**: anchors, aliases, merge keys, tags, a second document. A name
stands only once in its section. A file is at most 256 KiB.

Typical figures come from published manuals where there are any and from
common practice where not; the source of each stands beside it in the package
` + "`car`" + `. The service manual of the car at hand goes before any of them. Work on
ignition, fuel and batteries can hurt: follow local codes and leave to
licensed practice what they reserve for it.
`

func reference() string {
	var b strings.Builder
	b.WriteString(referenceHead)
	b.WriteString("\n## The whole file\n\n| name | what it is | written as |\n|---|---|---|\n")
	for _, l := range lines(carTable) {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", l.name, l.doc, writtenAs(l))
	}
	eight, six := Defaults(12, NegativeEarth, 8), Defaults(6, PositiveEarth, 6)
	cars := []*Car{eight, six}
	heads := []string{"12 V, eight cylinders", "6 V, six cylinders"}
	for _, l := range lines(carTable) {
		if l.name == "cap" { // the figures of its neighbour hang on a word
			b.WriteString("\nVoltage asked for over that of new electrodes, by `electrodes`:\n\n")
			for i, w := range electrodeWords {
				fmt.Fprintf(&b, "- `%s`: %s\n", w, units.FormatValue(units.Ratio, electrodeWear[i], units.Metric))
			}
		}
		switch l.name {
		case "system":
			figures(&b, l.name, l, nil, nil)
		case "battery", "starter", "key_switch", "ballast", "relay", "plugs", "cap", "engine":
			figures(&b, l.name, l, heads, values(cars, l.name))
		case "distributor":
			dual := eight.Clone()
			dual.Switch = SwitchDefaults(DualPoints, 12, 8)
			f := newFacts(12, 8)
			f.switchKind = DualPoints
			fillDistributor(f, &dual.Distributor)
			withInner(&b, l.name, l, []string{"eight cylinders", "six cylinders", "eight, dual points"}, []*Car{eight, six, dual})
		case "timing":
			withInner(&b, l.name, l, heads, cars)
			b.WriteString("\nOf `before`, `after` and `trigger_later` any two make the third. A car that is drawn at random makes it anew.\n")
		case "trigger":
			var list []*Car
			var heads []string
			for _, k := range []struct {
				head string
				facts
			}{{"hall, alternating", facts{}}, {"hall, one_per_lobe", facts{ring: OnePerLobe}}, {"reluctance", facts{principle: Reluctance}}} {
				c := eight.Clone()
				fill(triggerTable, k.facts, &c.Trigger)
				list, heads = append(list, c), append(heads, k.head)
			}
			withInner(&b, l.name, l, heads, list)
		case "advance", "bench":
			withInner(&b, l.name, l, []string{"usual"}, []*Car{eight})
		case "charging":
			var list []*Car
			for _, k := range []ChargingKind{DCGenerator, ACAlternator} {
				c := eight.Clone()
				c.Charging = ChargingDefaults(k, 12)
				list = append(list, c)
			}
			list = append(list, six)
			heads := []string{"generator, 12 V", "alternator, 12 V", "generator, 6 V"}
			figures(&b, l.name, l, heads, values(list, l.name))
			for _, inner := range l.inner {
				if inner.inner != nil {
					figures(&b, l.name+"."+inner.name, inner, heads, values(list, l.name+"."+inner.name))
				}
			}
		case "coil":
			var list []*Car
			var heads []string
			for _, class := range CoilClasses {
				c := eight.Clone()
				c.Coil = CoilDefaults(class.ID, 12)
				list, heads = append(list, c), append(heads, class.ID)
			}
			figures(&b, l.name, l, heads, values(list, l.name))
			b.WriteString("\n")
			for _, class := range CoilClasses {
				fmt.Fprintf(&b, "- `%s`: %s\n", class.ID, class.Name)
			}
		case "switch":
			var list []*Car
			var heads []string
			for k := range switchWords {
				c := eight.Clone()
				c.Switch = SwitchDefaults(SwitchKind(k), 12, 8)
				list, heads = append(list, c), append(heads, switchWords[k])
			}
			figures(&b, l.name, l, heads, values(list, l.name))
			b.WriteString("\nFigures for 12 V and eight cylinders. The sheet of the module at hand goes before them.\n" +
				"From a module's base to the plate, by `mounting`:\n\n")
			for i, w := range mountingWords {
				fmt.Fprintf(&b, "- `%s`: %s\n", w, units.FormatValue(units.ThermalResistance, mountings[i], units.Metric))
			}
		case "wiring":
			wiringReference(&b, l, eight)
		case "loads":
			fmt.Fprintf(&b, "\n## `loads`\n\n%s.\n\n| id | what it is | 12 V | 6 V |\n|---|---|---|---|\n", sentence(l.doc))
			for i, u := range eight.Loads {
				fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", u.ID, u.Name, shown(&u.Current), shown(&six.Loads[i].Current))
			}
			figures(&b, "loads.<id>", l.inner0("a load"), nil, nil)
		case "planned":
			fmt.Fprintf(&b, "\n## `planned`\n\n%s.\n\n| name | what it is | written as |\n|---|---|---|\n", sentence(l.doc))
			for _, inner := range l.inner {
				fmt.Fprintf(&b, "| `%s` | %s | %s |\n", inner.name, inner.doc, writtenAs(inner))
			}
			b.WriteString("\nFields of its `switch` are those of [`switch`](#switch).\n")
		case "conditions":
			conditionsReference(&b, l, eight)
		case "readings":
			readingsReference(&b, l)
		}
	}
	return b.String()
}

func (l line) inner0(doc string) line { l.doc = doc; return l }

func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func code(list []string) string { return "`" + strings.Join(list, "`, `") + "`" }

// writtenAs says how an entry is written.
func writtenAs(l line) string {
	switch l.form {
	case figureForm:
		return l.kind.String()
	case wordForm, wholeForm:
		return code(l.words)
	case flagForm:
		return "yes or no"
	case textForm:
		return "text"
	case idFormat:
		return "an id"
	case dateForm:
		return "`2026-05-02`, `2026-05-02 14:30`"
	case sectionForm:
		if l.words != nil {
			return "a section, or " + code(l.words) + " (`no`, `yes`)"
		}
		return "a section"
	case idMapForm:
		return "a section of ids"
	case readingsForm:
		return "a list"
	case loadListForm:
		return "`all`, `none` or a list of ids"
	case formatForm:
		return "`1`"
	case accuracyForm:
		return "`0.5 % + 0.02 V`, `1 % + 3 digits`"
	case placeForm:
		return "`[red, black]`, or a wire, part or place"
	case shownForm:
		return "a figure in the unit of the instrument"
	case countForm:
		return "a whole number"
	case amountForm:
		return l.kind.String() + ", without ±"
	case orderForm:
		return "`1-3-4-2`, `[1, 3, 4, 2]`"
	case anglesForm:
		return "a list: " + l.kind.String()
	case pointsForm:
		return "`[[800 rpm, 8 deg], [2000 rpm, 22 ± 1 deg]]`"
	case turnsForm:
		return "`[[0, 90, 180, 270], [0, 90.5, 180, 270]]`"
	case listForm:
		return "a list of sections"
	}
	return ""
}

func shown(p *Param) string {
	if p.PM == 0 && p.X == 0 {
		return "–"
	}
	return units.FormatValue(p.Kind, p.Value, units.Metric)
}

// values finds the typical figures of a section in several cars.
func values(cars []*Car, path string) func(name string, i int) string {
	maps := make([]map[string]*Param, len(cars))
	for i, c := range cars {
		maps[i] = map[string]*Param{}
		for _, r := range Params(c) {
			maps[i][r.Path] = r.P
		}
	}
	return func(name string, i int) string {
		if p := maps[i][path+"."+name]; p != nil {
			return shown(p)
		}
		return ""
	}
}

// figures writes the table of one section.
func figures(b *strings.Builder, path string, l line, heads []string, value func(string, int) string) {
	fmt.Fprintf(b, "\n## `%s`\n\n%s.\n\n| name | what it is | written as |", path, sentence(l.doc))
	for _, h := range heads {
		fmt.Fprintf(b, " %s |", h)
	}
	b.WriteString(" possible | plain |\n|---|---|---|" + strings.Repeat("---|", len(heads)) + "---|---|\n")
	for _, e := range l.inner {
		if e.form == sectionForm {
			continue
		}
		fmt.Fprintf(b, "| `%s` | %s | %s |", e.name, e.doc, writtenAs(e))
		for i := range heads {
			fmt.Fprintf(b, " %s |", value(e.name, i))
		}
		fmt.Fprintf(b, " %s | %s |\n", possible(e), plain(e))
	}
}

// withInner writes the tables of a section and of those within it.
func withInner(b *strings.Builder, path string, l line, heads []string, cars []*Car) {
	if l.form == idMapForm || l.form == listForm {
		heads, cars = nil, nil
	}
	figures(b, path, l, heads, values(cars, path))
	for _, e := range l.inner {
		switch at := path + "." + e.name; e.form {
		case sectionForm, listForm:
			withInner(b, at, e, heads, cars)
		case idMapForm:
			withInner(b, at+".<id>", e, nil, nil)
		}
	}
}

func possible(l line) string {
	if l.form != figureForm {
		return ""
	}
	return units.Format(l.kind, l.low, units.Metric) + " to " + units.Format(l.kind, l.high, units.Metric)
}

func plain(l line) string {
	switch {
	case l.form != figureForm:
		return ""
	case l.plain == 0:
		return "exact"
	case l.amount:
		return "± " + units.Format(l.kind, l.plain, units.Metric)
	case l.kind == units.Temperature:
		return fmt.Sprintf("± %g °C", l.plain)
	case plainInDegrees(l.kind):
		return fmt.Sprintf("± %g°", l.plain)
	}
	return fmt.Sprintf("± %g %%", 100*l.plain)
}

func wiringReference(b *strings.Builder, l line, c *Car) {
	fmt.Fprintf(b, "\n## `wiring`\n\n%s. `age` may also be said once for all of them.\n", sentence(l.doc))
	b.WriteString("\n| leg | from and to | gauge | length | joints | each joint, used |\n|---|---|---|---|---|---|\n")
	for id := range LegCount {
		w := &c.Wiring[id]
		fmt.Fprintf(b, "| `%s` | %s | %s | %s | %s | %s |\n", LegNames[id], LegTitles[id],
			units.Format(units.WireSection, w.Section.X, units.Inch), shown(&w.Length), shown(&w.Connections), shown(&w.Joint))
	}
	b.WriteString("\nFigures for 12 V. Each leg is a section of:\n\n| name | what it is | written as | possible | plain |\n|---|---|---|---|---|\n")
	for _, e := range lines(legTable) {
		fmt.Fprintf(b, "| `%s` | %s | %s | %s | %s |\n", e.name, e.doc, writtenAs(e), possible(e), plain(e))
	}
}

func conditionsReference(b *strings.Builder, l line, c *Car) {
	fmt.Fprintf(b, "\n## `conditions`\n\n%s. These are built in:\n", sentence(l.doc))
	b.WriteString("\n| id | what it is | engine | speed, eight cylinders | battery charged to | battery | bay | regulator |\n|---|---|---|---|---|---|---|---|\n")
	for _, k := range c.Conditions {
		fmt.Fprintf(b, "| `%s` | %s | `%v` | %s | %s | %s | %s | %s |\n", k.ID, k.Name, k.Engine, shown(&k.Speed),
			shown(&k.StateOfCharge), shown(&k.BatteryTemp), shown(&k.BayTemp), shown(&k.RegulatorTemp))
	}
	b.WriteString("\n| id | in the manifold | mixture at inlet closing | plug fires before top dead centre |\n|---|---|---|---|\n")
	for _, k := range c.Conditions {
		fmt.Fprintf(b, "| `%s` | %s | %s | %s |\n", k.ID, shown(&k.Manifold), shown(&k.Charge), shown(&k.Advance))
	}
	b.WriteString("\nEvery load is on at hot idle, head and tail lamps at cruise, none otherwise.\n")
	figures(b, "conditions.<id>", line{doc: "a condition", inner: l.inner}, nil, nil)
}

func readingsReference(b *strings.Builder, l line) {
	fmt.Fprintf(b, "\n## `readings`\n\n%s.\n\n| name | what it is | written as |\n|---|---|---|\n", sentence(l.doc))
	for _, e := range l.inner {
		fmt.Fprintf(b, "| `%s` | %s | %s |\n", e.name, e.doc, writtenAs(e))
	}
	b.WriteString("\nInstruments, with the accuracy taken when none is said (common practice):\n\n| instrument | shows | accuracy |\n|---|---|---|\n")
	for k, m := range instruments {
		fmt.Fprintf(b, "| `%v` | %v | %s |\n", InstrumentKind(k), m.kind, m.accuracy)
	}
	fmt.Fprintf(b, "\nLeads of an ohmmeter that were not nulled are taken as %s.\n",
		units.FormatValue(units.Resistance, usualLeads, units.Metric))
	b.WriteString("\nTest points:\n\n")
	for _, p := range TestPoints {
		fmt.Fprintf(b, "- `%s`: %s\n", p.ID, p.Name)
	}
	b.WriteString("\nA current clamp is on a leg of the [`wiring`](#wiring) or on:\n\n")
	for _, p := range ClampParts {
		fmt.Fprintf(b, "- `%s`: %s\n", p.ID, p.Name)
	}
	b.WriteString("\nA thermometer is on:\n\n")
	for _, p := range HeatParts {
		fmt.Fprintf(b, "- `%s`: %s\n", p.ID, p.Name)
	}
	for _, p := range HighParts {
		fmt.Fprintf(b, "- `%s`: %s\n", p.ID, p.Name)
	}
	for _, k := range []InstrumentKind{TimingLight, WindowedCap, FeelerGauge, Caliper} {
		fmt.Fprintf(b, "\n%s is put to:\n\n", sentence(article(k)))
		for _, p := range instruments[k].parts {
			fmt.Fprintf(b, "- `%s`: %s\n", p.ID, p.Name)
		}
	}
}
