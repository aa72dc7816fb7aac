package car

import (
	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// Plugs are the sparking plugs, taken as all alike.
type Plugs struct {
	Gap              Param // m
	Wear             Param // voltage that these electrodes ask for over what new ones ask for at the same gap
	Electrodes       Electrodes
	ElectrodesOrigin Origin
}

// Electrodes is how worn a plug's electrodes are: sharp edges help a spark,
// round ones do not.
type Electrodes uint8

const (
	UsedElectrodes Electrodes = iota
	NewElectrodes
	WornElectrodes
)

// Cap is the distributor's cap and rotor, with all that leaks on the
// high-voltage side.
type Cap struct {
	RotorGap Param // m, radially from rotor tip to tower
	Shunt    Param // ohm from the high-voltage side to earth

	// Leaks, siemens, is how much of 1/Shunt goes through one part. What is left
	// goes through all of them alike. A car file does not say; a part whose
	// insulation has let go does.
	Leaks [LeakPlaces]float64

	Breaks [BreakPlaces]float64 // m of air besides the rotor's gap that every spark has to jump; nothing in a car file
}

// BreakPlace is where the way from coil to plugs may have a gap that it should
// not have.
type BreakPlace uint8

const (
	BreakInKingLead BreakPlace = iota
	BreakAtBrush               // between the cap's centre contact and the rotor
	BreakPlaces     = iota
)

// LeakPlace is a part of the high-voltage side whose insulation may let go.
type LeakPlace uint8

const (
	LeakAtCap LeakPlace = iota
	LeakAtRotor
	LeakAtKingLead // the lead from coil to cap
	LeakAtCoilTower
	LeakAtLeads // the leads to the plugs
	LeakAtPlugs
	LeakPlaces = iota
)

// LeakBy puts a leak of so many ohms to earth, above 0, at one part.
func (c *Cap) LeakBy(at LeakPlace, ohms float64) {
	c.Leaks[at] += 1 / ohms
	if c.Shunt.X > 0 {
		c.Shunt.X = 1 / (1/c.Shunt.X + 1/ohms)
	} else {
		c.Shunt.X = ohms
	}
}

// LeakThrough is what leaks through some parts together, ohm; 0 where the whole
// side leaks nothing.
func (c *Cap) LeakThrough(parts ...LeakPlace) float64 {
	if !(c.Shunt.X > 0) {
		return 0
	}
	rest := 1 / c.Shunt.X
	for _, g := range c.Leaks {
		rest -= g
	}
	sum := 0.0
	for _, p := range parts {
		sum += max(rest, 0)/LeakPlaces + c.Leaks[p]
	}
	return 1 / sum
}

// electrodeWear is the demand of electrodes over that of new ones: worn round
// ones ask for 20 to 50 % more [cp].
var electrodeWear = [...]units.Value{
	UsedElectrodes: about(1.1, 0.08),
	NewElectrodes:  about(1, 0.02),
	WornElectrodes: about(1.35, 0.15),
}

var plugTable = []entry[Plugs]{
	{
		name: "electrodes", form: wordForm, words: electrodeWords,
		doc: "edges of the electrodes: new and sharp, used, or worn round; used when not said",
		read: func(r *reader, n *yaml.Node, path string, p *Plugs) {
			if w, ok := readWord[Electrodes](r, n, path, electrodeWords); ok {
				p.Electrodes, p.ElectrodesOrigin = w, Stated
			}
		},
	},
	{
		name: "gap", kind: units.Length, low: 0.1e-3, high: 3e-3, plain: 0.06, late: true,
		doc:   "gap of the plugs",
		param: func(p *Plugs) *Param { return &p.Gap },
		// [mem] 0.75 to 0.9 mm, later cars up to 1 mm; 6 V cars about 0.65 mm.
		typical: byVoltage(about(0.65e-3, 0.1e-3), about(0.85e-3, 0.1e-3)),
	},
	{
		name: "wear", kind: units.Ratio, low: 0.7, high: 4, plain: 0.05, late: true,
		doc:     "voltage the electrodes ask for over that of new ones at the same gap; follows electrodes when not said",
		param:   func(p *Plugs) *Param { return &p.Wear },
		typical: func(f facts) units.Value { return electrodeWear[f.electrodes] },
	},
}

var capTable = []entry[Cap]{
	{
		name: "rotor_gap", kind: units.Length, low: 0, high: 10e-3, plain: 0.2, late: true,
		doc:   "radial gap from the rotor's tip to the tower's electrode",
		param: func(c *Cap) *Param { return &c.RotorGap },
		// [mem] half a millimetre to one, more as both burn away.
		typical: always(about(0.8e-3, 0.3e-3)),
	},
	{
		name: "shunt", kind: units.Resistance, low: 1e3, high: 1e10, plain: 0.3, late: true,
		doc:   "resistance from the high-voltage side to earth: fouled plug, damp cap, tracks burnt into cap or rotor",
		param: func(c *Cap) *Param { return &c.Shunt },
		// [mem] tens to hundreds of megohm dry and clean; a coil gives up
		// below a few tenths of a megohm.
		typical: always(times(100e6, 3)),
	},
}
