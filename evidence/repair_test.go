package evidence

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// duo has two faults, each upsetting a reading of its own, and the pair; base
// car k shows in channel base.
func duo(n int) Model {
	m := Model{
		Channels: []Channel{
			{ID: "base", Abs: 0.2, Low: -5, High: 5, Minutes: 1},
			{ID: "a", Abs: 0.2, Low: -5, High: 10, Minutes: 1},
			{ID: "b", Abs: 0.2, Low: -5, High: 10, Minutes: 1},
		},
		Healthy: "ok", Unknown: Unknown{LogPrior: -4},
		Remedies: []Remedy{{"mend_a", 10}, {"mend_b", 20}},
		Hypotheses: []Hypothesis{
			{ID: "ok"}, {ID: "fa", Remedy: "mend_a"}, {ID: "fb", Remedy: "mend_b"},
			{ID: "both", Members: []string{"fb", "fa"}, LogPrior: -1},
		},
	}
	rng := rand.New(rand.NewPCG(2, 2))
	for range n {
		x, u, v := rng.NormFloat64(), 3+rng.Float64(), 3+rng.Float64()
		for h, d := range [][]float64{{x, x, 0}, {x, x + u, 0}, {x, x, v}, {x, x + u, v}} {
			m.Hypotheses[h].Draws = append(m.Hypotheses[h].Draws, d)
		}
	}
	return m
}

func figures(t *testing.T, c *Case, rs ...Reading) {
	t.Helper()
	for _, r := range rs {
		if err := c.Take(r); err != nil {
			t.Fatal(err)
		}
	}
}

func (c *Case) chance(id string) float64 { return math.Exp(c.lp[c.bank.hypAt[id]]) }

func TestPairMendedOneByOne(t *testing.T) {
	c := must(Prepare(duo(48))).Open()
	figures(t, c, Reading{Channel: "base", Value: 1}, Reading{Channel: "a", Value: 4.5}, Reading{Channel: "b", Value: 3.4})
	p := c.Posterior()
	if p.Hypotheses[0].ID != "both" || p.Hypotheses[0].P < 0.9 {
		t.Fatalf("%+v", p.Hypotheses)
	}
	if p.Members[0].P < 0.9 || p.Members[1].P < 0.9 || p.Remedies[1].P < 0.9 {
		t.Errorf("members %v, remedies %v", p.Members, p.Remedies)
	}
	if m := p.Mends[0]; len(m.Remedies) != 2 || m.Remedies[0] != "mend_a" || m.Minutes != 30 {
		t.Errorf("to mend: %+v", m)
	}
	both := c.chance("both")
	if err := c.Repair(Repair{Remedies: []string{"mend_a"}}); err != nil {
		t.Fatal(err)
	}
	if got, want := c.chance("fb"), both*(1-defaultDoubt); math.Abs(got-want) > 0.02 {
		t.Errorf("after the first repair the other fault stands at %.3f, want %.3f", got, want)
	}
	// What was learnt of the base car stays: it was read at 1.
	e := must(c.Expect("base", "fb"))
	if e.Middle < 0.5 || e.Middle > 1.5 {
		t.Errorf("base car expected at %+v, want about 1", e)
	}
	// a reads anew, now without its fault; that belongs to the car as it is.
	figures(t, c, Reading{Channel: "a", Value: 1.05})
	if c.chance("fb") < 0.9 || c.chance("both") > 0.01 {
		t.Errorf("fb %.3f, both %.4f", c.chance("fb"), c.chance("both"))
	}
	if tk := c.Taken(); tk[1].Epoch != 0 || tk[3].Epoch != 1 || !tk[1].Counts || tk[1].Slip > 0.1 {
		t.Errorf("%+v", tk)
	}
	if err := c.Repair(Repair{Remedies: []string{"mend_b"}, Outcome: Gone}); err != nil {
		t.Fatal(err)
	}
	if c.chance("ok") < 0.99 {
		t.Errorf("mended and the complaint gone: healthy at %.3f", c.chance("ok"))
	}
}

// Bayes by hand: a remedy tried without success leaves the others, and a
// complaint that comes from elsewhere.
func TestStill(t *testing.T) {
	c := must(Prepare(duo(8))).Open()
	prior := map[string]float64{"ok": 1, "fa": 1, "fb": 1, "both": math.Exp(-1), UnknownID: math.Exp(-4)}
	if err := c.Repair(Repair{Remedies: []string{"mend_a"}, Outcome: Still, Doubt: 0.1, Fickle: 0.2}); err != nil {
		t.Fatal(err)
	}
	after := map[string]float64{
		"ok":   prior["ok"]*0.8 + prior["fa"]*0.9*0.2,
		"fa":   prior["fa"] * 0.1 * 0.8,
		"fb":   (prior["fb"] + prior["both"]*0.9) * 0.8,
		"both": prior["both"] * 0.1 * 0.8, UnknownID: prior[UnknownID] * 0.8,
	}
	sum := 0.0
	for _, x := range after {
		sum += x
	}
	for id, x := range after {
		if got := c.chance(id); math.Abs(got-x/sum) > 1e-9 {
			t.Errorf("%s at %.6f, want %.6f", id, got, x/sum)
		}
	}
}

// A reading taken again: the last counts, and one that agrees is hardly a slip.
func TestReadAgain(t *testing.T) {
	bank := must(Prepare(duo(48)))
	c := bank.Open()
	figures(t, c, Reading{Channel: "base", Value: 1}, Reading{Channel: "a", Value: 9})
	doubtful := c.Taken()[1].Slip
	figures(t, c, Reading{Channel: "a", Value: 9})
	tk := c.Taken()
	if tk[1].Counts || !tk[2].Counts || tk[2].Slip >= doubtful/5 {
		t.Errorf("doubtful %.3f, then %+v", doubtful, tk)
	}
	if c.chance(UnknownID) < 0.5 {
		t.Errorf("read twice and explained by nothing: unknown at %.3f", c.chance(UnknownID))
	}
	figures(t, c, Reading{Channel: "a", Value: 1.1})
	d := bank.Open()
	figures(t, d, Reading{Channel: "base", Value: 1}, Reading{Channel: "a", Value: 1.1})
	for h := range c.lp {
		if math.Abs(c.lp[h]-d.lp[h]) > 1e-9 {
			t.Errorf("%s at %g, want %g", bank.hyps[h].id, c.lp[h], d.lp[h])
		}
	}
}

// Readings that nearly no draw explains ask for more draws; with them the
// hypothesis stands on more than a few.
func TestNeedsDraws(t *testing.T) {
	bank := must(Prepare(duo(12)))
	c, other := bank.Open(), bank.Open()
	figures(t, c, Reading{Channel: "base", Value: 2}, Reading{Channel: "a", Value: 5.2})
	need := c.NeedsDraws()
	if len(need) == 0 || need[0].ID != "fa" || need[0].More < 8 {
		t.Fatalf("%+v", need)
	}
	before := c.Posterior()
	more := duo(600)
	if err := c.Redraw("fa", more.Hypotheses[1].Draws[:3]); !errors.Is(err, ErrShape) {
		t.Errorf("fewer draws than before: %v", err)
	}
	for h, id := range []string{"ok", "fa", "fb", "both"} {
		if err := c.Redraw(id, more.Hypotheses[h].Draws); err != nil {
			t.Fatal(err)
		}
	}
	after := c.Posterior()
	if after.Hypotheses[0].ID != "fa" || after.Hypotheses[0].ESS < needESS || after.Hypotheses[0].ESS < before.Hypotheses[0].ESS {
		t.Errorf("%+v, was %+v", after.Hypotheses[0], before.Hypotheses[0])
	}
	if len(other.lw) != 5*12 || other.work[1].n != 12 {
		t.Error("another case of the same bank was changed")
	}
	// Repairs pass weight on although one hypothesis has more draws.
	if err := other.Redraw("fa", more.Hypotheses[1].Draws); err != nil {
		t.Fatal(err)
	}
	if err := other.Repair(Repair{Remedies: []string{"mend_a"}}); err != nil {
		t.Fatal(err)
	}
	sums(t, other)
}

// Draws that read either 0 or 12 V do not make 6 V likely.
func TestHeaps(t *testing.T) {
	m := duo(48)
	for k, d := range m.Hypotheses[1].Draws {
		d[1] = 12 * float64(k%2)
	}
	m.Channels[1].High = 15
	c := must(Prepare(m)).Open()
	figures(t, c, Reading{Channel: "a", Value: 6})
	if c.chance("fa") > 0.05 {
		t.Errorf("6 V makes it %.3f", c.chance("fa"))
	}
	c = must(Prepare(m)).Open()
	figures(t, c, Reading{Channel: "a", Value: 12.05})
	if c.chance("fa") < 0.95 {
		t.Errorf("12 V makes it %.3f", c.chance("fa"))
	}
}

// A fault that shows on half of the cars only, strewn over two decades there, is
// half as likely as healthy where the reading is healthy: the strewn half does not
// blur the other.
func TestDenseHalfStaysDense(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	odds := 0.0
	const runs = 40
	for range runs {
		m := twoPoints(0.1/half95, 0, 0.5)
		m.Channels[0].Low, m.Channels[0].High = 0, 10
		m.Hypotheses[0].Draws, m.Hypotheses[1].Draws = nil, nil
		for k := range 48 {
			x := 0.3 * rng.NormFloat64()
			y := x
			if k%2 == 1 {
				y += 0.1 * math.Pow(100, rng.Float64())
			}
			m.Hypotheses[0].Draws = append(m.Hypotheses[0].Draws, []float64{x})
			m.Hypotheses[1].Draws = append(m.Hypotheses[1].Draws, []float64{y})
		}
		c := must(Prepare(m)).Open()
		figures(t, c, Reading{Channel: "y", Value: 0.3 * rng.NormFloat64()})
		odds += (c.lp[1] - c.lp[0]) / runs
	}
	// Exactly: half, and what of the strewn half lies within a healthy car's spread.
	if got := math.Exp(odds); got < 0.4 || got > 0.85 {
		t.Errorf("odds %.3f, want somewhat above a half", got)
	} else {
		t.Logf("odds %.3f", got)
	}
}

// Two voltages that go together: each may be anything from 11 to 13 V, their
// difference tells. Kernels that knew the channels one by one would miss it.
func TestDifferencesStaySharp(t *testing.T) {
	m := twoPoints(0.02/half95, 0, 0.5)
	m.Channels = []Channel{{ID: "battery", Abs: 0.02, Low: 0, High: 15}, {ID: "coil", Abs: 0.02, Low: 0, High: 15}}
	rng := rand.New(rand.NewPCG(3, 3))
	m.Hypotheses[0].Draws, m.Hypotheses[1].Draws = nil, nil
	for range 48 {
		v := 12 + 0.5*rng.NormFloat64()
		m.Hypotheses[0].Draws = append(m.Hypotheses[0].Draws, []float64{v, v - 0.20 + 0.03*rng.NormFloat64()})
		m.Hypotheses[1].Draws = append(m.Hypotheses[1].Draws, []float64{v, v - 0.55 + 0.03*rng.NormFloat64()})
	}
	for _, drop := range []float64{0.2, 0.55} {
		c := must(Prepare(m)).Open()
		figures(t, c, Reading{Channel: "battery", Value: 12.31}, Reading{Channel: "coil", Value: 12.31 - drop})
		if p := c.chance("f"); (drop > 0.4) != (p > 0.5) || math.Max(p, 1-p) < 0.97 {
			t.Errorf("a drop of %g V: fault at %.3f", drop, p)
		}
	}
}

// Less than and more than, yes and no, and what could not be had, by hand.
func TestOtherAnswers(t *testing.T) {
	m := twoPoints(0.5, 2, 0.5)
	m.Channels = append(m.Channels, Channel{ID: "seen", YesNo: true, SlipProb: 0.05})
	m.Hypotheses[0].Draws = [][]float64{{0, 0.1}}
	m.Hypotheses[1].Draws = [][]float64{{2, 0.8}}
	bank := must(Prepare(m))
	phi := func(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }
	for _, x := range []struct {
		r    Reading
		odds float64
	}{
		{Reading{Channel: "y", Kind: LessThan, Value: 1.5}, phi(-1) / phi(3)},
		{Reading{Channel: "y", Kind: MoreThan, Value: 1.5}, phi(1) / phi(-3)},
		{Reading{Channel: "y", Kind: MoreThan, Value: 1, HalfWidth: half95}, phi(1) / phi(-1)},
		{Reading{Channel: "seen", Kind: Yes}, (0.95*0.8 + 0.05*0.2) / (0.95*0.1 + 0.05*0.9)},
		{Reading{Channel: "seen", Kind: No}, (0.95*0.2 + 0.05*0.8) / (0.95*0.9 + 0.05*0.1)},
		{Reading{Channel: "seen", Kind: CouldNot}, 1},
	} {
		c := bank.Open()
		figures(t, c, x.r)
		if got := math.Exp(c.lp[1] - c.lp[0]); math.Abs(got/x.odds-1) > 2e-3 {
			t.Errorf("%+v: odds %.5f, want %.5f", x.r, got, x.odds)
		}
	}
	m.Hypotheses[1].Draws[0][1] = math.NaN()
	c := must(Prepare(m)).Open()
	figures(t, c, Reading{Channel: "seen", Kind: CouldNot})
	if got, want := math.Exp(c.lp[1]-c.lp[0]), (1-hadAnyway)/couldNotAnyway; math.Abs(got/want-1) > 1e-9 {
		t.Errorf("could not be had where it cannot: odds %.4f, want %.4f", got, want)
	}
}
