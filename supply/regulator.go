package supply

// Regulator is the voltage regulator of a generator or alternator.
type Regulator struct {
	SetPointV  float64 // V it holds with the regulator at AtC
	AtC        float64 // °C
	DriftVPerK float64 // V/K, negative: it holds less when warm
}

// Validate reports the first field that cannot be, as a [FieldError].
func (r Regulator) Validate() error {
	return firstBad("regulator",
		field{"SetPointV", r.SetPointV, between(5, r.SetPointV, 20), "5 to 20 V"},
		field{"AtC", r.AtC, between(-50, r.AtC, 150), "-50 to 150 °C"},
		field{"DriftVPerK", r.DriftVPerK, between(-0.05, r.DriftVPerK, 0.05), "-0.05 to 0.05 V/K (12 V about -0.016, 6 V half of it)"},
	)
}

// SetPoint returns the voltage in volts it holds with the regulator itself at
// tempC: SetPointV + DriftVPerK (tempC - AtC). Typical for 12 V: 14.5 V at
// 18 °C falling 0.016 V/K to 13.8 V at 63 °C [regulator temperature table of
// US Army TM 10-3930-621-12, middle of its limits]; half of both for 6 V.
// Warm means the regulator's own body, which lags the air by a quarter of an
// hour [common practice]. Table and straight line end at 18 and 63 °C.
func (r Regulator) SetPoint(tempC float64) float64 {
	return r.SetPointV + r.DriftVPerK*(tempC-r.AtC)
}
