package lobes

import (
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"
)

func even(n int) []float64 {
	a := make([]float64, n)
	for j := range a {
		a[j] = 360 * float64(j) / float64(n)
	}
	return a
}

// maker makes runs of a distributor whose errors are known.
type maker struct {
	ideal                []float64
	turns                int
	cam                  []float64
	amp, phase           float64 // wobble
	play, over           float64 // wander: standard deviation, reach in pitches
	random, reading      float64 // standard deviations
	slope, zero          float64
	wheel, wheelAt       float64 // a wheel off centre: its amplitude, and the reading at which it is latest
	falling, withinATurn bool
}

func (m maker) run(rnd *rand.Rand) Run {
	var r Run
	l := float64(len(m.ideal))
	x, last := rnd.NormFloat64()*m.play, 0.0
	for t := range m.turns {
		turn := make([]float64, len(m.ideal))
		for j, a := range m.ideal {
			u := (float64(t) + a/360) * l
			if t+j > 0 {
				phi := math.Exp(-(u - last) / m.over)
				x = phi*x + math.Sqrt(1-phi*phi)*m.play*rnd.NormFloat64()
			}
			last = u
			y := 360*float64(t) + a + m.zero + m.slope*(float64(t)+a/360) + x +
				m.amp*math.Cos((a-m.phase)*math.Pi/180) + math.Hypot(m.random, m.reading)*rnd.NormFloat64()
			if m.cam != nil {
				y += m.cam[j]
			}
			y += m.wheel * math.Cos((a+m.zero-m.wheelAt)*math.Pi/180)
			if m.falling {
				y = 500 - y
			}
			if m.withinATurn {
				y = unsigned(y)
			}
			turn[j] = y
		}
		r.Turns = append(r.Turns, turn)
	}
	return r
}

// many calls f for every one of n seeds, on all cores, one at a time under a lock
// after what f returns.
func many(n int, f func(rnd *rand.Rand) func()) {
	var wg sync.WaitGroup
	var mu sync.Mutex
	next := make(chan uint64)
	for range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for seed := range next {
				put := f(rand.New(rand.NewPCG(seed, 7)))
				mu.Lock()
				put()
				mu.Unlock()
			}
		}()
	}
	for i := range n {
		next <- uint64(i)
	}
	close(next)
	wg.Wait()
}

func holds(f Fig, truth float64) int {
	if f.Lo-1e-12 <= truth && truth <= f.Hi+1e-12 {
		return 1
	}
	return 0
}

// pure takes out of a cam's errors what wobble would hold.
func pure(ideal, cam []float64) []float64 {
	centre, cos, sin := circle(ideal)
	out := make([]float64, len(cam))
	for j, a := range ideal {
		s, c := math.Sincos(a * math.Pi / 180)
		out[j] = cam[j] - dot(centre, cam) - c*dot(cos, cam) - s*dot(sin, cam)
	}
	return out
}

// TestIntervalsHold: of 95 % intervals on 500 runs each, between 90 and 98 in a
// hundred hold the truth; where the truth is zero, a boundary, no fewer than 90.
func TestIntervalsHold(t *testing.T) {
	v6 := []float64{0, 75, 120, 195, 240, 315}
	for _, x := range []struct {
		name string
		m    maker
		edge bool // truths at zero, or scatter no larger than the reader's: wider on purpose
	}{
		{"eight, good", maker{ideal: even(8), turns: 10, cam: pure(even(8), []float64{.5, -.4, .2, .3, -.6, .1, 0, .4}), amp: .4, phase: 70, play: .15, over: 4, random: .2, reading: .1, zero: 17, slope: .01}, false},
		{"six, worn bushing", maker{ideal: even(6), turns: 12, cam: pure(even(6), []float64{.5, -.4, .2, .3, -.6, .1}), amp: .8, phase: 200, play: .6, over: 3, random: .15, reading: .1, zero: 300, withinATurn: true}, false},
		{"four, no play", maker{ideal: even(4), turns: 15, cam: pure(even(4), []float64{.5, -.4, .2, .3}), amp: .3, phase: 300, over: 3, random: .3, reading: .1}, false},
		{"uneven six, no scatter but the reader's", maker{ideal: v6, turns: 15, cam: pure(v6, []float64{.5, -.4, .2, .3, -.6, .1}), amp: 0, play: .4, over: 5, reading: .15, falling: true}, true},
	} {
		t.Run(x.name, func(t *testing.T) {
			const runs = 500
			hits := map[string]int{}
			known := map[string]int{}
			sum := map[string]float64{}
			many(runs, func(rnd *rand.Rand) func() {
				e, err := Separate(x.m.run(rnd), x.m.ideal, x.m.reading*z95)
				if err != nil {
					t.Error(err)
				}
				return func() {
					put := func(name string, f Fig, truth float64) {
						hits[name] += holds(f, truth)
						sum[name] += f.Mid / runs
						if f.Known {
							known[name]++
						}
					}
					put("cam of lobe 2", e.Cam[1], x.m.cam[1])
					put("cam of lobe 4", e.Cam[3], x.m.cam[3])
					put("wobble", e.Wobble.Amp, x.m.amp)
					if x.m.amp > 0 {
						ph := e.Wobble.Phase
						put("phase", around(wrap(ph.Mid-x.m.phase), ph.PM), 0)
					}
					put("play", e.SidePlay, x.m.play)
					put("random", e.Random, x.m.random)
					put("slope", e.Slope, x.m.slope)
				}
			})
			for _, name := range []string{"cam of lobe 2", "cam of lobe 4", "wobble", "phase", "play", "random", "slope"} {
				held := float64(hits[name]) / runs * 100
				if name == "phase" && x.m.amp == 0 {
					continue
				}
				t.Logf("%-14s holds %.1f %%, mean %.3f, known %.1f %%", name, held, sum[name], float64(known[name])/runs*100)
				most := 98.0
				if x.edge || name == "play" && x.m.play == 0 {
					most = 100
				}
				if held < 90 || held > most {
					t.Errorf("%s: interval holds %.1f %% of the time", name, held)
				}
			}
			if seen := float64(known["play"]) / runs; x.m.play == 0 && seen > 0.06 {
				t.Errorf("side play seen in %.3f of runs without any", seen)
			}
		})
	}
}
