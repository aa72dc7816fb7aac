package draw

import "strings"

// words is the wiring picture in sentences: the title's facts, then every
// node and every part.
func (d *wiringDrawing) words() string {
	var b strings.Builder
	b.WriteString("Primary circuit, " + d.spec.EarthLabel + ".")
	for _, n := range d.spec.Nodes {
		b.WriteString(" " + nodeWords(n))
	}
	for _, p := range d.spec.Parts {
		b.WriteString(" " + d.partWords(p))
	}
	return b.String()
}

func nodeWords(n Node) string {
	name := n.Label
	if name == "" {
		name = n.Place.String()
	}
	var facts []string
	if n.Value != "" {
		facts = append(facts, n.Value+" "+n.Origin.String())
	}
	if n.Sub != "" {
		facts = append(facts, n.Sub)
	}
	if n.Mark != MarkNone {
		facts = append(facts, n.Mark.String())
	}
	return sentence(name, facts)
}

func (d *wiringDrawing) partWords(p Part) string {
	name := p.Label
	if name == "" {
		name = p.Kind.String()
	}
	if p.New {
		name = "new " + name
	}
	var facts []string
	if p.Value != "" {
		facts = append(facts, p.Value+" "+p.Origin.String())
	}
	if p.Current != "" {
		facts = append(facts, p.Current)
	}
	if p.Missing {
		facts = append(facts, "not connected")
	}
	if p.Open {
		facts = append(facts, "open")
	}
	switch {
	case p.Kind != Meter:
		name += " from " + d.nodeName(p.From) + " to " + d.nodeName(p.To)
		if p.Kind == Relay {
			name += ", winding fed from " + d.nodeName(p.Third)
		}
		if p.Flow < 0 {
			facts = append(facts, "current flows towards "+d.nodeName(p.From))
		} else if p.Flow > 0 {
			facts = append(facts, "current flows towards "+d.nodeName(p.To))
		}
	case p.Third != "":
		q := d.spec.Parts[d.parts[p.Third]]
		what := q.Label
		if what == "" {
			what = q.Kind.String()
		}
		name += ", clamp round " + what
	default:
		name += ", red lead on " + d.nodeName(p.From) + ", black lead on " + d.nodeName(p.To)
	}
	return sentence(name, facts)
}

func (d *wiringDrawing) nodeName(id string) string {
	n := d.spec.Nodes[d.byID[id]]
	if n.Label != "" {
		return n.Label
	}
	return n.Place.String()
}

// sentence joins a name and facts, and begins with a capital.
func sentence(name string, facts []string) string {
	s := name
	if len(facts) > 0 {
		s += ": " + strings.Join(facts, ", ")
	}
	if s == "" {
		return ""
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:]) + "."
}
