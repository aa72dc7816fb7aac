package firing

// Losses says where the energy of one cycle went, J.
type Losses struct {
	Supply    float64 // taken from the source; the sum of the others in a settled rhythm
	Primary   float64 // in everything in series with the primary, its winding included
	Iron      float64
	Secondary float64 // in the secondary winding
	Series    float64 // in leads, rotor and plug resistor
	Gap       float64 // in the gap while it burned
	Shunt     float64
	Switch    float64 // while closed, conducting backward, and into contacts that make on a charged condenser
	Clamp     float64
	Condenser float64 // in its series resistance
	Contact   float64 // in the arcs at parting contacts
}

// add counts one step, by Simpson's rule through its exact middle.
func (l *Losses) add(w *walk, ph *phase, x0, xm, x1 *vec, h float64) {
	for i, x := range [...]*vec{x0, xm, x1} {
		f := h / 6
		if i == 1 {
			f *= 4
		}
		ip := ph.primary(x)
		l.Supply += f * w.Source.Volts * ip
		l.Primary += f * w.Source.Ohms * ip * ip
		if w.iron > 0 {
			u := (ip - x[i1]) / w.iron
			l.Iron += f * u * u * w.iron
		}
		l.Secondary += f * w.Coil.R2 * x[i2] * x[i2]
		l.Shunt += f * w.shunt * x[v2] * x[v2]
		sw := f * (ph.volts + ph.ohms*ip) * ip
		switch ph.pose {
		case closed, backed:
			l.Switch += sw
		case clamped:
			l.Clamp += sw
		case open, blocked:
			l.Condenser += f * w.Break.Series * ip * ip
		}
		if s := ph.burn; s != 0 {
			g := (x[v2] - s*w.Gap.Burn) / w.Gap.Series
			l.Gap += f * s * g * w.Gap.Burn
			l.Series += f * g * g * w.Gap.Series
		}
	}
}
