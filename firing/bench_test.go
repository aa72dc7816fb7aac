package firing

import "testing"

func BenchmarkSolve(b *testing.B) {
	var s Solver
	c := usual()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Solve(c); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolveThorough(b *testing.B) {
	s := Solver{Thorough: true}
	c := usual()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Solve(c); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAvailable(b *testing.B) {
	var s Solver
	c := usual()
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := s.Available(c); err != nil {
			b.Fatal(err)
		}
	}
}

// A map over speed and supply, point by point.
func BenchmarkMap(b *testing.B) {
	var s Solver
	c := usual()
	b.ReportAllocs()
	for k := 0; b.Loop(); k++ {
		c.Rhythm = Turning(8, 300+20*float64(k%250), 30)
		c.Source.Volts = 6 + 0.2*float64(k/250%45)
		if _, _, err := s.Available(c); err != nil {
			b.Fatal(err)
		}
	}
}
