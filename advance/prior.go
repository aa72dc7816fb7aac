package advance

import "math"

// What is assumed before the readings, as the spread of the natural logarithm
// of each figure round that of the starting mechanism: 0.5 says that the true
// rate lies within a factor of 2.7 either way in 95 of 100 cases.
//
// A preload or slack of 0 stays 0: a spring that acts from rest acts from
// rest. A friction of 0 stands for StartFriction of the springs' torque half
// way to the stop. Draws that Validate would refuse are left out.
const (
	RateSD        = 0.5
	PreloadSD     = 0.5
	SlackSD       = 0.4
	StopSD        = 0.25
	FrictionSD    = 0.7
	StartFriction = 0.02
)

// unknown is one figure to be estimated: middle times exp(sd z), or for the
// initial middle + sd z, with z standard normal before the readings.
type unknown struct {
	mid, sd float64
	plain   bool
}

func (u unknown) value(z float64) float64 {
	if u.plain {
		return u.mid + u.sd*z
	}
	return u.mid * math.Exp(u.sd*z)
}

// model maps a point of the unknowns' space to a mechanism and its misfit.
type model struct {
	start    Mechanism
	unknowns []unknown
	// Places in unknowns, -1 for given.
	rate, preload, slack    []int
	stop, friction, initial int
	frictionNm, initialDeg  float64

	maxDeg  float64
	grid    *grid
	curve   *curve
	springs []tension
	points  []pointOfModel
}

type pointOfModel struct {
	w2, advance, perVar float64
	going               int8
}

func newModel(start Mechanism, points []Point, opt EstimateOptions) *model {
	doubt := opt.Doubt
	if doubt == 0 {
		doubt = 1
	}
	md := &model{start: start, initial: -1, initialDeg: opt.InitialCrank}
	add := func(mid, sd float64) int {
		if mid == 0 {
			return -1
		}
		md.unknowns = append(md.unknowns, unknown{mid: mid, sd: sd * doubt})
		return len(md.unknowns) - 1
	}
	for _, s := range start.Springs {
		md.rate = append(md.rate, add(s.RateNPerM, RateSD))
		md.preload = append(md.preload, add(s.PreloadN, PreloadSD))
		md.slack = append(md.slack, add(s.SlackM, SlackSD))
		md.springs = append(md.springs, tension{s.RateNPerM, s.PreloadN, s.SlackM})
	}
	md.stop = add(start.StopDeg, StopSD)
	friction := start.FrictionNm
	if friction == 0 {
		friction = StartFriction * start.halfwayNm()
	}
	md.frictionNm = start.FrictionNm
	md.friction = add(friction, FrictionSD)
	if opt.EstimateInitial {
		mid, pm := opt.InitialCrank, opt.InitialPM
		if mid == 0 && pm == 0 {
			mid = 10
		}
		if pm == 0 {
			pm = 20
		}
		md.initial = len(md.unknowns)
		md.unknowns = append(md.unknowns, unknown{mid: mid, sd: pm / 1.96, plain: true})
	}
	md.maxDeg = start.limitDeg(min(start.StopDeg*math.Exp(3.5*StopSD*doubt), 90))
	md.grid = start.tabulate(md.maxDeg, readStepDeg)
	md.curve = md.grid.curve()
	for _, p := range points {
		md.points = append(md.points, pointOfModel{speedSquared(p.RPM / 2), p.Advance, 1.96 * 1.96 / (p.PM * p.PM), p.Going})
	}
	return md
}

// halfwayNm is the springs' torque half way to the stop, or, with none in
// reach, the weights' at 500 distributor rpm.
func (m Mechanism) halfwayNm() float64 {
	b := balance{m: m}
	psi := m.swing(m.StopDeg / 2)
	loose := make([]bool, len(m.Springs))
	for i, s := range m.Springs {
		ext, _ := m.stretch(s, psi)
		loose[i] = ext < s.SlackM
	}
	if _, torque := b.forces(psi, loose); torque > 0 {
		return torque
	}
	return m.Weights.TorqueNm(500, psi)
}

// take sets the curve to that of z; false where no such mechanism can be.
func (md *model) take(z []float64) (initial float64, ok bool) {
	get := func(at int, fixed float64) float64 {
		if at < 0 {
			return fixed
		}
		return md.unknowns[at].value(z[at])
	}
	stop := get(md.stop, md.start.StopDeg)
	if !(stop <= md.maxDeg && stop >= 0.1) {
		return 0, false
	}
	for i, s := range md.start.Springs {
		md.springs[i] = tension{get(md.rate[i], s.RateNPerM), get(md.preload[i], s.PreloadN), get(md.slack[i], s.SlackM)}
	}
	friction := get(md.friction, md.frictionNm)
	for _, s := range md.springs {
		if !(1e-3 <= s.rate && s.rate <= 1e6 && s.preload <= 1e4 && s.slack <= 1) {
			return 0, false
		}
	}
	if !(friction <= 100) {
		return 0, false
	}
	md.curve.set(md.springs, stop, friction, 1)
	return get(md.initial, md.initialDeg), true
}

// likelihood is the log of the chance of the readings, less what does not
// depend on z; chi2 the sum of squares in it.
//
// A reading whose direction is not said lies anywhere between the rising and
// the falling curve: its variance grows by a twelfth of the square of their
// distance.
func (md *model) likelihood(z []float64) (log, chi2 float64) {
	initial, ok := md.take(z)
	if !ok {
		return math.Inf(-1), math.Inf(1)
	}
	c := md.curve
	for _, p := range md.points {
		var at float64
		switch p.going {
		case 1:
			at = c.at(c.rise, p.w2)
		case -1:
			at = c.at(c.fall, p.w2)
		default:
			up, down := c.at(c.rise, p.w2), c.at(c.fall, p.w2)
			wide := 2 * (down - up)
			off := p.advance - initial - up - down
			grown := 1 + wide*wide/12*p.perVar
			chi2 += off * off * p.perVar / grown
			log -= 0.5 * math.Log(grown)
			continue
		}
		off := p.advance - initial - 2*at
		chi2 += off * off * p.perVar
	}
	return log - chi2/2, chi2
}

// draw is the mechanism of z.
func (md *model) draw(z []float64) Draw {
	m := md.start
	m.Springs = append([]Spring(nil), m.Springs...)
	d := Draw{InitialCrank: md.initialDeg}
	set := func(at int, to *float64) {
		if at >= 0 {
			*to = md.unknowns[at].value(z[at])
		}
	}
	for i := range m.Springs {
		set(md.rate[i], &m.Springs[i].RateNPerM)
		set(md.preload[i], &m.Springs[i].PreloadN)
		set(md.slack[i], &m.Springs[i].SlackM)
	}
	set(md.stop, &m.StopDeg)
	set(md.friction, &m.FrictionNm)
	set(md.initial, &d.InitialCrank)
	d.Mechanism = m
	return d
}
