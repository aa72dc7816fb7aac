package cli

import (
	"math"

	"dwellwright/evidence"
	"dwellwright/measure"
	"dwellwright/suspect"
)

// SuspectDocument is what the command suspect found, as JSON: probabilities 0
// to 1, figures in the unit that each reading names. Its JSON Schema is
// schema/suspect.schema.json.
type SuspectDocument struct {
	Format    string           `json:"format" jsonschema:"enum=dwellwright-suspect-1" jsonschema_description:"what this document is"`
	Car       string           `json:"car" jsonschema_description:"name of the car, as fitted"`
	Standing  string           `json:"standing" jsonschema:"enum=nothing_read,enum=not_yet_told_apart,enum=cannot_be_told_apart,enum=likely,enum=found,enum=nothing_wrong,enum=unknown_to_it" jsonschema_description:"how far the diagnosis has come"`
	Verdict   string           `json:"verdict" jsonschema_description:"the same in words"`
	Draws     int              `json:"draws"`
	Seed      uint64           `json:"seed"`
	Story     []string         `json:"story" jsonschema_description:"what is known of the car"`
	Answers   []AnswerTaken    `json:"answers" jsonschema_description:"in the order taken, those of the car file first"`
	NotTaken  int              `json:"car_file_readings_not_taken" jsonschema_description:"readings of the car file that are of nothing in the catalogue"`
	Suspects  []SuspectWay     `json:"suspects" jsonschema_description:"ways to mend the car, likeliest first; they exclude each other"`
	Faults    []SuspectShare   `json:"faults" jsonschema_description:"chance that each fault is there, alone or with others, from 1 in 1000 on"`
	ReadAgain []string         `json:"read_again" jsonschema_description:"answers more likely slips than not"`
	Stop      bool             `json:"stop" jsonschema_description:"no reading is worth its time: mend"`
	Next      *SuspectReading  `json:"next,omitempty" jsonschema_description:"the reading to take next; left out to stop"`
	NextBest  []SuspectRanked  `json:"ranked" jsonschema_description:"what may be read, best first"`
	Mend      *RemedyDocument  `json:"mend,omitempty" jsonschema_description:"what would be mended first; left out where it is not of the ignition"`
	Proof     *SuspectReading  `json:"proof,omitempty" jsonschema_description:"the reading that shows whether it has worked"`
	Now       float64          `json:"minutes_mending_now" jsonschema_description:"expected until the right remedy, without another reading; an estimate"`
	Best      float64          `json:"minutes_reading_next" jsonschema_description:"expected until the right remedy, with the next reading; an estimate"`
	Why       []SuspectWhy     `json:"why" jsonschema_description:"of those asked for"`
	Remedies  []RemedyDocument `json:"remedies" jsonschema_description:"of the suspects"`
	Cautions  []string         `json:"cautions"`
}

// AnswerTaken is what was read or reported.
type AnswerTaken struct {
	Reading   string   `json:"reading"`
	Says      string   `json:"says" jsonschema:"enum=figure,enum=less_than,enum=more_than,enum=yes,enum=no,enum=could_not"`
	Value     *float64 `json:"value,omitempty"`
	HalfWidth float64  `json:"half_width,omitempty" jsonschema_description:"95 %, where one of its own was given"`
	Unit      string   `json:"unit,omitempty"`
	Origin    string   `json:"origin" jsonschema:"enum=measured,enum=reported"`
	Counts    bool     `json:"counts" jsonschema_description:"no later one of the same reading stands in for it"`
	Repairs   int      `json:"repairs_before"`
	Slip      float64  `json:"chance_of_slip"`
}

// SuspectWay is a set of remedies and what would be wrong.
type SuspectWay struct {
	P          float64         `json:"probability"`
	Name       string          `json:"name"`
	Remedies   []string        `json:"remedies" jsonschema_description:"elsewhere: nothing wrong with the ignition; unknown: nothing in the catalogue"`
	Minutes    float64         `json:"minutes_estimate"`
	Hypotheses []SuspectShare  `json:"hypotheses" jsonschema_description:"likeliest first, from 1 in 1000 on"`
	For        []SuspectReason `json:"for" jsonschema_description:"the likeliest hypothesis"`
	Against    []SuspectReason `json:"against"`
}

// SuspectShare is the probability of something.
type SuspectShare struct {
	ID   string  `json:"id"`
	Name string  `json:"name"`
	P    float64 `json:"probability"`
}

// SuspectReason is what one answer says.
type SuspectReason struct {
	Reading    string  `json:"reading"`
	VsHealthy  float64 `json:"decibans_against_in_order" jsonschema_description:"10 are odds ten times as good"`
	VsRunnerUp float64 `json:"decibans_against_rival" jsonschema_description:"against the likeliest hypothesis with no fault in common"`
	Strength   string  `json:"strength" jsonschema:"enum=,enum=weak,enum=fair,enum=strong,enum=very strong"`
}

// SuspectReading is a reading to take and what it would show.
type SuspectReading struct {
	ReadingDocument
	Shows []SuspectShows `json:"with" jsonschema_description:"what it would show with each suspect"`
}

// SuspectShows is what a reading shows if a hypothesis is true.
type SuspectShows struct {
	ID     string          `json:"id"`
	Shows  ExpectedFigures `json:"shows"`
	Cannot float64         `json:"chance_it_cannot_be_read"`
}

// SuspectRanked is a reading that may be taken next.
type SuspectRanked struct {
	ID      string  `json:"id"`
	Bits    float64 `json:"bits" jsonschema_description:"expected gain about the remedy"`
	Minutes float64 `json:"minutes_estimate" jsonschema_description:"with its set-up where the car is not in it"`
	Total   float64 `json:"minutes_to_remedy" jsonschema_description:"expected, if this is read and then mended; an estimate"`
}

// SuspectWhy is the case for and against one hypothesis.
type SuspectWhy struct {
	ID       string          `json:"id"`
	Name     string          `json:"name"`
	P        float64         `json:"probability"`
	RunnerUp string          `json:"rival" jsonschema_description:"the likeliest hypothesis with no fault in common"`
	Reasons  []SuspectReason `json:"reasons" jsonschema_description:"in the order taken"`
	Refuter  string          `json:"refuted_best_by,omitempty" jsonschema_description:"reading that would tell most against it"`
}

var saysIDs = [...]string{evidence.Figure: "figure", evidence.LessThan: "less_than", evidence.MoreThan: "more_than", evidence.Yes: "yes", evidence.No: "no", evidence.CouldNot: "could_not"}

// faintID is the probability below which a document leaves a thing out.
const faintID = 1e-3

// document is the sheet as it is written in JSON.
func (sh *suspectSheet) document() (SuspectDocument, error) {
	first, rest := sh.cautions()
	d := SuspectDocument{
		Format: "dwellwright-suspect-1", Car: sh.Bank.Car.Name, Standing: standings[sh.stand], Verdict: sh.verdict(), Draws: sh.Bank.Draws, Seed: sh.cmd.Seed,
		Story: append([]string{}, sh.cmd.Story...), Answers: sh.answers(), NotTaken: len(sh.Left), Suspects: []SuspectWay{}, Faults: []SuspectShare{}, ReadAgain: []string{},
		Stop: sh.choice.Stop, NextBest: []SuspectRanked{}, Now: sh.choice.Now, Best: sh.choice.Best, Why: []SuspectWhy{}, Remedies: []RemedyDocument{},
		Cautions: append([]string{first}, rest...),
	}
	have := map[string]bool{}
	for i := range sh.ways {
		x := &sh.ways[i]
		if x.P < faintID && i > 0 {
			break
		}
		one, err := sh.wayDocument(x)
		if err != nil {
			return d, err
		}
		d.Suspects = append(d.Suspects, one)
		for _, id := range x.Remedies {
			if r := sh.Bank.Remedy(id); r != nil && !have[id] {
				have[id] = true
				d.Remedies = append(d.Remedies, remedyDocument(r))
			}
		}
	}
	for _, m := range sh.post.Members {
		if m.P >= faintID {
			d.Faults = append(d.Faults, SuspectShare{m.ID, sh.Bank.Names(m.ID), m.P})
		}
	}
	for _, t := range sh.distrusted() {
		d.ReadAgain = append(d.ReadAgain, t.Channel)
	}
	for _, x := range sh.choice.Ranked {
		d.NextBest = append(d.NextBest, SuspectRanked{x.Channel, x.Bits, x.Minutes, x.Total})
	}
	return d, sh.doNext(&d)
}

// doNext writes what to do into a document.
func (sh *suspectSheet) doNext(d *SuspectDocument) error {
	var err error
	if !sh.choice.Stop {
		if d.Next, err = sh.readingDocument(sh.choice.Reading); err != nil {
			return err
		}
	}
	if r := sh.first(); r != nil {
		m := remedyDocument(r)
		d.Mend = &m
		id, err := sh.proof(sh.wayOf(r))
		if err != nil {
			return err
		}
		if id != "" {
			if d.Proof, err = sh.readingDocument(id); err != nil {
				return err
			}
		}
	}
	for _, id := range sh.cmd.Why {
		id = suspectID(id)
		_, _, why, err := sh.reasons(id)
		if err != nil {
			return err
		}
		x := SuspectWhy{ID: id, Name: sh.Bank.Names(id), P: why.P, RunnerUp: why.RunnerUp, Reasons: []SuspectReason{}}
		for i := range why.Reasons {
			x.Reasons = append(x.Reasons, reasonDocument(&why.Reasons[i], why.Reasons[i].VsHealthy))
		}
		if why.Refuter != nil {
			x.Refuter = why.Refuter.Channel
		}
		d.Why = append(d.Why, x)
	}
	return nil
}

func (sh *suspectSheet) answers() []AnswerTaken {
	out := []AnswerTaken{}
	for i := range sh.taken {
		t := &sh.taken[i]
		a := AnswerTaken{Reading: t.Channel, Says: saysIDs[t.Kind], HalfWidth: t.HalfWidth, Origin: "reported", Counts: t.Counts, Repairs: t.Epoch, Slip: t.Slip}
		if t.Kind == evidence.Figure || t.Kind == evidence.LessThan || t.Kind == evidence.MoreThan {
			a.Value, a.Origin = &t.Value, "measured"
			if m, err := sh.Bank.Measure(t.Channel); err == nil {
				a.Unit = plainUnit(m.Kind)
			}
		}
		out = append(out, a)
	}
	return out
}

func (sh *suspectSheet) wayDocument(x *way) (SuspectWay, error) {
	d := SuspectWay{P: x.P, Name: plainName(sh, x), Remedies: x.Remedies, Minutes: x.Minutes, Hypotheses: []SuspectShare{}, For: []SuspectReason{}, Against: []SuspectReason{}}
	for i, h := range x.of {
		if h.P >= faintID || i == 0 {
			d.Hypotheses = append(d.Hypotheses, SuspectShare{h.ID, sh.Bank.Names(h.ID), h.P})
		}
	}
	if len(x.of) == 0 {
		return d, nil
	}
	pro, con, _, err := sh.reasons(x.of[0].ID)
	for _, r := range pro {
		d.For = append(d.For, reasonDocument(r.Reason, r.decibans))
	}
	for _, r := range con {
		d.Against = append(d.Against, reasonDocument(r.Reason, r.decibans))
	}
	return d, err
}

func reasonDocument(r *evidence.Reason, decibans float64) SuspectReason {
	return SuspectReason{r.Channel, r.VsHealthy, r.VsRunnerUp, strength(decibans)}
}

func (sh *suspectSheet) readingDocument(id string) (*SuspectReading, error) {
	m, err := sh.Bank.Measure(id)
	if err != nil {
		return nil, err
	}
	d := &SuspectReading{ReadingDocument: readingDocument(m), Shows: []SuspectShows{}}
	e, err := sh.Expect(id, suspect.HealthyID)
	if err != nil {
		return nil, err
	}
	x := expectedDocument(m, &e)
	d.InOrder = &x
	for i := range sh.ways {
		if w := &sh.ways[i]; i < fewSuspects && w.P >= faintest && len(w.of) > 0 {
			if e, err = sh.Expect(id, w.of[0].ID); err != nil {
				return nil, err
			}
			d.Shows = append(d.Shows, SuspectShows{w.of[0].ID, expectedDocument(m, &e), e.Cannot})
		}
	}
	return d, nil
}

func expectedDocument(m *measure.Measure, e *evidence.Expected) ExpectedFigures {
	x := ExpectedFigures{Origin: predicted}
	if m.Observation {
		x.Yes = finitely(e.Yes)
		return x
	}
	x.Low, x.Middle, x.High = finitely(e.Low), finitely(e.Middle), finitely(e.High)
	return x
}

// finitely is a figure, nil where there is none.
func finitely(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}
