package advance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// sheetSpeeds are the crank rpm of a usual run: seven going up, seven coming
// down.
var sheetSpeeds = []float64{800, 1100, 1400, 1800, 2300, 2900, 3600}

// truth draws a mechanism from what Estimate assumes before any reading.
func truth(start Mechanism, opt EstimateOptions, r *rand.Rand) Draw {
	for {
		d := Draw{Mechanism: start, InitialCrank: opt.InitialCrank}
		m := &d.Mechanism
		m.Springs = append([]Spring(nil), m.Springs...)
		by := func(x *float64, sd float64) { *x *= math.Exp(sd * r.NormFloat64()) }
		for i := range m.Springs {
			by(&m.Springs[i].RateNPerM, RateSD)
			by(&m.Springs[i].PreloadN, PreloadSD)
			by(&m.Springs[i].SlackM, SlackSD)
		}
		by(&m.StopDeg, StopSD)
		by(&m.FrictionNm, FrictionSD)
		if opt.EstimateInitial {
			d.InitialCrank += opt.InitialPM / 1.96 * r.NormFloat64()
		}
		if m.Validate() == nil {
			return d
		}
	}
}

// read takes readings from it with errors as stated.
func read(d Draw, pm float64, r *rand.Rand) []Point {
	var points []Point
	for _, going := range []int8{1, -1} {
		for i, rpm := range sheetSpeeds {
			p := Point{RPM: rpm, PM: pm, Going: going}
			b := d.Mechanism.At(rpm / 2)
			at := b.going(going)
			if i == 3 { // direction not noted
				p.Going = 0
				at = b.Rising + (b.Falling-b.Rising)*r.Float64()
			}
			p.Advance = d.InitialCrank + 2*at + pm/1.96*r.NormFloat64()
			points = append(points, p)
		}
	}
	return points
}

type holds struct {
	name             string
	in90, in95, sure int
	wide             []float64 // half the 95 % interval
}

// The intervals must be honest: over many mechanisms, drawn as assumed and
// read with errors as stated, the true figure lies in the 90 % interval in 85
// to 95 of 100 runs, in the 95 % one in 91.5 to 98.5.
func TestIntervalsHoldTheTruth(t *testing.T) {
	if testing.Short() {
		t.Skip("500 estimates")
	}
	runs := 500
	if underRace {
		runs = 30
	}
	r := rand.New(rand.NewPCG(11, 5))
	start := Usual()
	opt := EstimateOptions{EstimateInitial: true, InitialCrank: 8, InitialPM: 8, Draws: 250}
	var table []*holds
	var misfits int
	began := time.Now()
	for run := range runs {
		d := truth(start, opt, r)
		opt.Seed = uint64(run)
		e, err := Estimate(start, read(d, 1, r), opt)
		if err != nil {
			t.Fatal(err)
		}
		if e.Misfit.P < 0.05 {
			misfits++
		}
		row := 0
		count := func(name string, f Fig, x float64) {
			if row == len(table) {
				table = append(table, &holds{name: name})
			}
			h := table[row]
			row++
			if f.Lo90 <= x && x <= f.Hi90 {
				h.in90++
			}
			if f.Lo95 <= x && x <= f.Hi95 {
				h.in95++
			}
			h.wide = append(h.wide, (f.Hi95-f.Lo95)/2)
			if f.Known {
				h.sure++
			}
		}
		for i, s := range d.Mechanism.Springs {
			n := fmt.Sprintf("spring %d ", i+1)
			count(n+"rate", e.Springs[i].RateNPerM, s.RateNPerM)
			if s.PreloadN > 0 {
				count(n+"preload", e.Springs[i].PreloadN, s.PreloadN)
			}
			if s.SlackM > 0 {
				count(n+"slack", e.Springs[i].SlackM, s.SlackM)
			}
		}
		count("stop", e.StopDeg, d.Mechanism.StopDeg)
		count("friction", e.FrictionNm, d.Mechanism.FrictionNm)
		count("initial", e.Initial, d.InitialCrank)
		c := e.Curve([]float64{2050}, 1)[0]
		count("curve at 2,050", Fig{Lo90: c.Lo90, Hi90: c.Hi90, Lo95: c.Lo95, Hi95: c.Hi95}, d.InitialCrank+2*d.Mechanism.At(1025).Rising)
	}
	n := float64(runs)
	slack := 0.0
	if underRace {
		slack = 0.12 // so few runs scatter by 5.5 % either way
	}
	t.Logf("%d runs in %v", runs, time.Since(began).Round(time.Millisecond))
	for _, h := range table {
		in90, in95 := float64(h.in90)/n, float64(h.in95)/n
		t.Logf("%-18s 90 %%: %5.1f   95 %%: %5.1f   narrowed in %5.1f   usual half-width %.3g", h.name, 100*in90, 100*in95, 100*float64(h.sure)/n, figure(h.wide).Mid)
		if in90 < 0.85-slack || in90 > 0.95+slack {
			t.Errorf("%s: the 90 %% interval holds the truth in %.1f %% of runs", h.name, 100*in90)
		}
		if in95 < 0.915-slack || in95 > 0.985+slack {
			t.Errorf("%s: the 95 %% interval holds the truth in %.1f %% of runs", h.name, 100*in95)
		}
	}
	t.Logf("misfit under 5 %% in %.1f %% of runs", 100*float64(misfits)/n)
	if f := float64(misfits) / n; f > 0.10+slack {
		t.Errorf("sound readings called a misfit at 5 %% in %.1f %% of runs", 100*f)
	}
}
