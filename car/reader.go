package car

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// reader walks the nodes of one car file and gathers what is wrong with it.
type reader struct {
	file     string
	facts    facts
	positive bool                // the car is of positive earth
	loads    []string            // ids of the car's loads, once read
	off      []string            // ids of loads of 0 A, which the car is read without
	refused  map[*yaml.Node]bool // nodes complained of by the guard
	errs     Errors

	valueRead bool // the reading being read has a value
}

func (r *reader) pos(n *yaml.Node) Pos { return Pos{r.file, n.Line, n.Column} }

func (r *reader) problem(n *yaml.Node, field, what, accept, hint string, class error) {
	r.errs = append(r.errs, &Problem{Pos: r.pos(n), Field: field, What: what, Accept: accept, Hint: hint, Class: class})
}

// unknown complains of a word that is none of a list.
func (r *reader) unknown(n *yaml.Node, field, thing, typed string, list []string) {
	r.problem(n, field, fmt.Sprintf("unknown %s %s", thing, quote(typed)), strings.Join(list, ", "), r.hint(typed, list), ErrValue)
}

// impossible complains of a figure no car can have.
func (r *reader) impossible(n *yaml.Node, field string, kind units.Kind, v units.Value, low, high float64) {
	r.problem(n, field, units.FormatValue(kind, v, units.Metric)+" is impossible",
		fmt.Sprintf("%s to %s", units.Format(kind, low, units.Metric), units.Format(kind, high, units.Metric)), "", ErrValue)
}

// shape says what a node is, in words for people who do not know YAML.
func shape(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a section"
	case yaml.SequenceNode:
		return "a list"
	case yaml.ScalarNode:
		if n.Tag == "!!null" {
			return "nothing"
		}
		return quote(n.Value)
	}
	return "something else"
}

// is checks the shape of a node.
func (r *reader) is(n *yaml.Node, path string, kind yaml.Kind, accept string) bool {
	if r.refused[n] {
		return false
	}
	if n.Kind == kind && n.Tag != "!!null" {
		return true
	}
	if kind == yaml.MappingNode && isPlain(n) {
		if m := stuck.FindStringSubmatch(n.Value); m != nil {
			r.noSpace(n, join(path, m[1]), m[1], m[2])
			return false
		}
	}
	r.problem(n, path, shape(n)+" is written here", accept, "", ErrField)
	return false
}

// lookup finds the value of a name in a section, nil when it is not there.
func (r *reader) lookup(n *yaml.Node, name string) *yaml.Node {
	if n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if k := n.Content[i]; k.Kind == yaml.ScalarNode && k.Value == name {
			return n.Content[i+1]
		}
	}
	return nil
}

// word1 peeks at a plain word under a path of names, without complaint.
func (r *reader) word1(n *yaml.Node, path ...string) string {
	for _, name := range path {
		if n = r.lookup(n, name); n == nil {
			return ""
		}
	}
	if n.Kind != yaml.ScalarNode || r.refused[n] {
		return ""
	}
	return n.Value
}

// pairs gives the name: value pairs of a section in file order, having
// complained of whatever is not one.
func (r *reader) pairs(n *yaml.Node, path string, each func(name string, key, value *yaml.Node)) bool {
	if !r.is(n, path, yaml.MappingNode, "\"name: value\" pairs") {
		return false
	}
	lines := map[string]int{}
	for i, next := 0, 0; i+1 < len(n.Content); i = next {
		key, value := n.Content[i], n.Content[i+1]
		next = i + 2
		if r.refused[key] {
			continue
		}
		if after := r.slip(n, path, i); after > i {
			next = after
			continue
		}
		if key.Kind != yaml.ScalarNode {
			r.problem(key, path, shape(key)+" where a name should be", "\"name: value\" pairs", "", ErrField)
			continue
		}
		if line, again := lines[key.Value]; again {
			r.problem(key, join(path, cut(key.Value)), fmt.Sprintf("given twice, first on line %d", line), "each name once", "", ErrField)
			continue
		}
		lines[key.Value] = key.Line
		each(key.Value, key, value)
	}
	return true
}

// cut shortens a name taken from the file for use in a path.
func cut(name string) string {
	if q := quote(name); len(q) != len(name)+2 {
		return q
	}
	return name
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// readSection reads a section by its table. Entries are read in table order,
// so that one may rely on those above it.
func readSection[T any](r *reader, n *yaml.Node, path string, table []entry[T], t *T) bool {
	if e := choice(table); e != nil && isPlain(n) && n.Tag != "!!null" && !r.refused[n] && !stuck.MatchString(n.Value) {
		r.wordForSection(n, path, e.name, e.words)
		return false
	}
	values := make([]*yaml.Node, len(table))
	keys := make([]*yaml.Node, len(table))
	ok := r.pairs(n, path, func(name string, key, value *yaml.Node) {
		i := slices.IndexFunc(table, func(e entry[T]) bool { return e.name == name })
		if i < 0 {
			r.problem(key, join(path, cut(name)), "unknown field", strings.Join(names(table), ", "), r.hint(name, names(table)), ErrField)
			return
		}
		keys[i], values[i] = key, value
	})
	for i := range table {
		e, v := &table[i], values[i]
		if v == nil || r.refused[v] {
			continue
		}
		at := join(path, e.name)
		if e.unfit != nil {
			if why := e.unfit(r.facts); why != "" {
				r.problem(keys[i], at, why, "a file without this line", "", ErrContradiction)
				continue
			}
		}
		if e.param != nil {
			readFigure(r, v, at, e, t)
		} else {
			e.read(r, v, at, t)
		}
	}
	return ok
}

// choice is the entry of a section that says of what kind, or in what state,
// the thing is, nil if it has none.
func choice[T any](table []entry[T]) *entry[T] {
	for _, name := range []string{"kind", "class", "electrodes"} {
		if e := lookup(table, name); e != nil {
			return e
		}
	}
	return nil
}

// wordForSection complains of a lone word where a section should be and shows
// where the word belongs.
func (r *reader) wordForSection(n *yaml.Node, path, name string, words []string) {
	section := path[strings.LastIndexByte(path, '.')+1:]
	in := func(word string) string { return fmt.Sprintf("%s: {%s: %s}", section, name, word) }
	meant := n.Value
	if !slices.Contains(words, meant) {
		meant = r.hint(meant, words)
	}
	if meant != "" {
		meant = in(meant)
	}
	r.problem(n, path, shape(n)+" is written here where a section should be", in(words[0])+", or another of "+strings.Join(words[1:], ", "), meant, ErrField)
}

// idMap reads a section whose names are the file's own.
func (r *reader) idMap(n *yaml.Node, path string, each func(id string, key, value *yaml.Node, path string)) {
	count := 0
	r.pairs(n, path, func(name string, key, value *yaml.Node) {
		if count++; count > MaxIDs {
			if count == MaxIDs+1 {
				r.problem(key, path, "too many entries", fmt.Sprintf("at most %d", MaxIDs), "", ErrTooLarge)
			}
			return
		}
		if at := join(path, cut(name)); r.goodID(key, at, name) && !r.refused[value] {
			each(name, key, value, at)
		}
	})
}

var idForm = regexp.MustCompile(`^[a-z][a-z0-9_]{0,39}$`)

func (r *reader) goodID(n *yaml.Node, path, id string) bool {
	if !idForm.MatchString(id) {
		r.problem(n, path, quote(id)+" cannot be an id", "small letters, digits and _, a letter first, at most 40", "", ErrValue)
		return false
	}
	if id == "all" || id == "none" {
		r.problem(n, path, quote(id)+" has a meaning of its own", "another id", "", ErrValue)
		return false
	}
	return true
}

// readFigure reads one figure: "1.5 ± 0.1 ohm", or a section with value and
// measured.
func readFigure[T any](r *reader, n *yaml.Node, path string, e *entry[T], t *T) {
	origin, at := Stated, n
	if n.Kind == yaml.MappingNode && !r.refused[n] {
		var value *yaml.Node
		r.pairs(n, path, func(name string, key, v *yaml.Node) {
			switch name {
			case "value":
				value = v
			case "measured":
				if yes, ok := r.flag(v, path+".measured"); ok && yes {
					origin = Measured
				}
			default:
				r.problem(key, join(path, cut(name)), "unknown field", "value, measured", suggest(name, []string{"value", "measured"}), ErrField)
			}
		})
		if value == nil && r.mentions(n, "value") {
			return
		}
		if value == nil {
			r.problem(n, path, "value is missing", "{value: figure, measured: yes}", "", ErrField)
			return
		}
		at, path = value, path+".value"
	}
	var why func(string) string
	if e.kind == units.DistributorAngle && strings.HasPrefix(e.name, "dwell") {
		why = r.dwellShare
	}
	v, ok := r.value(at, path, e.kind, why)
	if !ok {
		return
	}
	v, ok = r.possible(at, path, e.kind, v, e.low, e.high, e.plain, e.amount)
	if !ok {
		return
	}
	*e.param(t) = Param{Value: v, Kind: e.kind, Origin: origin, Pos: r.pos(at)}
}

// possible gives a figure read from the file the spread it was written
// without, and refuses one that no car can have, or whose spread reaches what
// no car can have. A bell curve whose far ends alone reach over a limit is
// taken as evenly spread between its 95 % ends, so that no draw is impossible.
func (r *reader) possible(n *yaml.Node, path string, kind units.Kind, v units.Value, low, high, plain float64, amount bool) (units.Value, bool) {
	if v.X < low || v.X > high {
		r.impossible(n, path, kind, v, low, high)
		return v, false
	}
	if v.PM == 0 {
		if v.PM = plain * math.Abs(v.X); amount || plainInDegrees(kind) {
			v.PM = plain
		}
		if v.PM > 0 {
			v.Shape = units.Normal
			v.PM = within(v.X, min(v.PM, v.X-low, high-v.X), low, high)
		}
	}
	if v.PM == 0 {
		v.Shape = units.Exact
	}
	lo, hi := v.Lo(), v.Hi()
	if lo < low || hi > high {
		r.impossible(n, path, kind, v, low, high)
		return v, false
	}
	if v.Sample(0) < low || v.Sample(1) > high {
		v = units.Value{X: (lo + hi) / 2, PM: (hi - lo) / 2, Shape: units.Uniform}
		v.PM = within(v.X, v.PM, low, high)
	}
	return v, true
}

// plainInDegrees reports whether the spread of a figure written without one
// is so many degrees, since a part of it means nothing where its zero is only
// a mark: on a thermometer, or on the crank's pulley.
func plainInDegrees(kind units.Kind) bool {
	return kind == units.Temperature || kind == units.CrankAngle
}

// within takes off a half-width what rounding puts over a limit, so that
// x - pm and x + pm are never impossible, not even in the last digit.
func within(x, pm, low, high float64) float64 {
	if room := min(x-low, high-x); pm > 0 && (x-pm < low || x+pm > high) {
		return max(0, math.Nextafter(min(pm, room), 0))
	}
	return pm
}

// dwellShare works out a dwell that is written as a part of the lobe, as many
// meters show it.
func (r *reader) dwellShare(text string) string {
	share, err := units.Parse(units.Fraction, text)
	if err != nil || !strings.ContainsAny(text, "%pP") || r.facts.cylinders == 0 || share.X > 1 {
		return ""
	}
	lobe := 360 / float64(r.facts.cylinders)
	return fmt.Sprintf("a dwell is written in degrees: with %d cylinders %s of %g° is %g°",
		r.facts.cylinders, units.Format(units.Fraction, share.X, units.Metric), lobe, math.Round(2*share.X*lobe)/2)
}

// value reads text with a unit. why, if not nil, may explain a text that
// cannot be read.
func (r *reader) value(n *yaml.Node, path string, kind units.Kind, why func(text string) string) (units.Value, bool) {
	if kind == units.WireSection && n.Tag == "!!null" && !r.refused[n] {
		r.problem(n, path, "nothing is written here, or only a # which begins a comment", "18 AWG, \"#18\" between quotes, 1.5 mm²", "", ErrField)
		return units.Value{}, false
	}
	if !r.is(n, path, yaml.ScalarNode, kind.Accepts()) {
		return units.Value{}, false
	}
	v, err := units.Parse(kind, n.Value)
	if err == nil {
		return v, true
	}
	what := ""
	if why != nil {
		what = why(n.Value)
	}
	var p *units.ParseError
	if what == "" && errors.As(err, &p) {
		what = p.What
	}
	r.problem(n, path, what, kind.Accepts(), "", ErrValue)
	return units.Value{}, false
}

// text reads free text of at most a few pages.
func (r *reader) text(n *yaml.Node, path string) (string, bool) {
	const most = 8000
	if !r.is(n, path, yaml.ScalarNode, "text") {
		return "", false
	}
	if len(n.Value) > most {
		r.problem(n, path, fmt.Sprintf("%d letters of text", len(n.Value)), fmt.Sprintf("at most %d", most), "", ErrValue)
		return "", false
	}
	return n.Value, true
}

// word reads one of a list of words.
func (r *reader) word(n *yaml.Node, path string, words []string) (string, bool) {
	if !r.is(n, path, yaml.ScalarNode, strings.Join(words, ", ")) {
		return "", false
	}
	if !slices.Contains(words, n.Value) {
		r.problem(n, path, quote(n.Value)+" is not one of the words known here", strings.Join(words, ", "), r.hint(n.Value, words), ErrValue)
		return "", false
	}
	return n.Value, true
}

// readWord reads the word for a constant.
func readWord[E ~uint8](r *reader, n *yaml.Node, path string, words []string) (E, bool) {
	w, ok := r.word(n, path, words)
	if !ok {
		return 0, false
	}
	return find[E](words, w)
}

func isYes(text string) bool {
	text = strings.ToLower(text)
	return text == "yes" || text == "true"
}

func isNo(text string) bool {
	text = strings.ToLower(text)
	return text == "no" || text == "false"
}

// flag reads yes or no.
func (r *reader) flag(n *yaml.Node, path string) (yes, ok bool) {
	if !r.is(n, path, yaml.ScalarNode, "yes or no") {
		return false, false
	}
	if !isYes(n.Value) && !isNo(n.Value) {
		r.problem(n, path, quote(n.Value)+" is neither yes nor no", "yes or no", "", ErrValue)
		return false, false
	}
	return isYes(n.Value), true
}

// loadList reads all, none or a list of load ids.
func (r *reader) loadList(n *yaml.Node, path string) ([]string, bool) {
	if n.Kind == yaml.ScalarNode && !r.refused[n] {
		switch n.Value {
		case "all":
			return []string{"all"}, true
		case "none":
			return nil, true
		}
	}
	if !r.is(n, path, yaml.SequenceNode, "a list of load ids, or the word all or none") {
		return nil, false
	}
	var list []string
	for _, item := range n.Content {
		switch {
		case !r.is(item, path, yaml.ScalarNode, "the id of a load"):
		case slices.Contains(r.off, item.Value): // takes nothing, on or off
		case !slices.Contains(r.loads, item.Value):
			r.unknown(item, path, "load", item.Value, r.loads)
		case slices.Contains(list, item.Value):
			r.problem(item, path, item.Value+" is listed twice", "each load once", "", ErrField)
		default:
			list = append(list, item.Value)
		}
	}
	return list, true
}
