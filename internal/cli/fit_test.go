package cli

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"dwellwright/distributor"
	"dwellwright/fit"
	"dwellwright/twin"
)

func fitDocument(t *testing.T, args ...string) FitDocument {
	t.Helper()
	var d FitDocument
	if err := json.Unmarshal([]byte(run(t, append(append([]string{"fit"}, args...), "--json")...)), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// byID finds a figure of a list.
func byID(t *testing.T, list []Figure, id string) Figure {
	t.Helper()
	for _, f := range list {
		if f.ID == id {
			return f
		}
	}
	t.Fatalf("no figure %s", id)
	return Figure{}
}

// Every way back, added up by hand with the sum a mechanic does on paper,
// comes to the wanted timing: turning the housing or the trigger against the
// rotor's rotation makes it two crank degrees earlier for each degree, a sleeve
// turned with it likewise, a tooth on as much as 720 over the teeth, a tower on
// 720 over the cylinders later. And the rotor's phase follows trigger and
// sleeve alone.
func TestWaysAddUp(t *testing.T) {
	for _, car := range []string{"demo", skellgate, "../../examples/tillbrook-four.yaml"} {
		d := fitDocument(t, car, "--draws", "0")
		s := 1.0
		if d.Rotation == "anticlockwise" {
			s = -1
		}
		cylinders := map[string]float64{"demo": 8, skellgate: 6}[car]
		if cylinders == 0 {
			cylinders = 4
		}
		teeth := map[string]float64{"demo": 13, skellgate: 13}[car]
		now, wanted := byID(t, d.Timing.Figures, "now").Value, byID(t, d.Timing.Figures, "wanted").Value
		if len(d.Ways) == 0 {
			t.Errorf("%s: no way", car)
		}
		for _, w := range d.Ways {
			if w.Mesh != 0 && teeth == 0 {
				continue
			}
			by := -2*s*w.Housing - 2*s*w.Trigger + 2*s*w.Sleeve - float64(w.Leads)*720/cylinders
			if w.Mesh != 0 {
				by += 2 * float64(w.Mesh) * 360 / teeth
			}
			if off := math.Remainder(now+by-wanted, 720); math.Abs(off) > 0.05 {
				t.Errorf("%s: %s comes to %.2f off what is wanted", car, w.Brief, off)
			}
			moved := s * (w.Trigger - w.Sleeve)
			if off := w.Rotor.AtRest.Value - d.Rotor.AtRest.Value - moved; math.Abs(math.Remainder(off, 360/cylinders)) > 0.01 {
				t.Errorf("%s: %s puts the rotor at %.2f from %.2f, want %.2f more", car, w.Brief, w.Rotor.AtRest.Value, d.Rotor.AtRest.Value, moved)
			}
			if w.Rotor.Verdict == "wrong_tower" && w.FirstStart.Crank != "not_to_be_cranked" {
				t.Errorf("%s: %s would be cranked with the rotor at the wrong tower", car, w.Brief)
			}
		}
	}
}

// With no car drawn no figure has a plus-or-minus and no chance is told.
func TestFitWithoutDraws(t *testing.T) {
	text := run(t, "fit", "demo", "--draws", "0")
	for _, no := range []string{"of the drawn cars", "chance every lobe fires"} {
		if strings.Contains(text, no) {
			t.Errorf("without draws it says %q", no)
		}
	}
	if !strings.Contains(text, "no draws, no ±") {
		t.Error("it does not say that none was drawn")
	}
}

// A timing is right only where its whole interval is.
func TestStandOfTiming(t *testing.T) {
	for _, x := range []struct {
		off  twin.Interval
		want timingStand
	}{
		{twin.Interval{Mid: 0, Lo: -1.9, Hi: 1.9}, timingRight},
		{twin.Interval{Mid: 0, Lo: -2.1, Hi: 1}, timingDoubtful},
		{twin.Interval{Mid: 3, Lo: 1.5, Hi: 4.5}, timingDoubtful},
		{twin.Interval{Mid: 3, Lo: 2.5, Hi: 3.5}, timingOff},
		{twin.Interval{Mid: -40, Lo: -42, Hi: -38}, timingOff},
	} {
		sh := &fitSheet{Fit: &fit.Fit{Timing: fit.Timing{Off: x.off, Tolerance: 2}}}
		if got := sh.timingState(); got != x.want {
			t.Errorf("%+v: %s, want %s", x.off, timingIDs[got], timingIDs[x.want])
		}
	}
}

// What the trade holds of a first start (common practice, no source): some ten
// degrees before the top it catches, far before it kicks, and a spark that goes
// to the neighbour's cylinder is not let near the starter at any timing.
func TestWhatMayBeCranked(t *testing.T) {
	in := &fit.Phase{Middle: distributor.Register{Verdict: distributor.InRegister}}
	wrong := &fit.Phase{Middle: distributor.Register{Verdict: distributor.WrongTower}}
	perhaps := &fit.Phase{Chance: map[distributor.RegisterVerdict]float64{distributor.InRegister: 0.9, distributor.WrongTower: 0.1}}
	for _, x := range []struct {
		advance, pm float64
		p           *fit.Phase
		want        mayCrank
	}{
		{8, 2, in, crankIt},
		{8, 2, wrong, crankNever},
		{8, 2, perhaps, crankSurer},
		{8, 20, in, crankSurer},
		{-5, 2, in, crankIt},
		{-35, 2, in, crankSetFirst},
		{40, 2, in, crankNever},
		{100, 2, in, crankNever},
		{360, 2, in, crankNever},
	} {
		s := distributor.FirstStart(x.advance, x.pm, 90)
		if got := cranked(&s, x.p); got != x.want {
			t.Errorf("%g ± %g: %s, want %s", x.advance, x.pm, mayCranks[got].id, mayCranks[x.want].id)
		}
	}
}

// What can hurt stands first, once, and the deferring sentence last.
func TestFitAndCurveCautions(t *testing.T) {
	for _, args := range [][]string{{"fit", "demo", "--draws", "0"}, {"curve", "demo", "--draws", "0"}} {
		text := run(t, args...)
		if !strings.HasPrefix(text, "! Secondary voltage is 20 to 40 kV.") || strings.Count(text, "Secondary voltage is") != 1 {
			t.Errorf("%v begins with %.60q", args, text)
		}
		if !strings.HasSuffix(strings.TrimSpace(text), "It advises; local codes and licensed practice decide.") {
			t.Errorf("%v does not end with who decides", args)
		}
	}
}
