package schema_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/invopop/jsonschema"
	check "github.com/santhosh-tekuri/jsonschema/v6"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/internal/cli"
	"dwellwright/plan"
	"dwellwright/prove"
	"dwellwright/schema"
)

var update = flag.Bool("update", false, "write the schemas anew")

func reflect(t *testing.T, v any, title string) []byte {
	t.Helper()
	r := jsonschema.Reflector{DoNotReference: true, Anonymous: true}
	s := r.Reflect(v)
	s.Title = title
	out, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return append(out, '\n')
}

// The published schemas are those of the code.
func TestSchemasAreCurrent(t *testing.T) {
	for _, x := range []struct {
		name, file, title string
		v                 any
	}{
		{"proof", "proof.schema.json", "Dwellwright proof sheet", &prove.Document{}},
		{"plan", "plan.schema.json", "Dwellwright plan", &plan.Document{}},
		{"spark", "spark.schema.json", "Dwellwright spark", &cli.SparkDocument{}},
		{"fit", "fit.schema.json", "Dwellwright fit", &cli.FitDocument{}},
		{"curve", "curve.schema.json", "Dwellwright curve", &cli.CurveDocument{}},
		{"suspect", "suspect.schema.json", "Dwellwright suspects", &cli.SuspectDocument{}},
		{"faults", "faults.schema.json", "Dwellwright faults", &cli.FaultsDocument{}},
		{"readings", "readings.schema.json", "Dwellwright readings", &cli.ReadingsDocument{}},
	} {
		want := reflect(t, x.v, x.title)
		if *update {
			if err := os.WriteFile(x.file, want, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if !bytes.Equal(want, schema.Get(x.name)) {
			t.Errorf("%s is not current: go test ./schema -update", x.file)
		}
	}
}

func compile(t *testing.T, name string) *check.Schema {
	t.Helper()
	doc, err := check.UnmarshalJSON(bytes.NewReader(schema.Get(name)))
	if err != nil {
		t.Fatal(err)
	}
	c := check.NewCompiler()
	if err := c.AddResource(name, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What the program writes is what its schemas say, and they refuse what it
// would not write.
func TestDocumentsValidate(t *testing.T) {
	if *update {
		t.Skip("written anew: run again without -update")
	}
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		t.Fatal(err)
	}
	set := prove.Settings{Draws: 30, Seed: 1, Option: "feed_before_ballast"}
	sheet, err := prove.Compute(c, set)
	if err != nil {
		t.Fatal(err)
	}
	cmp, err := plan.Compare(c, set)
	if err != nil {
		t.Fatal(err)
	}
	for name, v := range map[string]any{
		"proof": sheet.Document(), "plan": cmp.Document(),
		"spark":    commandDocument(t, "spark demo --option feed_before_ballast --draws 20 --switches --map --heat --spikes", &cli.SparkDocument{}),
		"fit":      commandDocument(t, "fit demo --draws 20", &cli.FitDocument{}),
		"curve":    commandDocument(t, "curve demo --draws 20", &cli.CurveDocument{}),
		"suspect":  commandDocument(t, "suspect demo --draws 4 --pairs 0 --report misses_load --read plate_housing_drop=0.9 --cannot ballast_ohms --why plate_ground_high --story stored", &cli.SuspectDocument{}),
		"faults":   commandDocument(t, "faults demo", &cli.FaultsDocument{}),
		"readings": commandDocument(t, "readings demo --draws 4", &cli.ReadingsDocument{}),
	} {
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		s := compile(t, name)
		good, err := check.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(good); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for what, broken := range map[string]string{
			"another format":          strings.Replace(string(text), "dwellwright-", "something-", 1),
			"a state of none of ours": strings.NewReplacer("not_yet_proven", "fine", "falls_short", "fine", "doubtful\"", "fine\"", "above\"", "fine\"", "wrong_tower\"", "fine\"", "outside\"", "fine\"", `"standing":"`, `"standing":"fine`, `"group":"`, `"group":"fine`).Replace(string(text)),
			"an unknown field":        strings.Replace(string(text), `{"format"`, `{"surprise":1,"format"`, 1),
		} {
			bad, err := check.UnmarshalJSON(strings.NewReader(broken))
			if err != nil {
				t.Fatal(err)
			}
			if s.Validate(bad) == nil {
				t.Errorf("%s: %s is accepted", name, what)
			}
		}
	}
}

// commandDocument is what a command writes, read into v so that its fields come
// in the order of the others.
func commandDocument(t *testing.T, line string, v any) any {
	t.Helper()
	var out, complaints bytes.Buffer
	args := append(strings.Fields(line), "--json")
	if code := cli.Run(args, cli.Streams{In: strings.NewReader(""), Out: &out, Err: &complaints, Width: 80}); code == cli.ExitBadInput {
		t.Fatalf("%s: status %d: %s", line, code, complaints.String())
	}
	if err := json.Unmarshal(out.Bytes(), v); err != nil {
		t.Fatal(err)
	}
	return v
}
