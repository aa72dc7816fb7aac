package advance

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// Best tries every way to put the kit into the mechanism and ranks them by the
// chance that all wanted points read inside their tolerance. start gives the
// pivots, the cam and the places of the springs; a kit's springs go into each
// place, with each of their slacks.
//
// All builds are first compared by their curve without friction; the Top best
// of those are then drawn over the spreads of rate, preload, slack, mass, stop
// and friction. The initial advance is chosen for each build inside
// BestOptions.Initial and then counts as set exactly.
func Best(start Mechanism, kit Kit, wanted []Wanted, opt BestOptions) ([]Build, error) {
	if err := first(start.Validate(), kit.validate(len(start.Springs)), checkWanted(wanted), opt.validate()); err != nil {
		return nil, err
	}
	b := bench{start: start, kit: kit, opt: opt}
	for _, w := range wanted {
		if w.Tol == 0 {
			w.Tol = ServiceTolCrank
		}
		b.wanted = append(b.wanted, w)
		b.w2 = append(b.w2, speedSquared(w.RPM/2))
	}
	if b.opt.Top == 0 {
		b.opt.Top = 20
	}
	if b.opt.Draws == 0 {
		b.opt.Draws = 400
	}
	if err := b.screen(); err != nil {
		return nil, err
	}
	builds := make([]Build, 0, len(b.tried))
	for _, t := range b.tried {
		builds = append(builds, b.finish(t))
	}
	slices.SortStableFunc(builds, func(x, y Build) int {
		return cmp.Or(cmp.Compare(y.Chance, x.Chance), cmp.Compare(x.Worst, y.Worst))
	})
	return builds, nil
}

// ServiceTolCrank is the usual service tolerance of a curve, crank degrees: one
// distributor degree either way (from memory).
const ServiceTolCrank = 2.0

func checkWanted(wanted []Wanted) error {
	if len(wanted) < 1 || len(wanted) > 200 {
		return &Error{"wanted", "holds " + itoa(len(wanted)) + " points", "1 to 200", ErrPoints}
	}
	for i, w := range wanted {
		at := fmt.Sprintf("wanted[%d].", i)
		if err := first(
			within(at+"RPM", w.RPM, 0, 30000, " crank rpm"),
			within(at+"Advance", w.Advance, -180, 180, " crank degrees"),
			within(at+"Tol", w.Tol, 0, 90, " crank degrees, 0 for 2"),
		); err != nil {
			return err
		}
		if w.Tol > 0 && w.Tol < 1e-3 {
			return &Error{at + "Tol", fmt.Sprintf("is %g", w.Tol), "0.001 to 90 crank degrees, 0 for 2", ErrPoints}
		}
	}
	return nil
}

func (o BestOptions) validate() error {
	if o.Draws < 0 || o.Draws > 100000 || o.Top < 0 || o.Top > 1000 {
		return &Error{"Draws or Top", "are " + itoa(o.Draws) + " and " + itoa(o.Top), "up to 100000 draws and 1000 builds", ErrCount}
	}
	return first(
		within("Initial[0]", o.Initial[0], -90, 90, " crank degrees"),
		within("Initial[1]", o.Initial[1], o.Initial[0], 90, " crank degrees"),
		within("FrictionPM", o.FrictionPM, 0, 100, " N m"),
	)
}

// hung is a kit's spring with one of its slacks; spring -1 is what is fitted.
type hung struct{ spring, slack int }

// try is one build by its places in the kit; -1 is what is fitted.
type try struct {
	weight, stop int
	springs      []hung
	initial      float64
	worst, sum   float64
	grid         *grid
}

type bench struct {
	start  Mechanism
	kit    Kit
	opt    BestOptions
	wanted []Wanted
	w2     []float64
	tried  []try
}

// screen leaves the Top best builds by their middle curve in tried.
func (b *bench) screen() error {
	sets, err := b.springSets()
	if err != nil {
		return err
	}
	weights, stops := places(len(b.kit.Weights)), places(len(b.kit.Stops))
	if n := len(sets) * len(weights) * len(stops); n > mostBuilds {
		return &Error{"Kit", fmt.Sprintf("makes %d builds", n), fmt.Sprintf("up to %d: fewer springs, slacks, stops or weights", mostBuilds), ErrKit}
	}
	off := make([]float64, len(b.w2))
	for _, w := range weights {
		bare := b.start
		bare.Weights = b.weights(w)
		if err := bare.Weights.Validate(); err != nil {
			return err
		}
		furthest := 0.0
		for _, s := range stops {
			deg, pm := b.stop(s)
			furthest = max(furthest, deg+2*pm)
		}
		limit := bare.limitDeg(min(furthest, 90))
		if limit < 0.1 {
			continue
		}
		g := bare.tabulate(limit, kitStepDeg)
		c := g.curve()
		for _, set := range sets {
			for _, s := range stops {
				deg, _ := b.stop(s)
				if deg > limit {
					continue
				}
				c.set(b.tensions(set), deg, b.start.FrictionNm, 1)
				for i, w2 := range b.w2 {
					off[i] = 2*c.at(c.mid, w2) - b.wanted[i].Advance
				}
				t := try{weight: w, stop: s, springs: set, grid: g}
				t.initial = b.initial(off)
				for i, x := range off {
					x = (x + t.initial) / b.wanted[i].Tol
					t.worst = max(t.worst, math.Abs(x))
					t.sum += x * x
				}
				b.tried = append(b.tried, t)
			}
		}
	}
	if len(b.tried) == 0 {
		return &Error{"Kit", "has no weights and stop that go together: every stop lies beyond the weights' reach", "a nearer stop", ErrKit}
	}
	slices.SortStableFunc(b.tried, func(x, y try) int { return cmp.Or(cmp.Compare(x.worst, y.worst), cmp.Compare(x.sum, y.sum)) })
	b.tried = b.tried[:min(b.opt.Top, len(b.tried))]
	return nil
}

// places are the choices among n pieces, or what is fitted where n is 0.
func places(n int) []int {
	if n == 0 {
		return []int{-1}
	}
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// springSets are all ways to fill the places, those that only swap springs
// between places alike counted once.
func (b *bench) springSets() ([][]hung, error) {
	n := len(b.start.Springs)
	if len(b.kit.Springs) == 0 {
		set := make([]hung, n)
		for i := range set {
			set[i] = hung{-1, -1}
		}
		return [][]hung{set}, nil
	}
	var choices []hung
	for i, s := range b.kit.Springs {
		for k := range max(len(s.SlackM), 1) {
			choices = append(choices, hung{i, k})
		}
	}
	left := make([]int, len(b.kit.Springs))
	for i, s := range b.kit.Springs {
		left[i] = max(s.Count, 1)
	}
	var sets [][]hung
	pick := make([]int, n)
	var fill func(at int) bool
	fill = func(at int) bool {
		if at == n {
			set := make([]hung, n)
			for i, c := range pick {
				set[i] = choices[c]
			}
			sets = append(sets, set)
			return len(sets) <= mostBuilds
		}
		from := 0
		for i := range at {
			if samePlace(b.start.Springs[i], b.start.Springs[at]) {
				from = pick[i]
			}
		}
		for c := from; c < len(choices); c++ {
			kind := choices[c].spring
			if left[kind] == 0 {
				continue
			}
			left[kind]--
			pick[at] = c
			ok := fill(at + 1)
			left[kind]++
			if !ok {
				return false
			}
		}
		return true
	}
	if !fill(0) {
		return nil, &Error{"Kit.Springs", fmt.Sprintf("make more than %d pairs", mostBuilds), "fewer springs or slacks", ErrKit}
	}
	return sets, nil
}

func samePlace(a, b Spring) bool {
	return a.PinOn == b.PinOn && a.PinRadiusM == b.PinRadiusM && a.PostM == b.PostM && (a.PostM == 0 || a.RestRad == b.RestRad)
}

func (b *bench) weights(at int) Weights {
	w := b.start.Weights
	if at >= 0 {
		k := b.kit.Weights[at]
		w.MassKg = k.MassKg
		if k.ArmM > 0 {
			w.ArmM = k.ArmM
		}
		if k.RestRad > 0 {
			w.RestRad = k.RestRad
		}
	}
	return w
}

func (b *bench) stop(at int) (deg, pm float64) {
	if at < 0 {
		return b.start.StopDeg, 0
	}
	return b.kit.Stops[at].StopDeg, b.kit.Stops[at].PM
}

func (b *bench) tensions(set []hung) []tension {
	out := make([]tension, len(set))
	for i, h := range set {
		if h.spring < 0 {
			s := b.start.Springs[i]
			out[i] = tension{s.RateNPerM, s.PreloadN, s.SlackM}
			continue
		}
		k := b.kit.Springs[h.spring]
		out[i] = tension{rate: k.RateNPerM, preload: k.PreloadN}
		if len(k.SlackM) > 0 {
			out[i].slack = k.SlackM[h.slack]
		}
	}
	return out
}

// initial is the setting that makes the worst point, counted in its tolerance,
// as good as can be. off are the points' remains without any initial.
func (b *bench) initial(off []float64) float64 {
	span := func(t float64) (lo, hi float64) {
		lo, hi = math.Inf(-1), math.Inf(1)
		for i, x := range off {
			lo = max(lo, -x-t*b.wanted[i].Tol)
			hi = min(hi, -x+t*b.wanted[i].Tol)
		}
		return lo, hi
	}
	if b.opt.Initial[0] == b.opt.Initial[1] {
		return b.opt.Initial[0]
	}
	under, over := 0.0, 1e6
	for range 50 {
		t := math.Sqrt(max(under, 1e-6) * over)
		if lo, hi := span(t); lo <= hi {
			over = t
		} else {
			under = t
		}
	}
	lo, hi := span(over)
	return min(max((lo+hi)/2, b.opt.Initial[0]), b.opt.Initial[1])
}

// finish works a build out in full.
func (b *bench) finish(t try) Build {
	m := b.start
	m.Weights = b.weights(t.weight)
	stop, stopPM := b.stop(t.stop)
	m.StopDeg = stop
	m.Springs = slices.Clone(m.Springs)
	mid := b.tensions(t.springs)
	out := Build{Initial: t.initial}
	for i, h := range t.springs {
		s := &m.Springs[i]
		s.RateNPerM, s.PreloadN, s.SlackM = mid[i].rate, mid[i].preload, mid[i].slack
		id := ""
		if h.spring >= 0 {
			id = b.kit.Springs[h.spring].ID
		}
		out.SpringIDs = append(out.SpringIDs, id)
		out.SlackM = append(out.SlackM, mid[i].slack)
	}
	if t.stop >= 0 {
		out.StopID = b.kit.Stops[t.stop].ID
	}
	if t.weight >= 0 {
		out.WeightID = b.kit.Weights[t.weight].ID
	}
	out.Mechanism = m
	dist := make([]float64, len(b.wanted))
	for i, w := range b.wanted {
		dist[i] = w.RPM / 2
	}
	for i, band := range m.Curve(dist) {
		p := BuildPoint{Advance: Band{t.initial + 2*band.Mid, t.initial + 2*band.Rising, t.initial + 2*band.Falling}}
		p.Off = p.Advance.Mid - b.wanted[i].Advance
		out.Worst = max(out.Worst, math.Abs(p.Off)/b.wanted[i].Tol)
		out.Points = append(out.Points, p)
	}
	b.chances(&out, t, mid, stop, stopPM)
	return out
}

// chances draws the build over the spreads of its pieces. Every build is drawn
// from the same seed, so that two alike come out alike.
func (b *bench) chances(out *Build, t try, mid []tension, stop, stopPM float64) {
	r := rand.New(rand.NewPCG(b.opt.Seed, 0x6b6974))
	spread := func(x, pm float64) float64 {
		z := r.NormFloat64() // drawn even where pm is 0: the same draws for every build
		return max(x+pm/1.96*z, 0.05*x)
	}
	c := t.grid.curve()
	furthest := t.grid.deg[len(t.grid.deg)-1]
	drawn := make([]tension, len(mid))
	inside := make([]int, len(b.wanted))
	all := 0
	for range b.opt.Draws {
		for i, x := range mid {
			var k KitSpring
			if h := t.springs[i]; h.spring >= 0 {
				k = b.kit.Springs[h.spring]
			}
			drawn[i] = tension{spread(x.rate, k.RatePM), spread(x.preload, k.PreloadPM), spread(x.slack, k.SlackPM)}
			if x.slack == 0 {
				drawn[i].slack = 0
			}
		}
		massPM := 0.0
		if t.weight >= 0 {
			massPM = b.kit.Weights[t.weight].PM / b.kit.Weights[t.weight].MassKg
		}
		massBy := spread(1, massPM)
		c.set(drawn, min(spread(stop, stopPM), furthest), spread(b.start.FrictionNm, b.opt.FrictionPM), massBy)
		every := true
		for i, w := range b.wanted {
			band := c.band(b.w2[i])
			up, down := t.initial+2*band.Rising-w.Advance, t.initial+2*band.Falling-w.Advance
			if math.Abs(up) <= w.Tol && math.Abs(down) <= w.Tol {
				inside[i]++
			} else {
				every = false
			}
		}
		if every {
			all++
		}
	}
	for i, n := range inside {
		out.Points[i].Chance = float64(n) / float64(b.opt.Draws)
	}
	out.Chance = float64(all) / float64(b.opt.Draws)
}
