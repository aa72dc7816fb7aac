package heat

// Specific heats near 20 to 100 °C, J/(kg K) [physics handbooks, from memory;
// within a few per cent]. Times kilograms they make a node's JPerK.
const (
	CopperJPerKgK    = 385.0
	AluminiumJPerKgK = 900.0
	IronJPerKgK      = 450.0 // iron and mild steel; lamination steel 460 to 490
	ZincJPerKgK      = 390.0 // die-cast zinc alloy 390 to 420
	EpoxyJPerKgK     = 1100.0
	OilJPerKgK       = 1900.0 // transformer oil 1,800 at 20 °C to 2,100 at 100
)
