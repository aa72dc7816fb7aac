package web

import (
	"fmt"
	"net/http"
	"net/url"
	"sync"

	"dwellwright/car"
	"dwellwright/curve"
	"dwellwright/internal/workshop"
	"dwellwright/spark"
	"dwellwright/spike"
	"dwellwright/twin"
	"dwellwright/units"
)

// part is a stretch of the stage Spark that takes its time: the page holds a
// quick answer, or none, and its script asks for the rest.
type part struct {
	ID      string // of its element, and of its template
	Address string
	Later   bool // what is in it comes by its own address
	View    any
	Failed  string // why there is nothing in it
}

// pick is a choice of what is looked at.
type pick struct {
	Name, Label string
	Choices     []choice
}

// picks are what a person chose to look at and tries at one stage only. They
// stand in the address beside the bench.
type picks struct {
	Fitting string // switch on the map; "" is the one fitted
	Rival   string // switch compared beside the others
	Spike   string // spike that is drawn

	// What is tried of the distributor and its curve.
	Fit      workshop.FitTry
	Wanted   []curve.Point // nil: the file's
	AsFitted bool          // the wiring as fitted was asked for, not only left unsaid

	Said said // at the stage Find the fault
}

// parsePicks reads what is chosen from an address. What can't be had is said
// and left at its usual.
func parsePicks(c *car.Car, q url.Values) (picks, []*workshop.FieldError) {
	var p picks
	var errs []*workshop.FieldError
	for _, x := range []struct {
		name string
		to   *string
	}{{"fitting", &p.Fitting}, {"rival", &p.Rival}} {
		id := q.Get(x.name)
		if id == "" {
			continue
		}
		if _, err := spark.ParseFitting(id); err != nil {
			errs = append(errs, &workshop.FieldError{Field: x.name, What: err.Error()})
			continue
		}
		*x.to = id
	}
	if id := q.Get("spike"); id != "" {
		if caseByID(c, id) == nil {
			errs = append(errs, &workshop.FieldError{Field: "spike", What: fmt.Sprintf("no spike %q; one of those in the list is accepted", id)})
		} else {
			p.Spike = id
		}
	}
	sys := units.Metric
	if q.Get("units") == "inch" {
		sys = units.Inch
	}
	var more []*workshop.FieldError
	p.Fit, more = workshop.ParseFitTry(c, q, sys)
	errs = append(errs, more...)
	p.Wanted, more = workshop.ParseWanted(c, q)
	p.Said = parseSaid(c, q)
	return p, append(errs, more...)
}

func caseByID(c *car.Car, id string) *spike.Case {
	for _, k := range spike.Cases(c) {
		if k.ID == id {
			return &k
		}
	}
	return nil
}

// add writes the picks into an address.
func (p picks) add(q url.Values) {
	for name, v := range map[string]string{"fitting": p.Fitting, "rival": p.Rival, "spike": p.Spike} {
		if v != "" {
			q.Set(name, v)
		}
	}
	p.Fit.Add(q)
	p.Said.add(q)
	if w := workshop.WantedQuery(p.Wanted); w != "" {
		q.Set("w", w)
	}
	if p.AsFitted {
		q.Set("option", twin.AsFitted)
	}
}

// sparkAsk is what a part is asked with.
type sparkAsk struct {
	c       *car.Car // as tried at the bench
	b       workshop.Bench
	picks   picks
	layout  string
	edition string
	shelf   *shelf
}

// key names everything a part depends on that is given for it. A condition
// counts only where something is tried in it, or the part looks at one.
func (a *sparkAsk) key(what string, ofCondition bool, more ...any) string {
	q := a.b.Query()
	own := a.b.Speed != nil || a.b.Charge != nil || a.b.Bay != nil || a.b.LoadsSet
	if !ofCondition && !own {
		q.Del("condition")
	}
	return fmt.Sprint(what, " ", a.edition, " ", q.Encode(), " ", more)
}

// keep is the shelf for what takes its time; what is drawn from few cars
// while a slider moves is not worth a place.
func (a *sparkAsk) keep(draws int) *shelf {
	if draws <= quickDraws/4 {
		return nil
	}
	return a.shelf
}

// sparkParts make the parts; the name is that in the address, and the element
// is spark-name.
var sparkParts = []struct {
	name string
	work func(a *sparkAsk) (any, error)
}{
	{"map", func(a *sparkAsk) (any, error) { return viewMap(a) }},
	{"switches", func(a *sparkAsk) (any, error) { return viewSwitches(a) }},
	{"drive", func(a *sparkAsk) (any, error) { return viewDrive(a) }},
	{"spikes", func(a *sparkAsk) (any, error) { return viewSpikes(a) }},
}

// sparkPart answers with a part of the stage Spark.
func (s *Server) sparkPart(w http.ResponseWriter, r *http.Request) {
	n, c, count, ok := s.opened(w, r)
	if !ok {
		return
	}
	q := settle(c, r.URL.Query())
	b, _ := workshop.ParseBench(c, q)
	pk, _ := parsePicks(c, q)
	a := &sparkAsk{c: b.Apply(c), b: b, picks: pk, layout: q.Get("layout"), edition: fmt.Sprint(n, " ", edition(count)), shelf: s.shelf}
	if r.PathValue("part") == "trace.json" {
		s.trace(w, a)
		return
	}
	for _, p := range sparkParts {
		if p.name != r.PathValue("part") {
			continue
		}
		if b.Draws > quickDraws { // one long calculation at a time
			if !s.turn(r) {
				return
			}
			defer s.done()
		}
		view, err := p.work(a)
		name := "spark-" + p.name + "-in"
		if err != nil {
			name, view = "failed", part{ID: "spark-" + p.name, Failed: plainly(err)}
		}
		s.write(w, http.StatusOK, name, view)
		return
	}
	s.notFound(w, "There is no such part of the page.")
}

// shelf keeps what was worked out, so that going back costs nothing.
type shelf struct {
	mu    sync.Mutex
	kept  map[string]any
	order []string
}

// most kept things; the oldest goes first.
const mostKept = 48

// kept gives what is kept under a key, or works it out and keeps it.
func kept[T any](s *shelf, key string, work func() (T, error)) (T, error) {
	if s != nil {
		s.mu.Lock()
		v, ok := s.kept[key]
		s.mu.Unlock()
		if ok {
			return v.(T), nil
		}
	}
	v, err := work()
	if s == nil || err != nil {
		return v, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.kept == nil {
		s.kept = map[string]any{}
	}
	if _, ok := s.kept[key]; !ok {
		if len(s.order) == mostKept {
			delete(s.kept, s.order[0])
			s.order = s.order[1:]
		}
		s.order = append(s.order, key)
	}
	s.kept[key] = v
	return v, nil
}
