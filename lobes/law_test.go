package lobes

import (
	"math"
	"math/rand/v2"
	"testing"
)

func usual() maker {
	return maker{ideal: even(6), turns: 12, cam: []float64{.5, -.4, .2, .3, -.6, .1}, amp: .8, phase: 200,
		play: .3, over: 3, random: .2, reading: .1, slope: 0.02, zero: 40}
}

func separate(t *testing.T, r Run, ideal []float64, accuracy float64) Errors {
	t.Helper()
	e, err := Separate(r, ideal, accuracy)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// alike compares all but Offset, with k on all that has a sign and m on sizes.
func alike(t *testing.T, what string, a, b Errors, k, m float64) {
	t.Helper()
	const tol = 2e-6
	for j := range a.Cam {
		near(t, what+": cam", b.Cam[j].Mid, k*a.Cam[j].Mid, tol)
		near(t, what+": cam's PM", b.Cam[j].PM, m*a.Cam[j].PM, tol)
		near(t, what+": interval", b.Spacing.Intervals[j].Mid, k*a.Spacing.Intervals[j].Mid, tol)
	}
	near(t, what+": slope", b.Slope.Mid, k*a.Slope.Mid, tol)
	near(t, what+": wobble", b.Wobble.Amp.Mid, m*a.Wobble.Amp.Mid, tol)
	near(t, what+": wobble's Hi", b.Wobble.Amp.Hi, m*a.Wobble.Amp.Hi, tol)
	turned := 0.0
	if k < 0 {
		turned = 180
	}
	near(t, what+": phase", wrap(b.Wobble.Phase.Mid-a.Wobble.Phase.Mid-turned), 0, 1e-4)
	for _, f := range [][2]Fig{{a.SidePlay, b.SidePlay}, {a.Random, b.Random}, {a.Seen, b.Seen}} {
		near(t, what+": scatter", f[1].Mid, m*f[0].Mid, tol)
		near(t, what+": scatter's Lo", f[1].Lo, m*f[0].Lo, tol)
		near(t, what+": scatter's Hi", f[1].Hi, m*f[0].Hi, tol)
	}
}

func change(r Run, f func(t, j int, y float64) float64) Run {
	var out Run
	for t, turn := range r.Turns {
		row := make([]float64, len(turn))
		for j, y := range turn {
			row[j] = f(t, j, y)
		}
		out.Turns = append(out.Turns, row)
	}
	return out
}

func TestLaws(t *testing.T) {
	m := usual()
	r := m.run(rand.New(rand.NewPCG(1, 2)))
	a := separate(t, r, m.ideal, 0.2)

	moved := separate(t, change(r, func(_, _ int, y float64) float64 { return y + 123.4 }), m.ideal, 0.2)
	alike(t, "another zero", a, moved, 1, 1)
	near(t, "another zero: offset", moved.Offset.Mid-a.Offset.Mid, 123.4, 1e-9)

	alike(t, "within the turn", a, separate(t, change(r, func(_, _ int, y float64) float64 { return unsigned(y) }), m.ideal, 0.2), 1, 1)

	back := separate(t, change(r, func(_, _ int, y float64) float64 { return 77 - y }), m.ideal, 0.2)
	alike(t, "numbered the other way", a, back, 1, 1)
	if !back.Falling {
		t.Error("falling angles not found out")
	}

	at := func(t, j int) float64 { return 360*float64(t) + m.ideal[j] + m.zero }
	mirror := change(r, func(t, j int, y float64) float64 { return 2*at(t, j) - y })
	alike(t, "every error the other way", a, separate(t, mirror, m.ideal, 0.2), -1, 1)

	triple := change(r, func(t, j int, y float64) float64 { return at(t, j) + 3*(y-at(t, j)) })
	alike(t, "every error threefold", a, separate(t, triple, m.ideal, 0.6), 3, 3)

	var steps []float64
	flat := []float64{}
	for _, turn := range r.Turns {
		flat = append(flat, turn...)
	}
	for k := 1; k < len(flat); k++ {
		steps = append(steps, flat[k]-flat[k-1])
	}
	for _, s := range [][]float64{steps, append(steps, 60)} {
		made, err := FromIntervals(6, s)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, "from intervals", a, separate(t, made, m.ideal, 0.2), 1, 1)
	}

	// What is added to one part is found in that part alone.
	more := separate(t, change(r, func(_, j int, y float64) float64 {
		return y + 0.7*math.Cos((m.ideal[j]-30)*math.Pi/180)
	}), m.ideal, 0.2)
	for j := range a.Cam {
		near(t, "more wobble: cam", more.Cam[j].Mid, a.Cam[j].Mid, 1e-9)
	}
	near(t, "more wobble: cosine", more.Wobble.Cos.Mid-a.Wobble.Cos.Mid, 0.7*math.Cos(math.Pi/6), 1e-9)
	near(t, "more wobble: sine", more.Wobble.Sin.Mid-a.Wobble.Sin.Mid, 0.7*math.Sin(math.Pi/6), 1e-9)
	near(t, "more wobble: play", more.SidePlay.Mid, a.SidePlay.Mid, 1e-6)
}

// TestMoreTurns: four times the turns, half the plus-or-minus.
func TestMoreTurns(t *testing.T) {
	pm := func(turns int) (cam, wobble, seen float64) {
		m := usual()
		m.turns = turns
		many(40, func(rnd *rand.Rand) func() {
			e, err := Separate(m.run(rnd), m.ideal, 0.2)
			if err != nil {
				t.Error(err)
			}
			return func() {
				cam, wobble, seen = cam+e.Cam[0].PM/40, wobble+e.Wobble.Amp.PM/40, seen+(e.Seen.Hi-e.Seen.Lo)/40
			}
		})
		return
	}
	c1, w1, s1 := pm(25)
	c4, w4, s4 := pm(100)
	t.Logf("25 turns: cam ± %.4f, wobble ± %.4f, seen %.4f wide; 100 turns: %.4f, %.4f, %.4f", c1, w1, s1, c4, w4, s4)
	near(t, "cam", c1/c4, 2, 0.15)
	near(t, "wobble", w1/w4, 2, 0.2)
	if s1/s4 < 1.8 { // more than half: 25 turns hardly tell scatter from wander
		t.Errorf("seen: %.3f wide from 25 turns, %.3f from 100", s1, s4)
	}
}

// TestFewLobes: with three lobes or fewer the wobble stays in the cam.
func TestFewLobes(t *testing.T) {
	for l := 1; l <= 3; l++ {
		m := maker{ideal: even(l), turns: 20, cam: []float64{.6, -.6, 0}[:l], random: .05, over: 2}
		e := separate(t, m.run(rand.New(rand.NewPCG(1, 2))), m.ideal, 0)
		if e.Wobble.Told || e.Wobble.Amp.Mid != 0 {
			t.Errorf("%d lobes: %+v", l, e.Wobble)
		}
		if l > 1 {
			near(t, "cam", e.Cam[0].Mid-e.Cam[1].Mid, 1.2, 0.1)
		}
	}
}
