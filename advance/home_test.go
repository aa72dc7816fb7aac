package advance

import (
	"math/rand/v2"
	"testing"
)

// Home says what At says, for mechanisms of every kind and every speed.
func TestHomeIsNoAdvance(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	home, out := 0, 0
	for range 400 {
		m := Usual()
		m.Weights.MassKg *= 0.5 + r.Float64()
		m.Springs[0].PreloadN *= 2 * r.Float64()
		m.Springs[0].RateNPerM *= 0.5 + r.Float64()
		if r.IntN(4) == 0 {
			m.Springs[0].SlackM = 1e-3 * r.Float64()
		}
		for rpm := 20.0; rpm < 1500; rpm += 37 {
			at := m.At(rpm).Mid
			if m.Home(rpm) != (at < 1e-9) {
				t.Fatalf("at %g rpm: home %v, advance %g\n%+v", rpm, m.Home(rpm), at, m)
			}
			if at < 1e-9 {
				home++
			} else {
				out++
			}
		}
	}
	if home < 1000 || out < 1000 {
		t.Errorf("%d home, %d out", home, out)
	}
	if (Mechanism{}).Home(100) {
		t.Error("no mechanism, and it is at home")
	}
}
