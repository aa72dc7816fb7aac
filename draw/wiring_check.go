package draw

import (
	"fmt"
	"strings"
)

func (d *wiringDrawing) nodeError(i int, what string) error {
	return &SpecError{Where: fmt.Sprintf("nodes[%d] (%s)", i, d.spec.Nodes[i].ID), What: what}
}

func (d *wiringDrawing) partError(i int, what string) error {
	return &SpecError{Where: d.partName(i), What: what}
}

func (d *wiringDrawing) partName(i int) string {
	return fmt.Sprintf("parts[%d] (%s)", i, d.spec.Parts[i].ID)
}

// check refuses a spec that does not hang together and fills the indexes.
func (d *wiringDrawing) check() error {
	d.byID = map[string]int{}
	d.parts = map[string]int{}
	for i, n := range d.spec.Nodes {
		if n.ID == "" {
			return d.nodeError(i, "has no ID; give each node one of its own")
		}
		if j, ok := d.byID[n.ID]; ok {
			return d.nodeError(i, fmt.Sprintf("has the ID of nodes[%d]; give each node one of its own", j))
		}
		d.byID[n.ID] = i
		if n.Place == Nowhere || n.Place >= placeCount {
			return d.nodeError(i, fmt.Sprintf("has no place on the grid; want one of %s", strings.Join(placeNames[1:], ", ")))
		}
		if j := d.at[n.Place]; j != 0 {
			return d.nodeError(i, fmt.Sprintf("stands at %s as nodes[%d] does; one node to a place", n.Place, j-1))
		}
		d.at[n.Place] = i + 1
		if n.Mark >= markCount || n.Origin >= originCount {
			return d.nodeError(i, "has a mark or an origin that does not exist")
		}
	}
	for i, p := range d.spec.Parts {
		if p.ID == "" {
			return d.partError(i, "has no ID; give each part one of its own")
		}
		if j, ok := d.parts[p.ID]; ok {
			return d.partError(i, fmt.Sprintf("has the ID of parts[%d]; give each part one of its own", j))
		}
		d.parts[p.ID] = i
		if p.Kind >= kindCount || p.Origin >= originCount {
			return d.partError(i, "has a kind or an origin that does not exist")
		}
		if p.Flow < -1 || p.Flow > 1 {
			return d.partError(i, fmt.Sprintf("has flow %d; want -1, 0 or +1", p.Flow))
		}
	}
	for i, p := range d.spec.Parts {
		if err := d.checkEnds(i, p); err != nil {
			return err
		}
	}
	return nil
}

func (d *wiringDrawing) checkEnds(i int, p Part) error {
	if p.Kind == Meter {
		return d.checkMeter(i, p)
	}
	for _, end := range []string{p.From, p.To} {
		if _, ok := d.byID[end]; !ok {
			return d.partError(i, fmt.Sprintf("joins %q, which is no node; want the ID of a node in both From and To", end))
		}
	}
	var want Place
	switch p.Kind {
	case Relay:
		want = AtSwitchOut
	case Trigger:
		want = AtTriggerSupply
		if p.Third == "" {
			return nil // a trigger fed through its two wires
		}
	default:
		if p.Third != "" {
			return d.partError(i, fmt.Sprintf("has a third end %q; only a relay, a trigger and a meter have one", p.Third))
		}
		return nil
	}
	if j, ok := d.byID[p.Third]; !ok || d.spec.Nodes[j].Place != want {
		return d.partError(i, fmt.Sprintf("has its third end at %q; want the node at %s", p.Third, want))
	}
	return nil
}

func (d *wiringDrawing) checkMeter(i int, p Part) error {
	if d.meter != 0 {
		return d.partError(i, "is a second meter; a picture shows one reading")
	}
	d.meter = i + 1
	if p.Third != "" {
		j, ok := d.parts[p.Third]
		if !ok || d.spec.Parts[j].Kind == Meter || p.From != "" || p.To != "" {
			return d.partError(i, fmt.Sprintf("clamps round %q; want the ID of a part in Third and nothing in From and To", p.Third))
		}
		d.clamp = j + 1
		return nil
	}
	r, ok1 := d.byID[p.From]
	b, ok2 := d.byID[p.To]
	if !ok1 || !ok2 || r == b {
		return d.partError(i, fmt.Sprintf("has its leads on %q and %q; want the IDs of two nodes", p.From, p.To))
	}
	d.red, d.black = r+1, b+1
	return nil
}

// whereItGoes says between which places a part of this kind can be drawn.
func (d *wiringDrawing) whereItGoes(p Part) string {
	here := fmt.Sprintf("cannot be drawn as a %s from %s to %s", p.Kind, d.place(p.From), d.place(p.To))
	var ways []string
	for _, r := range d.g.runs {
		for _, k := range r.kinds {
			if k == p.Kind {
				ways = append(ways, fmt.Sprintf("from %s to %s", r.a, r.b))
			}
		}
	}
	if ways == nil {
		return here + "; a wire or joint goes between neighbours of the circuit"
	}
	return here + "; it goes " + strings.Join(ways, " or ")
}
