package magnet

import (
	"fmt"
	"math"
)

// Switching is what a fit does over one period, from one operating magnet to
// the next. Angles are distributor degrees from the middle of the operating
// magnet, positive later, at no speed: [Switch.LagDeg] adds to both edges.
type Switching struct {
	OnDeg     float64 // output begins to conduct; below 0: before the middle
	OffDeg    float64 // output ceases to conduct
	PeriodDeg float64
	SparkDeg  float64 // the edge that interrupts the coil: OnDeg, or OffDeg if SparksOnRelease
	OnForDeg  float64 // output conducting: OffDeg - OnDeg
	DwellDeg  float64 // coil fed: the rest of the period, or OnForDeg if SparksOnRelease
	PeakT     float64 // over the middle of the magnet, averaged over the element
	Margin    float64 // PeakT over what is needed: 1 at LargestGap of an alternating ring
}

// Switching works the edges out from the true waveform at f.GapM. Where the
// waveform is a plain sine of the ring's period they lie at acos(B/PeakT)
// electrical degrees from the middle, B the operate or release point: the
// asin law, counted from the zero crossing.
//
// Errors: of Validate; [ErrNeverFires] beyond the largest gap;
// [ErrNeverReleases] where the field between two magnets stays above the
// release point.
func (f Fit) Switching() (Switching, error) {
	if err := f.Validate(); err != nil {
		return Switching{}, err
	}
	var v view
	if err := v.set(f.Ring, f.place(f.GapM)); err != nil {
		return Switching{}, err
	}
	operate, release := f.Hall.Points(f.TempC)
	s := Switching{PeriodDeg: f.Ring.PeriodDeg(), PeakT: v.at(0)}
	s.Margin = s.PeakT / f.least()
	if s.Margin < 1 {
		return s, &Error{
			Field: "Fit.GapM", Kind: ErrNeverFires,
			What:   fmt.Sprintf("%.3g mm of gap leaves %.3g mT of the %.3g mT needed", 1e3*f.GapM, 1e3*s.PeakT, 1e3*f.least()),
			Accept: "a gap up to LargestGap",
		}
	}
	if b := v.at(math.Pi); b > release {
		return s, &Error{
			Field: "Fit.GapM", Kind: ErrNeverReleases,
			What:   fmt.Sprintf("%.3g mT between two magnets, release point %.3g mT", 1e3*b, 1e3*release),
			Accept: "a gap up to LargestGap",
		}
	}
	// Both halves of the wave are alike: from between the magnets inwards to
	// the first rise past the operate point, and from the middle outwards to
	// the first fall past the release point.
	on := v.crossing(-math.Pi, 0, operate)
	off := v.crossing(0, math.Pi, release)
	deg := s.PeriodDeg / (2 * math.Pi)
	s.OnDeg, s.OffDeg = on*deg, off*deg
	s.OnForDeg = s.OffDeg - s.OnDeg
	s.SparkDeg, s.DwellDeg = s.OnDeg, s.PeriodDeg-s.OnForDeg
	if f.Hall.SparksOnRelease {
		s.SparkDeg, s.DwellDeg = s.OffDeg, s.OnForDeg
	}
	return s, nil
}

// crossing is the first electrical angle from `from` to `to` at which the field
// passes the level, walked in 32 steps, then narrowed; the ends are on opposite
// sides of it.
func (v *view) crossing(from, to, level float64) float64 {
	const steps = 32
	a, ya := from, v.at(from)-level
	for i := 1; i <= steps; i++ {
		b := from + (to-from)*float64(i)/steps
		yb := v.at(b) - level
		if (ya < 0) == (yb < 0) && i < steps {
			a, ya = b, yb
			continue
		}
		return v.narrow(level, a, ya, b, yb)
	}
	return to
}

// narrow finds the crossing between a and b by false position, Illinois
// variant, to a millionth of a radian.
func (v *view) narrow(level, a, ya, b, yb float64) float64 {
	for range 80 {
		if math.Abs(b-a) < 1e-9 || ya == yb {
			break
		}
		c := b - yb*(b-a)/(yb-ya)
		yc := v.at(c) - level
		if math.Abs(yc) < 1e-9*math.Abs(level)+1e-15 {
			return c
		}
		if (yc < 0) == (yb < 0) {
			ya /= 2
		} else {
			a, ya = b, yb
		}
		b, yb = c, yc
	}
	return b
}

// Timing is how much later the spark comes with the sensor at gapM than at
// f.GapM, distributor degrees: the creep of the switching edge. Twice this is
// crank degrees. Where the wave is a sine, a wider gap is later if the spark
// comes as the switch operates, earlier if as it releases. Near narrow magnets
// or blocks it is first the other way: their pulse widens with the gap before
// it sinks.
// NaN where either gap does not switch: see [Fit.Switching] for why.
func (f Fit) Timing(gapM float64) float64 {
	here, err := f.Switching()
	if err != nil {
		return math.NaN()
	}
	f.GapM = gapM
	there, err := f.Switching()
	if err != nil {
		return math.NaN()
	}
	return there.SparkDeg - here.SparkDeg
}
