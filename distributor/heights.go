package distributor

import (
	"fmt"
	"math"
)

// Heights are heights along the shaft, in metres, up positive, all from one
// zero: the place on the shaft where the rotor used to seat, with the shaft in
// the middle of its end play. Of a part that is carried by the shaft the height
// is that before a trigger was fitted; Seat adds the lift.
type Heights struct {
	LiftM      float64 // how far the new sleeve holds the rotor above where it seated; 0: it bottoms as before
	BoreM      float64 // length of shaft in the rotor's bore before
	LeastBoreM float64 // least length wanted

	Blade    [2]float64 // bottom and top of the rotor tip's blade
	Contacts [2]float64 // bottom and top of the cap contacts, in the cap
	LeastM   float64    // least height by which blade and contacts are to face each other

	RotorTopM  float64 // highest point of the rotor beside the spring
	RoofM      float64 // lowest point of the cap above it
	ClearanceM float64 // least clearance wanted to the roof

	SpringM float64    // where the carbon brush meets the rotor
	Brush   [2]float64 // end of the brush: hanging free, and pushed in until it is solid

	EndPlayUpM, EndPlayDownM float64 // how far the shaft can go from the middle, both >= 0

	SleeveM    float64 // middle of the magnets as fitted
	SensorM    float64 // middle of the sensor, in the housing
	AxialMostM float64 // most offset between the two allowed; about 1 mm is common practice
}

// Seating is how rotor and trigger sit. Pairs are with the shaft at the lower
// and at the upper end of its play.
type Seating struct {
	EngagementM float64    // length of shaft left in the bore
	FacingM     [2]float64 // height by which blade and contacts face each other; negative: the gap between them
	RoofM       [2]float64 // clearance to the roof
	PressM      [2]float64 // how far the brush is pushed in; negative: it hangs free
	BrushLeftM  [2]float64 // travel the brush has left
	AxialM      [2]float64 // magnets above the sensor
	ShimM       float64    // to put under the sensor so that it sits in the middle of that; negative: under the sleeve, or off the sensor's foot
	ReliefM     float64    // to take off the underside of sleeve or rotor so that everything above fits; 0: nothing
	AxialFits   bool       // magnets within AxialMostM of the sensor over the whole end play as it is
}

// Seat works out the seating. It holds for the heights as they are; ReliefM is
// what cures it where the sleeve holds the rotor too high, and is never more
// than the lift, since less than none cannot be had.
//
// Errors, each with the Seating it is about, wrap ErrHeights (a figure that
// cannot be, no Seating then) or, where even a rotor that bottoms as before
// would not do, ErrEngagement, ErrRoof, ErrBrush or ErrContacts; ErrNoRoom if
// the end play alone is more than the sensor may be out.
func (h Heights) Seat() (Seating, error) {
	if err := h.bad(); err != nil {
		return Seating{}, err
	}
	s := Seating{EngagementM: h.BoreM - h.LiftM}
	for i, play := range [2]float64{-h.EndPlayDownM, h.EndPlayUpM} {
		up := h.LiftM + play
		s.FacingM[i] = math.Min(h.Contacts[1], h.Blade[1]+up) - math.Max(h.Contacts[0], h.Blade[0]+up)
		s.RoofM[i] = h.RoofM - (h.RotorTopM + up)
		s.PressM[i] = h.SpringM + up - h.Brush[0]
		s.BrushLeftM[i] = h.Brush[1] - (h.SpringM + up)
		s.AxialM[i] = h.SleeveM + play - h.SensorM
	}
	s.ShimM = (s.AxialM[0] + s.AxialM[1]) / 2
	s.AxialFits = math.Max(math.Abs(s.AxialM[0]), math.Abs(s.AxialM[1])) <= h.AxialMostM

	// What each asks for, all cured by bringing the rotor down.
	topFree := h.Contacts[1] - (h.Blade[0] + h.LiftM + h.EndPlayUpM) // contacts above the blade's bottom, shaft up
	for _, need := range []struct {
		short float64
		field string
		what  string
		err   error
	}{
		{h.LeastBoreM - s.EngagementM, "BoreM", "%.2f mm short even with the rotor seated as before", ErrEngagement},
		{h.ClearanceM - s.RoofM[1], "RoofM", "%.2f mm short even with the rotor seated as before", ErrRoof},
		{-s.BrushLeftM[1], "Brush", "pushed %.2f mm past solid even with the rotor seated as before", ErrBrush},
		{h.LeastM - topFree, "Contacts", "blade %.2f mm too high even with the rotor seated as before", ErrContacts},
	} {
		if need.short <= 1e-9 {
			continue
		}
		if left := need.short - h.LiftM; left > 1e-9 {
			return s, &Error{need.field, fmt.Sprintf(need.what, left*1e3), "another rotor or cap", need.err}
		}
		s.ReliefM = math.Max(s.ReliefM, need.short)
	}
	// What bringing it down may spoil: after the relief, the shaft down.
	if press := s.PressM[0] - s.ReliefM; press < -1e-9 {
		return s, &Error{"Brush", fmt.Sprintf("%.2f mm away from the rotor at the lower end of the end play", -press*1e3),
			"a brush that reaches it", ErrBrush}
	}
	down := h.LiftM - s.ReliefM - h.EndPlayDownM
	if facing := h.Blade[1] + down - h.Contacts[0]; facing < h.LeastM-1e-9 {
		return s, &Error{"Contacts", fmt.Sprintf("they face the blade by %.2f mm only at the lower end of the end play", facing*1e3),
			fmt.Sprintf("%.2f mm or more", h.LeastM*1e3), ErrContacts}
	}
	if half := (h.EndPlayUpM + h.EndPlayDownM) / 2; half > h.AxialMostM+1e-9 {
		return s, &Error{"AxialMostM", fmt.Sprintf("the end play moves the magnets by ±%.2f mm, more than the ±%.2f mm allowed", half*1e3, h.AxialMostM*1e3),
			"less end play (thrust washers)", ErrNoRoom}
	}
	return s, nil
}

func (h Heights) bad() error {
	for _, f := range []struct {
		name      string
		x         float64
		low, high float64
	}{
		{"LiftM", h.LiftM, 0, 0.05}, {"BoreM", h.BoreM, 0, 0.2}, {"LeastBoreM", h.LeastBoreM, 0, 0.2},
		{"Blade[0]", h.Blade[0], -0.2, 0.2}, {"Blade[1]", h.Blade[1], h.Blade[0], 0.2},
		{"Contacts[0]", h.Contacts[0], -0.2, 0.2}, {"Contacts[1]", h.Contacts[1], h.Contacts[0], 0.2},
		{"LeastM", h.LeastM, 0, math.Min(h.Blade[1]-h.Blade[0], h.Contacts[1]-h.Contacts[0])},
		{"RotorTopM", h.RotorTopM, -0.2, 0.2}, {"RoofM", h.RoofM, -0.2, 0.2}, {"ClearanceM", h.ClearanceM, 0, 0.05},
		{"SpringM", h.SpringM, -0.2, 0.2}, {"Brush[0]", h.Brush[0], -0.2, 0.2}, {"Brush[1]", h.Brush[1], h.Brush[0], 0.2},
		{"EndPlayUpM", h.EndPlayUpM, 0, 0.02}, {"EndPlayDownM", h.EndPlayDownM, 0, 0.02},
		{"SleeveM", h.SleeveM, -0.2, 0.2}, {"SensorM", h.SensorM, -0.2, 0.2}, {"AxialMostM", h.AxialMostM, 0, 0.05},
	} {
		if !between(f.low, f.x, f.high) {
			return &Error{f.name, fmt.Sprintf("%g m", f.x), fmt.Sprintf("%g to %g m", f.low, f.high), ErrHeights}
		}
	}
	return nil
}
