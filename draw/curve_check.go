package draw

import "fmt"

func (spec CurveSpec) check() error {
	bad := func(where, what string) error { return &SpecError{where, what} }
	if !(spec.W >= 240 && spec.W <= 8000 && spec.H >= 140 && spec.H <= 8000) {
		return bad("extent", fmt.Sprintf("is %v by %v; want 240 by 140 up to 8000 by 8000", spec.W, spec.H))
	}
	for i, a := range []Axis{spec.X, spec.Y} {
		if err := a.check("xy"[i:i+1] + " axis"); err != nil {
			return err
		}
	}
	if len(spec.Series) > len(seriesLooks) {
		return bad("series", fmt.Sprintf("are %d; want %d at most", len(spec.Series), len(seriesLooks)))
	}
	numbers := func(where string, vs []float64, a Axis) error {
		for i, v := range vs {
			if !a.takes(v) {
				return bad(fmt.Sprintf("%s[%d]", where, i), fmt.Sprintf("is %v; want %s", v, a.wants()))
			}
		}
		return nil
	}
	for i, s := range spec.Series {
		where := fmt.Sprintf("series[%d] (%s)", i, s.Name)
		if len(s.X) != len(s.Y) {
			return bad(where, fmt.Sprintf("has %d x and %d y; want as many of each", len(s.X), len(s.Y)))
		}
		if s.Origin >= originCount {
			return bad(where, "has an origin that does not exist")
		}
		if s.Going < -1 || s.Going > 1 {
			return bad(where, fmt.Sprintf("was taken going %d; want +1 up, -1 down or 0 not said", s.Going))
		}
		if s.Handles && len(s.X) > mostHandles {
			return bad(where, fmt.Sprintf("has %d handles; want %d at most", len(s.X), mostHandles))
		}
		if len(s.Lo) != len(s.Hi) || len(s.Lo) != 0 && len(s.Lo) != len(s.X) {
			return bad(where, fmt.Sprintf("has %d lo and %d hi for %d points; want as many of each, or none", len(s.Lo), len(s.Hi), len(s.X)))
		}
		for i := range s.Lo {
			if s.Hi[i] < s.Lo[i] {
				return bad(fmt.Sprintf("%s [%d]", where, i), fmt.Sprintf("runs from %v to %v; want lo below hi", s.Lo[i], s.Hi[i]))
			}
		}
		for _, l := range []struct {
			name string
			vs   []float64
			axis Axis
		}{{" x", s.X, spec.X}, {" y", s.Y, spec.Y}, {" lo", s.Lo, spec.Y}, {" hi", s.Hi, spec.Y}} {
			if err := numbers(where+l.name, l.vs, l.axis); err != nil {
				return err
			}
		}
	}
	b := spec.Band
	if len(b.X) != len(b.Lo) || len(b.X) != len(b.Hi) {
		return bad("band", fmt.Sprintf("has %d x, %d lo and %d hi; want as many of each", len(b.X), len(b.Lo), len(b.Hi)))
	}
	for i, vs := range [][]float64{b.X, b.Lo, b.Hi} {
		if err := numbers([]string{"band x", "band lo", "band hi"}[i], vs, []Axis{spec.X, spec.Y, spec.Y}[i]); err != nil {
			return err
		}
	}
	for i := range b.X {
		if i > 0 && b.X[i] < b.X[i-1] || b.Hi[i] < b.Lo[i] {
			return bad(fmt.Sprintf("band [%d]", i), "is out of order; want x rising and lo below hi")
		}
	}
	for i, l := range spec.Limits {
		if !spec.Y.takes(l.At) || l.Side > AtMost {
			return bad(fmt.Sprintf("limits[%d] (%s)", i, l.Name), fmt.Sprintf("is at %v; want %s", l.At, spec.Y.wants()))
		}
	}
	return spec.checkSpans()
}

// check refuses an axis that cannot be drawn.
func (a Axis) check(where string) error {
	if !finite(a.Lo) || !finite(a.Hi) || a.Hi < a.Lo {
		return &SpecError{where, fmt.Sprintf("runs from %v to %v; want numbers in rising order", a.Lo, a.Hi)}
	}
	if a.Log && a.Lo != a.Hi && a.Lo <= 0 {
		return &SpecError{where, fmt.Sprintf("is logarithmic and runs from %v; want a number above 0", a.Lo)}
	}
	return nil
}

// takes reports whether a value can stand on the axis.
func (a Axis) takes(v float64) bool { return finite(v) && (!a.Log || v > 1e-15) }

func (a Axis) wants() string {
	if a.Log {
		return "a number above 0, since the axis is logarithmic"
	}
	return "a number"
}
