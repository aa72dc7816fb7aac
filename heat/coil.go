package heat

// The order of a [CoilCan]'s nodes.
const (
	Winding = iota // primary, secondary and core
	Can            // can, with oil or compound
)

// CoilCan is an ignition coil in a can, filled with oil or compound:
//
//	winding — can — bay air
//	              \— block, through the bracket
//
// What is usually known of a coil is one figure, the winding's rise over the
// air for each watt; it is split here by a share. The figures named are from
// memory and spread by half.
type CoilCan struct {
	WindingAirKPerW float64 // total from winding to air, no bracket: 2 (in a draught) to 5 (still air)
	WindingShare    float64 // part of it between winding and can, 0.1 (oil) to 0.4 (compound)
	CanBlockKPerW   float64 // 2 to 10 through a bracket on the engine; 0 on the bulkhead

	WindingJPerK float64 // 0.25 kg of copper and iron: about 105
	CanJPerK     float64 // 0.4 kg of can and oil: 400 to 500
}

// TypicalCoil is an oil-filled coil on the bulkhead: assumed, not measured.
func TypicalCoil() CoilCan {
	return CoilCan{
		WindingAirKPerW: 3, WindingShare: 0.25,
		WindingJPerK: 0.15*CopperJPerKgK + 0.10*IronJPerKgK,
		CanJPerK:     0.20*IronJPerKgK + 0.20*OilJPerKgK,
	}
}

// Validate reports the first field that can't be, as an [InputError].
func (c CoilCan) Validate() error {
	return firstBad("coil",
		resistance("WindingAirKPerW", c.WindingAirKPerW),
		figure{"WindingShare", c.WindingShare, between(0.01, c.WindingShare, 0.99), "0.01 to 0.99"},
		resistance("WindingShare of WindingAirKPerW", c.WindingAirKPerW*c.WindingShare),
		resistance("rest of WindingAirKPerW", c.WindingAirKPerW*(1-c.WindingShare)),
		touch("CanBlockKPerW", c.CanBlockKPerW),
		capacity("WindingJPerK", c.WindingJPerK),
		capacity("CanJPerK", c.CanJPerK),
	)
}

// Network returns the coil as a network with the nodes [Winding] and [Can] and
// the given temperatures [BayAir] and [Block].
func (c CoilCan) Network() Network {
	inner := c.WindingAirKPerW * c.WindingShare
	n := Network{
		Nodes: []Node{{"winding", c.WindingJPerK}, {"can", c.CanJPerK}},
		Given: []string{"bay air", "block"},
		Paths: []Path{{"winding", "can", inner}, {"can", "bay air", c.WindingAirKPerW - inner}},
	}
	if c.CanBlockKPerW != 0 {
		n.Paths = append(n.Paths, Path{"can", "block", c.CanBlockKPerW})
	}
	return n
}

// Ladder returns the steady temperatures in °C of winding and can with a power
// in the winding that may depend on its temperature. With R the K/W from the
// winding to what takes the heat, and Ts the winding's temperature without
// any:
//
//	T = Ts + R P(T)  =  (Ts + R (W - WPerK AtC)) / (1 - R WPerK)
//
// There is none, [RunawayError], where R·WPerK reaches 1. It is what
// [System.Steady] must give for the coil's network.
func (c CoilCan) Ladder(p Power, bayC, blockC float64) ([2]float64, error) {
	inner := c.WindingAirKPerW * c.WindingShare
	outer := c.WindingAirKPerW - inner
	still := sink(0, outer, bayC, c.CanBlockKPerW, blockC)
	all := inner + sink(1, outer, bayC, c.CanBlockKPerW, blockC) - still
	left := 1 - all*p.WPerK
	if !(left > 0) {
		return [2]float64{}, &RunawayError{Node: "winding", WPerK: p.WPerK}
	}
	t := (still + all*p.constant()) / left
	return [2]float64{t, t - inner*p.At(t)}, nil
}
