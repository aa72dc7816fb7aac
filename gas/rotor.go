package gas

// Rotor is the gap between rotor tip and cap contact, in open air. The zero
// value is a coil without a distributor: no gap, nothing added.
type Rotor struct {
	GapM  float64 // 0.3e-3 to 1.5e-3 usual [common practice]; 0: no rotor gap
	AirPa float64 // of the atmosphere; not looked at without a gap
	AirK  float64 // inside the distributor: 20 to 40 K over the air under the bonnet when warm [from memory]
}

// Validate reports the first field that cannot be, as a [FieldError].
func (r Rotor) Validate() error {
	if r.GapM == 0 {
		return nil
	}
	return firstBad("rotor",
		field{"GapM", r.GapM, between(0.05e-3, r.GapM, 10e-3), "0 (no rotor) or 0.00005 to 0.01 m (0.05 to 10 mm)"},
		field{"AirPa", r.AirPa, between(40e3, r.AirPa, 110e3), "40,000 to 110,000 Pa"},
		field{"AirK", r.AirK, between(220, r.AirK, 420), "220 to 420 K"},
	)
}

// Volts returns what breaks the rotor gap down: [Breakdown] times
// [ShapeTypical], as its tip and contact are edged metal like a plug's. At
// 0.6 mm in open air 2.5 kV; from 0.8 to 2 mm 3.3 kV more (common practice: 3
// to 6 more for an eroded cap). 0 where there is no gap.
func (r Rotor) Volts() (volts float64, rng Range) {
	if r.GapM == 0 {
		return 0, Inside
	}
	volts, rng = Breakdown(Density(r.AirPa, r.AirK), r.GapM)
	return volts * ShapeTypical, rng
}
