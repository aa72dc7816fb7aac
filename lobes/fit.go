package lobes

import "math"

// fit is the least-squares fit of one run,
//
//	d[t][j] = m[j] + slope·(t + ideal[j]/360 - their mean) + what is left
//
// and how its figures spread.
type fit struct {
	ideal   []float64
	turns   int
	late    late
	m       []float64   // lateness of every lobe, the slope within the turn taken out
	slope   float64     // degrees per turn
	cov     [][]float64 // of m and, last, slope
	nu      float64
	wander  wander
	reading float64 // standard deviation of a reading, degrees
}

// fitRun fits lobes and slope. Written with slope·(t-t̄) and the slope's share
// within the turn put to the lobes, the columns are orthogonal: a lobe is its
// mean over turns, slope = Σ (t-t̄) d / (L Σ (t-t̄)²); then the lobe's share of
// the slope, slope·(ideal[j]-their mean)/360, is taken out of it.
func fitRun(run Run, ideal []float64, accuracy float64) (fit, error) {
	if err := checkAccuracy(accuracy); err != nil {
		return fit{}, err
	}
	lt, err := unwind(run, ideal)
	if err != nil {
		return fit{}, err
	}
	n, l := len(run.Turns), len(ideal)
	f := fit{ideal: ideal, turns: n, late: lt, m: make([]float64, l), reading: accuracy / z95, nu: float64(n*l - l - 1)}
	var stt, std float64
	mean := make([]float64, l)
	for t, turn := range lt.d {
		tc := float64(t) - float64(n-1)/2
		stt += tc * tc
		for j, d := range turn {
			mean[j] += d / float64(n)
			std += tc * d
		}
	}
	stt *= float64(l)
	for j := range l { // the slope's share of the turn up to lobe j, taken out
		f.m[j] = mean[j] - std/stt*(ideal[j]-f.meanIdeal())/360
	}
	f.slope = std / stt
	s := f.series()
	var rss, largest float64
	for k, r := range s.cols[l+1] {
		rss += r * r
		largest = max(largest, math.Abs(run.Turns[k/l][k%l]))
	}
	if still := 1e-12 * (360 + largest); rss > float64(n*l)*still*still { // else all turns read alike
		f.wander = s.estimate(l)
	}

	// How m and slope spread: (X'X)⁻¹ X'VX (X'X)⁻¹, V = white·1 + played·R.
	scale := make([]float64, l+1)
	for c := range l {
		scale[c] = 1 / float64(n)
	}
	scale[l] = 1 / stt
	f.cov = square(l + 1)
	for c := range f.cov {
		f.cov[c][c] = f.wander.whiteVar * scale[c]
	}
	rx := make([]float64, n*l)
	for i, v := range f.wander.playVar {
		for b := range l + 1 {
			s.spread(s.cols[b], f.wander.reach[i], rx)
			for a := range l + 1 {
				sum := 0.0
				for k, x := range s.cols[a] {
					sum += x * rx[k]
				}
				f.cov[a][b] += v * sum * scale[a] * scale[b]
			}
		}
	}
	// A reader's error that turns don't scatter is one that repeats.
	repeats := max(0, f.reading*f.reading-f.wander.whiteVar)
	for c := range l {
		f.cov[c][c] += repeats
	}

	// The same step for the covariance: from means over turns to m.
	b := square(l + 1)
	for j := range l {
		b[j][j], b[j][l] = 1, -(ideal[j]-f.meanIdeal())/360
	}
	b[l][l] = 1
	f.cov = through(b, f.cov)
	return f, nil
}

// series is the firings one by one: a column for every lobe, one for turns, and
// what the fit leaves.
func (f fit) series() series {
	n, l := f.turns, len(f.ideal)
	s := series{gap: make([]float64, n*l), cols: make([][]float64, l+2), nu: f.nu}
	for c := range s.cols {
		s.cols[c] = make([]float64, n*l)
	}
	for t, turn := range f.late.d {
		tc := float64(t) - float64(n-1)/2
		for j, d := range turn {
			k := t*l + j
			s.gap[k] = interval(f.ideal, (j+l-1)%l) * float64(l) / 360
			s.cols[j][k] = 1
			s.cols[l][k] = tc
			s.cols[l+1][k] = d - f.m[j] - f.slope*(tc+(f.ideal[j]-f.meanIdeal())/360)
		}
	}
	return s
}

// meanIdeal is the mean of the lobes' angles.
func (f fit) meanIdeal() float64 {
	sum := 0.0
	for _, a := range f.ideal {
		sum += a
	}
	return sum / float64(len(f.ideal))
}

// spread writes R x, R = exp(-|u-u'|/reach), by a pass forward and one back.
func (s series) spread(x []float64, reach float64, out []float64) {
	run := 0.0
	for k := range x {
		run = run*math.Exp(-s.gap[k]/reach) + x[k]
		out[k] = run
	}
	run = 0
	for k := len(x) - 1; k >= 0; k-- {
		out[k] += run
		run = (run + x[k]) * math.Exp(-s.gap[k]/reach)
	}
}

// student95 is the factor from a standard deviation to PM.
func (f fit) student95() float64 { return student(0.975, f.nu) }

// se is the standard deviation of Σ w[j] m[j].
func (f fit) se(w []float64) float64 { return deviation(f.cov, w) }

func deviation(cov [][]float64, w []float64) float64 {
	sum := 0.0
	for a, wa := range w {
		for b, wb := range w {
			sum += wa * cov[a][b] * wb
		}
	}
	return math.Sqrt(max(0, sum))
}

// circle fits m[j] = centre + c·cos(ideal) + s·sin(ideal) by least squares. Its
// rows are the weights of m in each.
func circle(ideal []float64) (centre, cos, sin []float64) {
	l := len(ideal)
	z := make([][3]float64, l)
	var a [3][3]float64
	for j, deg := range ideal {
		s, c := math.Sincos(deg * math.Pi / 180)
		z[j] = [3]float64{1, c, s}
		for p := range 3 {
			for q := range 3 {
				a[p][q] += z[j][p] * z[j][q]
			}
		}
	}
	minor := func(p, q int) float64 {
		p1, p2, q1, q2 := (p+1)%3, (p+2)%3, (q+1)%3, (q+2)%3
		return a[p1][q1]*a[p2][q2] - a[p1][q2]*a[p2][q1]
	}
	det := a[0][0]*minor(0, 0) + a[0][1]*minor(0, 1) + a[0][2]*minor(0, 2)
	rows := [3][]float64{make([]float64, l), make([]float64, l), make([]float64, l)}
	for p := range 3 {
		for j := range l {
			for q := range 3 {
				rows[p][j] += minor(p, q) / det * z[j][q]
			}
		}
	}
	return rows[0], rows[1], rows[2]
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

func square(n int) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n)
	}
	return m
}

// through is b c b'.
func through(b, c [][]float64) [][]float64 {
	out := square(len(b))
	for i := range b {
		row := make([]float64, len(c))
		for j, w := range b[i] {
			for k := range row {
				row[k] += w * c[j][k]
			}
		}
		for j := range b {
			out[i][j] = dot(row, b[j])
		}
	}
	return out
}
