package firing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"testing"
)

func TestZZ(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 6))
	type row struct {
		d float64
		s string
	}
	var rows []row
	uns := 0
	for trial := 0; trial < 2000; trial++ {
		c := randomCase(rng)
		if rng.IntN(6) == 0 {
			c.Break.Back = 0.8
		}
		if rng.IntN(8) == 0 {
			c.Coil.Iron = 0
		}
		s := Solver{Thorough: true}
		f, err := s.Solve(c)
		if err != nil {
			t.Errorf("%v %+v", err, c)
			continue
		}
		if !f.Settled {
			uns++
			continue
		}
		l := f.Lost
		sum := l.Primary + l.Iron + l.Secondary + l.Series + l.Gap + l.Shunt + l.Switch + l.Clamp + l.Condenser + l.Contact
		d := math.Abs(sum-l.Supply) / l.Supply
		rows = append(rows, row{d, fmt.Sprintf("%d %.3g%% %+v\n   %+v\n", trial, 100*d, c, f)})
	}
	sort.Slice(rows, func(i, j int) bool { return rows[i].d > rows[j].d })
	for _, k := range []int{0, 1, 2, 3, 4, 5, 10, 20, 50, 100, 200, 500, 1000} {
		fmt.Printf("%d: %.3g %%\n", k, 100*rows[k].d)
	}
	for _, r := range rows[:6] {
		fmt.Println(r.s)
	}
	fmt.Println("unsettled", uns)
}
