package workshop

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/measure"
	"dwellwright/suspect"
	"dwellwright/twin"
)

// exampleCars are the example cars in every way of being wired that they take,
// and each with the other post earthed.
func exampleCars(t *testing.T) map[string]*car.Car {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	cars := map[string]*car.Car{}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, earth := range []string{"negative", "positive"} {
			text := strings.NewReplacer("earth: negative", "earth: "+earth, "earth: positive", "earth: "+earth).Replace(string(b))
			c, err := car.Parse(f, []byte(text))
			if err != nil {
				continue // a part that goes one way round only
			}
			for _, o := range twin.Options() {
				if d, err := o.Apply(c); err == nil {
					cars[filepath.Base(f)+" "+earth+" "+o.ID] = d
				}
			}
		}
	}
	return cars
}

// Wherever the words of a reading name two points, the picture marks them, in
// both layouts, on every car.
func TestProbesArePicturedOnEveryCar(t *testing.T) {
	cars := exampleCars(t)
	pictures := 0
	for name, c := range cars {
		for _, m := range measure.Catalogue(c) {
			spec, ok := ProbePicture(c, &m)
			if !ok {
				if strings.Contains(m.Probes, "lead on ") && strings.Contains(m.Probes, "; ") && m.Spec != nil {
					t.Errorf("%s: %s has no picture of %s", name, m.ID, m.Probes)
				}
				continue
			}
			for _, tall := range []bool{false, true} {
				spec.Tall = tall
				s, err := draw.Wiring(spec)
				if err != nil {
					t.Errorf("%s: %s: %v", name, m.ID, err)
					continue
				}
				lo, hi, ok := draw.WiringWindow(spec)
				if !ok || lo < 0 || hi <= lo || lo > s.H {
					t.Errorf("%s: %s: window %v to %v of %v", name, m.ID, lo, hi, s.H)
				}
				pictures++
			}
		}
	}
	if len(cars) < 8 || pictures < 500 {
		t.Errorf("%d pictures of %d cars", pictures, len(cars))
	}
}

// The red lead is where the words say, also where the positive post is earthed.
func TestRedLeadIsWhereTheWordsSay(t *testing.T) {
	for name, c := range exampleCars(t) {
		for _, m := range measure.Catalogue(c) {
			red, black, _ := probesOf(c, &m)
			if red == "" {
				continue
			}
			for colour, id := range map[string]string{"red": red, "black": black} {
				for _, p := range car.TestPoints {
					if p.ID == id && !strings.Contains(m.Probes, colour+" lead on "+p.Name) {
						t.Errorf("%s: %s marks the %s lead on %s, and the words are %s", name, m.ID, colour, p.Name, m.Probes)
					}
				}
			}
		}
	}
}

// A sitting mends, asks for the reading that showed the fault, and knows when
// it has been read again.
func TestSittingAsksForProof(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a minute under the race detector, and has one goroutine")
	}
	c, err := Open("demo", nil)
	if err != nil {
		t.Fatal(err)
	}
	b, err := suspect.Prepare(c, suspect.Settings{Draws: 8, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	s := Sit(b)
	note := func(e Entry) {
		t.Helper()
		if err := s.Note(e); err != nil {
			t.Fatal(err)
		}
	}
	note(Entry{Do: Report, ID: "misses_speed"})
	note(Entry{ID: "plate_housing_drop", Text: "1.5 V"})
	wanted := func() bool { return true }
	o, err := s.Look(6, true, wanted)
	if err != nil {
		t.Fatal(err)
	}
	if f := o.Suspects[0].Fault; f == nil || f.Remedy.ID != "renew_plate_wire" || o.Suspects[0].Why == nil {
		t.Fatalf("in front: %+v", o.Suspects[0])
	}
	note(Entry{Do: Done, ID: "renew_plate_wire", Text: "gone"})
	if o, err = s.Look(6, false, wanted); err != nil || !o.Mended || o.Proof != "plate_housing_drop" {
		t.Fatalf("after mending the proof is %q, %v, %v", o.Proof, o.Mended, err)
	}
	list, err := s.Foresee(o.Proof, []string{"plate_ground_high"})
	if err != nil || len(list) != 2 || list[0].ID != suspect.HealthyID || !(list[0].High < 0.2) || !(list[1].Middle > list[0].High) {
		t.Errorf("foreseen %+v, %v", list, err)
	}
	note(Entry{ID: "plate_housing_drop", Text: "0.05 V"})
	if o, _ = s.Look(6, false, wanted); o.Mended {
		t.Error("read again it is still to be proven")
	}
	if o, err := s.Look(6, true, func() bool { return false }); o != nil || err != nil {
		t.Error("reasons that nobody wants are given")
	}
}
