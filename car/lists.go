package car

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// Limits of lists in a car file.
const (
	mostAngles = 64  // in one list of angles
	mostPoints = 200 // in one curve
	mostRuns   = 100 // lists of readings of a curve or of a turning shaft
	mostTurns  = 500 // of the shaft in one run
)

// items steps through a list, having complained of whatever is not one or is
// too long.
func (r *reader) items(n *yaml.Node, path string, most int, accept string, each func(item *yaml.Node, at string)) bool {
	if !r.is(n, path, yaml.SequenceNode, accept) {
		return false
	}
	if len(n.Content) > most {
		r.problem(n, path, fmt.Sprintf("%d entries", len(n.Content)), fmt.Sprintf("at most %d", most), "", ErrTooLarge)
		return false
	}
	for i, item := range n.Content {
		if !r.refused[item] {
			each(item, fmt.Sprintf("%s[%d]", path, i+1))
		}
	}
	return true
}

// needs complains of names that a section must have and has not.
func (r *reader) needs(n *yaml.Node, path string, list ...string) bool {
	var lacks []string
	for _, name := range list {
		if !r.mentions(n, name) {
			lacks = append(lacks, name)
		}
	}
	if len(lacks) > 0 {
		r.problem(n, path, "not said: "+strings.Join(lacks, ", "), strings.Join(list, ", "), "", ErrField)
	}
	return len(lacks) == 0
}

// count reads a whole number.
func (r *reader) count(n *yaml.Node, path string, low, high int) (int, bool) {
	v, ok := r.value(n, path, units.Count, nil)
	if !ok {
		return 0, false
	}
	if v.PM != 0 || v.X < float64(low) || v.X > float64(high) {
		r.problem(n, path, quote(n.Value)+" is impossible", fmt.Sprintf("a whole number, %d to %d", low, high), "", ErrValue)
		return 0, false
	}
	return int(v.X), true
}

// angle reads one figure without a ± of its own.
func (r *reader) angle(n *yaml.Node, path string, kind units.Kind, low, high float64) (float64, bool) {
	v, ok := r.value(n, path, kind, nil)
	switch {
	case !ok:
		return 0, false
	case v.PM != 0:
		r.problem(n, path, "a ± is written here", "the figure alone", "", ErrValue)
		return 0, false
	case v.X < low || v.X > high:
		r.impossible(n, path, kind, v, low, high)
		return 0, false
	}
	return v.X, true
}

// angles reads a list of them.
func (r *reader) angles(n *yaml.Node, path string, kind units.Kind, low, high float64, accept string) ([]float64, bool) {
	var list []float64
	good := r.items(n, path, mostAngles, accept, func(item *yaml.Node, at string) {
		if x, ok := r.angle(item, at, kind, low, high); ok {
			list = append(list, x)
		}
	})
	return list, good && len(list) == len(n.Content)
}

// order reads the cylinders in some order: "1-3-4-2", or a list.
func (r *reader) order(n *yaml.Node, path string) ([]int, bool) {
	cylinders := r.facts.cylinders
	accept := "as " + dashed(usualOrder(cylinders)) + ", or a list of the numbers"
	var words []string
	switch {
	case r.refused[n]:
		return nil, false
	case n.Kind == yaml.SequenceNode:
		for _, item := range n.Content {
			if !r.is(item, path, yaml.ScalarNode, "the number of a cylinder") {
				return nil, false
			}
			words = append(words, item.Value)
		}
	default:
		if !r.is(n, path, yaml.ScalarNode, accept) {
			return nil, false
		}
		text, ok := r.text(n, path)
		if !ok {
			return nil, false
		}
		words = strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune("-–, ", c) })
	}
	var list []int
	for _, w := range words {
		k, err := strconv.Atoi(w)
		if err != nil || k < 1 || k > 99 {
			r.problem(n, path, quote(w)+" is not the number of a cylinder", accept, "", ErrValue)
			return nil, false
		}
		list = append(list, k)
	}
	what := ""
	for k := 1; k <= cylinders && what == ""; k++ {
		if !slices.Contains(list, k) {
			what = fmt.Sprintf("cylinder %d is missing", k)
		}
	}
	switch {
	case len(list) > cylinders && what == "":
		what = fmt.Sprintf("%d numbers for %d cylinders", len(list), cylinders)
	case len(list) != cylinders && what == "":
		what = "not each cylinder once"
	}
	if what != "" {
		r.problem(n, path, what, accept, "", ErrContradiction)
		return nil, false
	}
	return list, true
}

// dashed writes a firing order.
func dashed(order []int) string {
	list := make([]string, len(order))
	for i, k := range order {
		list[i] = strconv.Itoa(k)
	}
	return strings.Join(list, "-")
}

// turn and cycle are one turn of the distributor and the two turns of the
// crank in which it is made; sloppy is what rounding in a list may take off.
const (
	turn   = 360.0
	cycle  = 720.0
	sloppy = 0.5
)

func readIntervals(r *reader, n *yaml.Node, path string, d *Distributor) {
	accept := fmt.Sprintf("a list of %d crank angles that make 720 together", r.facts.cylinders)
	list, ok := r.angles(n, path, units.CrankAngle, 1, cycle, accept)
	if !ok {
		return
	}
	sum := 0.0
	for _, x := range list {
		sum += x
	}
	switch {
	case len(list) != r.facts.cylinders:
		r.problem(n, path, fmt.Sprintf("%d intervals for %d cylinders", len(list), r.facts.cylinders), accept, "", ErrContradiction)
	case math.Abs(sum-cycle) > sloppy:
		r.problem(n, path, fmt.Sprintf("they make %.4g degrees and not 720", sum), accept, "", ErrContradiction)
	default:
		for i := range list {
			list[i] *= cycle / sum
		}
		d.Intervals = list
	}
}

func readTowers(r *reader, n *yaml.Node, path string, d *Distributor) {
	accept := fmt.Sprintf("a list of %d angles below 360, rising from 0", r.facts.cylinders)
	list, ok := r.angles(n, path, units.DistributorAngle, 0, turn, accept)
	if !ok {
		return
	}
	switch {
	case len(list) != r.facts.cylinders:
		r.problem(n, path, fmt.Sprintf("%d towers for %d cylinders", len(list), r.facts.cylinders), accept, "", ErrContradiction)
	case list[0] != 0:
		r.problem(n.Content[0], path+"[1]", "No. 1's tower is where they are counted from", "0 deg", "", ErrContradiction)
	case list[len(list)-1] >= turn:
		r.problem(n.Content[len(list)-1], fmt.Sprintf("%s[%d]", path, len(list)), "that is No. 1's tower again", accept, "", ErrContradiction)
	default:
		for i := 1; i < len(list); i++ {
			if list[i] <= list[i-1] {
				r.problem(n.Content[i], fmt.Sprintf("%s[%d]", path, i+1), "not further round than the tower before it", accept, "", ErrContradiction)
				return
			}
		}
		d.Towers = list
	}
}
