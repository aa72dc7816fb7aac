package twin

import (
	"math"
	"sort"

	"dwellwright/car"
)

// Driver is an uncertain figure of the car and the share it has in the
// plus-or-minus of a reading.
type Driver struct {
	Path   string
	Param  car.Param
	Share  float64 // 0..1, the square of the correlation over the draws
	Rising bool    // the reading rises with the figure
}

// Drivers ranks the car's uncertain figures by their share in the
// plus-or-minus of one reading: the square of the correlation between figure
// and reading over the draws, which for a reading that goes nearly straight
// with its figures is the part of its variance that measuring the figure
// would take away. Shares below what chance gives for that many draws (about
// 4 over their number) are left out. Measuring the first of them narrows the
// prediction most.
func Drivers(c *car.Car, conditionID string, spec Spec, draws int, seed uint64) ([]Driver, error) {
	s, err := NewSheet(c, conditionID, []Spec{spec})
	if err != nil {
		return nil, err
	}
	if s.from[0] == nil {
		return nil, &MissingError{spec, spec.Red}
	}
	s.sampler.seed = seed
	refs := s.sampler.refs
	n := len(refs)
	var sumY, sumYY float64
	sumX, sumXX, sumXY := make([]float64, n), make([]float64, n), make([]float64, n)
	out := []float64{0}
	for k := 1; k <= draws; k++ {
		if err := s.one(k, out, 1); err != nil {
			return nil, err
		}
		y := out[0]
		sumY += y
		sumYY += y * y
		for j, r := range refs {
			x := r.P.X - s.sampler.mid[j].X
			sumX[j] += x
			sumXX[j] += x * x
			sumXY[j] += x * y
		}
	}
	d := float64(draws)
	varY := sumYY - sumY*sumY/d
	var list []Driver
	for j, r := range refs {
		varX := sumXX[j] - sumX[j]*sumX[j]/d
		if s.sampler.mid[j].PM == 0 || !(varX > 0) || !(varY > 0) {
			continue
		}
		cov := sumXY[j] - sumX[j]*sumY/d
		share := cov * cov / (varX * varY)
		if share < math.Max(0.02, 4/d) {
			continue
		}
		list = append(list, Driver{Path: r.Path, Param: s.sampler.mid[j], Share: share, Rising: cov > 0})
	}
	sort.SliceStable(list, func(a, b int) bool { return list[a].Share > list[b].Share })
	return list, nil
}
