package evidence

import (
	"fmt"
	"math"
	"testing"
)

// Whatever finite figure is typed, however wide it is said to be and whatever
// instrument the model knows: probabilities stay probabilities.
func TestAsLargeAndAsSmallAsFiguresGo(t *testing.T) {
	const most, least = math.MaxFloat64, math.SmallestNonzeroFloat64
	figures := []float64{0, least, 1e-300, 1, 14, 1e150, 1e300, most, -least, -1, -1e160, -most}
	widths := []float64{0, least, 1e-12, 3, 1e160, most}
	for i, ch := range []Channel{
		{Abs: 0.05, Low: -1, High: 15},
		{Abs: 0.05, Rel: 1, Low: -1, High: 15},
		{Abs: finest, Rel: 0.05, Low: 0, High: widest * finest},
		{Abs: finest, Low: 0, High: finest / 4},
		{Abs: coarsest, Low: -widest * coarsest, High: widest * coarsest},
		{Abs: coarsest, Rel: 1, Low: 0, High: coarsest},
		{Abs: 1, Rel: 0.1, Low: 1e10, High: math.Nextafter(1e10, 2e10)},
		{Abs: 1, Low: 0, High: 10, SlipFactors: []float64{1 / farthest, -1 / farthest, farthest, -farthest}},
	} {
		for _, df := range []float64{0, 2} {
			m := duo(9)
			m.StudentDF = df
			ch.ID = m.Channels[1].ID
			m.Channels[1] = ch
			for h := range m.Hypotheses {
				for k, d := range m.Hypotheses[h].Draws {
					d[1] = []float64{ch.Low, ch.High, most, -most, math.Inf(1), math.NaN(), 0, 1, least}[(k+2*h)%9]
				}
			}
			b := must(Prepare(m))
			for _, y := range figures {
				for _, w := range widths {
					for _, kind := range []Kind{Figure, LessThan, MoreThan} {
						t.Run(fmt.Sprintf("channel %d, t %g, kind %d, %g in %g", i, df, kind, y, w), func(t *testing.T) {
							c := b.Open()
							for range 2 { // again, for taking the place of the first
								if err := c.Take(Reading{Channel: ch.ID, Kind: kind, Value: y, HalfWidth: w}); err != nil {
									t.Fatal(err)
								}
								sums(t, c)
							}
							if err := c.Take(Reading{Channel: m.Channels[0].ID, Value: 1}); err != nil {
								t.Fatal(err)
							}
							sums(t, c)
							if n := must(c.Next(Situation{})); math.IsNaN(n.Now) || math.IsNaN(n.Best) {
								t.Fatalf("%+v", n)
							}
						})
					}
				}
			}
		}
	}
}
