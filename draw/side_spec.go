package draw

// DistributorSideSpec is a distributor cut through its shaft, seen from the
// side. Heights are in metres along the shaft, upwards from wherever the
// caller likes; radii in metres from its middle. The rotor's tip and the
// contact it sparks to are drawn on the left, the sensor on the right. What
// is nil is not drawn.
type DistributorSideSpec struct {
	Title string
	W     float64 // width of the picture; 0 means 620

	ShaftRadiusM float64
	ShaftTop     float64 // height of the shaft's end
	Plate        *SideBody
	Sleeve       *SideBody // what carries the magnets on the shaft
	Ring         *SideBody // magnets, lobes or teeth
	Sensor       *SideBody
	Rotor        SideRotor
	Contact      SideBody // in the cap: InnerM is its face
	RoofHeight   float64  // inside of the cap above the rotor
	Brush        *SideBody
	Gaps         []SideGap
	Notes        []string
}

// SideBand is a stretch of the shaft's length, From below To.
type SideBand struct{ From, To float64 }

// SideBody is a body between two radii and two heights.
type SideBody struct {
	InnerM, OuterM float64 // InnerM may be 0
	Band           SideBand
	Name           string
	Value          Figure
}

// SideRotor is the rotor arm on the shaft.
type SideRotor struct {
	RadiusM    float64  // of the moulding
	Band       SideBand // of the moulding, from its skirt to its top
	BoreTop    float64  // height of the bore's end, within Band
	Tip        SideBand // of the blade at its end
	TipRadiusM float64
	LiftM      float64 // stands higher than it did before; 0: its old place is not drawn
	Name       string
	Value      Figure
}

// SideGap is a measure between two heights, or Across between two radii, with
// a double arrow.
type SideGap struct {
	ID       string // the group is "gap-" and this; empty: the index
	Name     string // "contact hidden by the tip"
	Across   bool
	At       float64 // radius at which it is drawn, below 0 on the left; Across: the height
	From, To float64 // heights; Across: radii, both below 0 on the left
	Value    Figure
}
