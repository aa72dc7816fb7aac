package car

import (
	"slices"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// usualLoads are the consumers every car of the period has, with their
// current at 12 V [mem]: low beams 8 to 10 A, tail and panel 3 to 5, blower 5
// to 10, wipers 3 to 5, brake lamps about 4, radio 1 to 5. For the same power
// a 6 V car takes twice the current [calc].
var usualLoads = []struct {
	id, name string
	current  units.Value
}{
	{"headlamps", "headlamps, low beam", about(9, 1)},
	{"tail_lamps", "tail and panel lamps", about(4, 1)},
	{"blower", "heater blower", about(7.5, 2.5)},
	{"wipers", "wipers", about(4, 1)},
	{"brake_lamps", "brake lamps", about(4, 0.8)},
	{"radio", "radio", times(2, 1.7)},
}

func typicalLoads(f facts) []Load {
	list := make([]Load, len(usualLoads))
	for i, u := range usualLoads {
		current := u.current
		if f.nominalV == 6 {
			current.X *= 2
			current.PM *= 2
		}
		list[i] = Load{ID: u.id, Name: u.name, Current: Param{Value: current, Kind: units.Current}}
	}
	return list
}

func loadIDs(c *Car) []string {
	list := make([]string, len(c.Loads))
	for i, l := range c.Loads {
		list[i] = l.ID
	}
	return list
}

var loadTable = []entry[Load]{
	{
		name: "name", form: textForm, doc: "in words",
		read: func(r *reader, n *yaml.Node, path string, l *Load) {
			if s, ok := r.text(n, path); ok {
				l.Name = s
			}
		},
	},
	{
		name: "current", kind: units.Current, low: 0, high: 200, plain: 0.1,
		doc:   "current at normal lamp voltage (12.8 V, or 6.4 V); one of 0 A is taken as none",
		param: func(l *Load) *Param { return &l.Current },
		typical: func(facts) units.Value {
			return exactly(0) // only usualLoads have a typical current; others must say theirs
		},
	},
}

// readLoads reads the loads section: id: current, id: {name, current} or
// id: none for one the car does not have. One of 0 A is taken as none too, but
// a condition may still list it.
func readLoads(r *reader, n *yaml.Node, path string, c *Car) {
	r.idMap(n, path, func(id string, key, v *yaml.Node, path string) {
		i := slices.IndexFunc(c.Loads, func(l Load) bool { return l.ID == id })
		if v.Kind == yaml.ScalarNode && (v.Value == "none" || isNo(v.Value)) {
			if i >= 0 {
				c.Loads = slices.Delete(c.Loads, i, i+1)
			}
			return
		}
		if i < 0 {
			i = len(c.Loads)
			c.Loads = append(c.Loads, Load{ID: id, Name: inWords(id), Current: Param{Kind: units.Current}})
		}
		l := &c.Loads[i]
		defer func() { // a load of 0 A is one that is not there
			if l.Current.Origin != Assumed && l.Current.X == 0 && l.Current.PM == 0 {
				c.Loads = slices.Delete(c.Loads, i, i+1)
				r.off = append(r.off, id)
			}
		}()
		if v.Kind == yaml.MappingNode && r.lookup(v, "value") == nil {
			readSection(r, v, path, loadTable, l)
			if l.Current.Origin == Assumed && l.Current.X == 0 && !r.mentions(v, "current") {
				r.problem(v, path, "current is missing", "current: 5 A", "", ErrField)
			}
			return
		}
		readFigure(r, v, path, lookup(loadTable, "current"), l)
	})
	r.loads = loadIDs(c)
}
