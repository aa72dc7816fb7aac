package firing

// Point is one instant of a firing.
type Point struct {
	T          float64 // s since the switch closed
	PrimaryA   float64 // A into the primary
	PrimaryV   float64 // V across the switch
	SecondaryV float64 // V at the coil tower; positive is the coil's own polarity
	GapA       float64 // A through the gap
}

// Moment is when something happens in a firing.
type Moment struct {
	T    float64 // s since the switch closed
	What Happening
}

// Happening is what happens at a Moment.
type Happening uint8

// The happenings of a firing.
const (
	Opens    Happening = iota // the switch opens
	Breaks                    // the gap breaks down
	GoesOut                   // the spark goes out
	Strikes                   // parting contacts strike again
	ArcsOver                  // an arc stands between them
	Clamps                    // the switch begins to clamp
	Bends                     // the iron saturates, or no longer does
)

// pieces is how many points a step of the walk is given in a trace.
const pieces = 12

// Trace walks one firing of the settled rhythm of a case and gives put every
// instant of it, a dozen to each step of the walk, in order, and two at one time
// where something jumps; it returns
// what Solve with a Thorough solver does, and the moments.
func (s *Solver) Trace(c *Case, put func(Point)) (Firing, []Moment, error) {
	thorough := s.Thorough
	s.Thorough = false
	f, _, err := s.settle(c, 1e-5, false)
	s.Thorough = thorough
	if err != nil || !f.Opens {
		return f, nil, err
	}
	w := &s.w
	var moments []Moment
	var last Point
	pose, burn, bent, hits, on := closed, w.burn, w.bent, 0, true
	point := func(t float64, x *vec, ph *phase) Point {
		ip := ph.primary(x)
		p := Point{T: t, PrimaryA: ip, PrimaryV: ph.volts + ph.ohms*ip, SecondaryV: x[v2]}
		switch ph.pose {
		case open:
			p.PrimaryV = x[v1] + w.Break.Series*ip
		case blocked:
			p.PrimaryV = x[v1]
		}
		if ph.burn != 0 {
			p.GapA = (x[v2] - ph.burn*w.Gap.Burn) / w.Gap.Series
		}
		return p
	}
	record := func(t float64, x, d, y, e vec, h float64, ph *phase) {
		if w.on != on {
			moments = append(moments, Moment{t, Opens})
			on = w.on
		}
		if w.pose != pose {
			switch w.pose {
			case clamped:
				moments = append(moments, Moment{t, Clamps})
			case arcing:
				moments = append(moments, Moment{t, ArcsOver})
			}
			pose = w.pose
		}
		if w.burn != burn {
			what := Breaks
			if w.burn == 0 {
				what = GoesOut
			}
			moments = append(moments, Moment{t, what})
			burn = w.burn
		}
		if w.bent != bent {
			moments = append(moments, Moment{t, Bends})
			bent = w.bent
		}
		if w.restrikes != hits {
			moments = append(moments, Moment{t, Strikes})
			hits = w.restrikes
		}
		// Where something jumps, what was before it too.
		if next := point(t, &x, ph); t > 0 && (next.PrimaryV != last.PrimaryV || next.GapA != last.GapA) {
			put(last)
		}
		for k := 0; k < pieces; k++ {
			u := float64(k) / pieces
			var z vec
			for i := range z {
				a, b, c := cubic(x[i], d[i]*h, y[i], e[i]*h)
				z[i] = x[i] + u*(a+u*(b+u*c))
			}
			put(point(t+u*h, &z, ph))
		}
		last = point(t+h, &y, ph)
	}
	w.thorough, w.record = true, record
	w.burn, w.out, w.dim, w.t = s.burn, s.out, s.dim, 0
	at, _, err := s.cycle(s.start, &f)
	w.thorough, w.record = false, nil
	if err != nil {
		return f, moments, err
	}
	put(last)
	s.read(&f)
	err = s.could(&f, &at, true)
	return f, moments, err
}
