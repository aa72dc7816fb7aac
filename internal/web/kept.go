package web

import (
	"dwellwright/car"
	"dwellwright/curve"
	"dwellwright/fit"
	"dwellwright/internal/workshop"
	"dwellwright/twin"
)

// field is a figure of the address that a page carries along without showing
// a control for it.
type field struct{ Name, Value string }

// fitKey names everything a fit depends on.
func fitKey(p *page, c *car.Car, option string) string {
	return (&sparkAsk{c: c, b: p.bench, edition: p.Edition}).key("fit", true, p.N, option, figures(p.picks.Fit))
}

// figures are what is tried of gap and heights, for a key.
func figures(t workshop.FitTry) [4]float64 {
	t.Move.Housing = 0
	return [4]float64{t.At("gap", -1), t.At("axial", -1), t.At("lift", -1), t.At("play", -1)}
}

// rested gives the most thorough answer there is: what was worked out with
// many cars while the bench rested serves while something moves that it does
// not depend on. anew says that it had to be worked out with few.
func rested[T any](p *page, key string, work func(draws int) (T, error)) (v T, anew bool, err error) {
	draws := p.bench.Draws
	if draws > quickDraws {
		v, err = kept(p.shelf, key+" at rest", func() (T, error) { return work(draws) })
		return v, true, err
	}
	for _, how := range []string{" at rest", " first"} {
		if x, ok := p.shelf.find(key + how); ok {
			return x.(T), !p.moves(), nil
		}
	}
	if p.moves() { // a figure under a slider is gone the next moment
		v, err = work(draws)
		return v, true, err
	}
	v, err = kept(p.shelf, key+" first", func() (T, error) { return work(draws) })
	return v, true, err
}

// find gives what is kept under a key.
func (s *shelf) find(key string) (any, bool) {
	if s == nil {
		return nil, false
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	v, ok := s.kept[key]
	return v, ok
}

// fitOption is the wiring the stage Fit and time looks at: that of the bench,
// or the conversion the car file plans where none is chosen.
func fitOption(c *car.Car, b workshop.Bench, pk picks) string {
	switch {
	case b.Option != twin.AsFitted:
		return b.Option
	case pk.AsFitted:
		return twin.AsFitted
	}
	return fit.Usual(c)
}

// wantedOf are the wanted points looked at: those tried, or the file's.
func wantedOf(c *car.Car, tried []curve.Point) []curve.Point {
	if tried != nil {
		return tried
	}
	var list []curve.Point
	for _, p := range c.Advance.Wanted {
		list = append(list, curve.Point{RPM: p.RPM.X, Advance: p.Advance.X, Tolerance: p.Tolerance})
	}
	return list
}

// moves says that this answers a move under way, not a page or a bench at
// rest.
func (p *page) moves() bool { return p.Live && p.bench.Draws <= quickDraws/4 }
