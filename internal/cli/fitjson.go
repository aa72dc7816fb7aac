package cli

import (
	"dwellwright/distributor"
	"dwellwright/fit"
	"dwellwright/lobes"
	"dwellwright/prove"
	"dwellwright/units"
)

// FitDocument is what the command fit found, as JSON: SI units, angles in
// degrees of what the unit says, positive clockwise seen from above, timing in
// crank degrees before top dead centre. Its JSON Schema is
// schema/fit.schema.json.
type FitDocument struct {
	Format     string                 `json:"format" jsonschema:"enum=dwellwright-fit-1" jsonschema_description:"what this document is"`
	Car        string                 `json:"car" jsonschema_description:"name of the car"`
	Option     string                 `json:"option" jsonschema_description:"how the car is wired: as_fitted or an option of plan"`
	Rotation   string                 `json:"rotation" jsonschema:"enum=clockwise,enum=anticlockwise" jsonschema_description:"of the rotor, seen from above"`
	Verdict    string                 `json:"verdict" jsonschema_description:"the document in a few sentences"`
	Draws      int                    `json:"draws" jsonschema_description:"cars drawn from the spreads; 0: every figure at its middle, chances of the middle car"`
	Seed       uint64                 `json:"seed" jsonschema_description:"seed of the draws; the same seed gives the same document"`
	Timing     FitTiming              `json:"timing" jsonschema_description:"vacuum hose off, nothing turned yet"`
	Rotor      FitRotor               `json:"rotor" jsonschema_description:"nothing moved yet"`
	FirstStart FitStart               `json:"first_start" jsonschema_description:"cranked with nothing turned"`
	Ways       []FitWay               `json:"ways" jsonschema_description:"back to the wanted timing, best first"`
	Refused    []FitRefused           `json:"refused"`
	Steps      []FitStep              `json:"steps" jsonschema_description:"to a safe first start by the first way; empty where there is none"`
	Gap        *FitGap                `json:"air_gap,omitempty" jsonschema_description:"left out with points"`
	Seating    FitSeating             `json:"seating"`
	Sets       []Figure               `json:"dual_points,omitempty" jsonschema_description:"what two sets make of their dwell"`
	Lobes      []FitLobes             `json:"lobes,omitempty" jsonschema_description:"bench runs taken apart"`
	ShaftPlay  *FitPlay               `json:"shaft_play,omitempty" jsonschema_description:"from bench runs with the shaft pushed to both sides"`
	Assumed    []prove.DocumentFigure `json:"assumed" jsonschema_description:"figures of distributor, timing and trigger that the car file does not say, the weightiest first"`
	Cautions   []string               `json:"cautions" jsonschema_description:"before anything is touched or measured"`
}

// FitTiming is the timing.
type FitTiming struct {
	State     string   `json:"state" jsonschema:"enum=right,enum=doubtful,enum=off" jsonschema_description:"doubtful: its interval reaches over the tolerance"`
	SeenRPM   float64  `json:"seen_rpm"`
	Tolerance float64  `json:"tolerance" jsonschema_description:"crank degrees either way"`
	Figures   []Figure `json:"figures"`
}

// FitRotor is where the rotor stands at the spark.
type FitRotor struct {
	Verdict string             `json:"verdict" jsonschema:"enum=in_register,enum=on_edge,enum=jumps,enum=wrong_tower"`
	AtRest  Interval           `json:"at_rest" jsonschema_description:"distributor degrees past its tower in the direction of rotation, vacuum off, worst lobe"`
	AtFull  Interval           `json:"at_full_vacuum"`
	Worst   float64            `json:"worst" jsonschema_description:"the drive's scatter included, middle car"`
	Overlap float64            `json:"overlap" jsonschema_description:"distributor degrees either way up to which tip and contact overlap"`
	Jump    float64            `json:"jump" jsonschema_description:"distributor degrees either way up to which the coil can pay for the longer way"`
	ExtraM  float64            `json:"extra_gap_m" jsonschema_description:"air beyond the radial gap at the worst"`
	ExtraKV float64            `json:"extra_kv"`
	Chances map[string]float64 `json:"chances,omitempty" jsonschema_description:"share of the drawn cars with each verdict"`
}

// FitStart is what a first start would be like.
type FitStart struct {
	Crank   string  `json:"crank" jsonschema:"enum=may_be_cranked,enum=make_surer,enum=set_first,enum=not_to_be_cranked"`
	Verdict string  `json:"verdict" jsonschema:"enum=starts_well,enum=starts_late,enum=hard_to_start,enum=kicks_back,enum=backfires,enum=fires_on_overlap"`
	Bad     float64 `json:"chance_of_kick_or_backfire" jsonschema_description:"by its timing"`
	Words   string  `json:"words"`
}

// FitWay is one way back.
type FitWay struct {
	Brief      string   `json:"brief"`
	Moves      []string `json:"moves" jsonschema_description:"what to do, in order"`
	Housing    float64  `json:"housing" jsonschema_description:"distributor degrees clockwise"`
	HousingM   float64  `json:"housing_m" jsonschema_description:"at the clamp, clockwise positive"`
	Leads      int      `json:"leads" jsonschema_description:"towers in the direction of rotation"`
	Mesh       int      `json:"mesh" jsonschema_description:"teeth in the direction of rotation"`
	Trigger    float64  `json:"trigger" jsonschema_description:"on its plate, distributor degrees clockwise"`
	Sleeve     float64  `json:"sleeve" jsonschema_description:"on the shaft, distributor degrees clockwise"`
	Lifted     bool     `json:"lifted" jsonschema_description:"the distributor has to come out"`
	Timing     Interval `json:"timing" jsonschema_description:"afterwards, crank degrees before top dead centre"`
	Rotor      FitRotor `json:"rotor"`
	FirstStart FitStart `json:"first_start"`
	RoomAnti   float64  `json:"room_anticlockwise"`
	Room       float64  `json:"room_clockwise"`
	Minutes    float64  `json:"minutes" jsonschema_description:"of work, an estimate"`
}

// FitRefused is a way that will not do.
type FitRefused struct {
	Brief string `json:"brief"`
	Why   string `json:"why"`
}

// FitStep is one step to a first start.
type FitStep struct {
	Text    string `json:"text"`
	Caution bool   `json:"caution"`
}

// FitGap is the air gap.
type FitGap struct {
	Principle  string        `json:"principle" jsonschema:"enum=hall,enum=reluctance"`
	Figures    []Figure      `json:"figures"`
	BandM      [2]float64    `json:"band_m" jsonschema_description:"between which a gap both clears the ring and fires every lobe; the second below the first: none does"`
	Conditions []FitGapAt    `json:"conditions"`
	Worst      string        `json:"worst" jsonschema_description:"the condition that asks for the narrowest"`
	Slot       *FitSlot      `json:"slot,omitempty" jsonschema_description:"left out where the mounting cannot give the wanted gap"`
	SlotWords  []string      `json:"slot_words"`
	Chance     []FitGapPoint `json:"chance_over_gap" jsonschema_description:"in the worst condition"`
}

// FitGapAt is the gap in one condition.
type FitGapAt struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Largest Interval  `json:"largest_m" jsonschema_description:"up to which every lobe fires"`
	Fires   float64   `json:"fires" jsonschema_description:"share of the drawn cars in which every lobe fires"`
	Volts   *Interval `json:"volts,omitempty" jsonschema_description:"peak of a reluctance trigger's coil"`
}

// FitSlot is the change at the mounting.
type FitSlot struct {
	SensorM   float64 `json:"sensor_m" jsonschema_description:"positive towards the shaft"`
	SlotM     float64 `json:"slot_m" jsonschema_description:"at the screw, positive the way that brings the sensor in"`
	OpenM     float64 `json:"open_m" jsonschema_description:"0: the slot has room for it"`
	ShaftEnd  bool    `json:"open_shaft_end"`
	SensorDeg float64 `json:"sensor_deg" jsonschema_description:"distributor degrees clockwise that it turns the sensor"`
	LeftM     float64 `json:"left_m" jsonschema_description:"of travel that way afterwards"`
}

// FitGapPoint is the chance at a gap.
type FitGapPoint struct {
	GapM  float64 `json:"gap_m"`
	Fires float64 `json:"fires"`
}

// FitSeating is how rotor and sleeve sit.
type FitSeating struct {
	Figures []Figure `json:"figures"`
	ShimM   float64  `json:"shim_m" jsonschema_description:"under the sensor to sit in the middle; negative: under the sleeve"`
	ReliefM float64  `json:"relief_m" jsonschema_description:"to take off the underside of sleeve or rotor"`
	Refused string   `json:"refused,omitempty"`
	Words   []string `json:"words"`
}

// FitLobes is one bench run taken apart.
type FitLobes struct {
	Side    string     `json:"side" jsonschema:"enum=free,enum=left,enum=right"`
	Turns   int        `json:"turns"`
	Cam     []Interval `json:"cam" jsonschema_description:"lateness of each lobe, distributor degrees"`
	CamCost []Interval `json:"cam_crank" jsonschema_description:"the same at the plug, crank degrees"`
	Wobble  FitError   `json:"wobble" jsonschema_description:"peak"`
	Play    FitError   `json:"side_play" jsonschema_description:"standard deviation of a wander; its cost from earliest to latest of 95 in 100 firings"`
	Random  FitError   `json:"random" jsonschema_description:"standard deviation of a firing; its cost from earliest to latest of 95 in 100 firings"`
	Spacing string     `json:"spacing" jsonschema:"enum=even,enum=uneven,enum=cannot_tell"`
	Words   string     `json:"words"`
	Refused string     `json:"refused,omitempty" jsonschema_description:"why nothing can be made of it"`
}

// FitPlay is the shaft's side play.
type FitPlay struct {
	Distributor Interval `json:"distributor" jsonschema_description:"degrees from end to end"`
	Crank       Interval `json:"crank"`
	PlayM       Interval `json:"play_m"`
}

// FitError is one error and what it costs.
type FitError struct {
	Distributor Interval `json:"distributor"`
	Crank       Interval `json:"crank"`
	Known       bool     `json:"known" jsonschema_description:"clear of nothing"`
}

var startIDs = [...]string{
	distributor.StartsWell: "starts_well", distributor.StartsLate: "starts_late", distributor.HardToStart: "hard_to_start",
	distributor.KicksBack: "kicks_back", distributor.Backfires: "backfires", distributor.FiresOnOverlap: "fires_on_overlap",
}

var spacingIDs = map[lobes.SpacingVerdict]string{lobes.Even: "even", lobes.Uneven: "uneven", lobes.CannotTell: "cannot_tell"}

func startDocument(s *distributor.Start, p *fit.Phase) FitStart {
	return FitStart{Crank: mayCranks[cranked(s, p)].id, Verdict: startIDs[s.Verdict], Words: s.Words, Bad: violence(s)}
}

func rotorDocument(p *fit.Phase) FitRotor {
	m := &p.Middle
	d := FitRotor{
		Verdict: registerMarks[m.Verdict].id, AtRest: told(p.AtRest), AtFull: told(p.AtFull), Worst: m.Worst,
		Overlap: p.Window.OverlapDeg, Jump: p.Window.JumpDeg, ExtraM: m.ExtraGapM, ExtraKV: m.ExtraKV,
	}
	if p.Chance != nil {
		d.Chances = map[string]float64{}
		for v, x := range p.Chance {
			d.Chances[registerMarks[v].id] = x
		}
	}
	return d
}

// document is the sheet as it is written in JSON.
func (sh *fitSheet) document() FitDocument {
	first, rest := sh.cautions()
	d := FitDocument{
		Format: "dwellwright-fit-1", Car: sh.Car.Name, Option: sh.Option.ID, Rotation: sh.turning(), Verdict: sh.verdict(), Draws: sh.Draws, Seed: sh.Seed,
		Timing:     FitTiming{timingIDs[sh.timingState()], sh.Timing.SeenRPM, sh.Timing.Tolerance, toldFigures(sh.timing())},
		Rotor:      rotorDocument(&sh.Phase),
		FirstStart: startDocument(&sh.Start, &sh.Phase),
		Ways:       []FitWay{}, Refused: []FitRefused{}, Steps: []FitStep{}, Assumed: []prove.DocumentFigure{}, Cautions: append([]string{first}, rest...),
	}
	for i := range sh.Ways {
		d.Ways = append(d.Ways, sh.wayDocument(&sh.Ways[i]))
	}
	for _, r := range sh.Refused {
		d.Refused = append(d.Refused, FitRefused{fit.Brief(r.Move), r.Why})
	}
	if way := sh.best(); way != nil {
		for _, s := range sh.Steps(way, units.Metric) {
			d.Steps = append(d.Steps, FitStep{s.Text, s.Caution})
		}
	}
	if sh.Gap != nil && len(sh.Gap.At) > 0 {
		d.Gap = sh.gapDocument()
	}
	d.Seating = sh.seatDocument()
	if sh.Sets != nil {
		d.Sets = toldFigures(sh.sets())
	}
	if p := sh.Play; p != nil {
		d.ShaftPlay = &FitPlay{told95(p.Angle), told95(p.CrankDeg), told95(p.PlayM)}
	}
	for i := range sh.Lobes {
		d.Lobes = append(d.Lobes, lobesDocument(&sh.Lobes[i]))
	}
	for _, a := range sh.assumed(units.Metric) {
		d.Assumed = append(d.Assumed, prove.DocumentFigure{Field: a.path, Value: a.value})
	}
	return d
}

func (sh *fitSheet) wayDocument(x *fit.Way) FitWay {
	m := &x.Move
	return FitWay{
		Brief: fit.Brief(*m), Moves: append([]string{}, fit.Moves(&sh.Rig, *m, units.Metric)...),
		Housing: m.Housing, HousingM: x.HousingM, Leads: m.Leads, Mesh: m.Mesh, Trigger: m.Trigger, Sleeve: m.Sleeve, Lifted: x.Lifted,
		Timing: told(x.Timing), Rotor: rotorDocument(&x.Phase), FirstStart: startDocument(&x.Start, &x.Phase),
		RoomAnti: x.Room[0], Room: x.Room[1], Minutes: x.Minutes,
	}
}

func (sh *fitSheet) gapDocument() *FitGap {
	g := sh.Gap
	d := &FitGap{
		Principle: g.Principle.String(), Figures: toldFigures(sh.gap()), BandM: [2]float64{g.Band.Least, g.Band.Most},
		Conditions: []FitGapAt{}, Worst: g.At[g.Worst].Condition, SlotWords: sh.slot(), Chance: []FitGapPoint{},
	}
	for i := range g.At {
		a := &g.At[i]
		at := FitGapAt{ID: a.Condition, Name: a.Name, Largest: told(a.Largest), Fires: a.Fires}
		if g.Switching == nil && a.Volts.Hi > 0 {
			v := told(a.Volts)
			at.Volts = &v
		}
		d.Conditions = append(d.Conditions, at)
	}
	if s := &g.Slot; g.SlotRefused == nil {
		d.Slot = &FitSlot{s.SensorM, s.SlotM, s.OpenM, s.OpenShaftEnd, s.SensorDeg, s.LeftM}
	}
	for _, p := range g.Curve {
		d.Chance = append(d.Chance, FitGapPoint{p.GapM, p.Fires})
	}
	return d
}

func (sh *fitSheet) seatDocument() FitSeating {
	s := sh.Seat
	d := FitSeating{Figures: toldFigures(sh.seat(units.Metric)), ShimM: s.Middle.ShimM, ReliefM: s.Middle.ReliefM, Words: append([]string{}, sh.seatWords()...)}
	if s.Refused != nil {
		d.Refused = s.Refused.Error()
	}
	return d
}

func lobesDocument(r *fit.LobeRun) FitLobes {
	e := &r.Errors
	if r.Refused != nil {
		return FitLobes{Side: r.Run.Side.String(), Cam: []Interval{}, CamCost: []Interval{}, Spacing: spacingIDs[lobes.CannotTell], Refused: r.Refused.Error()}
	}
	d := FitLobes{
		Side: r.Run.Side.String(), Turns: e.Turns, Cam: []Interval{}, CamCost: []Interval{}, Spacing: spacingIDs[e.Spacing.Verdict], Words: lobeWords(e),
		Wobble: FitError{told95(e.Wobble.Amp), told95(e.Cost.Wobble), e.Wobble.Amp.Known},
		Play:   FitError{told95(e.SidePlay), told95(e.Cost.SidePlay), e.SidePlay.Known},
		Random: FitError{told95(e.Random), told95(e.Cost.Random), e.Random.Known},
	}
	for j := range e.Cam {
		d.Cam = append(d.Cam, told95(e.Cam[j]))
		d.CamCost = append(d.CamCost, told95(e.Cost.Cam[j]))
	}
	return d
}
