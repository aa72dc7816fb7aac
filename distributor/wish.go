package distributor

import "fmt"

// Move is a set of changes made to a distributor. Which sum of them gives a
// wanted timing is exact: to first place by the sum, with s the rotation, the
// advance of No. 1 rises by
//
//	−2·s·Housing − 2·s·Trigger + 2·s·Sleeve + 2·Mesh·360/Teeth − Leads·720/N
//
// crank degrees (evenly spaced towers, and no spark sent to another tower by
// the trigger's or sleeve's move).
type Move struct {
	Housing float64 // degrees clockwise
	Leads   int     // towers in the direction of rotation
	Mesh    int     // teeth of the drive in the direction of rotation
	Trigger float64 // on its plate, degrees clockwise
	Sleeve  float64 // on the shaft, degrees clockwise
}

// Wish is a timing that is wanted and what may be done for it.
type Wish struct {
	Advance    float64 // of No. 1, crank degrees before top dead centre, -360 to 360
	C, V       float64 // centrifugal advance and swing of the plate present when it is read, distributor degrees
	SpareKV    float64 // what the coil has over what the plugs ask
	KVPerMM    float64 // for a millimetre of air between tip and contact; 0: UsualKVPerMM
	ScatterDeg float64 // of the drive, ± distributor degrees

	MayLift        bool // the distributor may be lifted out: another tooth, or past an obstacle
	MayMoveLeads   bool
	MayMoveTrigger bool // trigger, or sleeve, within their ranges
}

func (w Wish) bad(travel float64) error {
	for _, f := range []struct {
		name         string
		x, low, high float64
		unit         string
	}{
		{"Advance", w.Advance, -360, 360, "crank degrees"},
		{"C", w.C, 0, 90, "distributor degrees"},
		{"V", w.V, 0, travel, "distributor degrees, no more than VacuumTravel"},
		{"SpareKV", w.SpareKV, 0, 100, "kV"},
		{"KVPerMM", w.KVPerMM, 0, 100, "kV/mm (0: the usual)"},
		{"ScatterDeg", w.ScatterDeg, 0, 45, "distributor degrees"},
	} {
		if !between(f.low, f.x, f.high) {
			return &Error{"Wish." + f.name, fmt.Sprintf("%g", f.x), fmt.Sprintf("%g to %g %s", f.low, f.high, f.unit), ErrWish}
		}
	}
	return nil
}
