package lobes

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func good() Run {
	return Run{[][]float64{{0, 90, 180, 270}, {360, 450, 540, 630}, {720, 810, 900, 990}, {1080, 1170, 1260, 1350}}}
}

func TestErrors(t *testing.T) {
	spoil := func(f func(r *Run)) Run { r := good(); f(&r); return r }
	within := Run{[][]float64{{0, 90, 180, 270}, {0, 90, 180, 270}, {0, 90, 180, 270}}}
	sep := func(r Run, ideal []float64, acc float64) error { _, err := Separate(r, ideal, acc); return err }
	for name, x := range map[string]struct {
		err   error
		kind  error
		field string
	}{
		"two turns":          {sep(Run{good().Turns[:2]}, even(4), 0), ErrTurns, "Turns"},
		"no turn":            {sep(Run{}, even(4), 0), ErrTurns, "Turns"},
		"no lobe":            {sep(good(), nil, 0), ErrIdeal, "ideal"},
		"six lobes":          {sep(good(), even(6), 0), ErrLobes, "Turns[0]"},
		"too many angles":    {sep(spoil(func(r *Run) { r.Turns[1] = append(r.Turns[1], 700) }), even(4), 0), ErrLobes, "Turns[1]"},
		"one firing missing": {sep(spoil(func(r *Run) { r.Turns[2] = r.Turns[2][:3] }), even(4), 0), ErrMissing, "Turns[2]"},
		"a turn missing":     {sep(spoil(func(r *Run) { r.Turns = append(r.Turns[:2], r.Turns[3]) }), even(4), 0), ErrMissing, "Turns[2][0]"},
		"not a number":       {sep(spoil(func(r *Run) { r.Turns[1][2] = math.NaN() }), even(4), 0), ErrNumber, "Turns[1][2]"},
		"without end":        {sep(spoil(func(r *Run) { r.Turns[3][0] = math.Inf(1) }), even(4), 0), ErrNumber, "Turns[3][0]"},
		"swapped":            {sep(spoil(func(r *Run) { r.Turns[1][2], r.Turns[1][3] = r.Turns[1][3], r.Turns[1][2] }), even(4), 0), ErrOrder, "Turns[1][2]"},
		"turns swapped":      {sep(spoil(func(r *Run) { r.Turns[1], r.Turns[2] = r.Turns[2], r.Turns[1] }), even(4), 0), ErrMissing, "Turns[1][0]"},
		"a lobe slipped": {sep(Run{append([][]float64{{0, 90, 180, 270}}, append(within.Turns, []float64{90, 180, 270, 0})...)},
			even(4), 0), ErrOrder, "Turns[4][0]"},
		"ideal not from 0": {sep(good(), []float64{10, 90, 180, 270}, 0), ErrIdeal, "ideal[0]"},
		"ideal falls":      {sep(good(), []float64{0, 180, 90, 270}, 0), ErrIdeal, "ideal[2]"},
		"ideal NaN":        {sep(good(), []float64{0, math.NaN(), 90, 270}, 0), ErrIdeal, "ideal[1]"},
		"accuracy":         {sep(good(), even(4), -1), ErrAccuracy, "accuracy"},
		"accuracy NaN":     {sep(good(), even(4), math.NaN()), ErrAccuracy, "accuracy"},
		"radius":           {second(SideLoad(good(), good(), even(4), 0, 0)), ErrRadius, "radiusM"},
		"other way round":  {second(SideLoad(good(), change(good(), func(_, _ int, y float64) float64 { return -y }), even(4), 0, 0.01)), ErrOrder, "second run"},
		"wheel not turned": {second(Reclamped(good(), good(), even(4), 0)), ErrClamp, "second run"},
		"three lobes":      {second(Reclamped(Run{[][]float64{{0, 120, 240}, {0, 120, 240}, {0, 120, 240}}}, Run{[][]float64{{90, 210, 330}, {90, 210, 330}, {90, 210, 330}}}, even(3), 0)), ErrIdeal, "ideal"},
		"no closings":      {second(Dwells(good(), Run{}, even(4), 0)), ErrLobes, "closes.Turns"},
		"closing missing":  {second(Dwells(good(), spoil(func(r *Run) { r.Turns[0] = r.Turns[0][:2] }), even(4), 0)), ErrMissing, "closes.Turns[0]"},
		"closing late":     {second(Dwells(good(), change(good(), func(_, _ int, y float64) float64 { return y + 95 }), even(4), 0)), ErrOrder, "closes.Turns[0][0]"},
		"closing at once":  {second(Dwells(good(), good(), even(4), 0)), ErrOrder, "closes.Turns[0][0]"},
		"closing NaN":      {second(Dwells(good(), change(good(), func(_, _ int, _ float64) float64 { return math.NaN() }), even(4), 0)), ErrNumber, "closes.Turns[0][0]"},
		"dwell accuracy":   {second(Dwells(good(), good(), even(4), 99)), ErrAccuracy, "accuracy"},
		"intervals":        {second(FromIntervals(4, make([]float64, 13))), ErrMissing, "intervals"},
		"no intervals":     {second(FromIntervals(4, nil)), ErrMissing, "intervals"},
		"interval NaN":     {second(FromIntervals(4, []float64{90, math.NaN(), 90})), ErrNumber, "intervals[1]"},
		"lobes":            {second(FromIntervals(0, nil)), ErrLobes, "lobes"},
	} {
		var e *Error
		if !errors.As(x.err, &e) || !errors.Is(x.err, x.kind) {
			t.Errorf("%s: %v", name, x.err)
			continue
		}
		if e.Field != x.field || e.What == "" || e.Accept == "" || !strings.Contains(e.Error(), e.Accept) {
			t.Errorf("%s: %v", name, e)
		}
	}
	if err := sep(good(), even(4), 0); err != nil {
		t.Error(err)
	}
}

func second[T any](_ T, err error) error { return err }
