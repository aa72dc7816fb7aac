package web

import (
	"net/url"
	"regexp"
	"strconv"
	"strings"

	"dwellwright/car"
)

// settle makes of a form what was meant: figures of a condition that has just
// been left are taken out, loads that are on as filed too, and a bare number
// typed on a numeric pad is in the unit the page shows. A form says so by its
// field "for", the condition it was made for; an address without it is taken
// as it is.
func settle(c *car.Car, q url.Values) url.Values {
	if q.Has("for") {
		withUnits(q)
	}
	if was := q.Get("for"); was != "" && was != q.Get("condition") {
		for _, name := range []string{"speed", "charge", "bay", "load", "loads_set"} {
			q.Del(name)
		}
	}
	if k := condition(c, q.Get("condition")); k != nil && q.Has("loads_set") && sameLoads(k.Loads, q["load"]) {
		q.Del("loads_set")
		q.Del("load")
	}
	return q
}

func sameLoads(a, b []string) bool {
	in := map[string]bool{}
	for _, id := range a {
		in[id] = true
	}
	for _, id := range b {
		if !in[id] {
			return false
		}
	}
	out := map[string]bool{}
	for _, id := range b {
		out[id] = true
	}
	return len(in) == len(out)
}

// condition finds a condition of a car, nil when it has none of that id.
func condition(c *car.Car, id string) *car.Condition {
	for i := range c.Conditions {
		if c.Conditions[i].ID == id {
			return &c.Conditions[i]
		}
	}
	return nil
}

var bare = regexp.MustCompile(`^[+−-]?[0-9]+([.,][0-9]+)?$`)

// withUnits writes behind bare numbers the units the page shows where those
// are not the ones a bare number has.
func withUnits(q url.Values) {
	add := func(name, unit string) {
		if t := strings.TrimSpace(q.Get(name)); bare.MatchString(t) {
			q.Set(name, t+unit)
		}
	}
	if q.Get("units") == "inch" {
		add("bay", " °F")
	}
	if x, err := strconv.ParseFloat(strings.TrimSpace(q.Get("charge")), 64); err == nil && x > 1 {
		add("charge", " %")
	}
}
