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
