package car

import "dwellwright/units"

// Engine is what of the engine bears on the voltage that a plug asks for.
type Engine struct {
	Compression Param // ratio of the volumes at bottom and top dead centre
	RodRatio    Param // length of the connecting rod over the radius of the crank's throw
}

var engineTable = []entry[Engine]{
	{
		name: "compression", kind: units.Ratio, low: 3, high: 20, plain: 0.03, late: true,
		doc:   "compression ratio",
		param: func(e *Engine) *Param { return &e.Compression },
		// [mem] 7 to 9.5 from the early fifties to the early seventies.
		typical: always(about(8.3, 0.7)),
	},
	{
		name: "rod_ratio", kind: units.Ratio, low: 2.6, high: 6, plain: 0.02, late: true,
		doc:   "length of the connecting rod, centre to centre, over half the stroke; twice the ratio of rod to stroke",
		param: func(e *Engine) *Param { return &e.RodRatio },
		// [mem] 3.2 to 3.8.
		typical: always(about(3.5, 0.3)),
	},
}
