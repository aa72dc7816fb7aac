package advance

import (
	"fmt"
	"math"
)

// Marks are what is known of a curve where the parts are not: distributor rpm
// and distributor degrees, speed rising and falling averaged.
type Marks struct {
	BeginsRPM float64
	KneeRPM   float64 // 0: no knee
	KneeDeg   float64 // 0: no knee
	AllInRPM  float64
	MaxDeg    float64
	BandRPM   float64 // how much later it begins with the speed rising than falling; 0: no friction
	Weights   Weights // the zero value stands for UsualWeights
}

// FromMarks is a mechanism whose curve goes through the marks: one spring to
// an all-in, or with a knee two, the second taking up there. Each spring pulls
// square on a lever of 10 mm and the ratio is that for a swing of 25 degrees,
// so the parts are effective ones: the curve is right, the single figures are
// not those of any metal.
func FromMarks(k Marks) (Mechanism, error) {
	const lever, swingDeg = 0.010, 25.0
	if err := first(
		within("BeginsRPM", k.BeginsRPM, 1, 20000, " distributor rpm"),
		within("AllInRPM", k.AllInRPM, 1, 20000, " distributor rpm"),
		within("MaxDeg", k.MaxDeg, 0.5, 40, " distributor degrees"),
		within("BandRPM", k.BandRPM, 0, max(k.BeginsRPM, 0), " distributor rpm"),
		within("KneeRPM", k.KneeRPM, 0, 20000, " distributor rpm, 0 for no knee"),
		within("KneeDeg", k.KneeDeg, 0, 40, " distributor degrees, 0 for no knee"),
	); err != nil {
		return Mechanism{}, err
	}
	knee := k.KneeRPM != 0 || k.KneeDeg != 0
	switch {
	case k.AllInRPM <= k.BeginsRPM:
		return Mechanism{}, &Error{"AllInRPM", fmt.Sprintf("is %g", k.AllInRPM), fmt.Sprintf("more than %g rpm, where it begins", k.BeginsRPM), ErrMarks}
	case knee && !(k.KneeRPM > k.BeginsRPM && k.KneeRPM < k.AllInRPM):
		return Mechanism{}, &Error{"KneeRPM", fmt.Sprintf("is %g", k.KneeRPM), fmt.Sprintf("between %g and %g rpm", k.BeginsRPM, k.AllInRPM), ErrMarks}
	case knee && !(k.KneeDeg > 0 && k.KneeDeg < k.MaxDeg):
		return Mechanism{}, &Error{"KneeDeg", fmt.Sprintf("is %g", k.KneeDeg), fmt.Sprintf("between 0 and %g degrees", k.MaxDeg), ErrMarks}
	}
	m := Mechanism{Weights: k.Weights, Ratio: k.MaxDeg / swingDeg, StopDeg: k.MaxDeg}
	if m.Weights == (Weights{}) {
		m.Weights = UsualWeights()
	}
	if err := m.Validate(); err != nil {
		return Mechanism{}, err
	}
	torque := func(rpm, deg float64) float64 { return m.Weights.TorqueNm(rpm, m.swing(deg)) }
	firstRPM, firstDeg := k.AllInRPM, k.MaxDeg
	if knee {
		firstRPM, firstDeg = k.KneeRPM, k.KneeDeg
	}
	start, end := torque(k.BeginsRPM, 0), m.swing(k.MaxDeg)
	light := Spring{
		PreloadN:   start / lever,
		RateNPerM:  (torque(firstRPM, firstDeg) - start) / (lever * lever * m.swing(firstDeg)),
		PinRadiusM: lever,
	}
	m.Springs = []Spring{light}
	if knee {
		at := m.swing(k.KneeDeg)
		rest := torque(k.AllInRPM, k.MaxDeg) - start - light.RateNPerM*lever*lever*end
		if !(rest > 0) {
			return Mechanism{}, &Error{"KneeRPM", "bends the curve upwards, which a spring that takes up cannot do",
				"a curve that is less steep beyond its knee", ErrMarks}
		}
		m.Springs = append(m.Springs, Spring{
			RateNPerM:  rest / (lever * lever * (end - at)),
			SlackM:     lever * at,
			PinRadiusM: lever,
		})
	}
	// It begins at b^2+f rising and b^2-f falling; sqrt(b^2+f) - sqrt(b^2-f) = band.
	b2, band := k.BeginsRPM*k.BeginsRPM, k.BandRPM
	f := math.Sqrt(max(0, b2*b2-(b2-band*band/2)*(b2-band*band/2)))
	m.FrictionNm = start * f / b2
	if err := m.Validate(); err != nil {
		return Mechanism{}, err
	}
	if snaps, _ := m.Snaps(); len(snaps) > 0 {
		return Mechanism{}, &Error{"AllInRPM", fmt.Sprintf("makes it snap at %.0f rpm", snaps[0].AtRPM),
			fmt.Sprintf("a speed further above %g rpm, where it begins", math.Round(k.BeginsRPM)), ErrMarks}
	}
	return m, nil
}
