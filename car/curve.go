package car

import (
	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// CurvePoint is timing at one speed, vacuum off, initial timing included.
type CurvePoint struct {
	RPM       units.Value // of the engine
	Advance   units.Value // crank degrees before top dead centre
	Tolerance float64     // crank degrees either way that a wanted point may be off; 0 in a run
	Pos       Pos
}

// CurveRun is timing seen at some speeds, one after the other.
type CurveRun struct {
	Going          int8        // +1 speed going up, -1 down, 0 not said
	Accuracy       units.Value // X is the half-width of each timing read, crank degrees, 95 %
	Points         []CurvePoint
	When, By, Note string
	Pos            Pos
}

// usualSight is how well timing is read off a damper by a timing light [cp]:
// a degree, looking straight at the mark.
var usualSight = exactly(1)

// goingWords are which way the speed went, by what they stand for.
var goingWords = []string{"up", "down"}

var curveRunTable = []entry[CurveRun]{
	{
		name: "going", form: wordForm, words: goingWords,
		doc: "whether the speed went up from point to point or down; friction parts the two",
		read: func(r *reader, n *yaml.Node, path string, c *CurveRun) {
			if w, ok := r.word(n, path, goingWords); ok {
				c.Going = map[string]int8{"up": 1, "down": -1}[w]
			}
		},
	},
	{
		name: "accuracy", form: amountForm, kind: units.CrankAngle, low: 0.01, high: 20,
		doc: "how far a timing read may be off either way; 1 degree when not said",
		read: func(r *reader, n *yaml.Node, path string, c *CurveRun) {
			if x, ok := r.angle(n, path, units.CrankAngle, 0.01, 20); ok {
				c.Accuracy = exactly(x)
			}
		},
	},
	{
		name: "points", form: pointsForm,
		doc: "what was seen: a list of [engine speed, crank degrees]",
		read: func(r *reader, n *yaml.Node, path string, c *CurveRun) {
			c.Points, _ = r.points(n, path)
		},
	},
	{name: "when", form: dateForm, doc: "date, with the time if wanted", read: func(r *reader, n *yaml.Node, path string, c *CurveRun) {
		if s, ok := r.date(n, path); ok {
			c.When = s
		}
	}},
	{name: "by", form: textForm, doc: "who read it", read: runText(func(c *CurveRun) *string { return &c.By })},
	{name: "note", form: textForm, doc: "anything else", read: runText(func(c *CurveRun) *string { return &c.Note })},
}

func runText(field func(*CurveRun) *string) func(*reader, *yaml.Node, string, *CurveRun) {
	return func(r *reader, n *yaml.Node, path string, c *CurveRun) {
		if s, ok := r.text(n, path); ok {
			*field(c) = s
		}
	}
}

const pointsAccepted = "a list of [speed, crank angle], as [[800 rpm, 8 deg], [2000 rpm, 22 deg]]"

// points reads a list of pairs of speed and crank angle.
func (r *reader) points(n *yaml.Node, path string) ([]CurvePoint, bool) {
	var list []CurvePoint
	good := r.items(n, path, mostPoints, pointsAccepted, func(item *yaml.Node, at string) {
		if !r.is(item, at, yaml.SequenceNode, "[speed, crank angle], as [800 rpm, 8 deg]") {
			return
		}
		if len(item.Content) != 2 {
			r.problem(item, at, "not a pair", "[speed, crank angle], as [800 rpm, 8 deg]", "", ErrField)
			return
		}
		speed, ok1 := r.within(item.Content[0], at, units.Speed, 0, 12000)
		angle, ok2 := r.within(item.Content[1], at, units.CrankAngle, -60, 80)
		if ok1 && ok2 {
			list = append(list, CurvePoint{RPM: speed, Advance: angle, Pos: r.pos(item)})
		}
	})
	if good && len(n.Content) == 0 {
		r.problem(n, path, "an empty list", pointsAccepted, "", ErrField)
	}
	return list, good && len(list) == len(n.Content)
}

// within reads a figure with its ± as written, none where none is.
func (r *reader) within(n *yaml.Node, path string, kind units.Kind, low, high float64) (units.Value, bool) {
	v, ok := r.value(n, path, kind, nil)
	if ok {
		v, ok = r.possible(n, path, kind, v, low, high, 0, true)
	}
	return v, ok
}

// readWanted reads the wanted curve; its speeds must rise.
func readWanted(r *reader, n *yaml.Node, path string, a *Advance) {
	list, ok := r.points(n, path)
	if !ok {
		return
	}
	for i := range list {
		if i > 0 && list[i].RPM.X <= list[i-1].RPM.X {
			r.at(list[i].Pos, path, "not faster than the point before it", "points in the order of rising speed")
			return
		}
		list[i].Tolerance, list[i].Advance = list[i].Advance.PM, exactly(list[i].Advance.X)
	}
	a.Wanted = list
}

// settleWanted gives the points of the wanted curve the car's tolerance where
// they have none of their own.
func settleWanted(c *Car) {
	for i := range c.Advance.Wanted {
		if p := &c.Advance.Wanted[i]; p.Tolerance == 0 {
			p.Tolerance = c.Timing.Tolerance.X
		}
	}
}

func readCurveRuns(r *reader, n *yaml.Node, path string, a *Advance) {
	r.items(n, path, mostRuns, "a list, each run on a line that starts with a dash", func(item *yaml.Node, at string) {
		c := CurveRun{Accuracy: usualSight, Pos: r.pos(item)}
		if readSection(r, item, at, curveRunTable, &c) && r.needs(item, at, "points") {
			a.Runs = append(a.Runs, c)
		}
	})
}
