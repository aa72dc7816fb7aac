package car

import (
	"math"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// Distributor is how the distributor stands in the engine, how its cap is
// wired and how far its parts can be moved. Angles are in distributor degrees,
// clockwise seen from above the cap; those "from the can" count from the
// centre line of the vacuum can.
type Distributor struct {
	Given          bool // the file has a distributor section
	Rotation       Rotation
	RotationOrigin Origin

	FiringOrder []int // cylinders as they fire
	OrderOrigin Origin
	Intervals   []float64 // crank degrees from each firing to the next, in the firing order; empty: even
	Towers      []float64 // degrees in the direction of rotation from No. 1's tower; empty: as the firings
	Leads       []int     // cylinder whose lead sits in each tower, from No. 1's in the direction of rotation; empty: the firing order
	FirstTower  Param     // degrees from the can to No. 1's tower

	CanAt       Param // where the can points, degrees from straight ahead
	CanWidth    Param // degrees it takes, hose nipple included
	Drive       DriveKind
	DriveOrigin Origin
	Teeth       int // places in which the drive can mesh
	TeethOrigin Origin
	Scatter     Param // degrees of the rotor at the spark, half-width of 95 %
	ClampRadius Param // m, where a turn of the housing is measured

	Obstacles []Obstacle
	Clear     Param // degrees to keep between can and obstacle

	TipRadius      Param // m, shaft to the rotor's tip; the cap's electrodes stand Cap.RotorGap further out
	TipWidth       Param // m, along the circle
	ElectrodeWidth Param // m, along the circle
	PlatePivot     Param // m, shaft to the pin that the breaker plate swings on; 0: turns about the shaft
	PlatePivotAt   Param // degrees from the can
	BlockAt        Param // degrees from the can to the rubbing block of the points, or the middle between two
	TriggerAt      Param // degrees from the can to where the trigger stands or would stand
	Phase          Param // degrees the rotor is past its tower at the spark with points, vacuum off; past is in the direction of rotation
	TriggerSlot    Param // degrees the trigger can be moved on its plate, each way
	SleeveTurn     Param // degrees the sleeve can be turned on the shaft, each way
	SidePlay       Param // m, whole movement of the shaft at the cam
	EndPlay        Param // m, whole movement of the shaft along itself

	SetsApart Param // degrees by which the second of two sets of points opens after the first; 0 for one set
	DwellEach Param // degrees closed for each lobe, of either of two sets alone; 0 for one set
}

// Rotation is which way the rotor turns, seen from above the cap.
type Rotation uint8

const (
	Clockwise Rotation = iota
	Anticlockwise
)

// DriveKind is what turns the distributor.
type DriveKind uint8

const (
	GearDrive   DriveKind = iota // meshes in as many places as it has teeth
	OffsetTang                   // goes in one way only
	CentredTang                  // goes in two ways, half a turn apart
)

// Obstacle is an arc, clockwise from straight ahead, in which the can may not
// stand.
type Obstacle struct {
	ID, Name string
	From, To Param // degrees clockwise from straight ahead; the arc runs clockwise from From to To
}

// usualOrders are the firing orders taken when none is said [mem]: the
// commonest for their number of cylinders, and to be proven on the car.
func usualOrder(cylinders int) []int {
	switch cylinders {
	case 4:
		return []int{1, 3, 4, 2}
	case 6:
		return []int{1, 5, 3, 6, 2, 4}
	}
	return []int{1, 8, 4, 3, 6, 5, 7, 2}
}

// usualTeeth are the places in which a drive can mesh [cp]: 11 to 15 teeth on
// the distributor's gear.
var usualTeeth = [...]int{GearDrive: 13, OffsetTang: 1, CentredTang: 2}

func dualOnly(f facts) string {
	if f.switchKind != DualPoints && f.switchKind != unreadable {
		return "only dual points have two sets"
	}
	return ""
}

// dual makes a typical value that only dual points have.
func dual(four, six, eight units.Value) func(facts) units.Value {
	return func(f facts) units.Value {
		if f.switchKind != DualPoints {
			return exactly(0)
		}
		return f.n(four, six, eight)
	}
}

var distributorTable = allLate([]entry[Distributor]{
	{
		name: "rotation", form: wordForm, words: rotationWords,
		doc: "which way the rotor turns, seen from above; clockwise when not said. A vacuum can pulls its plate the other way",
		read: func(r *reader, n *yaml.Node, path string, d *Distributor) {
			if w, ok := readWord[Rotation](r, n, path, rotationWords); ok {
				d.Rotation, d.RotationOrigin = w, Stated
			}
		},
	},
	{
		name: "firing_order", form: orderForm,
		doc: "the cylinders as they fire; when not said 1-3-4-2, 1-5-3-6-2-4 or 1-8-4-3-6-5-7-2, to be proven on the car",
		read: func(r *reader, n *yaml.Node, path string, d *Distributor) {
			if list, ok := r.order(n, path); ok {
				d.FiringOrder, d.OrderOrigin = list, Stated
			}
		},
	},
	{
		name: "intervals", form: anglesForm, kind: units.CrankAngle,
		doc:  "crank degrees from each firing to the next, in the firing order, the last back to the first; even when not said",
		read: readIntervals,
	},
	{
		name: "towers", form: anglesForm, kind: units.DistributorAngle,
		doc:  "where each tower stands, in the direction of rotation from No. 1's, which is 0; as the firings when not said",
		read: readTowers,
	},
	{
		name: "leads", form: orderForm,
		doc: "the cylinder whose lead sits in each tower, from No. 1's in the direction of rotation; the firing order when not said",
		read: func(r *reader, n *yaml.Node, path string, d *Distributor) {
			if list, ok := r.order(n, path); ok {
				d.Leads = list
			}
		},
	},
	{
		name: "first_tower", kind: units.DistributorAngle, low: 0, high: 360, plain: 3, amount: true,
		doc:     "No. 1's tower, clockwise from the middle of the vacuum can; typical only so that it can be drawn",
		param:   func(d *Distributor) *Param { return &d.FirstTower },
		typical: always(about(45, 10)), // for the drawing
	},
	{
		name: "can_at", kind: units.DistributorAngle, low: 0, high: 360, plain: 3, amount: true,
		doc:     "where the vacuum can points (the primary terminal where there is none), clockwise from straight ahead; typical only so that it can be drawn",
		param:   func(d *Distributor) *Param { return &d.CanAt },
		typical: always(about(90, 10)), // for the drawing
	},
	{
		name: "can_width", kind: units.DistributorAngle, low: 0, high: 180, plain: 0.1,
		doc:     "angle that the can takes up, hose nipple included",
		param:   func(d *Distributor) *Param { return &d.CanWidth },
		typical: always(about(50, 10)), // [mem] 60 to 80 mm across at 80 mm from the shaft
	},
	{
		name: "drive", form: wordForm, words: driveWords,
		doc: "what turns the distributor: a gear, a tang that goes in one way, or one that goes in two; gear when not said",
		read: func(r *reader, n *yaml.Node, path string, d *Distributor) {
			if w, ok := readWord[DriveKind](r, n, path, driveWords); ok {
				d.Drive, d.DriveOrigin = w, Stated
				d.Teeth = usualTeeth[w]
			}
		},
	},
	{
		name: "teeth", form: countForm,
		doc: "places in which the drive can mesh: teeth of the distributor's gear; when not said 13, or 1 and 2 for a tang that is offset or centred",
		read: func(r *reader, n *yaml.Node, path string, d *Distributor) {
			if k, ok := r.count(n, path, 1, 100); ok {
				d.Teeth, d.TeethOrigin = k, Stated
			}
		},
	},
	{
		name: "scatter", kind: units.DistributorAngle, low: 0, high: 20, plain: 0.2,
		doc:     "how far the rotor strays at the spark either way, from slack in gear and chain",
		param:   func(d *Distributor) *Param { return &d.Scatter },
		typical: always(about(1, 0.5)), // [cp] gear backlash is 1 to 3 degrees of the rotor in all
	},
	{
		name: "clamp_radius", kind: units.Length, low: 5e-3, high: 100e-3, plain: 0.03,
		doc:     "from the shaft to where a turn of the housing is measured, at the clamp",
		param:   func(d *Distributor) *Param { return &d.ClampRadius },
		typical: always(about(32e-3, 4e-3)), // [mem]
	},
	{
		name: "obstacles", form: idMapForm, inner: lines(obstacleTable),
		doc:  "what the can may not run into, by id: hose, manifold, firewall",
		read: readObstacles,
	},
	{
		name: "clear", kind: units.DistributorAngle, low: 0, high: 60,
		doc:     "least room to keep between can and obstacle",
		param:   func(d *Distributor) *Param { return &d.Clear },
		typical: always(exactly(3)), // a wish
	},
	{
		name: "tip_radius", kind: units.Length, low: 5e-3, high: 100e-3, plain: 0.02,
		doc:     "from the shaft to the rotor's tip",
		param:   func(d *Distributor) *Param { return &d.TipRadius },
		typical: always(about(26e-3, 3e-3)), // [mem] 25 to 30 mm
	},
	{
		name: "tip_width", kind: units.Length, low: 0.5e-3, high: 40e-3, plain: 0.05,
		doc:     "width of the rotor's tip along the circle",
		param:   func(d *Distributor) *Param { return &d.TipWidth },
		typical: always(about(6e-3, 2e-3)), // [mem]
	},
	{
		name: "electrode_width", kind: units.Length, low: 0.5e-3, high: 40e-3, plain: 0.05,
		doc:     "width of a tower's electrode in the cap along the circle",
		param:   func(d *Distributor) *Param { return &d.ElectrodeWidth },
		typical: always(about(5e-3, 1.5e-3)), // [mem]
	},
	{
		name: "plate_pivot", kind: units.Length, low: 0, high: 60e-3, plain: 0.03,
		doc:     "from the shaft to the pin on which the breaker plate swings; 0, and when not said, if it turns about the shaft",
		param:   func(d *Distributor) *Param { return &d.PlatePivot },
		typical: always(exactly(0)),
	},
	{
		name: "plate_pivot_at", kind: units.DistributorAngle, low: 0, high: 360, plain: 3, amount: true,
		doc:     "where that pin is, clockwise from the can",
		param:   func(d *Distributor) *Param { return &d.PlatePivotAt },
		typical: always(exactly(0)),
	},
	{
		name: "block_at", kind: units.DistributorAngle, low: 0, high: 360, plain: 3, amount: true,
		doc:     "where the rubbing block of the points stands, or the middle between two, clockwise from the can; typical only so that it can be drawn",
		param:   func(d *Distributor) *Param { return &d.BlockAt },
		typical: always(about(90, 10)), // for the drawing
	},
	{
		name: "trigger_at", kind: units.DistributorAngle, low: 0, high: 360, plain: 3, amount: true,
		doc:     "where the trigger stands or would stand, clockwise from the can; typical only so that it can be drawn",
		param:   func(d *Distributor) *Param { return &d.TriggerAt },
		typical: always(about(90, 10)), // for the drawing
	},
	{
		name: "phase", kind: units.DistributorAngle, low: -60, high: 60, plain: 1, amount: true,
		doc:     "how far the rotor's tip is past its tower at the spark with the points as built and no vacuum; below 0 before it; half the vacuum's travel when not said",
		param:   func(d *Distributor) *Param { return &d.Phase },
		typical: always(about(4, 3)), // [mem] half the vacuum's travel, see settlePhase; as built, within half a tip's width
	},
	{
		name: "trigger_slot", kind: units.DistributorAngle, low: 0, high: 60,
		doc:     "how far the trigger can be moved round on its plate, each way; 0 when not said",
		param:   func(d *Distributor) *Param { return &d.TriggerSlot },
		typical: always(exactly(0)),
	},
	{
		name: "sleeve_turn", kind: units.DistributorAngle, low: 0, high: 180,
		doc:     "how far the trigger's sleeve can be turned on the shaft, each way; 0, keyed, when not said",
		param:   func(d *Distributor) *Param { return &d.SleeveTurn },
		typical: always(exactly(0)),
	},
	{
		name: "side_play", kind: units.Length, low: 0, high: 3e-3, plain: 0.2,
		doc:     "sideways movement of the shaft at the cam, from stop to stop",
		param:   func(d *Distributor) *Param { return &d.SidePlay },
		typical: always(about(0.05e-3, 0.03e-3)), // [cp] new 0.02 to 0.07 mm, past use over 0.15 mm
	},
	{
		name: "end_play", kind: units.Length, low: 0, high: 5e-3, plain: 0.2,
		doc:     "movement of the shaft along itself, from stop to stop",
		param:   func(d *Distributor) *Param { return &d.EndPlay },
		typical: always(about(0.3e-3, 0.15e-3)), // [cp] 0.1 to 0.9 mm by design
	},
	{
		name: "sets_apart", kind: units.DistributorAngle, low: 0, high: 60, plain: 0.5, amount: true,
		doc:   "dual points: how much later the second set opens than the first",
		param: func(d *Distributor) *Param { return &d.SetsApart },
		// [calc] the usual dwell of both less that of each.
		typical: dual(about(11, 4), about(7, 3), about(7, 2)),
		unfit:   dualOnly,
	},
	{
		name: "dwell_each", kind: units.DistributorAngle, low: 1, high: 90, plain: 0.03,
		doc:   "dual points: dwell of each set alone",
		param: func(d *Distributor) *Param { return &d.DwellEach },
		// [mem] like that of single points.
		typical: dual(about(52, 4), about(38, 3), about(31, 2.5)),
		unfit:   dualOnly,
	},
})

var obstacleTable = allLate([]entry[Obstacle]{
	{
		name: "name", form: textForm, doc: "in words",
		read: func(r *reader, n *yaml.Node, path string, o *Obstacle) {
			if s, ok := r.text(n, path); ok {
				o.Name = s
			}
		},
	},
	{
		name: "from", kind: units.DistributorAngle, low: 0, high: 360, plain: 2, amount: true,
		doc:     "where it begins, clockwise from straight ahead",
		param:   func(o *Obstacle) *Param { return &o.From },
		typical: always(exactly(0)), // always said
	},
	{
		name: "to", kind: units.DistributorAngle, low: 0, high: 360, plain: 2, amount: true,
		doc:     "where it ends, going on clockwise",
		param:   func(o *Obstacle) *Param { return &o.To },
		typical: always(exactly(0)), // always said
	},
})

// readObstacles reads the obstacles, each with from and to.
func readObstacles(r *reader, n *yaml.Node, path string, d *Distributor) {
	r.idMap(n, path, func(id string, _, v *yaml.Node, path string) {
		o := Obstacle{ID: id, Name: inWords(id)}
		fill(obstacleTable, r.facts, &o)
		if !readSection(r, v, path, obstacleTable, &o) || !r.needs(v, path, "from", "to") {
			return
		}
		if o.From.Origin != Assumed && o.To.Origin != Assumed && math.Mod(o.To.X-o.From.X, turn) == 0 {
			r.at(o.To.Pos, path+".to", "from and to are the same, which is no arc or all round", "two places")
		}
		d.Obstacles = append(d.Obstacles, o)
	})
}

// fillDistributor puts typical figures into a distributor.
func fillDistributor(f facts, d *Distributor) {
	fill(distributorTable, f, d)
	d.FiringOrder = usualOrder(f.cylinders)
	d.Teeth = usualTeeth[d.Drive]
}
