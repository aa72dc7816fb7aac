package lobes

import (
	"fmt"
	"math"
)

// Split is what two runs with the wheel clamped at different angles tell apart.
type Split struct {
	TurnedDeg float64 // by how much the wheel reads more, or less, in the second run
	Wheel     Wobble  // the wheel's own, as it stood in the first run: costs nothing at the plug
	Shaft     Wobble  // the distributor's own: bent shaft, cam ground off centre
	Cam       []Fig   // lateness of every lobe with Shaft in it: all that reaches the plugs; sums to zero
}

// leastTurned keeps the two vectors apart: at 30° what they tell is twice as
// uncertain as what either run tells, at 180° less than that.
const leastTurned = 30

// Reclamped tells a wheel that is off centre from a shaft or cam that is, by a
// second run for which the wheel, and nothing else, was turned on the shaft;
// readings are left as they are, not set to zero anew: by how much the wheel
// was turned follows from them. Half a turn is best.
//
// Written as a vector, cosine half and sine half, the first run's wobble is
// S + W; turning the wheel by D turns its part back by D, so the second's is
// S + W exp(-iD). Hence W = (w2-w1)/(exp(-iD)-1), S = w1-W. Four lobes or more.
func Reclamped(first, second Run, ideal []float64, accuracy float64) (Split, error) {
	a, b, err := pair(first, second, ideal, accuracy)
	if err != nil {
		return Split{}, err
	}
	l := len(ideal)
	if l < 4 {
		return Split{}, &Error{"ideal", fmt.Sprintf("%d lobes", l), "four or more: with fewer a wobble cannot be told from the cam", ErrIdeal}
	}
	centre, cos, sin := circle(ideal)
	turned := wrap(b.late.ref + dot(centre, b.m) - a.late.ref - dot(centre, a.m))
	if math.Abs(turned) < leastTurned {
		return Split{}, &Error{"second run", fmt.Sprintf("the wheel was turned by %.3g°", turned),
			fmt.Sprintf("%d° or more, best 180°", leastTurned), ErrClamp}
	}
	// k = 1/(exp(-iD)-1) = kr + i·ki; a vector times k is its matrix.
	d := turned * math.Pi / 180
	er, ei := math.Cos(d)-1, -math.Sin(d)
	size2 := er*er + ei*ei
	kr, ki := er/size2, -ei/size2
	// Everything is linear in both runs' m: weights wa and wb.
	wheel := [2][2][]float64{} // [cos, sin][first, second]
	mix := func(x, y float64) []float64 {
		w := make([]float64, l)
		for i := range w {
			w[i] = x*cos[i] + y*sin[i]
		}
		return w
	}
	wheel[0] = [2][]float64{mix(-kr, ki), mix(kr, -ki)}
	wheel[1] = [2][]float64{mix(-ki, -kr), mix(ki, kr)}
	shaft := [2][2][]float64{
		{mix(1+kr, -ki), mix(-kr, ki)},
		{mix(ki, 1+kr), mix(-ki, -kr)},
	}
	t := student(0.975, min(a.nu, b.nu))
	told := func(w [2][2][]float64) Wobble {
		cov := through([][]float64{pad(w[0][0]), pad(w[1][0])}, a.cov)
		for i, row := range through([][]float64{pad(w[0][1]), pad(w[1][1])}, b.cov) {
			for j, v := range row {
				cov[i][j] += v
			}
		}
		return wobble(dot(w[0][0], a.m)+dot(w[0][1], b.m), dot(w[1][0], a.m)+dot(w[1][1], b.m), cov, t)
	}
	s := Split{TurnedDeg: turned, Wheel: told(wheel), Shaft: told(shaft), Cam: make([]Fig, l)}
	// Cam: half of each run's own after wobble, and the shaft's.
	wa, wb := square(l), square(l)
	for j, deg := range ideal {
		sn, cs := math.Sincos(deg * math.Pi / 180)
		for i := range l {
			own := -(centre[i] + cs*cos[i] + sn*sin[i]) / 2
			if i == j {
				own += 0.5
			}
			wa[j][i] = own + cs*shaft[0][0][i] + sn*shaft[1][0][i]
			wb[j][i] = own + cs*shaft[0][1][i] + sn*shaft[1][1][i]
		}
	}
	for i := range l { // sums to zero, on uneven lobes too
		var ma, mb float64
		for j := range l {
			ma, mb = ma+wa[j][i]/float64(l), mb+wb[j][i]/float64(l)
		}
		for j := range l {
			wa[j][i] -= ma
			wb[j][i] -= mb
		}
	}
	for j := range l {
		s.Cam[j] = around(dot(wa[j], a.m)+dot(wb[j], b.m), t*math.Hypot(a.se(wa[j]), b.se(wb[j])))
	}
	return s, nil
}
