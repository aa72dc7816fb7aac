package draw

// DistributorTopSpec is a distributor seen from above with the cap off. Every
// angle is in degrees clockwise from the front of the car, which is up in the
// picture; every length is in metres. What is nil is not drawn.
type DistributorTopSpec struct {
	Title    string
	W        float64 // width of the picture; 0 means 620
	Front    string  // words at the top; empty means "front of the car"
	Rotation int8    // of the rotor seen from above: +1 clockwise, -1 anticlockwise

	HousingRadiusM   float64 // the body's outside
	HousingAt        float64 // where the housing's own zero points; marked by a notch
	ClampRadiusM     float64 // where a turn of the housing is measured; 0: no clamp circle
	ElectrodeRadiusM float64 // faces of the cap's electrodes
	ElectrodeWidthM  float64 // along the circle
	Towers           []TopTower

	Rotor   TopRotor
	Full    *TopAngle // the rotor at full vacuum, dotted, and its way there
	Window  *TopWindow
	Trigger *TopTrigger
	Ring    *TopRing
	Pivot   *TopPivot

	Can       *TopArc  // turns with the housing
	Obstacles []TopArc // where the can may not stand
	Turn      *TopTurn
	Leads     int    // towers each lead moves on, in the direction of rotation; 0: none does
	LeadsText string // words in the list; empty: "each lead moves on by +1 tower"
	Notes     []string
}

// TopTower is one electrode of the cap and the lead above it.
type TopTower struct {
	Angle float64
	Label string // in the tower: the cylinder; two or three characters
	Lead  string // at the end of its lead, "cyl 3"; empty: none
	First bool   // fires first
	Order int    // 1 for the first to fire, 2, ...; 0: not said
}

// TopRotor is the rotor at the moment of firing.
type TopRotor struct {
	Angle      float64 // middle of the tip
	TipRadiusM float64
	TipWidthM  float64 // along the circle
	Name       string  // empty: "rotor as the spark jumps"
	Value      Figure
}

// TopAngle is a second direction of the rotor. The way there is drawn from
// Rotor.Angle, the shorter way round.
type TopAngle struct {
	Angle float64
	Name  string // empty: "rotor at full vacuum"
	Value Figure
}

// TopWindow is how far the tip's middle may stand to either side of a tower
// while the two still overlap.
type TopWindow struct {
	Tower   int     // index into Towers
	HalfDeg float64 // above 0
	Name    string  // empty: "tip and tower overlap"
	Value   Figure
}

// TopTrigger is the sensor, or the rubbing block of points.
type TopTrigger struct {
	Angle   float64
	RadiusM float64 // of the face
	WidthM  float64 // along the circle
	DepthM  float64 // from the face outwards
	Name    string  // empty: "trigger"
	Short   string  // beside it in the picture; empty: "trigger"
	Value   Figure
}

// TopRing is what the trigger sees: magnets on a ring, or lobes on a cam.
type TopRing struct {
	RadiusM     float64 // outside
	Angles      []float64
	Lobes       bool // a cam with lobes instead of magnets
	Alternating bool // magnets show north and south by turns: filled and open
	Name        string
	Value       Figure
}

// TopPivot is the pin a plate swings about that does not turn about the shaft.
type TopPivot struct {
	RadiusM, Angle float64
	Name           string // empty: "pin the plate swings on"
	Value          Figure
}

// TopArc is what stands outside the housing, clockwise From to To with
// 0 < To-From < 360.
type TopArc struct {
	ID       string // obstacles: the group is "obstacle-" and this; empty: the index
	Name     string
	From, To float64
	Value    Figure
}

// TopTurn is a turn of the housing from one direction to another, clockwise
// when To > From, drawn along the clamp circle. The can's new place follows.
type TopTurn struct {
	From, To float64
	Name     string // empty: "turn the housing"
	Short    string // beside the arrow, "25° clockwise"; empty: only the letter
	Value    Figure // "25° clockwise, 14.0 mm at the clamp"
}

// Placed says how a picture lies in its scene, for a script that turns or
// moves what is in it.
type Placed struct {
	Scale float64 // user units to the metre
	X, Y  float64 // the shaft's centre; in a side view the shaft's middle and height 0
}
