package car

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"dwellwright/units"

	"github.com/invopop/jsonschema"
	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"
)

const schemaFile = "../schema/car.schema.json"

// TestSchema checks the published JSON Schema against the field table; with
// -update it writes it.
func TestSchema(t *testing.T) {
	text, err := json.MarshalIndent(carSchema(), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, schemaFile, append(text, '\n'))
}

// compiled is the published schema in another implementation's hands.
func compiled(t testing.TB) *validator.Schema {
	t.Helper()
	doc, err := validator.UnmarshalJSON(bytes.NewReader(read(t, schemaFile)))
	if err != nil {
		t.Fatal(err)
	}
	c := validator.NewCompiler()
	c.DefaultDraft(validator.Draft2020)
	if err := c.AddResource("car.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("car.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// plainData turns YAML into what a JSON Schema sees, by the core schema of
// YAML 1.2, in which a date or yes is text.
func plainData(n *yaml.Node) any {
	switch n.Kind {
	case yaml.DocumentNode:
		return plainData(n.Content[0])
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			m[n.Content[i].Value] = plainData(n.Content[i+1])
		}
		return m
	case yaml.SequenceNode:
		list := []any{}
		for _, c := range n.Content {
			list = append(list, plainData(c))
		}
		return list
	}
	var v any
	switch n.Tag {
	case "!!int", "!!float", "!!bool", "!!null":
		if n.Decode(&v) == nil {
			return v
		}
	}
	return n.Value
}

func againstSchema(t testing.TB, s *validator.Schema, data []byte) error {
	t.Helper()
	var n yaml.Node
	if err := yaml.Unmarshal(data, &n); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(plainData(&n))
	if err != nil {
		t.Fatal(err)
	}
	v, err := validator.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(v)
}

func TestGoodFilesFitSchema(t *testing.T) {
	s := compiled(t)
	list := files(t, "testdata/good/*.yaml")
	examples, _ := filepath.Glob("../examples/*.yaml")
	for _, file := range append(list, examples...) {
		if err := againstSchema(t, s, read(t, file)); err != nil {
			t.Errorf("%s: %#v", file, err)
		}
	}
}

// TestBadFilesBreakSchema: everything but contradictions, references between
// parts of a file and what is not in the data at all must be refused by the
// schema as well, so that an editor underlines it.
func TestBadFilesBreakSchema(t *testing.T) {
	s := compiled(t)
	beyond := map[string]string{
		"alias": "YAML", "anchor": "YAML", "tag": "YAML", "tag_own": "YAML", "merge_key": "YAML",
		"duplicate_field": "YAML", "duplicate_section": "YAML", "kit_id_doubled": "YAML", "intervals_spread": "wording",
		"not_a_number": "not JSON", "milli_mega": "wording", "spark_secondary_milli": "wording", "comma_unclear": "wording", "when_impossible": "calendar", "accuracy_unit": "kind", "accuracy_zero": "sum", "unknown_load": "reference", "load_removed": "reference", "reading_condition": "reference",
	}
	refused := 0
	for _, file := range files(t, "testdata/bad/*.yaml") {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		data := read(t, file)
		_, err := Parse(name, data)
		classes := map[error]bool{}
		for _, p := range err.(Errors) {
			classes[p.Class] = true
		}
		if classes[ErrSyntax] || classes[ErrTooLarge] || beyond[name] != "" {
			continue
		}
		if len(classes) == 1 && classes[ErrContradiction] {
			continue
		}
		if onlyImpossible(err.(Errors)) {
			continue // a schema cannot weigh a figure in a text
		}
		if againstSchema(t, s, data) == nil {
			t.Errorf("%s fits the schema, but: %v", name, err)
		}
		refused++
	}
	if refused < 40 {
		t.Errorf("only %d files put to the schema", refused)
	}
}

func onlyImpossible(list Errors) bool {
	return !slices.ContainsFunc(list, func(p *Problem) bool {
		return !strings.HasSuffix(p.What, " is impossible") && !strings.HasSuffix(p.What, "cannot be negative") && !strings.HasSuffix(p.What, "is no measurement")
	})
}

// spellings are the units the schema lets through for each kind: those that
// units.Kind.Accepts lists and the words in full.
var spellings = map[units.Kind]string{
	units.Resistance:        "ohm ohms Ω mohm mohms mΩ milliohm milliohms µohm uohm µΩ k kohm kohms kΩ kilohm Mohm MΩ megohm R",
	units.Inductance:        "H mH µH uH henry millihenry",
	units.Voltage:           "V volt volts mV µV uV kV",
	units.Current:           "A amp amps ampere amperes mA µA uA",
	units.Length:            "mm cm m metre metres µm um in inch inches ″ \" mil mils thou ft feet foot ′ '",
	units.WireSection:       "mm² mm2 sqmm AWG in² in2 cmil kcmil mm in \"",
	units.Temperature:       "°C C °F F K celsius fahrenheit",
	units.TemperatureRate:   "/K 1/K /°C %/K %/°C ppm/K ppm/°C /°F %/°F",
	units.VoltagePerKelvin:  "V/K mV/K µV/K uV/K V/°C mV/°C µV/°C V/°F mV/°F",
	units.DistributorAngle:  "° deg degree degrees crank_deg",
	units.Speed:             "rpm r/min rev/min 1/min",
	units.Ratio:             ":1 %",
	units.Fraction:          "% percent",
	units.Power:             "W mW kW watt watts",
	units.ThermalResistance: "K/W °C/W C/W",
	units.Charge:            "Ah A·h mAh amphour",
	units.Capacitance:       "F µF uF mfd nF pF farad microfarad picofarad",
	units.Time:              "s sec second ms msec µs us min minutes h",
	units.Pressure:          "bar mbar millibar kPa hPa Pa psi psia inHg in_Hg mmHg",
	units.Force:             "N newton oz ozf lb lbf g gf kgf",
	units.CrankAngle:        "° deg degree degrees crank_deg °_crank deg_BTDC °_BTDC distributor_deg",
	units.FluxDensity:       "T mT µT uT tesla millitesla G gauss",
	units.Mass:              "g kg mg oz lb gram grams kilogram ounce ounces pound pounds",
	units.SpringRate:        "N/mm N/m lbf/in lb/in ozf/in oz/in gf/mm kgf/mm",
	units.Torque:            "N_m Nm mN_m mNm N_cm Ncm lbf_in lb_in in_lb lbf_ft lb_ft ft_lb ozf_in oz_in",
	units.Vacuum:            "inHg in_Hg mbar millibar kPa hPa Pa bar mmHg psi inHg_vacuum inHg_vac",
	units.Count:             "",
}

// TestSpellings holds the schema's units against what is read, both ways.
func TestSpellings(t *testing.T) {
	for kind, list := range spellings {
		pattern := regexp.MustCompile(figurePattern(kind))
		for unit := range strings.FieldsSeq(list) {
			text := "1 " + strings.ReplaceAll(unit, "_", " ")
			if kind == units.WireSection && (unit == "mm" || unit == "in" || unit == "\"") {
				text = "28/0.30 " + unit
			}
			if _, err := units.Parse(kind, text); err != nil {
				t.Errorf("%v: schema has %s, but: %v", kind, unit, err)
			}
		}
		_, examples, _ := strings.Cut(kind.Accepts(), "; for example ")
		for _, text := range strings.Split(examples, ", ") {
			text, _, _ = strings.Cut(text, " (the same")
			if !pattern.MatchString(text) {
				t.Errorf("%v: schema refuses %q", kind, text)
			}
		}
	}
	for text, want := range map[string]bool{
		"1.5 ohm": true, "1.5 ± 0.1 ohm": true, "1.5 ohm +/- 10 %": true, "1.4..1.6 ohm": true, "1.4 to 1.6 OHM": true,
		"1.5 ohm within a factor of 2": true, "1.5": true, "4R7": true, "5k5": true,
		"1.5 V": false, "about 1.5 ohm": false, "": false, "ohm": false, "1.5 onm": false,
	} {
		if got := regexp.MustCompile(figurePattern(units.Resistance)).MatchString(text); got != want {
			t.Errorf("%q: schema %v", text, got)
		}
		if _, err := units.Parse(units.Resistance, text); (err == nil) != want {
			t.Errorf("%q: read %v", text, err)
		}
	}
}

// codes are the letters that may stand for the decimal point.
var codes = map[units.Kind]string{
	units.Resistance: "RrKkM", units.Inductance: "mu", units.Voltage: "Vv", units.Current: "Aa",
}

// figurePattern is a regular expression for figures of a kind, in the part
// of the language that JSON Schema (ECMA 262) and Go share.
func figurePattern(kind units.Kind) string {
	number := `(?:\d[\d.,]*|[.,]\d+)(?:[eE][-+]?\d+)?`
	if code := codes[kind]; code != "" { // 4R7
		number += `(?:[` + code + `]\d+)?`
	}
	if kind == units.Length || kind == units.WireSection { // 1 1/2 in, 28/0.30 mm
		number += `(?: ?\d*(?:[½¼¾⅓⅔⅛⅜⅝⅞]|/\d[\d.]*)| \d+/\d+)?`
	}
	var list []string
	for s := range strings.FieldsSeq(spellings[kind]) {
		list = append(list, anyCase(s))
	}
	unit := ""
	if len(list) > 0 {
		// longer spellings first, so that mm is not read as m
		slices.SortStableFunc(list, func(a, b string) int { return len(b) - len(a) })
		unit = `(?: ?(?:` + strings.Join(list, "|") + `)\.?)?`
	}
	amount := `[-+−–]?` + number + unit
	switch kind {
	case units.WireSection:
		amount = `(?:#|AWG ?)?` + amount
	case units.Length:
		amount += `(?: ?` + number + unit + `)?` // 6 ft 3 in
	}
	return `^ *` + amount + `(?: ?(?:±|\+/-|\+-|\.\.\.?|to|[-–]) ?` + amount + `(?: ?%)?| ?(?:within(?: a)? factor(?: of)?|×/÷) ?` + number + `)? *$`
}

// anyCase lets letters be of either case, but for a leading m or M, which
// says milli or mega.
func anyCase(s string) string {
	var b strings.Builder
	for i, r := range s {
		low, up := strings.ToLower(string(r)), strings.ToUpper(string(r))
		switch {
		case r == '_':
			b.WriteString(" ?")
		case strings.ContainsRune(".()", r):
			b.WriteString(`\` + string(r))
		case low == up || r > 127 || i == 0 && (r == 'm' || r == 'M') && len(s) > 1:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "[%s%s]", low, up)
		}
	}
	return b.String()
}

func text(pattern, doc string) *jsonschema.Schema {
	return &jsonschema.Schema{Type: "string", Pattern: pattern, Description: doc}
}

func words(list []string) *jsonschema.Schema {
	s := &jsonschema.Schema{}
	for _, w := range list {
		s.Enum = append(s.Enum, w)
	}
	return s
}

func anyOf(list ...*jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{AnyOf: list}
}

func ref(name string) *jsonschema.Schema { return &jsonschema.Schema{Ref: "#/$defs/" + name} }

func defName(kind units.Kind) string { return strings.ReplaceAll(kind.String(), " ", "_") }

// object makes a section that holds nothing but what the table lists.
func object(list []line, required ...string) *jsonschema.Schema {
	s := &jsonschema.Schema{
		Type: "object", Properties: jsonschema.NewProperties(),
		AdditionalProperties: jsonschema.FalseSchema, Required: required,
	}
	for _, l := range list {
		p := property(l)
		p.Description = describe(l)
		s.Properties.Set(l.name, p)
	}
	return s
}

// describe is the doc of a line with what the schema cannot say.
func describe(l line) string {
	s := strings.ToUpper(l.doc[:1]) + l.doc[1:] + "."
	if l.form == figureForm {
		s += fmt.Sprintf(" %s to %s.", units.Format(l.kind, l.low, units.Metric), units.Format(l.kind, l.high, units.Metric))
	}
	return s
}

func property(l line) *jsonschema.Schema {
	switch l.form {
	case figureForm:
		return ref(defName(l.kind))
	case wordForm:
		return words(l.words)
	case flagForm:
		return ref("yes_or_no")
	case textForm:
		return ref("text")
	case idFormat:
		return ref("id")
	case dateForm:
		return text(`^\d{4}-\d\d-\d\d(?:[T ]\d\d:\d\d(?::\d\d(?:Z|[-+]\d\d:\d\d)?)?)?$`, "")
	case formatForm:
		return &jsonschema.Schema{Enum: []any{Format, fmt.Sprint(Format)}}
	case wholeForm:
		s := &jsonschema.Schema{}
		for _, w := range l.words {
			n := strings.TrimSuffix(w, " V")
			s.Enum = append(s.Enum, json.Number(n), w)
			if w != n {
				s.Enum = append(s.Enum, n, n+"V")
			}
		}
		return s
	case loadListForm:
		return anyOf(words([]string{"all", "none"}), &jsonschema.Schema{Type: "array", Items: ref("id"), UniqueItems: true})
	case accuracyForm:
		const part = `(?:\d+(?:[.,]\d+)? ?(?:%|[mk]?V|m?A|[mk]?ohm|[mk]?Ω|K|°C|°F|deg|°|mm|mil|thou|in)|\d+ ?(?:digits?|counts?))`
		return text(`^ *`+part+`(?: ?\+ ?`+part+`)* *$`, "")
	case placeForm:
		two := uint64(2)
		var parts []string
		for _, m := range instruments {
			parts = append(parts, ids(m.parts)...)
		}
		one := words(slices.Compact(slices.Sorted(slices.Values(parts))))
		return anyOf(
			&jsonschema.Schema{Type: "array", Items: words(ids(TestPoints)), MinItems: &two, MaxItems: &two, UniqueItems: true},
			one,
		)
	case shownForm:
		return anyOf(ref("voltage_text"), ref("resistance_text"), ref("current_text"), ref("temperature_text"), ref("crank_angle_text"), ref("distributor_angle_text"), ref("length_text"))
	case readingsForm:
		item := object(l.inner, "at", "instrument", "value")
		item.AllOf = byInstrument()
		return &jsonschema.Schema{Type: "array", Items: item}
	case idMapForm:
		return idMap(l)
	case countForm:
		return ref(defName(units.Count) + "_text")
	case amountForm:
		return ref(defName(l.kind) + "_text")
	case orderForm:
		one := &jsonschema.Schema{Type: "integer", Minimum: "1"}
		return anyOf(text(`^ *\d+(?: ?[-–, ] ?\d+)+ *$`, ""), &jsonschema.Schema{Type: "array", Items: one})
	case anglesForm:
		most := uint64(mostAngles)
		return &jsonschema.Schema{Type: "array", Items: ref(defName(l.kind) + "_text"), MaxItems: &most}
	case turnsForm:
		one, most := uint64(1), uint64(mostTurns)
		turn := &jsonschema.Schema{Type: "array", Items: ref(defName(l.kind) + "_text")}
		return &jsonschema.Schema{Type: "array", Items: turn, MinItems: &one, MaxItems: &most}
	case pointsForm:
		one, two, most := uint64(1), uint64(2), uint64(mostPoints)
		pair := &jsonschema.Schema{Type: "array", PrefixItems: []*jsonschema.Schema{ref("speed_text"), ref("crank_angle_text")}, MinItems: &two, MaxItems: &two}
		return &jsonschema.Schema{Type: "array", Items: pair, MinItems: &one, MaxItems: &most}
	case listForm:
		most := uint64(mostRuns)
		return &jsonschema.Schema{Type: "array", Items: object(l.inner, musts(l)...), MaxItems: &most}
	}
	var required []string
	switch l.name {
	case "system":
		required = names(systemTable)
	case "planned":
		required = []string{"switch"}
	}
	s := object(l.inner, required...)
	if l.name == "wiring" { // the legs are alike
		s.Definitions = jsonschema.Definitions{"leg": object(lines(legTable))}
		for id := range LegCount {
			doc := describe(line{doc: LegTitles[id], form: sectionForm})
			s.Properties.Set(LegNames[id], &jsonschema.Schema{Ref: "#/$defs/leg", Description: doc})
		}
	}
	if l.name == "planned" {
		sw, _ := s.Properties.Get("switch")
		sw.Required = []string{"kind"}
	}
	if l.words != nil {
		return anyOf(words(l.words), ref("yes_or_no"), s)
	}
	return s
}

// musts are the names without which a piece of a list or a section of ids is
// refused.
func musts(l line) []string {
	var list []string
	for _, e := range l.inner {
		switch e.name {
		case "points", "turns", "from", "to", "limit", "mass", "rate":
			list = append(list, e.name)
		}
	}
	return list
}

// idMap makes a section whose names are ids; the built-in ones are listed so
// that an editor offers them.
func idMap(l line) *jsonschema.Schema {
	if l.name != "loads" && l.name != "conditions" {
		return &jsonschema.Schema{Type: "object", AdditionalProperties: object(l.inner, musts(l)...), PropertyNames: ref("id")}
	}
	var item *jsonschema.Schema
	known := BuiltInConditions()
	if item = object(l.inner); l.name == "loads" {
		item.Required = []string{"current"}
		item = anyOf(&jsonschema.Schema{Enum: []any{"none", false, "no", "No", "NO", "false"}}, ref(defName(units.Current)), item)
		known = nil
		for _, u := range usualLoads {
			known = append(known, u.id)
		}
	}
	s := &jsonschema.Schema{
		Type: "object", Properties: jsonschema.NewProperties(),
		AdditionalProperties: ref(l.name + "_entry"), PropertyNames: ref("id"),
	}
	for _, id := range known {
		s.Properties.Set(id, ref(l.name+"_entry"))
	}
	s.Definitions = jsonschema.Definitions{l.name + "_entry": item} // hoisted by carSchema
	return s
}

// byInstrument ties what is read and where to the instrument.
func byInstrument() []*jsonschema.Schema {
	when := func(list []InstrumentKind, then *jsonschema.Schema) *jsonschema.Schema {
		var w []string
		for _, k := range list {
			w = append(w, k.String())
		}
		cond := &jsonschema.Schema{Properties: jsonschema.NewProperties(), Required: []string{"instrument"}}
		cond.Properties.Set("instrument", words(w))
		return &jsonschema.Schema{If: cond, Then: then}
	}
	props := func(kind units.Kind, at *jsonschema.Schema) *jsonschema.Schema {
		s := &jsonschema.Schema{Properties: jsonschema.NewProperties()}
		s.Properties.Set("value", ref(defName(kind)+"_text"))
		s.Properties.Set("at", at)
		return s
	}
	list := &jsonschema.Schema{Type: "array"}
	volts := props(units.Voltage, list)
	volts.Required = []string{"condition"}
	clamp := props(units.Current, words(ids(clampPlaces)))
	clamp.Required = []string{"condition"}
	heat := props(units.Temperature, words(ids(HeatParts)))
	heat.Required = []string{"condition"}
	ohms := props(units.Resistance, list)
	ohms.Properties.Set("condition", jsonschema.FalseSchema)
	held := func(k InstrumentKind) *jsonschema.Schema {
		s := props(k.Shows(), words(ids(instruments[k].parts)))
		if instruments[k].atRest {
			s.Properties.Set("condition", jsonschema.FalseSchema)
		} else {
			s.Required = []string{"condition"}
		}
		return when([]InstrumentKind{k}, s)
	}
	return []*jsonschema.Schema{
		held(TimingLight), held(WindowedCap), held(FeelerGauge), held(Caliper),
		when([]InstrumentKind{Voltmeter, VoltmeterMin, VoltmeterMax, ScopeMin, ScopeMax}, volts),
		when([]InstrumentKind{ClampAmmeter, ClampPeak}, clamp),
		when([]InstrumentKind{Thermometer}, heat),
		when([]InstrumentKind{Ohmmeter}, ohms),
	}
}

func carSchema() *jsonschema.Schema {
	root := object(lines(carTable), "format", "system")
	root.Version = jsonschema.Version
	root.Title = "Car file"
	root.Description = "One car's ignition circuit, format 1. What is not said is filled in with typical figures."
	defs := jsonschema.Definitions{
		"id": text(idForm.String(), "An id of your own: small letters, digits and _."),
		"text": anyOf(&jsonschema.Schema{Type: "string"}, &jsonschema.Schema{Type: "number"},
			&jsonschema.Schema{Type: "boolean"}),
		"yes_or_no": {Enum: []any{true, false, "yes", "no", "Yes", "No", "YES", "NO", "true", "false"}},
	}
	most := uint64(8000)
	defs["id"].Not = words([]string{"all", "none"})
	defs["text"].AnyOf[0].MaxLength = &most
	for kind := range spellings {
		plain := defName(kind) + "_text"
		bare := &jsonschema.Schema{Type: "number"}
		switch kind {
		case units.Count:
			bare.Type = "integer"
		case units.Fraction:
			bare.Maximum = "1" // 67 could be 67 or 67 %
		}
		defs[plain] = anyOf(bare, text(figurePattern(kind), ""))
		if kind == units.Length || kind == units.WireSection || kind == units.Pressure || kind == units.Force || kind >= units.FluxDensity {
			defs[plain] = text(figurePattern(kind), "") // of what unit?
		}
		marked := &jsonschema.Schema{
			Type: "object", Properties: jsonschema.NewProperties(),
			AdditionalProperties: jsonschema.FalseSchema, Required: []string{"value"},
		}
		marked.Properties.Set("value", ref(plain))
		marked.Properties.Set("measured", ref("yes_or_no"))
		defs[defName(kind)] = &jsonschema.Schema{
			Description: "Units: " + kind.Accepts() + ".",
			AnyOf:       []*jsonschema.Schema{ref(plain), marked},
		}
	}
	for p := root.Properties.Oldest(); p != nil; p = p.Next() {
		for name, s := range p.Value.Definitions {
			defs[name] = s
		}
		p.Value.Definitions = nil
	}
	root.Definitions = defs
	return root
}
