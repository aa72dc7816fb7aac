package curve

import (
	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/twin"
)

// Settings say how a curve is worked out.
type Settings struct {
	Draws int
	Seed  uint64
	// Wanted, when not nil, takes the place of the file's wanted points: what
	// a person tries out.
	Wanted []Point
}

// DefaultDraws is how many cars are drawn where nothing else is asked.
const DefaultDraws = 1000

// Point is a wanted advance: crank degrees before top dead centre at crank
// rpm, initial included, vacuum hose off.
type Point struct {
	RPM, Advance, Tolerance float64
}

// Curve is the advance of a car over speed and load. Advance is crank degrees
// before top dead centre, speed crank rpm.
type Curve struct {
	Car       *car.Car
	Draws     int
	Seed      uint64
	Mechanism advance.Mechanism // the middle one: estimated from the readings where there are any
	Estimated *advance.Estimated
	Initial   twin.Interval
	Speeds    []float64
	Off       []advance.Band  // centrifugal and initial, hose off, middle mechanism, crank degrees
	Spread    []twin.Interval // of Off.Mid, 95 % of the mechanisms that agree with what is known
	Measured  []Measured
	Wanted    []Wanted
	Builds    []advance.Build
	Vacuum    Vacuum
	Load      Load
	Cautions  []string
	Stop      twin.Interval // all in, crank degrees with initial
	AllIn     float64       // crank rpm from which nothing more comes, middle mechanism; NaN: never below the top of Speeds
	Begins    float64       // crank rpm at which it begins

	pool []advance.Draw // mechanisms that agree with what is known
	mid  *car.Car       // the middle car
}

// Measured is a reading of the curve beside what the model gives there.
type Measured struct {
	RPM, Advance, PM float64
	Going            int8
	Model            float64
	Run              int // index of the run in the file
}

// Wanted is a wanted point and how the car stands to it.
type Wanted struct {
	Point
	Model  twin.Interval
	Inside float64 // share of the mechanisms that are inside the tolerance
}

// Vacuum is the can: what it feels and gives in each condition with the engine
// running.
type Vacuum struct {
	Source    advance.Source
	AmbientPa float64
	Can       advance.Can
	At        []VacuumAt
	// Reached is the share of the can's travel the deepest of these draws.
	Reached float64
}

// VacuumAt is one condition.
type VacuumAt struct {
	Condition, Name string
	RPM             float64
	FeltPa          twin.Interval // below the air outside
	Advance         twin.Interval // crank degrees, of the can alone
	Total           twin.Interval // crank degrees, all of it
}

// Load is the total over speed and manifold pressure, middle car.
type Load struct {
	RPM, ManifoldPa []float64
	Total           [][]float64 // [manifold][rpm]
}
