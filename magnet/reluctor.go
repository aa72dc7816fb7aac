package magnet

import (
	"fmt"
	"math"
)

// Reluctor is a toothed iron wheel that passes a coil on a magnet: a variable
// reluctance trigger. It has no current of its own to switch; what it gives is
// a voltage that grows with speed.
//
// The flux through the coil is taken as a constant and a pulse for each tooth,
// a raised cosine one tooth wide to each side:
//
//	Phi(x) = FluxWb exp(-gap/tau) (1 + cos(pi x/ToothM))/2,  |x| < ToothM
//
// with tau = ToothM/pi: the field of a pole face of that width dies away over
// its wavelength of two widths as any periodic potential does (Laplace). The
// law's shape is right, its flux is a figure to be measured: a tooth one gap
// away gives 1/e less for every tau, whatever the flux.
//
// Open circuit: the coil's own inductance and the amplifier's input load it,
// at speeds far above cranking.
type Reluctor struct {
	Teeth   int     // as many as lobes
	RadiusM float64 // shaft's axis to the tips of the teeth
	ToothM  float64 // width of a tip, and of the pole piece it passes
	FluxWb  float64 // swing of the flux from between teeth to a tooth with no gap
	Turns   float64 // of the coil
}

// Validate refuses a reluctor that cannot be, with an [*Error] of
// [ErrReluctor].
func (r Reluctor) Validate() error {
	if r.Teeth < 1 || r.Teeth > mostPoles {
		return check(ErrReluctor, figure{"Reluctor.Teeth", float64(r.Teeth), false, "1 to 64"})
	}
	return check(ErrReluctor,
		figure{"Reluctor.RadiusM", r.RadiusM, within(r.RadiusM, 1e-3, mostM), "0.001 to 0.5 m"},
		figure{"Reluctor.ToothM", r.ToothM, within(r.ToothM, 1e-4, r.PitchM()/2), "0.0001 m to half the pitch of the teeth, pi RadiusM/Teeth"},
		figure{"Reluctor.FluxWb", r.FluxWb, within(r.FluxWb, 1e-9, 1e-2), "1e-9 to 0.01 Wb"},
		figure{"Reluctor.Turns", r.Turns, within(r.Turns, 1, 1e6), "1 to 1,000,000"},
	)
}

// PitchM is the arc from tooth to tooth at their tips, m.
func (r Reluctor) PitchM() float64 { return 2 * math.Pi * r.RadiusM / float64(r.Teeth) }

// TauM is the gap over which the voltage falls to 1/e, m.
func (r Reluctor) TauM() float64 { return r.ToothM / math.Pi }

// EMF is the peak of the coil's voltage on open circuit, V, at a gap (m) and a
// speed of the distributor (rpm): Turns dPhi/dt at its steepest,
//
//	Turns FluxWb exp(-gap/tau) pi/(2 ToothM) v,  v = 2 pi RadiusM n/60
//
// NaN for a reluctor that Validate refuses, or a gap below zero.
func (r Reluctor) EMF(gapM, shaftRPM float64) float64 {
	if r.Validate() != nil || !(gapM >= 0) {
		return math.NaN()
	}
	v := 2 * math.Pi * r.RadiusM * math.Abs(shaftRPM) / 60
	return r.Turns * r.FluxWb * math.Exp(-gapM/r.TauM()) * math.Pi / (2 * r.ToothM) * v
}

// LargestGap is the gap (m) up to which the coil gives the threshold (V) at a
// speed of the distributor (rpm): cranking decides.
//
// Errors: of Validate; [ErrNeverFires] where the voltage is short of the
// threshold with no gap at all.
func (r Reluctor) LargestGap(thresholdV, shaftRPM float64) (float64, error) {
	if err := r.Validate(); err != nil {
		return 0, err
	}
	if err := check(ErrReluctor,
		figure{"thresholdV", thresholdV, within(thresholdV, 1e-6, 1e4), "0.000001 to 10,000 V"},
		figure{"shaftRPM", shaftRPM, within(shaftRPM, 1e-3, 1e5), "0.001 to 100,000 rpm"},
	); err != nil {
		return 0, err
	}
	most := r.EMF(0, shaftRPM)
	if most < thresholdV {
		return 0, &Error{
			Field: "Reluctor", Kind: ErrNeverFires,
			What:   fmt.Sprintf("%.3g V with no gap at %.3g rpm, %.3g V needed", most, shaftRPM, thresholdV),
			Accept: "a faster start, more turns or a lower threshold",
		}
	}
	return r.TauM() * math.Log(most/thresholdV), nil
}
