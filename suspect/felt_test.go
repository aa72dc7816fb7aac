package suspect

import (
	"math"
	"testing"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/examples"
	"dwellwright/measure"
)

// Of a thousand cars with a fault that one in five owners notices, those who come
// in are the two hundred and a tenth of the rest: by counting, the chance that one
// of them reports it is 200 p over 280. The same must come of a report and the
// odds it leaves between the fault and the car in order.
func TestReportsOfCarsThatComeIn(t *testing.T) {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Prepare(c, Settings{Draws: 16, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	healthy := b.model.Hypotheses[0].Draws
	tried, raised := 0, 0
	for i := range b.Measures {
		m := &b.Measures[i]
		if m.Group != measure.Owner {
			continue
		}
		open := b.Open()
		if err := open.Take(Answer{Measure: m.ID, Kind: evidence.Yes}); err != nil {
			t.Fatal(err)
		}
		got := map[string]float64{}
		for _, h := range open.work.Posterior().Hypotheses {
			got[h.ID] = h.P
		}
		heard := func(p float64) float64 { return 0.95*p + 0.05*(1-p) } // or said by mistake
		// What is the car's alone is taken from all the bank's cars.
		usual := 0.0
		for _, row := range b.inOrder {
			usual += row[i] / float64(len(b.inOrder))
		}
		for f := range b.Faults {
			reports, come, plain := 0.0, 0.0, 0.0
			for k, row := range b.model.Hypotheses[1+f].Draws {
				p, moved := row[i], math.Abs(row[i]-healthy[k][i])
				if moved == 0 {
					p = usual
				} else if !(moved >= 0.1) { // some of the car, some of the fault; or neither is known
					come = math.NaN()
				}
				silent := 1.0 // chance that it is none of the fault's doing, report by report
				for j := range b.Measures {
					if b.Measures[j].Group == measure.Owner && row[j] > healthy[k][j] {
						silent *= 1 - (row[j]-healthy[k][j])/(1-healthy[k][j])
					}
				}
				noticed := 1 - silent
				come += noticed + 0.1*(1-noticed)
				reports += (noticed + 0.1*(1-noticed)) * heard(p)
				plain += heard(p) / float64(len(healthy))
			}
			if math.IsNaN(come) {
				continue
			}
			tried++
			id := b.Faults[f].ID
			odds := (1 - PairShare) * b.Faults[f].PriorIn(b.set.Story) / HealthyCases * reports / come / heard(usual)
			if is := got[id] / got[HealthyID]; math.Abs(is/odds-1) > 1e-9 {
				t.Errorf("%s after %s: odds %.6g against the car in order, by counting %.6g", id, m.ID, is, odds)
			}
			if reports/come > 1.15*plain {
				raised++
			}
		}
	}
	if tried < 500 || raised < 10 {
		t.Errorf("%d faults and reports tried, %d of which cars that come in make more often by a sixth", tried, raised)
	}
}
