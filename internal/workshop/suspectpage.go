package workshop

import (
	"cmp"
	"slices"
	"strings"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/suspect"
	"dwellwright/twin"
)

// Sitting is a diagnosis at the car, one entry after another, on a bank that
// was worked out before. It is for one goroutine.
type Sitting struct {
	*Diagnosis
	// Proof is the reading that showed what was last mended, "" where nothing
	// was: read again, it proves the work.
	Proof string
	// ProofDone says that it was read again since.
	ProofDone bool
}

// Sit starts a diagnosis on a bank with the readings of the car's file.
func Sit(b *suspect.Bank) *Sitting {
	d := &Diagnosis{Case: b.Open()}
	d.FromFile, d.Left = d.OfFile()
	return &Sitting{Diagnosis: d}
}

// Note adds an entry and only weighs what is there; Refine makes the answer
// finer when there is time.
func (s *Sitting) Note(e Entry) error {
	proof := ""
	if e.Do == Done {
		proof = s.ProofOf(strings.Split(e.ID, ","))
	}
	if err := s.take(e); err != nil {
		return err
	}
	switch {
	case e.Do == Done:
		s.Proof, s.ProofDone = proof, false
	case e.ID == s.Proof:
		s.ProofDone = true
	}
	return nil
}

// ProofOf is the reading that, after the remedies, shows best that they took:
// of those taken the one that spoke most for what they mend, an instrument's
// before a look and a look before what the owner says; where none did, the one
// that would tell most. "" where there is none.
func (s *Sitting) ProofOf(remedies []string) string {
	h := s.mendedBy(remedies)
	if h == "" {
		return ""
	}
	why, err := s.Why(h, s.Situation())
	if err != nil {
		return ""
	}
	best, most := "", 3.0 // decibans: twice as likely
	for _, r := range why.Reasons {
		m, err := s.Bank.Measure(r.Channel)
		if err != nil || r.Kind == evidence.CouldNot {
			continue
		}
		worth := r.VsHealthy
		switch {
		case m.Group == measure.Owner:
			worth /= 4
		case m.Observation:
			worth /= 2
		}
		if worth > most {
			best, most = r.Channel, worth
		}
	}
	if best == "" && why.Refuter != nil {
		return why.Refuter.Channel
	}
	return best
}

// mendedBy is the likeliest hypothesis that one of the remedies is for.
func (s *Sitting) mendedBy(remedies []string) string {
	for _, h := range s.Posterior().Hypotheses {
		for _, f := range s.FaultsOf(h.ID) {
			if slices.Contains(remedies, f.Remedy.ID) {
				return h.ID
			}
		}
	}
	return ""
}

// FaultsOf are the faults of a hypothesis; none of the healthy and the unknown
// one.
func (d *Diagnosis) FaultsOf(id string) []*fault.Fault {
	var list []*fault.Fault
	for _, x := range strings.Split(id, " + ") {
		if f := d.Bank.Fault(x); f != nil {
			list = append(list, f)
		}
	}
	return list
}

// Outlook is how a diagnosis stands.
type Outlook struct {
	Posterior evidence.Posterior
	Choice    evidence.Choice
	Taken     []evidence.Taken
	Suspects  []Suspicion // the likeliest, likeliest first
	More      int         // faults besides them
	MoreP     float64     // chance of the likeliest of those
	FromFile  int
	Proof     string // reading that proves the first step, or what was last mended
	Mended    bool   // Proof is of what was last mended, and not yet read again
}

// Suspicion is a fault, the healthy car or what is not known, with what speaks
// for and against it.
type Suspicion struct {
	ID    string
	P     float64       // chance that it is there, alone or with others
	Fault *fault.Fault  // nil of the healthy car and of what is not known
	As    string        // likeliest hypothesis that has it: itself or a pair
	Why   *evidence.Why // of As; nil where it was not asked for
}

// Look sums up how the diagnosis stands: the likeliest suspects, at most so
// many, with their reasons where those are asked for, which takes its time. A
// fault alone and with others is one suspect. Where the reasons are no longer
// wanted it gives up, with nil.
func (s *Sitting) Look(most int, reasons bool, wanted func() bool) (*Outlook, error) {
	sit := s.Situation()
	choice, err := s.Next(sit)
	if err != nil {
		return nil, err
	}
	o := &Outlook{Posterior: s.Posterior(), Choice: choice, Taken: s.Taken(), FromFile: s.FromFile}
	all := append([]evidence.Share{{ID: suspect.HealthyID, P: o.Posterior.Healthy}, {ID: evidence.UnknownID, P: o.Posterior.Unknown}}, o.Posterior.Members...)
	slices.SortStableFunc(all, func(x, y evidence.Share) int { return cmp.Compare(y.P, x.P) })
	for i, m := range all {
		if i == most {
			o.More, o.MoreP = len(all)-i, m.P
			break
		}
		x := Suspicion{ID: m.ID, P: m.P, Fault: s.Bank.Fault(m.ID), As: m.ID}
		for _, h := range o.Posterior.Hypotheses {
			if slices.Contains(strings.Split(h.ID, " + "), m.ID) {
				x.As = h.ID
				break
			}
		}
		if reasons {
			if !wanted() {
				return nil, nil
			}
			why, err := s.Why(x.As, sit)
			if err != nil {
				return nil, err
			}
			x.Why = &why
		}
		o.Suspects = append(o.Suspects, x)
	}
	switch {
	case s.Proof != "" && !s.ProofDone:
		o.Proof, o.Mended = s.Proof, true
	case choice.Stop && len(choice.Steps) > 0:
		o.Proof = s.ProofOf([]string{choice.Steps[0].Remedy})
	}
	return o, nil
}

// Foreseen is what a reading is expected to show if a hypothesis is true.
type Foreseen struct {
	ID string
	evidence.Expected
}

// Foresee says what a reading would show: first on a car in order of which
// nothing is read, then on this one with each of the suspects.
func (s *Sitting) Foresee(id string, suspects []string) ([]Foreseen, error) {
	e, err := s.Bank.Open().Expect(id, suspect.HealthyID)
	if err != nil {
		return nil, err
	}
	list := []Foreseen{{suspect.HealthyID, e}}
	for _, h := range suspects {
		e, err := s.Expect(id, h)
		if err != nil {
			return nil, err
		}
		list = append(list, Foreseen{h, e})
	}
	return list, nil
}

// ProbePicture is the wiring of a car as fitted with the places marked where
// the leads of a reading go; ok is false where it is not read on the wiring.
// There are no figures in it. Set Tall before drawing for a phone.
func ProbePicture(c *car.Car, m *measure.Measure) (spec draw.WiringSpec, ok bool) {
	red, black, clamp := probesOf(c, m)
	if clamp == "" && (red == "" || black == "") {
		return spec, false
	}
	f, err := Look(c, Bench{Condition: pictured(c, m), Option: twin.AsFitted})
	if err != nil {
		return spec, false
	}
	spec = f.Wiring
	meter := draw.Part{ID: "leads", Kind: draw.Meter, From: red, To: black, Third: clamp, Label: m.With}
	have := map[string]bool{}
	for i := range spec.Nodes {
		n := &spec.Nodes[i]
		n.Value, n.Sub, n.Mark = "", "", draw.MarkNone
		have[n.ID] = true
	}
	for i := range spec.Parts {
		p := &spec.Parts[i]
		p.Value, p.Current, p.Flow = "", "", 0
		have[p.ID] = true
	}
	for _, id := range []string{red, black, clamp} {
		if id != "" && !have[id] {
			return spec, false
		}
	}
	spec.Parts = append(spec.Parts, meter)
	spec.Title = "Where the leads go"
	if clamp != "" {
		spec.Title = "Where the clamp goes"
	}
	return spec, true
}

// pictured is the condition whose wiring is drawn: that of the reading, else
// with the key on.
func pictured(c *car.Car, m *measure.Measure) string {
	if m.Condition != "" && hasCondition(c, m.Condition) {
		return m.Condition
	}
	return defaultCondition(c)
}

// probesOf are the test points of a reading, or the part a clamp goes round.
func probesOf(c *car.Car, m *measure.Measure) (red, black, clamp string) {
	if s := m.Spec; s != nil {
		switch {
		case s.Instrument == twin.ClampAmmeter || s.Instrument == twin.ClampPeak:
			return "", "", s.Red
		case s.Black == "":
			return "", "", ""
		case c.Earth == car.PositiveEarth && s.Instrument != twin.Ohmmeter:
			return s.Black, s.Red, ""
		}
		return s.Red, s.Black, ""
	}
	// A state of its own has no Spec; its words name the points.
	first, second, ok := strings.Cut(m.Probes, "; ")
	if !ok {
		return "", "", ""
	}
	a, b := pointIn(first), pointIn(second)
	if strings.HasPrefix(first, "black lead") {
		a, b = b, a
	}
	return a, b, ""
}

// pointIn is the test point that words of a lead name.
func pointIn(words string) string {
	_, name, ok := strings.Cut(words, " lead on ")
	if !ok {
		return ""
	}
	for _, p := range car.TestPoints {
		if name == p.Name || strings.HasPrefix(name, p.Name+" (") {
			return p.ID
		}
	}
	return ""
}
