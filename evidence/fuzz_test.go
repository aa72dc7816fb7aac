package evidence

import (
	"encoding/binary"
	"math"
	"testing"
)

// FuzzCase makes any model and any sequence of readings and repairs: a named
// error, or probabilities that are probabilities; never a panic.
func FuzzCase(f *testing.F) {
	f.Add([]byte{3, 2, 4, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 250, 128, 7})
	f.Add([]byte{1, 1, 1, 0xff, 0xff, 0, 0, 0, 0xf0, 0x7f, 0, 0, 0, 0, 0, 0, 0xf8, 0x7f})
	f.Add([]byte{5, 4, 9, 200, 3, 77, 12, 0, 0, 9, 8, 33, 21, 90, 14, 255, 254, 253, 1, 1, 2, 3, 5, 8, 13, 21})
	f.Fuzz(func(t *testing.T, data []byte) {
		at := 0
		next := func() int {
			at++
			if len(data) == 0 {
				return 0
			}
			return int(data[(at-1)%len(data)])
		}
		figure := func() float64 {
			switch b := next(); {
			case b < 16 && len(data) >= 8:
				return math.Float64frombits(binary.LittleEndian.Uint64(data[next()%(len(data)-7):]))
			case b < 24:
				return math.NaN()
			default:
				return float64(b-128) / 8
			}
		}
		channels, faults, draws := 1+next()%5, next()%4, 1+next()%9
		m := Model{Healthy: "h", Unknown: Unknown{LogPrior: -3}}
		if next()%4 == 0 {
			m.StudentDF = 2 + float64(next()%9)
		}
		for c := range channels {
			ch := Channel{ID: string(rune('a' + c)), YesNo: next()%4 == 0, Abs: math.Exp(float64(next()-128) / 12),
				Low: -20, High: 20, Minutes: float64(next()) / 16, SlipProb: float64(next()%50) / 100}
			if next()%8 == 0 {
				ch.Abs, ch.Rel, ch.Low, ch.High = figure(), figure(), figure(), figure()
			}
			m.Channels = append(m.Channels, ch)
		}
		for h := range faults + 1 {
			y := Hypothesis{ID: "h", LogPrior: float64(next()-128) / 20}
			if h > 0 {
				y.ID, y.Remedy = string(rune('A'+h)), string(rune('R'+h))
				m.Remedies = append(m.Remedies, Remedy{y.Remedy, 1 + float64(next())})
			}
			if h == 3 {
				y.Remedy, y.Members = "", []string{"B", "C"}
			}
			for range draws {
				d := make([]float64, channels)
				for c := range d {
					d[c] = figure()
					if m.Channels[c].YesNo && next()%16 > 0 {
						d[c] = float64(next()) / 255
					}
				}
				y.Draws = append(y.Draws, d)
			}
			m.Hypotheses = append(m.Hypotheses, y)
		}
		b, err := Prepare(m)
		if err != nil {
			return
		}
		c := b.Open()
		for range 8 {
			r := Reading{Channel: string(rune('a' + next()%6)), Kind: Kind(next() % 7), Value: figure()}
			if next()%4 == 0 {
				r.HalfWidth = figure()
			}
			c.Take(r)
			if next()%4 == 0 {
				c.Repair(Repair{Remedies: []string{string(rune('R' + next()%5))}, Outcome: Outcome(next() % 4)})
			}
			if next()%8 == 0 {
				c.Forget(next() % 4)
			}
			sums(t, c)
		}
		n, err := c.Next(Situation{})
		if err != nil {
			t.Fatal(err)
		}
		if math.IsNaN(n.Now) || math.IsNaN(n.Best) || n.Best > n.Now {
			t.Fatalf("%+v", n)
		}
		for _, x := range n.Ranked {
			if math.IsNaN(x.Bits) || math.IsNaN(x.Total) || x.Bits < 0 {
				t.Fatalf("%+v", x)
			}
		}
		for h := range m.Hypotheses {
			if _, err := c.Why(m.Hypotheses[h].ID, Situation{}); err != nil {
				t.Fatal(err)
			}
		}
		c.NeedsDraws()
	})
}
