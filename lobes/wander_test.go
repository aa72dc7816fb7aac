package lobes

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestMoments holds the likelihood's answer against plain moments: on a long
// run the autocovariance of what is left falls as played²·exp(-lag/over).
func TestMoments(t *testing.T) {
	m := maker{ideal: even(8), turns: 1500, play: 0.4, over: 5, random: 0.3}
	r := m.run(rand.New(rand.NewPCG(3, 4)))
	f, err := fitRun(r, m.ideal, 0)
	if err != nil {
		t.Fatal(err)
	}
	left := f.series().cols[9]
	auto := func(lag int) float64 {
		sum := 0.0
		for k := lag; k < len(left); k++ {
			sum += left[k] * left[k-lag]
		}
		return sum / float64(len(left)-lag)
	}
	w := f.wander
	near(t, "variance", w.white.Mid*w.white.Mid+w.played.Mid*w.played.Mid, auto(0), 0.01*auto(0))
	for _, lag := range []int{1, 2, 4} {
		near(t, "autocovariance", w.played.Mid*w.played.Mid*math.Exp(-float64(lag)/w.over), auto(lag), 0.05*auto(0))
	}
	near(t, "play", w.played.Mid, 0.4, 0.02)
	near(t, "white", w.white.Mid, 0.3, 0.02)
	near(t, "over", w.over, 5, 0.8)
	if w.played.PM > 0.03 || w.white.PM > 0.02 {
		t.Errorf("wide on a long run: %+v %+v", w.played, w.white)
	}
}

// TestWhirl: a shaft that goes round its bushing once in two turns is no such
// process, but wanders all the same: found at about its effective value.
func TestWhirl(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	var r Run
	for i := range 20 {
		turn := make([]float64, 8)
		for j := range turn {
			u := float64(i) + float64(j)/8
			turn[j] = 45*float64(j) + 0.5*math.Cos(math.Pi*u+0.3) + 0.1*rnd.NormFloat64()
		}
		r.Turns = append(r.Turns, turn)
	}
	e := separate(t, r, even(8), 0)
	t.Logf("whirl of 0.5 (effective 0.354): side play %.3f (%.3f to %.3f), seen %.3f", e.SidePlay.Mid, e.SidePlay.Lo, e.SidePlay.Hi, e.Seen.Mid)
	if !e.SidePlay.Known {
		t.Error("not seen")
	}
	near(t, "whirl", e.SidePlay.Mid, 0.354, 0.1)
}

// TestPairsHold is TestIntervalsHold on pairs of runs: SideLoad and Reclamped.
func TestPairsHold(t *testing.T) {
	const runs = 500
	m := maker{ideal: even(4), turns: 10, cam: []float64{.5, -.4, .2, .3}, amp: .6, phase: 70,
		play: .1, over: 3, random: .15, reading: .1, zero: 20, wheel: 0.5, wheelAt: 110}
	mean := 0.0
	for _, c := range m.cam {
		mean += c / 4
	}
	// The distributor's own once per turn: the wobble given and the cam's.
	_, cos, sin := circle(m.ideal)
	sc, ss := math.Cos(m.phase*math.Pi/180)*m.amp+dot(cos, m.cam), math.Sin(m.phase*math.Pi/180)*m.amp+dot(sin, m.cam)
	var play, shaft, wheel, cam, phase int
	many(runs, func(rnd *rand.Rand) func() {
		a := m
		b := m
		b.zero += 0.5
		p, err := SideLoad(a.run(rnd), b.run(rnd), m.ideal, 0.2, 0.011)
		if err != nil {
			t.Error(err)
		}
		// The same error of the wheel at its own mark, which now passes elsewhere.
		b.zero = a.zero + 140
		s, err := Reclamped(a.run(rnd), b.run(rnd), m.ideal, 0.2)
		if err != nil {
			t.Error(err)
		}
		return func() {
			truth := 0.5
			// the wheel's error moves by half a degree too: nothing to speak of
			play += holds(p.Angle, truth)
			shaft += holds(s.Shaft.Amp, math.Hypot(sc, ss))
			wheel += holds(s.Wheel.Amp, m.wheel)
			phase += holds(around(wrap(s.Wheel.Phase.Mid-90), s.Wheel.Phase.PM), 0)
			cam += holds(s.Cam[2], m.cam[2]-mean+m.amp*math.Cos((180-m.phase)*math.Pi/180))
			near(t, "turned", s.TurnedDeg, 140, 1)
		}
	})
	for _, x := range []struct {
		what string
		n    int
	}{{"side play", play}, {"shaft", shaft}, {"wheel", wheel}, {"wheel's phase", phase}, {"cam", cam}} {
		held := float64(x.n) / runs * 100
		t.Logf("%s holds %.1f %%", x.what, held)
		if held < 90 || held > 98 {
			t.Errorf("%s holds %.1f %%", x.what, held)
		}
	}
}
