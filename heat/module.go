package heat

import "math"

// The order of a [Module]'s nodes.
const (
	Junction = iota // the switch's die
	Base            // the module's own metal
	Plate           // the breaker plate it is screwed to
	Body            // the distributor's housing
)

// The order of the given temperatures of [Module] and [CoilCan].
const (
	BayAir = iota // air under the bonnet
	Block         // the engine, where the housing or bracket is clamped
)

// Module is an electronic switch in a distributor, as a ladder from the
// junction to the air and the block:
//
//	junction — base — breaker plate — body — bay air
//	                                      \— block, through the housing clamp
//
// The figures spread widely from car to car; those named are from memory, and
// half or double is usual. Only a thermometer on the base of the real module
// settles them. Left out: air and radiation from base and plate straight to
// the cap's inside (a few tens of K/W each, so that a module runs a little
// cooler than here), and heat from the coil's lead and the cam.
type Module struct {
	JunctionBaseKPerW float64 // 1 to 3: the switch's case and how it is bonded
	BasePlateKPerW    float64 // 0.2 to 0.5 with heat-conducting paste on bare metal, several when dry or painted
	PlateBodyKPerW    float64 // 1 to 4; a plate that turns on balls or a pivot is worse
	BodyBayKPerW      float64 // 3 to 8, with the draught
	BodyBlockKPerW    float64 // 1 to 5 through clamp and stem; 0 where nothing touches

	JunctionJPerK float64 // die and lead frame: 0.5 to 2
	BaseJPerK     float64 // 20 to 40 (20 to 45 g of aluminium)
	PlateJPerK    float64 // 40 to 80 (90 to 180 g of steel)
	BodyJPerK     float64 // 200 to 400 (220 to 440 g of aluminium, twice that of iron)
}

// TypicalModule is the middle of the ranges named at [Module], with paste:
// assumed, not measured.
func TypicalModule() Module {
	return Module{
		JunctionBaseKPerW: 1.5, BasePlateKPerW: 0.4, PlateBodyKPerW: 2.5, BodyBayKPerW: 5, BodyBlockKPerW: 2.5,
		JunctionJPerK: 1, BaseJPerK: 0.030 * AluminiumJPerKgK, PlateJPerK: 0.130 * IronJPerKgK, BodyJPerK: 0.330 * AluminiumJPerKgK,
	}
}

// Validate reports the first field that can't be, as an [InputError].
func (m Module) Validate() error {
	return firstBad("module",
		resistance("JunctionBaseKPerW", m.JunctionBaseKPerW),
		resistance("BasePlateKPerW", m.BasePlateKPerW),
		resistance("PlateBodyKPerW", m.PlateBodyKPerW),
		resistance("BodyBayKPerW", m.BodyBayKPerW),
		touch("BodyBlockKPerW", m.BodyBlockKPerW),
		capacity("JunctionJPerK", m.JunctionJPerK),
		capacity("BaseJPerK", m.BaseJPerK),
		capacity("PlateJPerK", m.PlateJPerK),
		capacity("BodyJPerK", m.BodyJPerK),
	)
}

// Network returns the module as a network with the nodes [Junction], [Base],
// [Plate] and [Body] and the given temperatures [BayAir] and [Block].
func (m Module) Network() Network {
	n := Network{
		Nodes: []Node{{"junction", m.JunctionJPerK}, {"base", m.BaseJPerK}, {"plate", m.PlateJPerK}, {"body", m.BodyJPerK}},
		Given: []string{"bay air", "block"},
		Paths: []Path{
			{"junction", "base", m.JunctionBaseKPerW},
			{"base", "plate", m.BasePlateKPerW},
			{"plate", "body", m.PlateBodyKPerW},
			{"body", "bay air", m.BodyBayKPerW},
		},
	}
	if m.BodyBlockKPerW != 0 {
		n.Paths = append(n.Paths, Path{"body", "block", m.BodyBlockKPerW})
	}
	return n
}

// Ladder returns the steady temperatures in °C of junction, base, plate and
// body with watts made in the junction: the sum along the ladder. It is what
// [System.Steady] must give for the module's network.
func (m Module) Ladder(watts, bayC, blockC float64) [4]float64 {
	body := sink(watts, m.BodyBayKPerW, bayC, m.BodyBlockKPerW, blockC)
	plate := body + watts*m.PlateBodyKPerW
	base := plate + watts*m.BasePlateKPerW
	return [4]float64{base + watts*m.JunctionBaseKPerW, base, plate, body}
}

// MostWatts returns the steady watts in the junction that bring it to limitC:
// the ladder the other way round, and not below 0.
func (m Module) MostWatts(limitC, bayC, blockC float64) float64 {
	still, withOne := m.Ladder(0, bayC, blockC)[Junction], m.Ladder(1, bayC, blockC)[Junction]
	return math.Max(0, (limitC-still)/(withOne-still))
}

// sink is the temperature of a piece that gives watts to air and, unless
// blockKPerW is 0, to the block.
func sink(watts, airKPerW, airC, blockKPerW, blockC float64) float64 {
	if blockKPerW == 0 {
		return airC + watts*airKPerW
	}
	return (watts + airC/airKPerW + blockC/blockKPerW) / (1/airKPerW + 1/blockKPerW)
}
