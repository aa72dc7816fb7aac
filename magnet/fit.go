package magnet

import (
	"fmt"
	"math"
)

// Fit is a ring and a hall switch put together.
type Fit struct {
	Ring    Ring
	Hall    Switch
	GapM    float64 // magnets' surface to the face of the switch
	AxialM  float64 // face's middle above the magnets' middle plane
	TiltRad float64 // face's normal leaning towards +z
	TempC   float64 // of magnets and switch, degrees Celsius
}

// Validate refuses a fit that cannot be: an [*Error] of [ErrRing],
// [ErrSwitch] or [ErrPlace].
func (f Fit) Validate() error {
	if err := f.Ring.Validate(); err != nil {
		return err
	}
	if err := f.Hall.Validate(); err != nil {
		return err
	}
	return f.place(f.GapM).validate()
}

// place is where the element stands at a gap.
func (f Fit) place(gapM float64) place {
	return place{gapM: gapM + f.Hall.DepthM, axialM: f.AxialM, tiltRad: f.TiltRad, faceM: f.Hall.FaceM, tempC: f.TempC}
}

// Peak is the field over the middle of an operating magnet at a gap, averaged
// over the switch's element, T; NaN for a fit that Validate refuses.
func (f Fit) Peak(gapM float64) float64 { return f.Field(gapM, 0) }

// Field is the field at a gap and an electrical angle (see [Ring.Field]),
// averaged over the switch's element, T; NaN for a fit that Validate refuses.
func (f Fit) Field(gapM, elecRad float64) float64 {
	var v view
	if !(gapM >= 0) || f.Hall.Validate() != nil || v.set(f.Ring, f.place(gapM)) != nil {
		return math.NaN()
	}
	return v.at(elecRad)
}

// least is how much field the middle of a magnet must give: the operate point,
// or what a latch needs to let go over the opposite pole of a like ring.
func (f Fit) least() float64 {
	operate, release := f.Hall.Points(f.TempC)
	if !f.Ring.Unipolar {
		return math.Max(operate, -release)
	}
	return operate
}

// LargestGap is the gap up to which no lobe is missed, m: there the field over
// the middle of a magnet just reaches the operate point, or, if that comes
// first, the field between two magnets no longer falls to the release point.
// To 0.1 micrometre.
//
// Errors: of Validate; [ErrNeverFires] where even at no gap the switch does not
// operate; [ErrNeverReleases] where even there it would not let go.
func (f Fit) LargestGap() (float64, error) {
	f.GapM = 0
	if err := f.Validate(); err != nil {
		return 0, err
	}
	need := f.least()
	largest, ok := f.reach(need)
	if !ok {
		return 0, &Error{
			Field: "Fit", Kind: ErrNeverFires,
			What:   fmt.Sprintf("%.3g mT over the magnet with no gap, %.3g mT needed", 1e3*f.Peak(0), 1e3*need),
			Accept: "a stronger or higher ring, less offset or tilt, or a switch that operates on less",
		}
	}
	if !f.Ring.Unipolar {
		return largest, nil // the opposite pole lets it go
	}
	_, release := f.Hall.Points(f.TempC)
	between := func(gap float64) float64 { return release - f.Field(gap, math.Pi) }
	const steps = 8
	last := 0.0
	for i := 0; i <= steps; i++ {
		gap := largest * float64(i) / steps
		if between(gap) >= 0 {
			last = gap
			continue
		}
		if i == 0 {
			return 0, &Error{
				Field: "Fit", Kind: ErrNeverReleases,
				What:   fmt.Sprintf("%.3g mT between two magnets, release point %.3g mT", 1e3*f.Field(0, math.Pi), 1e3*release),
				Accept: "magnets farther apart, an alternating ring, or a switch with a higher release point",
			}
		}
		for gap-last > 1e-7 {
			if mid := (gap + last) / 2; between(mid) >= 0 {
				last = mid
			} else {
				gap = mid
			}
		}
		return last, nil
	}
	return largest, nil
}

// reach finds where the field over a magnet falls to need, by secants on its
// logarithm (nearly straight in the gap) that may not leave the bracket found
// so far; false where it is below need at no gap.
func (f Fit) reach(need float64) (float64, bool) {
	over := func(gap float64) float64 {
		return math.Log(math.Max(f.Peak(gap), need*1e-9) / need)
	}
	lo, hi := 0.0, mostM-f.Hall.DepthM
	seen := false // whether the field at lo has been looked at
	gap, slope := f.guess(need)
	last, lastY := math.NaN(), 0.0
	for range 100 {
		if gap <= lo || gap >= hi || math.IsNaN(gap) {
			if !seen {
				if over(0) < 0 {
					return 0, false
				}
				seen = true
			}
			gap = (lo + math.Min(hi, 4*lo+0.01)) / 2
		}
		y := over(gap)
		if y >= 0 {
			lo, seen = gap, true
		} else {
			hi = gap
		}
		if chord := (lastY - y) / (gap - last); chord > 0 {
			slope = chord
		}
		step := y / slope
		last, lastY = gap, y
		if hi-lo < 1e-7 {
			break
		}
		gap += step
		if math.Abs(step) < 1e-6 {
			break // the step taken leaves far less
		}
	}
	if !seen && over(0) < 0 {
		return 0, false
	}
	return math.Max(gap, 0), true
}

// guess is where the search begins, and how fast the logarithm falls there
// (1/m): the endless alternating ring's first harmonic, or a magnet's own
// width.
func (f Fit) guess(need float64) (gap, slope float64) {
	r := f.Ring
	if r.Unipolar {
		return 0.5 * r.WidthM, 3 / (r.WidthM + r.ThicknessM)
	}
	m := float64(r.Poles / 2)
	share := 1.0
	if r.WidthM > 0 {
		share = math.Min(1, r.WidthM/r.pitchM())
	}
	b := r.At(f.TempC) * 2 / math.Pi * math.Sin(math.Pi*share/2) * m / (m + 1) * (1 - math.Pow(1-r.ThicknessM/r.RadiusM, m+1))
	gap = r.RadiusM*(math.Pow(b/need, 1/(m+1))-1) - f.Hall.DepthM
	if !(gap > 0) {
		gap = 1e-4
	}
	// A ring as high as its pitch loses faster than an endless one.
	return gap, (m+1)/(r.RadiusM+gap) + 1/(gap+r.HeightM)
}

// FiresAll says whether the switch operates and lets go once for every lobe,
// when lobe j passes at gaps[j]: a ring that runs eccentric, or a shaft with
// side play, has a gap for each. false for a fit that Validate refuses and for
// a gap below zero: the ring rubs.
//
// Each gap is taken as if the whole ring stood at it: the field over a magnet
// is its own and its neighbours', whose gaps hardly differ.
func (f Fit) FiresAll(gaps []float64) bool {
	largest, err := f.LargestGap()
	if err != nil {
		return false
	}
	for _, g := range gaps {
		if !within(g, 0, largest) {
			return false
		}
	}
	return true
}
