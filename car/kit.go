package car

import (
	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

var kitStopTable = allLate([]entry[KitStop]{{
	name: "limit", kind: units.DistributorAngle, low: 0.5, high: 30, plain: 0.3, amount: true,
	doc:     "most centrifugal advance at the distributor with it",
	param:   func(s *KitStop) *Param { return &s.Limit },
	typical: always(exactly(0)), // always said
}})

var kitWeightTable = allLate([]entry[KitWeight]{{
	name: "mass", kind: units.Mass, low: 1e-3, high: 0.5, plain: 0.02,
	doc:     "mass of one weight of the pair",
	param:   func(w *KitWeight) *Param { return &w.Mass },
	typical: always(exactly(0)), // always said
}})

var kitTable = []entry[Kit]{
	kitPart("springs", "springs, by id; each says its rate, and its preload or slack where it has any", kitSpringTable, "rate", func(k *Kit, id string) *Spring {
		k.Springs = append(k.Springs, KitSpring{ID: id})
		return &k.Springs[len(k.Springs)-1].Spring
	}),
	kitPart("stops", "stops or slot bushes, by id", kitStopTable, "limit", func(k *Kit, id string) *KitStop {
		k.Stops = append(k.Stops, KitStop{ID: id})
		return &k.Stops[len(k.Stops)-1]
	}),
	kitPart("weights", "pairs of weights, by id", kitWeightTable, "mass", func(k *Kit, id string) *KitWeight {
		k.Weights = append(k.Weights, KitWeight{ID: id})
		return &k.Weights[len(k.Weights)-1]
	}),
}

// kitPart is a section of a kit's pieces of one sort, each with one figure
// that must be said. An id stands for one piece of the whole kit.
func kitPart[T any](name, doc string, table []entry[T], must string, add func(*Kit, string) *T) entry[Kit] {
	return entry[Kit]{name: name, doc: doc, form: idMapForm, inner: lines(table), read: func(r *reader, n *yaml.Node, path string, k *Kit) {
		r.idMap(n, path, func(id string, key, v *yaml.Node, path string) {
			if k.has(id) {
				r.problem(key, path, quote(id)+" is already the id of another piece of the kit", "an id of its own", "", ErrContradiction)
				return
			}
			t := add(k, id)
			fill(table, r.facts, t)
			if readSection(r, v, path, table, t) {
				r.needs(v, path, must)
			}
		})
	}}
}

// has reports whether an id stands for a piece already.
func (k *Kit) has(id string) bool {
	for _, s := range k.Springs {
		if s.ID == id {
			return true
		}
	}
	for _, s := range k.Stops {
		if s.ID == id {
			return true
		}
	}
	for _, w := range k.Weights {
		if w.ID == id {
			return true
		}
	}
	return false
}
