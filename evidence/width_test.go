package evidence

import (
	"math"
	"testing"
)

// A reading of 0 ± 0.5 on a scale that tells 0.1 mV apart at nought and 0.5 % above
// does not speak for 12 as well; and where the width is small beside the figure it is
// that over the scale's own.
func TestWideAtNought(t *testing.T) {
	c := channel{Channel: Channel{ID: "volts", Abs: 2e-4, Rel: 0.005, Low: -1, High: 15}}
	c.scale = c.Channel.scale()
	b := &Bank{channelAt: map[string]int{"volts": 0}, channels: []channel{c}}
	sds := func(r Reading, at float64) float64 {
		got, err := b.read(r)
		if err != nil {
			t.Fatal(err)
		}
		return math.Abs(c.scale.z(at)-got.z) / math.Sqrt(got.s2)
	}
	r := Reading{Channel: "volts", Value: 0, HalfWidth: 0.5}
	if far := sds(r, 12.3); far < 2.5 {
		t.Errorf("12.3 is %.2f standard deviations from 0 ± 0.5", far)
	}
	if near := sds(r, 0.1); near > 1.96 {
		t.Errorf("0.1 is %.2f standard deviations from 0 ± 0.5", near)
	}
	r = Reading{Channel: "volts", Value: 12, HalfWidth: 0.1}
	if got, want := sds(r, 12.1), half95; math.Abs(got-want) > 0.01*want {
		t.Errorf("12.1 is %.4f standard deviations from 12 ± 0.1", got)
	}
}
