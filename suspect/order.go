package suspect

import (
	"cmp"
	"math"
	"slices"

	"dwellwright/measure"
)

const (
	// carsDrawn is how many cars are drawn to find those in order and to learn
	// how readings go together.
	carsDrawn = 192
	// mostOwnReports is how many reports more than the middle car, on the
	// average, a car in order may give rise to.
	mostOwnReports = 0.5
)

// lookAtCars draws cars and keeps those that are in order: a fault is something
// that has gone wrong with a car that ran as it should. The spreads of a car
// file's figures are those of all cars like it, and some of the cars drawn from
// them would bring their owner in with nothing added. One is kept if its owner
// would have little more to report than that of the middle car. Where the
// figures of the file are themselves those of a car that runs badly, the better
// half is kept.
func (b *Bank) lookAtCars() error {
	n := max(carsDrawn, 2*b.Draws)
	all := make([][]float64, n)
	if _, err := b.newReader(); err != nil {
		return err
	}
	const lot = 16
	b.set.Each((n+lot-1)/lot, func(i int) {
		r, err := b.newReader()
		r.cars = nil
		for k := i * lot; k < min((i+1)*lot, n); k++ {
			all[k] = make([]float64, len(b.Measures))
			if err == nil {
				r.cars = append(r.cars[:0], k+1)
				r.read(0, nil, all[k])
			}
		}
	})
	more := ownReports(b.Measures, all)
	order := make([]int, n)
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(more[x], more[y]) })
	limit := math.Max(mostOwnReports, more[order[n/2-1]])
	for k := range all {
		if more[k] <= limit {
			b.cars = append(b.cars, k+1)
			b.inOrder = append(b.inOrder, all[k])
		}
	}
	return nil
}

// ownReports is how many reports more than the middle car each car gives rise
// to, on the average.
func ownReports(list []measure.Measure, cars [][]float64) []float64 {
	more := make([]float64, len(cars))
	column := make([]float64, len(cars))
	for i := range list {
		if list[i].Group != measure.Owner {
			continue
		}
		for k := range cars {
			column[k] = cars[k][i]
			if math.IsNaN(column[k]) {
				column[k] = 0
			}
		}
		slices.Sort(column)
		middle := column[len(column)/2]
		for k := range cars {
			if x := cars[k][i]; x > middle {
				more[k] += x - middle
			}
		}
	}
	return more
}
