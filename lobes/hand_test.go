package lobes

import (
	"math"
	"math/rand/v2"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, want %.9g ± %.2g", what, got, want, tol)
	}
}

// handRun is three turns of a four, with every step of its separation below.
//
//	            lobe 1  lobe 2  lobe 3  lobe 4   (less 10°, less ideal)  mean
//	turn 1        0.3    -0.1    -0.1     0.3                           0.100
//	turn 2        0.5     0.2     0.1     0.3                           0.275
//	turn 3        0.7     0.5     0.3     0.9                           0.600
//	mean          0.5     0.2     0.1     0.5
//
// Slope: turns stand at -1, 0, 1, so Σ(t-t̄)d = 2.4-0.4 = 2.0, L·Σ(t-t̄)² = 8:
// 0.25° per turn. Its share within the turn, 0.25·(ideal-135)/360, is -0.09375,
// -0.03125, 0.03125, 0.09375, which leaves
//
//	M             0.59375 0.23125 0.06875 0.40625
//
// Mean 1.3/4 = 0.325. On four even lobes the cosine half is (M1-M3)/2 = 0.2625,
// the sine half (M2-M4)/2 = -0.0875, amplitude 0.0875·√10 = 0.276699, phase
// atan2(-1, 3) = -18.4349°. What is left alternates:
// (M1-M2+M3-M4)/4 = 0.025/4 = 0.00625.
// Intervals: M2-M1 = -0.3625, M3-M2 = -0.1625, M4-M3 = 0.3375, M1-M4 = 0.1875.
func handRun() Run {
	return Run{Turns: [][]float64{
		{10.3, 99.9, 189.9, 280.3},
		{10.5, 100.2, 190.1, 280.3},
		{10.7, 100.5, 190.3, 280.9},
	}}
}

func TestHandWorked(t *testing.T) {
	e, err := Separate(handRun(), even(4), 0)
	if err != nil {
		t.Fatal(err)
	}
	const tol = 1e-9
	near(t, "slope", e.Slope.Mid, 0.25, tol)
	near(t, "offset", e.Offset.Mid, 10.325, tol)
	near(t, "cosine", e.Wobble.Cos.Mid, 0.2625, tol)
	near(t, "sine", e.Wobble.Sin.Mid, -0.0875, tol)
	near(t, "amplitude", e.Wobble.Amp.Mid, 0.0875*math.Sqrt(10), tol)
	near(t, "phase", e.Wobble.Phase.Mid, 360-18.434948823, 1e-8)
	for j, want := range []float64{0.00625, -0.00625, 0.00625, -0.00625} {
		near(t, "cam", e.Cam[j].Mid, want, tol)
		near(t, "cam at the plug", e.Cost.Cam[j].Mid, 2*want, tol)
	}
	for j, want := range []float64{-0.3625, -0.1625, 0.3375, 0.1875} {
		near(t, "interval", e.Spacing.Intervals[j].Mid, want, tol)
	}
	near(t, "worst", e.Spacing.Worst.Mid, -0.3625, tol)
	near(t, "wobble at the plug", e.Cost.Wobble.Mid, 0.175*math.Sqrt(10), tol)
	near(t, "scatter at the plug", e.Cost.Random.Mid, 2*2*1.96*e.Random.Mid, 1e-3*e.Cost.Random.Mid)
	if e.Spacing.From != 0 || e.Falling || !e.Wobble.Told {
		t.Errorf("from %d, falling %t, told %t", e.Spacing.From, e.Falling, e.Wobble.Told)
	}
}

// TestStill: turns that read alike have no scatter; what the reader may err by
// is then the same every turn, and stays in the figures.
func TestStill(t *testing.T) {
	run := Run{Turns: [][]float64{{1, 92, 181, 270}, {1, 92, 181, 270}, {1, 92, 181, 270}}}
	e, err := Separate(run, even(4), 0.5)
	if err != nil {
		t.Fatal(err)
	}
	if e.Seen.Hi != 0 || e.SidePlay.Hi != 0 || !e.Doubtful || e.Random.Known {
		t.Errorf("%+v", e)
	}
	// lobe 1 lies by 1-2+1-0 = 0 off the alternation, each of whose four
	// quarters carries 0.5/1.96: half of it, times Student at 7 degrees of
	// freedom, 2.365 (table).
	near(t, "cam", e.Cam[0].Mid, 0, 1e-9)
	near(t, "cam's PM", e.Cam[0].PM, 2.365*0.5/1.96/2, 2e-4)

	exact, err := Separate(run, even(4), 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "PM without a reader's error", exact.Cam[0].PM+exact.Wobble.Amp.PM, 0, 1e-9)
	if exact.Doubtful || exact.Spacing.Verdict != Even {
		t.Errorf("%+v", exact)
	}
}

func TestSpacingVerdict(t *testing.T) {
	for _, x := range []struct {
		off, noise float64
		want       SpacingVerdict
	}{{1, 0.05, Even}, {2.9, 0.05, Uneven}, {2, 0.3, CannotTell}, {-2.9, 0.05, Uneven}} {
		run := Run{}
		for i := range 8 {
			n := x.noise * float64(i%2*2-1)
			// lobe 3 late by off: the interval before it is long, that after it short
			run.Turns = append(run.Turns, []float64{n, 90 - n, 180 + x.off + n, 270 + n})
		}
		e, err := Separate(run, even(4), 0.1)
		if err != nil {
			t.Fatal(err)
		}
		if e.Spacing.Verdict != x.want {
			t.Errorf("off by %g: verdict %d, worst %+v", x.off, e.Spacing.Verdict, e.Spacing.Worst)
		}
		if from := e.Spacing.From; from != 1 && from != 2 {
			t.Errorf("off by %g: worst from lobe %d", x.off, from)
		}
	}
}

// TestDwellByHand: three turns of a two. Openings at 0, 180 of each turn;
// closings after 90, 90 | 91, 89 | 92, 91. Dwells that end at lobe 2: 90, 89,
// 88, mean 89, at lobe 1: 90, 91 (the last closing has nothing after it), mean
// 90.5. Sums of squares 2 and 0.5 on 2 and 1 degrees of freedom: variance
// 2.5/3. Student for 3: 3.182 (table).
func TestDwellByHand(t *testing.T) {
	opens := Run{[][]float64{{0, 180}, {0, 180}, {0, 180}}}
	closes := Run{[][]float64{{90, 270}, {91, 269}, {92, 271}}}
	d, err := Dwells(opens, closes, even(2), 0)
	if err != nil {
		t.Fatal(err)
	}
	v := 2.5 / 3
	near(t, "lobe 1", d.PerLobe[0].Mid, 90.5, 1e-9)
	near(t, "lobe 2", d.PerLobe[1].Mid, 89, 1e-9)
	near(t, "lobe 1 PM", d.PerLobe[0].PM, 3.182*math.Sqrt(v/2), 1e-3)
	near(t, "lobe 2 PM", d.PerLobe[1].PM, 3.182*math.Sqrt(v/3), 1e-3)
	near(t, "mean", d.Mean.Mid, 89.75, 1e-9)
	near(t, "mean PM", d.Mean.PM, 3.182*math.Sqrt(v*(0.5+1./3)/4), 1e-3)
	near(t, "spread", d.Spread.Mid, 1.5, 1e-9)
	near(t, "spread PM", d.Spread.PM, max(1.5, 3.182*math.Sqrt(v*(0.5+1./3))), 2e-3)
	near(t, "scatter", d.Scatter.Mid, math.Sqrt(v), 1e-9)
	if d.Longest != 0 || d.Shortest != 1 {
		t.Errorf("longest %d, shortest %d", d.Longest, d.Shortest)
	}
	// A reader of ± 0.98° has a standard deviation of 0.5, two of them 0.5·√2.
	d, err = Dwells(opens, closes, even(2), 0.98)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "scatter less reader", d.Scatter.Mid, math.Sqrt(v-0.5), 1e-4)
	// The wheel numbered the other way says the same.
	for i := range 3 {
		for j := range 2 {
			opens.Turns[i][j] = 360 - opens.Turns[i][j] - 360*float64(i)
			closes.Turns[i][j] = 360 - closes.Turns[i][j] - 360*float64(i)
		}
	}
	back, err := Dwells(opens, closes, even(2), 0.98)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean on a falling wheel", back.Mean.Mid, d.Mean.Mid, 1e-9)
}

// TestSideLoadByHand: 0.1 mm on a radius of 10 mm is 0.01 rad, 0.573°; at the
// plug 1.146° of crank.
func TestSideLoadByHand(t *testing.T) {
	var l, r Run
	for i := range 6 {
		n := 0.02 * float64(i%2*2-1)
		l.Turns = append(l.Turns, []float64{359.9 + n, 90 - n, 180 + n, 270 + n})
		const x = 0.01 * 180 / math.Pi
		r.Turns = append(r.Turns, []float64{359.9 + x + n - 360, 90 + x - n, 180 + x + n, 270 + x + n})
	}
	p, err := SideLoad(l, r, even(4), 0, 0.010)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "play", p.PlayM.Mid, 1e-4, 1e-9)
	near(t, "angle", p.Angle.Mid, 0.572958, 1e-6)
	near(t, "crank", p.CrankDeg.Mid, 1.145916, 1e-6)
	for _, f := range p.PerLobe {
		near(t, "lobe", f.Mid, 0.572958, 1e-6)
	}
	if !p.PlayM.Known || p.Angle.PM > 0.05 {
		t.Errorf("%+v", p)
	}
	back, _ := SideLoad(r, l, even(4), 0, 0.010)
	near(t, "the other way round", back.Angle.Mid, -p.Angle.Mid, 1e-9)
	near(t, "the other way round", back.PlayM.Mid, p.PlayM.Mid, 1e-12)
}

// TestDwellHolds: 500 runs of an eight, of whose 95 % intervals 90 to 98 in a
// hundred hold what is true.
func TestDwellHolds(t *testing.T) {
	const runs = 500
	m := maker{ideal: even(8), turns: 8, play: .3, over: 6, random: .3, reading: .1}
	var lobe, mean, scatter int
	many(runs, func(rnd *rand.Rand) func() {
		o := m.run(rnd)
		// Closed 15° after the opening's place, lobe 4's flank 1° further on.
		c := change(o, func(_, j int, y float64) float64 {
			y += 15 + 0.2*rnd.NormFloat64()
			if j == 3 {
				y++
			}
			return y
		})
		d, err := Dwells(o, c, m.ideal, 0.1)
		if err != nil {
			t.Error(err)
		}
		return func() {
			lobe += holds(d.PerLobe[4], 29)
			mean += holds(d.Mean, 30-1./8)
			// Successive openings differ by white and by what of the wander is new.
			own := math.Sqrt(2*(.09+.01) + 2*.09*(1-math.Exp(-1./6)) + .04 - 2*(.1/z95)*(.1/z95))
			scatter += holds(d.Scatter, own)
		}
	})
	for what, n := range map[string]int{"lobe": lobe, "scatter": scatter} {
		held := float64(n) / runs * 100
		t.Logf("%s holds %.1f %%", what, held)
		if held < 90 || held > 98 {
			t.Errorf("%s holds %.1f %%", what, held)
		}
	}
	// Here a closing carries its opening's error, which cancels over the turn.
	if held := float64(mean) / runs * 100; held < 90 {
		t.Errorf("mean holds %.1f %%", held)
	}
}
