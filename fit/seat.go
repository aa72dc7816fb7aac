package fit

import (
	"math"

	"dwellwright/distributor"
	"dwellwright/twin"
)

// Seat is how rotor and sleeve sit on the shaft: lengths in m, each the worst
// over the end play.
type Seat struct {
	Heights    distributor.Heights // of the middle car
	Middle     distributor.Seating
	Refused    error         // what even a rotor seated as before does not mend
	Lift       twin.Interval // by which the sleeve holds the rotor up
	Engagement twin.Interval // shaft left in the rotor's bore
	Least      float64       // wanted of it
	Roof       twin.Interval // free under the cap, shaft up
	Facing     twin.Interval // height by which tip and contact face each other, least
	Axial      twin.Interval // magnets out of line with the sensor, most, either way; zero with points
	AxialMost  float64
	Fits       float64 // share of the drawn cars in which all of it is right
}

func (f *Fit) seat() (*Seat, error) {
	s := twin.NewSampler(f.Car, f.Seed)
	s.Draw(0)
	h := twin.Heights(s.Car)
	mid, refused := h.Seat()
	out := &Seat{Heights: h, Middle: mid, Refused: refused, Least: h.LeastBoreM, AxialMost: h.AxialMostM}
	var lift, bore, roof, face, axial []float64
	fits, counted := 0, 0
	for k := 1; k <= f.Draws; k++ {
		s.Draw(k)
		h := twin.Heights(s.Car)
		g, err := h.Seat()
		if g == (distributor.Seating{}) { // out of the far tail: no such heights
			continue
		}
		counted++
		if err == nil && g.ReliefM == 0 && (g.AxialFits || f.Gap == nil) {
			fits++
		}
		lift, bore, roof = append(lift, h.LiftM), append(bore, g.EngagementM), append(roof, g.RoofM[1])
		face, axial = append(face, least(g.FacingM)), append(axial, mostOff(g.AxialM))
	}
	out.Lift, out.Engagement = twin.Middle95(h.LiftM, lift), twin.Middle95(mid.EngagementM, bore)
	out.Roof, out.Facing = twin.Middle95(mid.RoofM[1], roof), twin.Middle95(least(mid.FacingM), face)
	if f.Gap != nil {
		out.Axial = twin.Middle95(mostOff(mid.AxialM), axial)
	}
	if counted > 0 {
		out.Fits = float64(fits) / float64(counted)
	} else if refused == nil && mid.ReliefM == 0 && (mid.AxialFits || f.Gap == nil) {
		out.Fits = 1
	}
	return out, nil
}

func least(x [2]float64) float64 { return math.Min(x[0], x[1]) }

func mostOff(x [2]float64) float64 { return math.Max(math.Abs(x[0]), math.Abs(x[1])) }
