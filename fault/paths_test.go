package fault_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
)

// pathIn is the path in a fault's Moves of a figure in condition id.
func pathIn(path, id string) string {
	if rest, ok := strings.CutPrefix(path, "conditions."+id+"."); ok {
		return "conditions.*." + rest
	}
	if rest, ok := strings.CutPrefix(path, "wiring."); ok {
		leg, figure, _ := strings.Cut(rest, ".")
		if slices.Contains([]string{"joint", "resistance", "connections"}, figure) {
			return "wiring." + leg
		}
	}
	return path
}

// unlisted puts the entries of a car that are no figures side by side.
func unlisted(a, b *car.Car) (moved []string) {
	for _, x := range []struct {
		path string
		same bool
	}{
		{"feed", a.Feed == b.Feed},
		{"coil.polarity", a.Coil.Reversed == b.Coil.Reversed},
		{"distributor.leads", slices.Equal(a.Distributor.Leads, b.Distributor.Leads)},
		{"advance.vacuum.source", a.Advance.Source == b.Advance.Source},
		{"cap.leaks", a.Cap.Leaks == b.Cap.Leaks},
		{"cap.breaks", a.Cap.Breaks == b.Cap.Breaks},
		{"switch.shorts", a.Switch.Shorts == b.Switch.Shorts},
		{"coil.at_king_lead", a.Coil.AtKingLead == b.Coil.AtKingLead},
	} {
		if !x.same {
			moved = append(moved, x.path)
		}
	}
	return moved
}

// Every fault changes what it says and nothing else, the way it says, on every
// car and in every condition; and each change it says is seen somewhere.
func TestChangesWhatItSays(t *testing.T) {
	list := fault.Catalogue()
	seen := map[string]bool{}
	for n, c := range fleet(t) {
		healthy := car.Params(c)
		for i := range list {
			f := &list[i]
			for k := range c.Conditions {
				id := c.Conditions[k].ID
				for _, u := range [][]float64{{0, 0.8}, {0.3}, {0.5, 1}}[(n+i+k)%3] {
					got := c.Clone()
					f.Apply(got, &got.Conditions[k], all(u))
					if !f.Fits(c) || !f.Present(c, &c.Conditions[k], all(u)) {
						if k == 0 && !reflect.DeepEqual(got, c) {
							t.Fatalf("%s of %s, %s: changes a car that does not have it", f.ID, c.Name, id)
						}
						continue
					}
					moved := unlisted(c, got)
					for j, r := range car.Params(got) {
						was := healthy[j].P.X
						if r.P.X == was {
							continue
						}
						path := pathIn(r.Path, id)
						moved = append(moved, path)
						for _, m := range f.Moves {
							if m.Path == path && (m.How == fault.Rises && r.P.X < was || m.How == fault.Falls && r.P.X > was) {
								t.Errorf("%s of %s, %s, severity %g: %s goes from %g to %g", f.ID, c.Name, id, u, r.Path, was, r.P.X)
							}
						}
						r.P.X = was // so that the rest can be held side by side
					}
					for _, path := range moved {
						if !slices.ContainsFunc(f.Moves, func(m fault.Move) bool { return m.Path == path }) {
							t.Errorf("%s of %s, %s: changes %s, which it does not say", f.ID, c.Name, id, path)
						}
						seen[f.ID+" "+path] = true
					}
					if f.Rewires != slices.Contains(moved, "feed") {
						t.Errorf("%s of %s: says it rewires: %t", f.ID, c.Name, f.Rewires)
					}
					got.Feed, got.Coil.Reversed, got.Distributor.Leads, got.Advance.Source = c.Feed, c.Coil.Reversed, c.Distributor.Leads, c.Advance.Source
					got.Cap.Leaks, got.Coil.AtKingLead = c.Cap.Leaks, c.Coil.AtKingLead
					got.Switch.Shorts, got.Cap.Breaks = c.Switch.Shorts, c.Cap.Breaks
					if k%3 == n%3 && !reflect.DeepEqual(got, c) {
						t.Errorf("%s of %s, %s: changes what no list of figures has", f.ID, c.Name, id)
					}
				}
			}
		}
	}
	for _, f := range list {
		for _, m := range f.Moves {
			if !seen[f.ID+" "+m.Path] && thin == 1 {
				t.Errorf("%s never changes %s", f.ID, m.Path)
			}
		}
	}
}

// The list of figures that paths are taken from has every path of Moves.
func TestPathsAreThose(t *testing.T) {
	c := example(t, "harrowmere-eight", "as_fitted")
	have := map[string]bool{"feed": true, "coil.polarity": true, "distributor.leads": true, "advance.vacuum.source": true, "cap.leaks": true, "switch.shorts": true, "cap.breaks": true, "coil.at_king_lead": true}
	for _, r := range car.Params(c) {
		have[pathIn(r.Path, "hot_idle")] = true
	}
	for _, f := range fault.Catalogue() {
		for _, m := range f.Moves {
			if !have[m.Path] {
				t.Errorf("%s: no figure %s", f.ID, m.Path)
			}
		}
	}
}
