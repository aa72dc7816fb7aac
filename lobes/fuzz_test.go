package lobes

import (
	"encoding/binary"
	"errors"
	"math"
	"testing"
)

// FuzzSeparate feeds angles near a sound run and far from it: a named error or
// sound figures, and never a panic.
func FuzzSeparate(f *testing.F) {
	f.Add(uint8(4), uint8(3), uint8(0), 0.5, []byte{1, 2, 3, 250, 9, 17})
	f.Add(uint8(8), uint8(10), uint8(1), 0.0, []byte{200, 100, 7})
	f.Add(uint8(1), uint8(3), uint8(2), 0.1, []byte{5, 6, 7})
	f.Add(uint8(6), uint8(5), uint8(7), 1.0, []byte{0, 0, 0, 0, 0, 0, 0xf8, 0x7f})
	f.Add(uint8(2), uint8(4), uint8(3), 45.0, []byte{})
	f.Fuzz(func(t *testing.T, lobes, turns, how uint8, accuracy float64, noise []byte) {
		l, n := int(lobes)%18, int(turns)%12
		ideal := make([]float64, l)
		for j := range ideal {
			ideal[j] = 360 * float64(j) / float64(l)
			if how&8 != 0 && j%2 == 1 && len(noise) > j {
				ideal[j] += float64(noise[j])/8 - 16
			}
		}
		at := 0
		next := func() float64 {
			if len(noise) == 0 {
				return 0
			}
			at++
			if how&4 != 0 && len(noise) >= 8 {
				return math.Float64frombits(binary.LittleEndian.Uint64(noise[at%(len(noise)-7):]))
			}
			return (float64(noise[at%len(noise)]) - 128) / 32
		}
		run := Run{}
		closes := Run{}
		for i := range n {
			var a, c []float64
			for _, x := range ideal {
				y := x + next()
				if how&1 != 0 {
					y += 360 * float64(i)
				}
				if how&2 != 0 {
					y = -y
				}
				a, c = append(a, y), append(c, y+180/float64(l))
			}
			run.Turns, closes.Turns = append(run.Turns, a), append(closes.Turns, c)
		}
		named := func(err error) {
			var e *Error
			if err != nil && (!errors.As(err, &e) || e.Field == "" || e.What == "" || e.Accept == "" || e.Kind == nil) {
				t.Fatalf("%v", err)
			}
		}
		sound := func(what string, x Fig) {
			for _, v := range []float64{x.Mid, x.PM, x.Lo, x.Hi} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%s: %+v", what, x)
				}
			}
			if x.Lo > x.Mid || x.Mid > x.Hi || x.PM < 0 {
				t.Fatalf("%s: %+v", what, x)
			}
		}
		if e, err := Separate(run, ideal, accuracy); err == nil {
			sum := 0.0
			for j := range e.Cam {
				sound("cam", e.Cam[j])
				sound("interval", e.Spacing.Intervals[j])
				sum += e.Cam[j].Mid
			}
			if math.Abs(sum) > 1e-6 {
				t.Fatalf("cam sums to %g", sum)
			}
			for _, x := range []Fig{e.Offset, e.Slope, e.Wobble.Amp, e.Wobble.Phase, e.Wobble.Cos, e.SidePlay, e.Random, e.Seen, e.Spacing.Worst, e.Cost.Random} {
				sound("figure", x)
			}
		} else {
			named(err)
		}
		_, err := SideLoad(run, closes, ideal, accuracy, 0.01)
		named(err)
		_, err = Reclamped(run, closes, ideal, accuracy)
		named(err)
		if d, err := Dwells(run, closes, ideal, accuracy); err == nil {
			for _, x := range append(d.PerLobe, d.Mean, d.Spread, d.Scatter) {
				sound("dwell", x)
			}
		} else {
			named(err)
		}
		_, err = FromIntervals(l, append([]float64{}, ideal...))
		named(err)
	})
}
