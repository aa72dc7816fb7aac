package advance

// Running is the state of the engine that decides its advance.
type Running struct {
	CrankRPM   float64
	ManifoldPa float64 // absolute
	AmbientPa  float64 // see Ambient
	Throttle   float64 // 0 at the idle stop, 1 wide open
}

// Sum is advance in crank degrees before top dead centre and what it is made of.
type Sum struct {
	Initial     float64
	Centrifugal Band
	Vacuum      Band
	Total       Band
	VacuumPa    float64 // what the can feels
}

// Total is the advance at the crank: initial + 2 centrifugal + 2 vacuum, the
// distributor turning at half the crank's speed. Its Rising is with both speed
// and depression rising, its Falling with both falling.
func Total(initialCrank float64, m Mechanism, c Can, src Source, at Running) Sum {
	return sum(initialCrank, m.At(at.CrankRPM/2), c, src, at)
}

func sum(initialCrank float64, centrifugal Band, c Can, src Source, at Running) Sum {
	s := Sum{Initial: initialCrank, Centrifugal: centrifugal.times(2)}
	s.VacuumPa = Depression(src, at.AmbientPa, at.ManifoldPa, at.Throttle)
	s.Vacuum = c.At(s.VacuumPa).times(2)
	s.Total = Band{
		Mid:     initialCrank + s.Centrifugal.Mid + s.Vacuum.Mid,
		Rising:  initialCrank + s.Centrifugal.Rising + s.Vacuum.Rising,
		Falling: initialCrank + s.Centrifugal.Falling + s.Vacuum.Falling,
	}
	return s
}

func (b Band) times(k float64) Band { return Band{k * b.Mid, k * b.Rising, k * b.Falling} }

// Map is Total over speeds and manifold pressures: row i for manifoldPa[i],
// column j for crankRPM[j].
func Map(initialCrank float64, m Mechanism, c Can, src Source, ambientPa, throttle float64, crankRPM, manifoldPa []float64) [][]Sum {
	dist := make([]float64, len(crankRPM))
	for j, rpm := range crankRPM {
		dist[j] = rpm / 2
	}
	bands := m.Curve(dist)
	rows := make([][]Sum, len(manifoldPa))
	for i, p := range manifoldPa {
		rows[i] = make([]Sum, len(crankRPM))
		for j, rpm := range crankRPM {
			rows[i][j] = sum(initialCrank, bands[j], c, src, Running{rpm, p, ambientPa, throttle})
		}
	}
	return rows
}
