package firing

import "math"

// Firing is one cycle of a settled rhythm: the switch closes, opens, and what
// follows until it closes again.
type Firing struct {
	Opens   bool // the switch closes and opens; if not, StillA is all there is
	Settled bool // every cycle is like the last; if not, the last of many stands here

	StillA   float64 // A the closed primary would come to
	StartA   float64 // A of magnetising current left over when the switch closes
	BreakA   float64 // A into the primary just before the switch opens
	StoredJ  float64 // J in the coil at that moment
	PrimaryV float64 // V, highest at the switch

	AvailableV float64 // V the secondary would come to if no gap broke down, after the same break
	OpenV      float64 // V the same without the shunt; of a Thorough solver only, else AvailableV
	Fires      bool    // the gap breaks down
	RiseS      float64 // s from the opening to that; NaN when it does not
	BurnS      float64 // s in which the gap conducts
	GapJ       float64 // J burnt in the gap
	Strikes    int     // times it broke down, from cold

	Restrikes int     // times parting contacts struck again
	Stood     bool    // an arc stood between them
	ContactJ  float64 // J that took
	ClampJ    float64 // J into the clamp

	Rings     int     // swings of the primary after the spark, of at least 5 % of the first
	Decrement float64 // natural logarithm of one swing over the next; NaN with fewer than two

	MeanA float64 // A from the source on average; of a Thorough solver only
	Lost  Losses  // of a Thorough solver only
}

// Solver solves cases. It keeps its workspace, so that one Solver for many
// cases allocates nothing; it is for one goroutine. The zero value is ready.
type Solver struct {
	// Thorough follows the make of the switch and the ringing step by step:
	// losses, ringing and mean current come out, at two to three times the time.
	Thorough bool

	w walk
	// The settled start: state at the closing, and whether the gap still
	// burned then.
	start          vec
	held           bool // the switch held a backward current off when it opened
	burn, out, dim float64
}

// most cycles that are tried for a settled one.
const (
	mostCycles = 90
	fewCycles  = 10 // of Available: what does not settle in these wavers
)

// Solve finds the settled rhythm of a case and everything of one firing.
func (s *Solver) Solve(c *Case) (Firing, error) {
	f, at, err := s.settle(c, 1e-5, false)
	if err != nil || !f.Opens {
		return f, err
	}
	if s.Thorough {
		if at, err = s.again(&f); err != nil {
			return f, err
		}
		s.read(&f)
	}
	return f, s.could(&f, &at, s.Thorough)
}

// Swings is how often the primary swings after the spark, as Firing.Rings, and
// nothing else: a cycle settled to a thousandth is walked once more, thoroughly.
func (s *Solver) Swings(c *Case) (int, error) {
	f, _, err := s.settle(c, 1e-3, false)
	if err != nil || !f.Opens {
		return 0, err
	}
	_, err = s.again(&f)
	return s.w.swings, err
}

// again walks the settled cycle once more, thoroughly, to just before the break
// and on.
func (s *Solver) again(f *Firing) (at vec, err error) {
	w := &s.w
	w.thorough = true
	w.burn, w.out, w.dim, w.t = s.burn, s.out, s.dim, 0
	at, _, err = s.cycle(s.start, f)
	w.thorough = false
	return at, err
}

// read takes from a thorough cycle what only such a one shows.
func (s *Solver) read(f *Firing) {
	w := &s.w
	f.Lost = w.lost
	f.Lost.Contact = w.contactJ
	if w.Source.Volts > 0 {
		f.MeanA = w.lost.Supply / (w.Source.Volts * w.Rhythm.Period)
	}
	f.Rings, f.Decrement = w.swings, math.NaN()
	if w.swings >= 2 {
		f.Decrement = math.Log(w.swing[0]/w.swing[1]) / float64(w.swings-1)
	}
}

// could finds what the secondary could have come to from the state before
// the break, and, if thorough, what without the shunt.
func (s *Solver) could(f *Firing, at *vec, thorough bool) (err error) {
	w := &s.w
	if f.AvailableV, err = s.available(at); err != nil {
		return err
	}
	f.OpenV = f.AvailableV
	if w.shunt > 0 && thorough {
		free := w.Case
		free.Gap.Shunt = 0
		w.reset()
		w.plant.ready(&free)
		f.OpenV, err = s.available(at)
	}
	return err
}

// Available finds only the current at the break and what the secondary would
// come to if no gap broke down: a fraction of the work of Solve, and mostly
// within 0.2 % of it; half a per cent where what is left from one spark to the
// next counts most, more only for rhythms with two ways to settle.
func (s *Solver) Available(c *Case) (breakA, volts float64, err error) {
	f, at, err := s.settle(c, 1e-3, true)
	if err != nil || !f.Opens {
		return f.BreakA, 0, err
	}
	volts, err = s.available(&at)
	return f.BreakA, volts, err
}

// settle makes the case ready and walks cycles until one is like the last:
// a fixed point of the map from one closing to the next, by Anderson's
// method with one cycle of memory. It returns the state just before the break.
func (s *Solver) settle(c *Case, tol float64, mute bool) (Firing, vec, error) {
	var f Firing
	f.RiseS, f.Decrement = math.NaN(), math.NaN()
	if err := c.Validate(); err != nil {
		return f, vec{}, err
	}
	w := &s.w
	w.plant.ready(c)
	w.reset()
	w.thorough, w.half, w.blind, w.record, w.mute = false, false, false, nil, mute
	w.t, w.steps = 0, 0
	f.StillA = (c.Source.Volts - c.Break.Drop) / (c.Source.Ohms + c.Break.On)
	if f.StillA < 0 {
		f.StillA = 0
	}
	if math.IsInf(c.Rhythm.Period, 1) || c.Rhythm.Dwell >= c.Rhythm.Period || f.StillA == 0 || c.Rhythm.Dwell == 0 {
		f.Settled = true
		if c.Rhythm.Dwell > 0 {
			f.BreakA = f.StillA
		}
		return f, vec{}, nil
	}
	f.Opens = true
	size := math.Sqrt(c.Coil.L1) * f.StillA
	// What the start still does to the break: flux and ringing both fade
	// while the switch is closed, and the slower of the two counts.
	k := w.Coil.Coupling
	fade := math.Exp(-c.Rhythm.Dwell * min((c.Source.Ohms+c.Break.On)/c.Coil.L1, c.Coil.R2/(2*c.Coil.L2*(1-k*k))))
	var x, lastF, lastY, at vec
	off := 0.0
	most := mostCycles
	if mute {
		most = fewCycles
	}
	for n := 0; n < most; n++ {
		s.start, s.burn, s.out, s.dim = x, w.burn, w.out-w.t, w.dim-w.t
		broke, y, err := s.cycle(x, &f)
		if err != nil {
			return f, at, err
		}
		at = broke
		d := vec{y[0] - x[0], y[1] - x[1], 0, y[3] - x[3]}
		off = w.norm(&d) / size * fade
		if off < tol {
			// The end is nearer to what repeats than the start was.
			s.keep(y)
			f.StartA = w.magnetising(&y)
			f.Settled = true
			return f, at, nil
		}
		next := y
		if n > 0 && n < mostCycles/2 {
			e := vec{d[0] - lastF[0], d[1] - lastF[1], 0, d[3] - lastF[3]}
			if ee := w.dot(&e, &e); ee > 0 {
				b := w.dot(&d, &e) / ee
				if math.Abs(b) < 3 {
					for i := range next {
						next[i] = y[i] - b*(y[i]-lastY[i])
					}
				}
			}
		}
		if mute && off*fade < tol {
			// Rising once more from where it ended comes as near as another
			// cycle would, for a passive network brings no two states further
			// apart between break and make.
			f.Settled = true
			s.keep(y)
			at, err = s.rise(y, &f)
			return f, at, err
		}
		lastF, lastY = d, y
		x = next
	}
	f.Settled = off < 1e-3
	return f, at, nil
}

// keep keeps the end of a cycle as the start of the settled one.
func (s *Solver) keep(y vec) {
	w := &s.w
	s.start, s.burn, s.out, s.dim = y, w.burn, w.out-w.t, w.dim-w.t
}

func (w *walk) dot(a, b *vec) float64 {
	return w.scale[0]*w.scale[0]*a[0]*b[0] + w.scale[1]*w.scale[1]*a[1]*b[1] + w.scale[3]*w.scale[3]*a[3]*b[3]
}

func (w *walk) norm(a *vec) float64 { return math.Sqrt(w.dot(a, a)) }

// rise walks from the closing to just before the break.
func (s *Solver) rise(x vec, f *Firing) (at vec, err error) {
	w := &s.w
	w.seen = seen{}
	w.x = x
	w.close()
	err = w.advance(w.Rhythm.Dwell)
	f.StartA = w.magnetising(&x)
	f.BreakA = w.phase().primary(&w.x)
	f.StoredJ = w.stored(&w.x)
	s.held = w.pose != closed
	return w.x, err
}

// cycle walks from one closing to the next and keeps what it saw in f. It
// returns the states just before the break and at the end.
func (s *Solver) cycle(x vec, f *Firing) (at, end vec, err error) {
	w := &s.w
	if at, err = s.rise(x, f); err != nil {
		return at, end, err
	}
	w.open()
	err = w.advance(w.Rhythm.Period)
	f.PrimaryV = w.primary
	f.Fires = w.broke >= 0
	f.RiseS = math.NaN()
	if f.Fires {
		f.RiseS = w.broke
	}
	f.BurnS = w.burnS
	f.GapJ = w.charge * w.Gap.Burn
	f.Strikes = w.strikes
	f.Restrikes, f.Stood, f.ContactJ, f.ClampJ = w.restrikes, w.stood, w.contactJ, w.clampJ
	return at, w.x, err
}

// stored is the energy in the iron and the leakage, J.
func (w *walk) stored(x *vec) float64 {
	c := &w.Coil
	m := c.Coupling * math.Sqrt(c.L1*c.L2)
	e := (c.L1*x[i1]*x[i1]+c.L2*x[i2]*x[i2])/2 + m*x[i1]*x[i2]
	if over := math.Abs(w.magnetising(x)) - c.KneeA; w.bent != 0 && over > 0 {
		e -= c.Coupling * c.L1 * (1 - c.Beyond) * over * over / 2
	}
	return e
}

// available is the highest the secondary comes to from the state before the
// break if its gap does not break down.
func (s *Solver) available(at *vec) (float64, error) {
	w := &s.w
	w.seen = seen{}
	w.x, w.pose, w.burn, w.t, w.rung = *at, closed, 0, w.Rhythm.Dwell, 0
	if s.held {
		w.pose = blocked
	}
	w.settleBent()
	w.blind, w.half, w.mute = true, true, false
	w.open()
	err := w.advance(w.Rhythm.Period)
	w.blind, w.half = false, false
	return max(w.top, -w.bottom), err
}
