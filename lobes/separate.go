package lobes

import "math"

// Errors is a run taken apart. Angles are distributor degrees; late is
// positive: the shaft has to turn further before the lobe fires.
type Errors struct {
	Turns, Lobes int
	Falling      bool // the wheel is numbered against the turning

	// Offset is the reading, 0 to 360, at which an ideal lobe 0 would fire in
	// the middle of the run.
	Offset Fig
	// Slope is a steady drift of the readings, degrees later per turn: a wheel
	// or pointer that creeps.
	Slope Fig
	// Cam is the lateness of each lobe after Wobble: its sum is zero, and so
	// are its sums times cosine and sine of the lobe's angle.
	Cam []Fig
	// Wobble is the part that goes once up and down in a turn.
	Wobble Wobble
	// SidePlay is the standard deviation of the wander that neighbouring
	// firings share, and SidePlayOver the distributor degrees in which it has
	// fallen to 1/e: coarse, and only worth reading where SidePlay is Known.
	SidePlay     Fig
	SidePlayOver float64
	// Random is the standard deviation of a firing after all else, and after
	// the reader's: not Known means below what the reading can show.
	Random Fig
	// Seen is the same with the reader's error still in it.
	Seen Fig
	// Doubtful says that the readings scatter by less than a reader of the
	// accuracy given could: it was given too large, or readings were copied
	// from turn to turn. Nothing has then been taken off Random's Hi.
	Doubtful bool

	Spacing Spacing
	Cost    Cost
}

// Wobble is Amp·cos(angle - Phase) of lateness, angle counted from lobe 0 in
// the order of firing.
type Wobble struct {
	Amp      Fig // degrees, peak
	Phase    Fig // degrees from lobe 0 to where firings come latest, 0 to 360; PM 180 where nothing is known
	Cos, Sin Fig // the two halves it is made of, exactly by least squares
	// Told says that it was told apart from Cam, which takes four lobes. With
	// fewer it is zero and Cam holds it.
	Told bool
}

// Cost is what each error does at the plug, in crank degrees: two for each
// distributor degree.
type Cost struct {
	Cam      []Fig // late is positive
	Wobble   Fig   // peak; nothing if it is the wheel's own, see Reclamped
	SidePlay Fig   // from earliest to latest of 95 in 100 firings
	Random   Fig   // from earliest to latest of 95 in 100 firings
}

// span95 is the width that holds 95 % of a normal distribution.
const span95 = 2 * z95

// crank is crank degrees per distributor degree of a four-stroke.
const crank = 2

// Rounded is the accuracy of a reader who rounds to the nearest division: its
// error is spread evenly over half a division each way, a standard deviation
// of division/√12 (JCGM 100:2008, 4.3.7), of which this package's accuracy is
// 1.96.
func Rounded(division float64) (accuracy float64) { return z95 * division / math.Sqrt(12) }

// Separate takes a run apart. ideal is the distributor angle of every lobe from
// the first, ideal[0] = 0, in the order they fire; accuracy the plus-or-minus
// (95 %) of one reading in distributor degrees, 0 if it is not known.
func Separate(run Run, ideal []float64, accuracy float64) (Errors, error) {
	f, err := fitRun(run, ideal, accuracy)
	if err != nil {
		return Errors{}, err
	}
	l := len(ideal)
	t := f.student95()
	unit := make([]float64, l+1)
	unit[l] = 1
	e := Errors{
		Turns: f.turns, Lobes: l, Falling: f.late.sign < 0,
		Slope:        around(f.slope, t*f.se(unit)),
		SidePlay:     f.wander.played,
		SidePlayOver: f.wander.over * 360 / float64(l),
		Seen:         f.wander.white,
	}
	e.Random, e.Doubtful = f.random()
	centre := f.centre()
	at := f.late.ref + dot(centre, f.m)
	e.Offset = around(unsigned(f.late.sign*at), t*f.se(centre))
	e.Cam, e.Wobble = f.parts()
	e.Spacing = f.spacing()

	for _, c := range e.Cam {
		e.Cost.Cam = append(e.Cost.Cam, c.times(crank))
	}
	e.Cost.Wobble = e.Wobble.Amp.times(crank)
	e.Cost.SidePlay = e.SidePlay.times(crank * span95)
	e.Cost.Random = e.Random.times(crank * span95)
	return e, nil
}

// centre is the weights of m in the lateness common to all lobes.
func (f fit) centre() []float64 {
	if len(f.ideal) >= 4 {
		c, _, _ := circle(f.ideal)
		return c
	}
	w := make([]float64, len(f.ideal))
	for j := range w {
		w[j] = 1 / float64(len(w))
	}
	return w
}

// parts splits m into what is common, wobble and cam.
func (f fit) parts() ([]Fig, Wobble) {
	l := len(f.ideal)
	t := f.student95()
	centre := f.centre()
	cos, sin := make([]float64, l), make([]float64, l)
	w := Wobble{Told: l >= 4, Phase: Fig{PM: 180, Lo: -180, Hi: 180}}
	if w.Told {
		_, cos, sin = circle(f.ideal)
		w = wobble(dot(cos, f.m), dot(sin, f.m), through([][]float64{pad(cos), pad(sin)}, f.cov), t)
	}
	cam := make([]Fig, l)
	for j, a := range f.ideal {
		row := make([]float64, l)
		s, c := math.Sincos(a * math.Pi / 180)
		for i := range row {
			row[i] = -centre[i] - c*cos[i] - s*sin[i]
		}
		row[j]++
		cam[j] = around(dot(row, f.m), t*f.se(row))
	}
	return cam, w
}

// pad adds slope's weight, none.
func pad(w []float64) []float64 { return append(w[:len(w):len(w)], 0) }

// wobble is amplitude and phase of c·cos + s·sin whose covariance is cov; t is
// the factor to PM.
func wobble(c, s float64, cov [][]float64, t float64) Wobble {
	amp := math.Hypot(c, s)
	w := Wobble{Told: true, Phase: Fig{PM: 180, Lo: -180, Hi: 180},
		Cos: around(c, t*math.Sqrt(max(0, cov[0][0]))), Sin: around(s, t*math.Sqrt(max(0, cov[1][1])))}
	uc, us := 1.0, 0.0
	if amp > 0 {
		uc, us = c/amp, s/amp
	}
	along := deviation(cov, []float64{uc, us}) * t / z95
	across := deviation(cov, []float64{-us, uc}) * t
	if along <= 1e-12*(1+amp) {
		w.Amp = size(amp, amp, amp)
		if amp < 1e-9 { // rounding
			w.Amp = size(amp, 0, amp)
		}
	} else {
		lo, hi := length(amp / along)
		w.Amp = size(amp, lo*along, hi*along)
	}
	phase := math.Atan2(s, c) * 180 / math.Pi
	if w.Amp.Known {
		pm := min(180, across/amp*180/math.Pi)
		w.Phase = around(unsigned(phase), pm)
		w.Phase.Known = pm < 180
	} else {
		w.Phase.Mid = unsigned(phase)
		w.Phase.Lo, w.Phase.Hi = w.Phase.Mid-180, w.Phase.Mid+180
	}
	return w
}

// random takes the reader's variance off what was seen. The square root of a
// difference rises with what was seen, so the ends of its interval go with it.
func (f fit) random() (Fig, bool) {
	less := func(sd float64) float64 { return math.Sqrt(max(0, sd*sd-f.reading*f.reading)) }
	w := f.wander.white
	if w.Hi < f.reading {
		return Fig{0, w.Hi, 0, w.Hi, false}, true
	}
	return size(less(w.Mid), less(w.Lo), less(w.Hi)), false
}
