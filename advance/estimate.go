package advance

import (
	"math"
	"math/rand/v2"
)

// Estimate says which springs, slack, stop, friction and initial the readings
// allow, given the weights and where the springs sit. start holds those and,
// for the rest, what is likely before any reading: see RateSD for how far the
// truth may lie from it. FromMarks makes a start where only the curve is known.
//
// The answer is a sample of the posterior, so intervals are as wide as the
// readings leave them: where two springs share a load and only their sum shows,
// both stay wide and Known is false. The intervals hold if the reading errors
// are as stated, independent and normal, and the start's spread is fair.
func Estimate(start Mechanism, points []Point, opt EstimateOptions) (Estimated, error) {
	if err := first(start.Validate(), checkPoints(points), opt.validate()); err != nil {
		return Estimated{}, err
	}
	n := opt.Draws
	if n == 0 {
		n = 600
	}
	r := rand.New(rand.NewPCG(opt.Seed, 0x61647661))
	md := newModel(start, points, opt)
	ps := md.temper(n, r)
	e := Estimated{Draws: make([]Draw, n)}
	for i, p := range ps {
		e.Draws[i] = md.draw(p.z)
	}
	fig := func(at int, fixed float64) Fig {
		if at < 0 {
			return given(fixed)
		}
		x := make([]float64, n)
		for i, p := range ps {
			x[i] = p.z[at]
		}
		z := figure(x)
		u := md.unknowns[at]
		return Fig{
			Mid: u.value(z.Mid), Lo90: u.value(z.Lo90), Hi90: u.value(z.Hi90), Lo95: u.value(z.Lo95), Hi95: u.value(z.Hi95),
			Known: z.Hi90-z.Lo90 < 0.7*2*1.645,
		}
	}
	for i, s := range start.Springs {
		e.Springs = append(e.Springs, SpringFig{
			RateNPerM:  fig(md.rate[i], s.RateNPerM),
			PreloadN:   fig(md.preload[i], s.PreloadN),
			SlackM:     fig(md.slack[i], s.SlackM),
			TakesUpDeg: md.takesUpFig(i, e.Draws),
		})
	}
	e.StopDeg = fig(md.stop, start.StopDeg)
	e.FrictionNm = fig(md.friction, md.frictionNm)
	e.Initial = fig(md.initial, md.initialDeg)
	md.misfit(&e, ps, points, r)
	return e, nil
}

// takesUpFig is the advance at which spring i takes up, the stop's where it
// does not.
func (md *model) takesUpFig(i int, draws []Draw) Fig {
	if md.slack[i] < 0 {
		return given(md.start.TakesUpDeg(i))
	}
	ext := md.grid.ext[i]
	x := make([]float64, len(draws))
	for k, d := range draws {
		slack, j := d.Mechanism.Springs[i].SlackM, 1
		for j < len(ext)-1 && ext[j] < slack {
			j++
		}
		deg := md.grid.deg[j-1] + md.grid.stepDeg*(slack-ext[j-1])/(ext[j]-ext[j-1])
		x[k] = min(max(deg, 0), d.Mechanism.StopDeg)
	}
	f := figure(x)
	s := md.start.Springs[i]
	f.Known = s.SlackM > 0 && math.Log(f.Hi90/f.Lo90) < 0.7*2*1.645*md.unknowns[md.slack[i]].sd
	return f
}

// misfit compares the best mechanism's chi-square with what reading errors
// alone would leave. The figures decided by the readings are counted by how
// much larger chi-square is on the draws' average than at its best
// (Spiegelhalter and others, Bayesian measures of model complexity, 2002).
func (md *model) misfit(e *Estimated, ps []particle, points []Point, r *rand.Rand) {
	best := md.polish(ps, r)
	e.Best = md.draw(best.z)
	mean := 0.0
	for _, p := range ps {
		mean += p.chi2 / float64(len(ps))
	}
	n := float64(len(points))
	decided := min(max(mean-best.chi2, 0), min(float64(len(md.unknowns)), n-1))
	e.Misfit = Misfit{ChiSquare: best.chi2, DoF: n - decided, P: beyond(best.chi2, n-decided)}
	dist := make([]float64, len(points))
	for i, p := range points {
		dist[i] = p.RPM / 2
	}
	worst := -1.0
	for i, b := range e.Best.Mechanism.Curve(dist) {
		p := points[i]
		at := 2 * b.going(p.Going)
		if p.Going == 0 {
			at = b.Rising + b.Falling
		}
		off := p.Advance - e.Best.InitialCrank - at
		if by := math.Abs(off) / p.PM; by > worst {
			worst = by
			e.Misfit.Worst, e.Misfit.WorstBy = i, off
		}
	}
}
