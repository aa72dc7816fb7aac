package cli

import (
	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/spark"
	"dwellwright/spike"
	"dwellwright/units"
)

// SparkDocument is what the command spark found, as JSON. Figures are in SI
// units (V, A, J, s, °C, Pa), unrounded; everything is predicted. Its JSON
// Schema is schema/spark.schema.json.
type SparkDocument struct {
	Format     string                 `json:"format" jsonschema:"enum=dwellwright-spark-1" jsonschema_description:"what this document is"`
	Car        string                 `json:"car" jsonschema_description:"name of the car"`
	Option     string                 `json:"option" jsonschema_description:"how the car is wired: as_fitted or an option of plan"`
	Switch     string                 `json:"switch" jsonschema_description:"what interrupts the primary"`
	Verdict    string                 `json:"verdict" jsonschema_description:"the document in a sentence"`
	Origin     string                 `json:"origin" jsonschema:"enum=predicted" jsonschema_description:"where every figure comes from"`
	Draws      int                    `json:"draws" jsonschema_description:"cars drawn from the spreads for each condition; the sections that solve much draw fewer"`
	Seed       uint64                 `json:"seed" jsonschema_description:"seed of the draws; the same seed gives the same document"`
	Conditions []SparkCondition       `json:"conditions" jsonschema_description:"one firing in each condition in which the engine turns"`
	Switches   *SparkSwitches         `json:"switches,omitempty" jsonschema_description:"points and triggers compared over engine speed"`
	Map        *SparkMap              `json:"map,omitempty" jsonschema_description:"spark in hand over engine speed and supply voltage, throttle wide open"`
	Heat       *SparkHeat             `json:"heat,omitempty" jsonschema_description:"heat of switch and coil"`
	Spikes     []SparkSpike           `json:"spikes,omitempty" jsonschema_description:"spikes on the supply and what helps"`
	Assumed    []prove.DocumentFigure `json:"assumed" jsonschema_description:"figures that shape the spark and that the car file does not say, taken at typical values"`
	Cautions   []string               `json:"cautions" jsonschema_description:"before anything is touched or measured"`
}

// SparkCondition is one firing in a condition.
type SparkCondition struct {
	ID      string        `json:"id"`
	Name    string        `json:"name"`
	RPM     float64       `json:"rpm"`
	State   string        `json:"state" jsonschema:"enum=above,enum=doubtful,enum=falls_short,enum=none" jsonschema_description:"where the least spark in hand stands against 1"`
	Break   string        `json:"break" jsonschema:"enum=no_contacts,enum=part_clean,enum=arcs,enum=arc_stands,enum=does_not_open"`
	Figures []SparkFigure `json:"figures"`
}

// SparkFigure is one figure of a firing.
type SparkFigure struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Unit string `json:"unit"`
	Interval
}

// Interval is a figure with its 95 % interval.
type Interval struct {
	Value     float64 `json:"value"`
	PlusMinus float64 `json:"plus_minus" jsonschema_description:"half the width of the 95 % interval"`
	Low       float64 `json:"low" jsonschema_description:"2.5 percentile"`
	High      float64 `json:"high" jsonschema_description:"97.5 percentile"`
}

// SparkSwitches compares switches over speed.
type SparkSwitches struct {
	Draws    int           `json:"draws"`
	RPM      []float64     `json:"rpm"`
	Cranking []bool        `json:"cranking"`
	Sides    []SparkSide   `json:"sides"`
	Answers  []SparkAnswer `json:"answers" jsonschema_description:"each switch against clean points, every figure at its middle"`
}

// SparkSide is one switch; its figures are by speed.
type SparkSide struct {
	ID        string     `json:"id"`
	Name      string     `json:"name"`
	Fitted    bool       `json:"fitted"`
	Planned   bool       `json:"planned"`
	BreakA    []Interval `json:"break_current_a"`
	Available []Interval `json:"available_kv"`
	Gap       []Interval `json:"gap_energy_mj"`
	Hand      []Interval `json:"spark_in_hand" jsonschema_description:"throttle wide open"`
}

// SparkAnswer is one switch against clean points in words.
type SparkAnswer struct {
	ID     string   `json:"id"`
	Answer string   `json:"answer"`
	Why    []string `json:"why"`
}

// SparkMap is the map of spark in hand.
type SparkMap struct {
	Draws int         `json:"draws"`
	RPM   []float64   `json:"rpm"`
	Volts []float64   `json:"volts" jsonschema_description:"V at the battery, coil current not flowing"`
	Asked []float64   `json:"asked_kv" jsonschema_description:"by speed"`
	KV    [][]float64 `json:"available_kv" jsonschema_description:"by voltage, then speed"`
	Hand  [][]float64 `json:"spark_in_hand"`
	PM    [][]float64 `json:"plus_minus,omitempty"`
}

// SparkHeat is the heat of switch and coil.
type SparkHeat struct {
	Draws    int            `json:"draws"`
	Legs     []SparkLeg     `json:"legs"`
	Places   []SparkPlace   `json:"places"`
	Life     *SparkLife     `json:"life,omitempty"`
	Mounting []SparkMounted `json:"mounting,omitempty"`
	KeyOn    SparkKeyOn     `json:"key_on"`
}

// SparkLeg is a leg of the drive.
type SparkLeg struct {
	Name        string   `json:"name"`
	Condition   string   `json:"condition" jsonschema_description:"empty: parked, key off"`
	FromMin     float64  `json:"from_min"`
	ToMin       float64  `json:"to_min"`
	Switch      Interval `json:"switch_w"`
	Electronics Interval `json:"electronics_w"`
	Coil        Interval `json:"coil_w"`
}

// SparkPlace is how warm a place gets.
type SparkPlace struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Peak    Interval  `json:"hottest_c"`
	PeakMin float64   `json:"hottest_after_min"`
	LimitC  *float64  `json:"limit_c,omitempty"`
	ToSpare *Interval `json:"to_spare_k,omitempty"`
}

// SparkLife is what the drive takes of a module's life.
type SparkLife struct {
	Hours       Interval `json:"hours_at_reference_per_hour"`
	ReferenceC  float64  `json:"reference_c"`
	FailureRate Interval `json:"failure_rate_over_25c"`
}

// SparkMounted is the junction with one mounting.
type SparkMounted struct {
	ID        string   `json:"id"`
	Fitted    bool     `json:"fitted"`
	Base      Interval `json:"base_to_plate_k_per_w"`
	Peak      Interval `json:"hottest_c"`
	OverPaste Interval `json:"over_paste_k"`
}

// SparkKeyOn is the key left on.
type SparkKeyOn struct {
	Minutes float64      `json:"minutes"`
	First   Interval     `json:"first_a"`
	Last    Interval     `json:"last_a"`
	Places  []SparkPlace `json:"places"`
	Reaches []SparkReach `json:"reaches"`
}

// SparkReach is whether and when a limit is reached.
type SparkReach struct {
	ID      string   `json:"id"`
	LimitC  float64  `json:"limit_c"`
	Minutes *float64 `json:"minutes,omitempty" jsonschema_description:"left out: not in the time followed"`
	Share   float64  `json:"share" jsonschema_description:"of the drawn cars that reach it"`
}

// SparkSpike is one spike.
type SparkSpike struct {
	ID      string      `json:"id"`
	State   string      `json:"state" jsonschema:"enum=within,enum=doubtful,enum=beyond,enum=refused"`
	Refused string      `json:"refused,omitempty"`
	Limit   *SparkLimit `json:"limit,omitempty"`
	Seen    []SparkSeen `json:"seen,omitempty" jsonschema_description:"without protection, then with each"`
	Says    []string    `json:"says"`
}

// SparkLimit is what the terminal stands.
type SparkLimit struct {
	PeakV   float64 `json:"peak_v"`
	LowestV float64 `json:"lowest_v"`
	Source  string  `json:"source"`
}

// SparkSeen is what the terminal sees.
type SparkSeen struct {
	With        string  `json:"with" jsonschema_description:"empty: nothing fitted"`
	PeakV       float64 `json:"peak_v"`
	PeakPM      float64 `json:"peak_plus_minus"`
	LowestV     float64 `json:"lowest_v"`
	LowestPM    float64 `json:"lowest_plus_minus"`
	TakesOfIt   float64 `json:"share_taken"`
	ClampPeakA  float64 `json:"clamp_peak_a"`
	BeyondForS  float64 `json:"beyond_limit_s"`
	StillBeyond bool    `json:"beyond"`
}

func told(i spark.Interval) Interval { return Interval{i.Mid, i.PM(), i.Lo, i.Hi} }

func toldAll(list []spark.Interval) []Interval {
	out := []Interval{}
	for _, i := range list {
		out = append(out, told(i))
	}
	return out
}

// document is the sheet as it is written in JSON.
func (sh *sparkSheet) document() SparkDocument {
	first, rest := sparkCautions(sh.car)
	d := SparkDocument{
		Format: "dwellwright-spark-1", Car: sh.car.Name, Option: sh.option.ID, Switch: spark.Of(sh.car).ID(), Verdict: sh.verdict(units.Metric),
		Origin: "predicted", Draws: sh.draws, Seed: sh.seed, Conditions: []SparkCondition{}, Assumed: []prove.DocumentFigure{}, Cautions: append([]string{first}, rest...),
	}
	for i := range sh.shots {
		d.Conditions = append(d.Conditions, conditionDocument(sh.car, &sh.shots[i]))
	}
	for _, r := range sh.assumed() {
		d.Assumed = append(d.Assumed, prove.DocumentFigure{Field: r.Path, Value: units.FormatValue(r.P.Kind, r.P.Value, units.Metric)})
	}
	if x := sh.switches; x != nil {
		d.Switches = x.document()
	}
	if ch := sh.chart; ch != nil {
		d.Map = &SparkMap{RPM: ch.RPM, Volts: ch.Volts, Asked: ch.Asked, KV: ch.KV, Hand: ch.Hand, PM: ch.PM, Draws: min(sh.draws, mapDraws)}
	}
	if sh.heat != nil {
		d.Heat = sh.heat.document()
	}
	for i := range sh.spikes {
		d.Spikes = append(d.Spikes, spikeDocument(&sh.spikes[i]))
	}
	return d
}

// moreFigures are the particulars as figures.
var moreFigures = []struct {
	id, name, unit string
	get            func(p *workshop.Particulars) spark.Interval
}{
	{"break_current", "current at the break", "A", func(p *workshop.Particulars) spark.Interval { return p.BreakA }},
	{"asked_plug", "asked by the plug's gap", "V", func(p *workshop.Particulars) spark.Interval { return p.PlugV }},
	{"asked_rotor", "asked by the rotor gap", "V", func(p *workshop.Particulars) spark.Interval { return p.RotorV }},
	{"gas_pressure", "gas as it fires, absolute", "Pa", func(p *workshop.Particulars) spark.Interval { return p.Pressure }},
	{"gas_temperature", "gas as it fires", "°C", func(p *workshop.Particulars) spark.Interval { return p.ChargeC }},
	{"rings", "rings after the spark", "", func(p *workshop.Particulars) spark.Interval { return p.Rings }},
}

// figureUnits are the SI units of a firing's figures.
var figureUnits = map[string]string{
	"spark_in_hand": "", "snap_in_hand": "", "available": "V", "asked": "V", "snap_asked": "V",
	"burn_time": "s", "gap_energy": "J", "primary_peak": "V", "contact_energy": "J", "junction": "°C",
}

func conditionDocument(c *car.Car, s *shot) SparkCondition {
	k := SparkCondition{ID: s.Condition, Name: s.Name, RPM: s.RPM, State: "none", Figures: []SparkFigure{}}
	f := &s.Spark.Firing
	k.Break = [...]string{spark.Electronic: "no_contacts", spark.PartClean: "part_clean", spark.PartArcs: "arcs", spark.PartStands: "arc_stands"}[spark.Parting(c, f)]
	if !f.Opens {
		k.Break = "does_not_open"
	}
	if _, i, _ := (&sparkSheet{shots: []shot{*s}}).least(); len(s.Figures) > 0 {
		k.State = handStands[handState(i)].id
	}
	for _, f := range s.Figures {
		k.Figures = append(k.Figures, SparkFigure{f.ID, f.Name, figureUnits[f.ID], told(f.Interval)})
	}
	for _, m := range moreFigures {
		k.Figures = append(k.Figures, SparkFigure{m.id, m.name, m.unit, told(m.get(s.more))})
	}
	return k
}

func (x *switchesFound) document() *SparkSwitches {
	d := &SparkSwitches{Draws: x.draws, RPM: x.contest.RPM, Cranking: x.contest.Crank, Sides: []SparkSide{}, Answers: []SparkAnswer{}}
	for i := range x.contest.Sides {
		s := &x.contest.Sides[i]
		d.Sides = append(d.Sides, SparkSide{s.Fitting.ID(), s.Fitting.String(), s.Fitted, s.Planned, toldAll(s.BreakA), toldAll(s.KV), toldAll(s.GapMJ), toldAll(s.Hand)})
	}
	for i := range x.duels {
		du := &x.duels[i]
		if len(du.rounds) == 0 {
			continue
		}
		d.Answers = append(d.Answers, SparkAnswer{du.side.Fitting.ID(), du.answer(), append([]string{}, du.reasons()...)})
	}
	return d
}

func places(list []spark.Warming) []SparkPlace {
	out := []SparkPlace{}
	for i := range list {
		w := &list[i]
		p := SparkPlace{ID: w.Place.ID(), Name: w.Place.String(), Peak: told(w.Peak), PeakMin: w.PeakMin}
		if w.LimitC > 0 {
			spare := told(w.MarginK)
			p.LimitC, p.ToSpare = &w.LimitC, &spare
		}
		out = append(out, p)
	}
	return out
}

func (h *heatFound) document() *SparkHeat {
	d := &SparkHeat{Draws: h.drive.Draws, Legs: []SparkLeg{}, Places: places(h.drive.Warm)}
	for _, l := range h.drive.Legs {
		d.Legs = append(d.Legs, SparkLeg{l.Name, l.Condition, l.FromMin, l.ToMin, told(l.SwitchW), told(l.ElectronicsW), told(l.CoilW)})
	}
	if l := h.drive.Life; l != nil {
		d.Life = &SparkLife{told(l.Ratio), spark.LifeRefC, told(l.PiT)}
	}
	for _, m := range h.mounted {
		d.Mounting = append(d.Mounting, SparkMounted{m.Mounting.String(), m.Fitted, told(m.KPerW), told(m.Peak), told(m.OverK)})
	}
	k := h.keyOn
	d.KeyOn = SparkKeyOn{Minutes: h.keyOnMin, First: told(k.First.Amps), Last: told(k.Last.Amps), Places: places(k.Warm), Reaches: []SparkReach{}}
	reach := func(id string, r *spark.Reach) {
		x := SparkReach{ID: id, LimitC: r.LimitC, Share: r.Share}
		if r.Mid.Reached {
			x.Minutes = &r.Mid.Minutes
		}
		d.KeyOn.Reaches = append(d.KeyOn.Reaches, x)
	}
	reach(spark.AtWinding.ID(), &k.Coil)
	if k.Module != nil {
		reach(spark.AtJunction.ID(), k.Module)
	}
	return d
}

func spikeDocument(r *spike.Result) SparkSpike {
	d := SparkSpike{ID: r.Case.ID, State: "refused", Refused: string(r.Refused), Says: spike.Words(r)}
	if r.Refused != "" {
		return d
	}
	d.State = spikeMarks[spikeStand(r, &r.Without)].id
	d.Limit = &SparkLimit{r.Limit.PeakV, r.Limit.LowestV, r.Limit.Source}
	seen := func(with string, s *spike.Seen, share float64) {
		d.Seen = append(d.Seen, SparkSeen{with, s.PeakV, s.PeakPM, s.LowestV, s.LowestPM, share, s.ClampPeakA, s.AboveS + s.BelowS, s.AboveS+s.BelowS > 0})
	}
	seen("", &r.Without, 0)
	for i := range r.With {
		seen(r.With[i].Protection.ID, &r.With[i].Seen, r.With[i].ShareTaken)
	}
	return d
}
