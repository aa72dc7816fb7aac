package advance

import "math"

// Snap is a jump of the advance at one speed: the weights' pull grows faster
// than the springs', so they go all the way from one rest to the next.
type Snap struct {
	AtRPM          float64 // distributor rpm, rising, friction left out
	FromDeg, ToDeg float64 // distributor degrees
}

// Snaps are the jumps on rising speed without friction, found to within a
// fiftieth of the way from one take-up to the next; none in a sound mechanism.
func (m Mechanism) Snaps() ([]Snap, error) {
	if err := m.Validate(); err != nil {
		return nil, err
	}
	b := m.balance()
	var out []Snap
	for i := 1; i < len(b.mid); i++ {
		if b.mid[i] != b.mid[i-1] || b.psi[i] == b.psi[i-1] {
			continue
		}
		j := i
		for j+1 < len(b.mid) && b.mid[j+1] == b.mid[i] {
			j++
		}
		out = append(out, Snap{
			AtRPM:   math.Sqrt(max(0, b.mid[i])) * 30 / math.Pi,
			FromDeg: m.advance(b.psi[i-1]),
			ToDeg:   min(m.advance(b.psi[j]), m.StopDeg),
		})
		i = j
	}
	return out, nil
}
