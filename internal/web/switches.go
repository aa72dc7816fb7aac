package web

import (
	"fmt"
	"math"
	"strings"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/spark"
	"dwellwright/units"
)

// switchesView is the comparison of switches.
type switchesView struct {
	Lines   []string // which lines there are
	Charts  []chartView
	Answers []answerView
	Rows    []sideRow
	Columns []string
	Caption string
}

// chartView is a chart for a laptop and for a phone.
type chartView struct{ Wide, Tall html }

// answerView is one switch against the one fitted, in sentences.
type answerView struct {
	Head  string
	Lines []string
}

// sideRow is a switch at some speeds.
type sideRow struct {
	Name  string
	Cells []atSpeed
}

// atSpeed is a figure at a speed.
type atSpeed struct{ At, Text string }

// rival is the switch compared beside the fitted, the planned and clean
// points: the one picked, else the first of the others.
func rival(d *car.Car, p picks) spark.Fitting {
	if p.Rival != "" {
		if f, err := spark.ParseFitting(p.Rival); err == nil {
			return f
		}
	}
	shown := map[spark.Fitting]bool{spark.CleanPoints: true, spark.Of(d): true}
	if d.Planned != nil {
		shown[spark.Of(&car.Car{Switch: d.Planned.Switch})] = true
	}
	for _, f := range []spark.Fitting{spark.Darlington, spark.IGBT, spark.MOSFET, spark.WornPoints} {
		if !shown[f] {
			return f
		}
	}
	return spark.WornPoints
}

// comparison is a contest with the reasons in one condition.
type comparison struct {
	car     *car.Car
	contest *spark.Contest
}

func contestOf(a *sparkAsk) (comparison, error) {
	draws := partDraws(a.b.Draws, 12, 40)
	return kept(a.keep(a.b.Draws), a.key("switches", false, draws), func() (comparison, error) {
		d, err := wiredCar(a)
		if err != nil {
			return comparison{}, err
		}
		ct, err := workshop.Switches(a.c, a.b.Option, spark.CompareSettings{Draws: draws, Seed: 1})
		return comparison{d, ct}, err
	})
}

// viewSwitches compares the fitted switch, the planned one, clean points and
// one more over engine speed.
func viewSwitches(a *sparkAsk) (*switchesView, error) {
	x, err := contestOf(a)
	if err != nil {
		return nil, err
	}
	if len(x.contest.RPM) == 0 {
		return nil, fmt.Errorf("no condition of this car has the engine turning")
	}
	sides := sidesShown(x, a.picks)
	v := &switchesView{Caption: "Predicted, on this coil and wiring with no loads on and the throttle wide open; bars are the plus-or-minus."}
	for i := range sides {
		v.Lines = append(v.Lines, sideName(sides[i]))
	}
	for i, c := range contestCharts {
		var one chartView
		if a.layout != "tall" {
			scene, err := draw.Curve(contestSpec(x.contest, sides, c, 440))
			one.Wide = picture(scene, err, fmt.Sprintf("switches-wide-%d", i))
		}
		if a.layout != "wide" {
			scene, err := draw.Curve(contestSpec(x.contest, sides, c, 360))
			one.Tall = picture(scene, err, fmt.Sprintf("switches-tall-%d", i))
		}
		v.Charts = append(v.Charts, one)
	}
	at := speedsShown(x.contest)
	for _, i := range at {
		v.Columns = append(v.Columns, units.Format(units.Speed, x.contest.RPM[i], a.b.Units))
	}
	for _, s := range sides {
		row := sideRow{Name: prove.Title(sideName(s))}
		for n, i := range at {
			row.Cells = append(row.Cells, atSpeed{v.Columns[n], of(units.Ratio, s.Hand[i], a.b.Units)})
		}
		v.Rows = append(v.Rows, row)
	}
	for _, s := range sides[1:] {
		v.Answers = append(v.Answers, against(a, x, &sides[0], &s))
	}
	return v, nil
}

// sideName is a switch with what it is to this car.
func sideName(s spark.Side) string {
	switch {
	case s.Fitted:
		return s.Fitting.String() + " (as wired)"
	case s.Planned:
		return s.Fitting.String() + " (planned)"
	}
	return s.Fitting.String()
}

// sidesShown are the sides that are drawn, the fitted one first.
func sidesShown(x comparison, p picks) []spark.Side {
	want := []func(s *spark.Side) bool{
		func(s *spark.Side) bool { return s.Fitted },
		func(s *spark.Side) bool { return s.Planned },
		func(s *spark.Side) bool { return s.Fitting == spark.CleanPoints },
		func(s *spark.Side) bool { return s.Fitting == rival(x.car, p) },
	}
	var list []spark.Side
	taken := map[spark.Fitting]bool{}
	for _, w := range want {
		for i := range x.contest.Sides {
			s := &x.contest.Sides[i]
			if w(s) && !taken[s.Fitting] {
				taken[s.Fitting] = true
				list = append(list, *s)
			}
		}
	}
	return list
}

// contestChart is one figure of the comparison.
type contestChart struct {
	title, label, unit string
	of                 func(s *spark.Side) []spark.Interval
	limit              float64
}

var contestCharts = []contestChart{
	{"Spark in hand", "times what the plug asks", "", func(s *spark.Side) []spark.Interval { return s.Hand }, 1},
	{"Secondary voltage the coil could give", "available", "kV", func(s *spark.Side) []spark.Interval { return s.KV }, 0},
	{"Primary current at the break", "current", "A", func(s *spark.Side) []spark.Interval { return s.BreakA }, 0},
	{"Energy into the gap", "energy", "mJ", func(s *spark.Side) []spark.Interval { return s.GapMJ }, 0},
}

func contestSpec(ct *spark.Contest, sides []spark.Side, c contestChart, wide float64) draw.CurveSpec {
	spec := draw.CurveSpec{
		Title: c.title, W: wide, H: 330, Direct: true,
		X: draw.Axis{Label: "engine speed", Unit: "rpm"}, Y: draw.Axis{Label: c.label, Unit: c.unit},
	}
	most := 0.0
	for i := range sides {
		list := c.of(&sides[i])
		s := draw.Series{Name: sides[i].Fitting.String(), X: ct.RPM, Origin: draw.Predicted}
		for _, x := range list {
			s.Y = append(s.Y, x.Mid)
			most = math.Max(most, math.Max(x.Mid, x.Hi))
		}
		if i == 0 && list[0].Hi > list[0].Lo { // one line's bars stand for all: they would cover each other
			for _, x := range list {
				s.Lo, s.Hi = append(s.Lo, math.Min(x.Lo, x.Mid)), append(s.Hi, math.Max(x.Hi, x.Mid))
			}
		}
		spec.Series = append(spec.Series, s)
	}
	if c.limit > 0 {
		spec.Limits = []draw.CurveLimit{{Name: "just fires", Limit: draw.Limit{Side: draw.AtLeast, At: c.limit}}}
	}
	spec.Y.Hi = most * 1.05
	if spec.Y.Hi <= 0 {
		spec.Y.Hi = 1
	}
	return spec
}

// speedsShown are the speeds of the table: the cranking ones, then some of
// the running ones, the first and last among them.
func speedsShown(ct *spark.Contest) []int {
	var list []int
	for i := range ct.RPM {
		if ct.Crank[i] {
			list = append(list, i)
		}
	}
	first := len(list)
	n := len(ct.RPM) - first
	for k := range min(n, 4) {
		list = append(list, first+k*(n-1)/max(min(n, 4)-1, 1))
	}
	return list
}

// against says where one switch is stronger or weaker than the one fitted,
// by how much, and why.
func against(a *sparkAsk, x comparison, base, s *spark.Side) answerView {
	v := answerView{Head: fmt.Sprintf("%s against %s", prove.Title(s.Fitting.String()), base.Fitting)}
	v.Lines = append(v.Lines, stronger(x.contest, base, s, a.b.Units))
	cond := a.b.Condition
	if k := condition(x.car, cond); k == nil || k.Engine != car.Running && k.Engine != car.Cranking {
		cond = firingCondition(x.car)
	}
	if cond == "" {
		return v
	}
	why, err := kept(a.shelf, a.key("why", false, base.Fitting, s.Fitting, cond), func() (string, error) {
		return reasons(x.car, base.Fitting, s.Fitting, cond)
	})
	if err != nil {
		why = "Why can't be told: " + plainly(err) + "."
	}
	v.Lines = append(v.Lines, why)
	return v
}

// firingCondition is a condition in which the engine runs, else turns.
func firingCondition(c *car.Car) string {
	id := ""
	for i := range c.Conditions {
		switch k := &c.Conditions[i]; {
		case k.Engine == car.Running:
			return k.ID
		case k.Engine == car.Cranking && id == "":
			id = k.ID
		}
	}
	return id
}

// even is how much two switches may differ and be called alike.
const even = 0.03

// stronger says at which speeds a switch gives more or less than another.
func stronger(ct *spark.Contest, base, s *spark.Side, sys units.System) string {
	word := func(i int) string {
		d := s.KV[i].Mid/math.Max(base.KV[i].Mid, 1e-6) - 1
		switch {
		case d > even:
			return "stronger"
		case d < -even:
			return "weaker"
		}
		return "alike"
	}
	var runs []string
	for i := 0; i < len(ct.RPM); {
		j := i
		for j+1 < len(ct.RPM) && word(j+1) == word(i) && ct.Crank[j+1] == ct.Crank[i] {
			j++
		}
		at := units.Format(units.Speed, ct.RPM[i], sys)
		if j > i {
			at = "from " + strings.TrimSuffix(units.Format(units.Speed, ct.RPM[i], sys), " rpm") + " to " + units.Format(units.Speed, ct.RPM[j], sys)
		} else {
			at = "at " + at
		}
		if ct.Crank[i] {
			at = "cranking, " + at
		}
		switch word(i) {
		case "alike":
			at += ": alike within 3 %"
		default:
			k := i
			for n := i; n <= j; n++ { // where they differ most
				if math.Abs(s.KV[n].Mid-base.KV[n].Mid) > math.Abs(s.KV[k].Mid-base.KV[k].Mid) {
					k = n
				}
			}
			at += fmt.Sprintf(": %s, most at %s with %.1f kV instead of %.1f kV (%+.0f %%)", word(i), units.Format(units.Speed, ct.RPM[k], sys),
				s.KV[k].Mid, base.KV[k].Mid, 100*(s.KV[k].Mid/math.Max(base.KV[k].Mid, 1e-6)-1))
		}
		runs = append(runs, at)
		i = j + 1
	}
	return prove.Title(minus(strings.Join(runs, "; "))) + " (predicted)."
}

// reasons takes the available voltage from one switch to another, one cause
// at a time.
func reasons(c *car.Car, from, to spark.Fitting, cond string) (string, error) {
	start, steps, err := spark.Explain(c, from, to, cond)
	if err != nil {
		return "", err
	}
	causes := map[spark.Cause]string{
		spark.ByDwell: "how long the primary is closed", spark.ByDrop: "what the closed switch keeps of the voltage", spark.ByBreak: "how it opens (arcs at parting contacts, condenser against clamp)",
	}
	at := start
	var said []string
	for _, s := range steps {
		change := s.KV - at
		at = s.KV
		if math.Abs(change) < 0.05 {
			said = append(said, causes[s.Cause]+" changes nothing")
			continue
		}
		verb := "gives"
		if change < 0 {
			verb = "takes"
		}
		said = append(said, fmt.Sprintf("%s %s %.1f kV (%+.0f %%)", causes[s.Cause], verb, math.Abs(change), 100*s.Share))
	}
	name := cond
	if k := condition(c, cond); k != nil {
		name = lower(k.Name)
	}
	return minus(fmt.Sprintf("Why, in %s: from %.1f kV with %s, %s: %.1f kV with %s.", name, start, from, strings.Join(said, "; "), at, to)), nil
}
