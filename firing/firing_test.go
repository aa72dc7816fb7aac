package firing

import (
	"fmt"
	"math"
	"testing"
)

func usual() *Case {
	return &Case{
		Coil:   Coil{L1: 8e-3, L2: 80, Coupling: 0.97, R2: 9000, Iron: 1500},
		Source: Source{Volts: 13.5, Ohms: 2.9},
		Break:  Break{On: 0.02, Farads: 0.22e-6, Series: 0.1},
		Gap:    Gap{Farads: 80e-12, Series: 11e3, Required: 10e3, Burn: 1000, Extinct: 5e-3, Linger: 0},
		Rhythm: Turning(8, 2000, 30),
	}
}

func TestLook(t *testing.T) {
	var s Solver
	for _, rpm := range []float64{150, 600, 2000, 5000} {
		for _, th := range []bool{false, true} {
			s.Thorough = th
			c := usual()
			c.Rhythm = Turning(8, rpm, 30)
			f, err := s.Solve(c)
			fmt.Printf("%g: %+v %v\n", rpm, f, err)
		}
	}
	c := usual()
	c.Break = Break{Drop: 1.2, On: 0.1, Farads: 3e-10, Clamp: 380, ClampOhms: 1}
	s.Thorough = true
	f, err := s.Solve(c)
	fmt.Printf("%+v %v\n", f, err)
	c.Gap.Required = math.Inf(1)
	f, err = s.Solve(c)
	fmt.Printf("%+v %v\n", f, err)
}

func BenchmarkSolve(b *testing.B) {
	for _, th := range []bool{false, true} {
		b.Run(fmt.Sprint("thorough", th), func(b *testing.B) {
			var s Solver
			s.Thorough = th
			c := usual()
			b.ReportAllocs()
			for b.Loop() {
				s.Solve(c)
			}
		})
	}
}

func BenchmarkAvailable(b *testing.B) {
	var s Solver
	c := usual()
	b.ReportAllocs()
	for b.Loop() {
		s.Available(c)
	}
}
