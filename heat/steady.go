package heat

import "fmt"

// Steady returns the temperatures in °C that the nodes settle at for good,
// one for each node in order, with powers put into the nodes and the given
// temperatures held at givenC:
//
//	sum_j (T_i - T_j)/R_ij = W_i + WPerK_i (T_i - AtC_i)   for each node i
//
// solved exactly (Cholesky). dst is used for the answer where it is large
// enough; then nothing is allocated. Where a WPerK outgrows what the paths can
// carry there is no such temperature: [RunawayError].
func (s *System) Steady(dst []float64, powers []Power, givenC []float64) ([]float64, error) {
	if err := s.checkPowers("steady", powers); err != nil {
		return nil, err
	}
	if len(givenC) != len(s.given) {
		return nil, &InputError{"steady", "number of given temperatures", float64(len(givenC)), fmt.Sprint(len(s.given))}
	}
	for j, c := range givenC {
		if !between(leastC, c, BeyondC) {
			return nil, &InputError{"steady", s.given[j], c, "-100 to 3000 °C"}
		}
	}
	n, m := len(s.names), len(s.given)
	var room [MaxNodes * MaxNodes]float64
	a := room[:n*n]
	copy(a, s.g)
	if cap(dst) < n {
		dst = make([]float64, n)
	}
	dst = dst[:n]
	for i, p := range powers {
		a[i*n+i] -= p.WPerK
		dst[i] = p.constant()
		for k := range m {
			dst[i] += s.b[i*m+k] * givenC[k]
		}
	}
	if !factor(a, n) {
		return nil, s.runaway(powers)
	}
	solve(a, n, dst)
	return dst, nil
}

func (s *System) runaway(powers []Power) *RunawayError {
	i := steepest(powers)
	return &RunawayError{Node: s.names[i], WPerK: powers[i].WPerK}
}

func (s *System) checkPowers(where string, powers []Power) error {
	if len(powers) != len(s.names) {
		return &InputError{where, "number of powers", float64(len(powers)), fmt.Sprintf("one for each node, %d,", len(s.names))}
	}
	for i, p := range powers {
		if err := p.Validate(); err != nil {
			return p.check(fmt.Sprintf("%s: power in %q", where, s.names[i]))
		}
	}
	return nil
}
