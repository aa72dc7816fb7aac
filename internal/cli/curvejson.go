package cli

import (
	"math"

	"dwellwright/advance"
	"dwellwright/prove"
	"dwellwright/units"
)

// CurveDocument is what the command curve found, as JSON: crank degrees before
// top dead centre at engine rpm, vacuum hose off and initial included unless a
// name says otherwise, else SI units. Its JSON Schema is
// schema/curve.schema.json.
type CurveDocument struct {
	Format   string                 `json:"format" jsonschema:"enum=dwellwright-curve-1" jsonschema_description:"what this document is"`
	Car      string                 `json:"car" jsonschema_description:"name of the car"`
	Verdict  string                 `json:"verdict" jsonschema_description:"the document in a few sentences"`
	State    string                 `json:"state" jsonschema:"enum=none_wanted,enum=inside,enum=doubtful,enum=outside" jsonschema_description:"the worst of the wanted points"`
	Safe     string                 `json:"safe" jsonschema:"enum=not_stated,enum=within,enum=doubtful,enum=over" jsonschema_description:"the most timing with the throttle open against what the file states as safe"`
	Most     Interval               `json:"most" jsonschema_description:"most timing with the throttle open"`
	MostRPM  float64                `json:"most_rpm"`
	Draws    int                    `json:"draws" jsonschema_description:"cars drawn from the spreads; 0: every figure at its middle"`
	Seed     uint64                 `json:"seed" jsonschema_description:"seed of the draws; the same seed gives the same document"`
	Origin   string                 `json:"origin" jsonschema:"enum=estimated_from_readings,enum=car_file" jsonschema_description:"where the mechanism comes from"`
	Curve    []CurveAt              `json:"curve"`
	Measured []CurveRead            `json:"measured"`
	Wanted   []CurveWanted          `json:"wanted"`
	Parts    []Figure               `json:"parts" jsonschema_description:"springs, stop, friction, initial and the curve's marks"`
	Decided  map[string]bool        `json:"decided,omitempty" jsonschema_description:"whether the readings decide a part's figure"`
	Misfit   *CurveMisfit           `json:"misfit,omitempty" jsonschema_description:"how the best mechanism fits the readings"`
	Builds   []CurveBuild           `json:"builds" jsonschema_description:"from the kit, the best first"`
	Vacuum   *CurveVacuum           `json:"vacuum,omitempty" jsonschema_description:"left out where there is none"`
	Load     CurveLoad              `json:"load" jsonschema_description:"all timing over speed and manifold pressure, middle car"`
	Notes    []string               `json:"notes" jsonschema_description:"what has to be minded in this curve"`
	Assumed  []prove.DocumentFigure `json:"assumed" jsonschema_description:"figures of advance and timing that the car file does not say"`
	Cautions []string               `json:"cautions" jsonschema_description:"before anything is touched or measured"`
}

// CurveAt is the curve at one speed.
type CurveAt struct {
	RPM     float64  `json:"rpm"`
	Advance Interval `json:"advance" jsonschema_description:"friction left out"`
	Rising  float64  `json:"rising" jsonschema_description:"as the speed goes up, middle mechanism"`
	Falling float64  `json:"falling" jsonschema_description:"as the speed comes down, middle mechanism"`
}

// CurveRead is a reading beside the model.
type CurveRead struct {
	RPM       float64 `json:"rpm"`
	Advance   float64 `json:"advance"`
	PlusMinus float64 `json:"plus_minus"`
	Going     string  `json:"going" jsonschema:"enum=up,enum=down,enum=not_said"`
	Model     float64 `json:"model"`
	Run       int     `json:"run" jsonschema_description:"of the file, from 1"`
}

// CurveWanted is a wanted point.
type CurveWanted struct {
	RPM       float64  `json:"rpm"`
	Advance   float64  `json:"advance"`
	Tolerance float64  `json:"tolerance"`
	Predicted Interval `json:"predicted"`
	Off       float64  `json:"off" jsonschema_description:"predicted less wanted"`
	Inside    float64  `json:"inside" jsonschema_description:"share of the mechanisms inside, speed rising and falling"`
	State     string   `json:"state" jsonschema:"enum=inside,enum=doubtful,enum=outside"`
}

// CurveMisfit says how the best mechanism fits.
type CurveMisfit struct {
	ChiSquare float64 `json:"chi_square"`
	DoF       float64 `json:"degrees_of_freedom"`
	P         float64 `json:"p"`
	WorstRPM  float64 `json:"worst_rpm"`
	WorstBy   float64 `json:"worst_by" jsonschema_description:"crank degrees, reading less mechanism"`
}

// CurveBuild is one build of the kit.
type CurveBuild struct {
	Fit     string    `json:"fit" jsonschema_description:"what to fit, in words"`
	Springs []string  `json:"springs" jsonschema_description:"light, then heavy; empty: as fitted"`
	Stop    string    `json:"stop"`
	Weights string    `json:"weights"`
	Initial float64   `json:"initial" jsonschema_description:"to set"`
	Off     []float64 `json:"off" jsonschema_description:"at each wanted point"`
	Worst   float64   `json:"worst" jsonschema_description:"in tolerances; up to 1 all are inside"`
	Chance  float64   `json:"chance" jsonschema_description:"that every point reads inside"`
}

// CurveVacuum is the can.
type CurveVacuum struct {
	Source     string          `json:"source" jsonschema:"enum=ported,enum=manifold"`
	AmbientPa  float64         `json:"ambient_pa"`
	Reached    float64         `json:"reached" jsonschema_description:"most of the can's travel that any condition draws, as a share"`
	Figures    []Figure        `json:"figures"`
	Conditions []CurveVacuumAt `json:"conditions"`
}

// CurveVacuumAt is the can in one condition.
type CurveVacuumAt struct {
	ID    string   `json:"id"`
	Name  string   `json:"name"`
	RPM   float64  `json:"rpm"`
	Felt  Interval `json:"felt_pa" jsonschema_description:"below the air outside"`
	Gives Interval `json:"gives" jsonschema_description:"crank degrees of the can alone"`
	Total Interval `json:"total" jsonschema_description:"all of it"`
}

// CurveLoad is the total over speed and pressure.
type CurveLoad struct {
	RPM        []float64   `json:"rpm"`
	ManifoldPa []float64   `json:"manifold_pa"`
	Total      [][]float64 `json:"total" jsonschema_description:"by pressure, then speed"`
}

var goingIDs = map[int8]string{1: "up", -1: "down", 0: "not_said"}

// document is the sheet as it is written in JSON.
func (sh *curveSheet) document() CurveDocument {
	first, rest := sh.cautions()
	top, rpm := sh.highest()
	d := CurveDocument{
		Format: "dwellwright-curve-1", Car: sh.Car.Name, Verdict: sh.verdict(), State: curveStands[sh.state()].id, Safe: safeIDs[sh.safe()], Most: told(top), MostRPM: rpm,
		Draws: sh.Draws, Seed: sh.Seed, Origin: "car_file",
		Curve: []CurveAt{}, Measured: []CurveRead{}, Wanted: []CurveWanted{}, Parts: toldFigures(sh.parts(units.Metric)), Builds: []CurveBuild{},
		Load:  CurveLoad{sh.Load.RPM, sh.Load.ManifoldPa, sh.Load.Total},
		Notes: append([]string{}, sh.Cautions...), Assumed: []prove.DocumentFigure{}, Cautions: append([]string{first}, rest...),
	}
	for i, x := range sh.Speeds {
		s := sh.Spread[i]
		if !math.IsNaN(s.Mid) {
			d.Curve = append(d.Curve, CurveAt{x, told(s), sh.Off[i].Rising, sh.Off[i].Falling})
		}
	}
	for _, m := range sh.Measured {
		d.Measured = append(d.Measured, CurveRead{m.RPM, m.Advance, m.PM, goingIDs[m.Going], m.Model, m.Run + 1})
	}
	for i := range sh.Wanted {
		d.Wanted = append(d.Wanted, wantedDocument(&sh.Wanted[i]))
	}
	if e := sh.Estimated; e != nil {
		d.Origin = "estimated_from_readings"
		d.Decided = sh.decided()
		m := &e.Misfit
		d.Misfit = &CurveMisfit{m.ChiSquare, m.DoF, m.P, sh.Measured[m.Worst].RPM, m.WorstBy}
	}
	for i := range sh.Builds {
		b := &sh.Builds[i]
		x := CurveBuild{Fit: sh.buildWords(b), Springs: append([]string{}, b.SpringIDs...), Stop: b.StopID, Weights: b.WeightID, Initial: b.Initial, Off: []float64{}, Worst: b.Worst, Chance: b.Chance}
		for _, p := range b.Points {
			x.Off = append(x.Off, p.Off)
		}
		d.Builds = append(d.Builds, x)
	}
	if u := &sh.Vacuum; u.Source != advance.NoVacuum {
		d.Vacuum = &CurveVacuum{sh.Car.Advance.Source.String(), u.AmbientPa, u.Reached, toldFigures(sh.can(units.Metric)), []CurveVacuumAt{}}
		for _, x := range u.At {
			d.Vacuum.Conditions = append(d.Vacuum.Conditions, CurveVacuumAt{x.Condition, x.Name, x.RPM, told(x.FeltPa), told(x.Advance), told(x.Total)})
		}
	}
	for _, a := range sh.assumed(units.Metric) {
		d.Assumed = append(d.Assumed, prove.DocumentFigure{Field: a.path, Value: a.value})
	}
	return d
}

// decided says of every figure that was estimated whether the readings decide
// it.
func (sh *curveSheet) decided() map[string]bool {
	e := sh.Estimated
	m := map[string]bool{"stop": e.StopDeg.Known, "friction": e.FrictionNm.Known, "initial": e.Initial.Known}
	for i := range e.Springs {
		if i < len(springPlaces) {
			m[springPlaces[i]+"_rate"], m[springPlaces[i]+"_preload"], m[springPlaces[i]+"_takes_up"] = e.Springs[i].RateNPerM.Known, e.Springs[i].PreloadN.Known, e.Springs[i].TakesUpDeg.Known
		}
	}
	return m
}
