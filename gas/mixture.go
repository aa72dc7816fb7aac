package gas

import "math"

// PolytropicTypical is the usual exponent of compression in a petrol engine,
// between 1.30 and 1.35 [internal-combustion-engine handbooks, from memory].
// It sets pressure and temperature, and leaves the density as it is.
const PolytropicTypical = 1.32

// Mixture is the charge as it is shut in.
type Mixture struct {
	ManifoldPa float64 // absolute: atmosphere less manifold vacuum
	ChargeK    float64 // of the charge in the cylinder when compression starts, warmed by walls and left-over gas: 310 to 380 K warm, near the air's cold
	Polytropic float64 // exponent n, see PolytropicTypical
}

// Validate reports the first field that cannot be, as a [FieldError].
func (m Mixture) Validate() error {
	return firstBad("mixture",
		field{"ManifoldPa", m.ManifoldPa, between(10e3, m.ManifoldPa, 3e5), "10,000 to 300,000 Pa absolute"},
		field{"ChargeK", m.ChargeK, between(220, m.ChargeK, 500), "220 to 500 K"},
		field{"Polytropic", m.Polytropic, between(1, m.Polytropic, 1.4), "1 (no heating) to 1.4 (no heat lost)"},
	)
}

// Compress returns pressure in pascals, temperature in kelvins and relative
// density (see [Density]) of the charge at ignitionDeg crank degrees before
// top dead centre (negative: after). With r the volume where compression
// starts over that at ignition:
//
//	p = ManifoldPa · r^n      T = ChargeK · r^(n-1)      density ~ r
//
// Compression starts at Chamber.InletCloseDeg after bottom dead centre with
// the manifold's pressure in the cylinder: a valve that shuts late lets some
// of the charge back, at low speed. At high speed the charge's own inertia
// keeps it in, and 0, bottom dead centre, is nearer the truth. No fire yet, no
// leak. Neither is checked here, see Validate.
func Compress(m Mixture, c Chamber, ignitionDeg float64) (pascal, kelvin, density float64) {
	r := c.Volume(180-c.InletCloseDeg) / c.Volume(ignitionDeg)
	heated := math.Pow(r, m.Polytropic-1)
	pascal, kelvin = m.ManifoldPa*heated*r, m.ChargeK*heated
	return pascal, kelvin, Density(pascal, kelvin)
}
