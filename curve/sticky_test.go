package curve_test

import (
	"testing"

	"dwellwright/curve"
)

// Weights that stick are off by their friction either way: a point that only
// the middle of the two holds is not held, drawn cars or none.
func TestStickyWeights(t *testing.T) {
	for _, draws := range []int{0, 40} {
		set := curve.Settings{Draws: draws, Seed: 1}
		free := compute(t, plain+"advance: {friction: 0 ± 0 mN m}\n", set)
		at := func(friction string) float64 {
			s := set
			s.Wanted = []curve.Point{{RPM: 1500, Advance: free.Off[12].Mid, Tolerance: 2}} // 300 + 12·100 rpm
			return compute(t, plain+"advance: {friction: "+friction+"}\n", s).Wanted[0].Inside
		}
		if good, sticky := at("0 ± 0 mN m"), at("20 ± 0 mN m"); sticky >= good || draws == 0 && (good != 1 || sticky != 0) {
			t.Errorf("%d draws: free %g, sticky %g", draws, good, sticky)
		}
	}
}
