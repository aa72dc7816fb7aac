package car

import (
	"fmt"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// Bench is what was read of the distributor turning on a bench, at which
// angle each lobe opened the points or switched the trigger.
type Bench struct {
	Given    bool  // the file has a bench section
	Accuracy Param // distributor degrees, half-width of each angle read
	Runs     []LobeRun
}

// LobeRun is some turns of the shaft.
type LobeRun struct {
	Side  Side
	Turns [][]float64 // turn by turn, the angle at each lobe as it comes, distributor degrees
	Note  string
	Pos   Pos
}

// Side is which way the shaft was pressed while it was turned, so that its
// side play can be told from its lobes.
type Side uint8

const (
	FreeSide  Side = iota
	LeftSide       // to the left, looking from the shaft to the points or trigger
	RightSide      // to the right
)

var benchTable = allLate([]entry[Bench]{
	{
		name: "accuracy", kind: units.DistributorAngle, low: 1e-3, high: 10,
		doc:     "how far each angle read may be off",
		param:   func(b *Bench) *Param { return &b.Accuracy },
		typical: always(exactly(0.3)), // [mem] a degree wheel of 150 mm read to half a division
	},
	{
		name: "runs", form: listForm, inner: lines(lobeRunTable),
		doc: "a list of runs, each of some whole turns",
		read: func(r *reader, n *yaml.Node, path string, b *Bench) {
			r.items(n, path, mostRuns, "a list, each run on a line that starts with a dash", func(item *yaml.Node, at string) {
				l := LobeRun{Pos: r.pos(item)}
				if readSection(r, item, at, lobeRunTable, &l) && r.needs(item, at, "turns") {
					b.Runs = append(b.Runs, l)
				}
			})
		},
	},
})

var lobeRunTable = []entry[LobeRun]{
	{
		name: "side", form: wordForm, words: sideWords,
		doc: "which way the shaft was pressed meanwhile, looking from it to the points or trigger; free when not said",
		read: func(r *reader, n *yaml.Node, path string, l *LobeRun) {
			if w, ok := readWord[Side](r, n, path, sideWords); ok {
				l.Side = w
			}
		},
	},
	{
		name: "turns", form: turnsForm, kind: units.DistributorAngle,
		doc:  "turn by turn, a list of the angle at each lobe as it comes, in distributor degrees: going on from turn to turn or beginning anew",
		read: readTurns,
	},
	{
		name: "note", form: textForm, doc: "anything else",
		read: func(r *reader, n *yaml.Node, path string, l *LobeRun) {
			if s, ok := r.text(n, path); ok {
				l.Note = s
			}
		},
	},
}

// readTurns reads a list of lists of angles, one angle for each lobe.
func readTurns(r *reader, n *yaml.Node, path string, l *LobeRun) {
	lobes := r.facts.cylinders
	each := fmt.Sprintf("a list of %d angles, one for each lobe", lobes)
	far := turn * (mostTurns + 1)
	r.items(n, path, mostTurns, "a list of turns, each "+each, func(item *yaml.Node, at string) {
		list, ok := r.angles(item, at, units.DistributorAngle, -far, far, each)
		switch {
		case !ok:
		case len(list) != lobes:
			r.problem(item, at, fmt.Sprintf("%d angles for %d lobes", len(list), lobes), each, "", ErrContradiction)
		default:
			l.Turns = append(l.Turns, list)
		}
	})
	if n.Kind == yaml.SequenceNode && len(n.Content) == 0 {
		r.problem(n, path, "an empty list", "a list of turns, each "+each, "", ErrField)
	}
}
