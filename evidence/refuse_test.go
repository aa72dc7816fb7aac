package evidence

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// Whatever is wrong is named, and where.
func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, x := range []struct {
		where string
		spoil func(m *Model)
		want  error
	}{
		{"no channels", func(m *Model) { m.Channels = nil }, ErrEmpty},
		{"no hypotheses", func(m *Model) { m.Hypotheses = nil }, ErrEmpty},
		{"no ID", func(m *Model) { m.Channels[1].ID = "" }, ErrName},
		{`"base"`, func(m *Model) { m.Channels[1].ID = "base" }, ErrDuplicate},
		{"Abs", func(m *Model) { m.Channels[1].Abs = 0 }, ErrNumber},
		{"Abs", func(m *Model) { m.Channels[1].Abs = nan }, ErrNumber},
		{"1e-100 to 1e+100", func(m *Model) { m.Channels[1].Abs = 1e101 }, ErrNumber},
		{"Rel", func(m *Model) { m.Channels[1].Rel = -0.1 }, ErrNumber},
		{"Low", func(m *Model) { m.Channels[1].Low = inf }, ErrNumber},
		{"High", func(m *Model) { m.Channels[1].High = -5 }, ErrNumber},
		{"Minutes", func(m *Model) { m.Channels[1].Minutes = -1 }, ErrNumber},
		{"SetupMinutes", func(m *Model) { m.Channels[1].SetupMinutes = nan }, ErrNumber},
		{"SlipProb", func(m *Model) { m.Channels[1].SlipProb = 0.6 }, ErrNumber},
		{"slip factor", func(m *Model) { m.Channels[1].SlipFactors = []float64{0} }, ErrNumber},
		{"1e-12 to 1e+12", func(m *Model) { m.Channels[1].SlipFactors = []float64{10, -1e13} }, ErrNumber},
		{"StudentDF", func(m *Model) { m.StudentDF = 1 }, ErrNumber},
		{"Elsewhere", func(m *Model) { m.ElsewhereMinutes = inf }, ErrNumber},
		{"LogPrior", func(m *Model) { m.Unknown.LogPrior = -inf }, ErrNumber},
		{"Share", func(m *Model) { m.Unknown.Share = 2 }, ErrNumber},
		{"unknown: Minutes", func(m *Model) { m.Unknown.Minutes = -2 }, ErrNumber},
		{"mend_a", func(m *Model) { m.Remedies[0].Minutes = 0 }, ErrNumber},
		{"mend_b", func(m *Model) { m.Remedies[0].ID = "mend_b" }, ErrDuplicate},
		{"elsewhere", func(m *Model) { m.Remedies[0].ID = ElsewhereID }, ErrDuplicate},
		{"remedy has no ID", func(m *Model) { m.Remedies[0].ID = "" }, ErrName},
		{`"fb"`, func(m *Model) { m.Hypotheses[1].ID = "fb" }, ErrDuplicate},
		{`"unknown"`, func(m *Model) { m.Hypotheses[1].ID = UnknownID }, ErrDuplicate},
		{"has no ID", func(m *Model) { m.Hypotheses[1].ID = "" }, ErrName},
		{"LogPrior", func(m *Model) { m.Hypotheses[1].LogPrior = -inf }, ErrNumber},
		{"-600 to 600", func(m *Model) { m.Hypotheses[1].LogPrior = 1e17 }, ErrNumber},
		{"unknown: LogPrior", func(m *Model) { m.Unknown.LogPrior = -1e308 }, ErrNumber},
		{"Common, draw 1 has 1", func(m *Model) { m.Common = [][]float64{{1, 2, 3}, {1}} }, ErrShape},
		{"Common, draw 0", func(m *Model) { m.Channels[0].YesNo = true; m.Common = [][]float64{{15, 2, 3}, {1, 2, 3}} }, ErrNumber},
		{"healthy car", func(m *Model) { m.Hypotheses[0].Remedy = "mend_a" }, ErrRemedy},
		{"polish", func(m *Model) { m.Hypotheses[1].Remedy = "polish" }, ErrRemedy},
		{"of its own", func(m *Model) { m.Hypotheses[3].Remedy = "mend_a" }, ErrRemedy},
		{"one member", func(m *Model) { m.Hypotheses[3].Members = []string{"fa"} }, ErrMember},
		{`"fc"`, func(m *Model) { m.Hypotheses[3].Members = []string{"fa", "fc"} }, ErrMember},
		{`"fa"`, func(m *Model) { m.Hypotheses[3].Members = []string{"fa", "fa"} }, ErrDuplicate},
		{"the same members", func(m *Model) {
			h := m.Hypotheses[3]
			h.ID, h.Members = "again", []string{"fa", "fb"}
			m.Hypotheses = append(m.Hypotheses, h)
		}, ErrDuplicate},
		{"fine", func(m *Model) { m.Healthy = "fine" }, ErrName},
		{"healthy", func(m *Model) { m.Healthy = UnknownID }, ErrName},
		{"no draws", func(m *Model) { m.Hypotheses[2].Draws = nil }, ErrEmpty},
		{"draw 1 has 2", func(m *Model) { m.Hypotheses[2].Draws[1] = []float64{1, 2} }, ErrShape},
		{"1.5", func(m *Model) { m.Channels[0].YesNo = true; m.Hypotheses[0].Draws[0][0] = 1.5 }, ErrNumber},
	} {
		m := duo(4)
		if x.where == "1.5" {
			for h := range m.Hypotheses {
				for _, d := range m.Hypotheses[h].Draws {
					d[0] = 0.5
				}
			}
		}
		x.spoil(&m)
		_, err := Prepare(m)
		if err == nil {
			t.Errorf("%s was accepted", x.where)
			continue
		}
		if !errors.Is(err, x.want) || !strings.Contains(err.Error(), x.where) {
			t.Errorf("%v, wanted %q and %v", err, x.where, x.want)
		}
	}
}

func TestReadingsRefused(t *testing.T) {
	m := duo(4)
	m.Channels = append(m.Channels, Channel{ID: "seen", YesNo: true})
	for h := range m.Hypotheses {
		for k := range m.Hypotheses[h].Draws {
			m.Hypotheses[h].Draws[k] = append(m.Hypotheses[h].Draws[k], 0.5)
		}
	}
	c := must(Prepare(m)).Open()
	check := func(what string, err, want error) {
		t.Helper()
		if !errors.Is(err, want) {
			t.Errorf("%s: %v, want %v", what, err, want)
		}
	}
	for _, x := range []struct {
		r    Reading
		want error
	}{
		{Reading{Channel: "c"}, ErrName},
		{Reading{Channel: "a", Kind: Yes}, ErrKind},
		{Reading{Channel: "seen"}, ErrKind},
		{Reading{Channel: "a", Kind: 9}, ErrKind},
		{Reading{Channel: "a", Kind: -1}, ErrKind},
		{Reading{Channel: "a", Value: math.NaN()}, ErrNumber},
		{Reading{Channel: "a", Value: math.Inf(-1)}, ErrNumber},
		{Reading{Channel: "a", HalfWidth: -1}, ErrNumber},
		{Reading{Channel: "a", HalfWidth: math.NaN()}, ErrNumber},
	} {
		check(x.r.Channel, c.Take(x.r), x.want)
	}
	check("forget", c.Forget(0), ErrName)
	check("repair nothing", c.Repair(Repair{}), ErrEmpty)
	check("repair", c.Repair(Repair{Remedies: []string{"polish"}}), ErrName)
	check("outcome", c.Repair(Repair{Remedies: []string{"mend_a"}, Outcome: 5}), ErrKind)
	check("doubt", c.Repair(Repair{Remedies: []string{"mend_a"}, Doubt: 0.7}), ErrNumber)
	check("fickle", c.Repair(Repair{Remedies: []string{"mend_a"}, Fickle: math.NaN()}), ErrNumber)
	check("draws", c.Redraw(UnknownID, nil), ErrName)
	check("draws", c.Redraw("fa", [][]float64{{1}, {1}, {1}, {1}}), ErrShape)
	_, err := c.Next(Situation{Skip: []string{"c"}})
	check("skip", err, ErrName)
	_, err = c.Why("fc", Situation{})
	check("why", err, ErrName)
	_, err = c.Why("fa", Situation{Skip: []string{"c"}})
	check("why", err, ErrName)
	_, err = c.Expect("c", "")
	check("expect", err, ErrName)
	_, err = c.Expect("a", "fc")
	check("expect", err, ErrName)
	if len(c.Taken()) != 0 || len(c.events) != 0 {
		t.Error("what was refused left a trace")
	}
	// With every channel read there is nothing to propose.
	figures(t, c, Reading{Channel: "base"}, Reading{Channel: "a"}, Reading{Channel: "b"}, Reading{Channel: "seen", Kind: No})
	n := must(c.Next(Situation{}))
	if !n.Stop || len(n.Ranked) != 0 || len(n.Steps) == 0 {
		t.Errorf("%+v", n)
	}
	if w := must(c.Why("fa", Situation{})); w.Refuter != nil || len(w.Reasons) != 4 {
		t.Errorf("%+v", w)
	}
}
