package advance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// tenSprings is a box of ten kinds of springs, the i-th a fifth stiffer than
// the last, some hung with slack.
func tenSprings() Kit {
	var k Kit
	for i := range 10 {
		rate := 1500 * math.Pow(1.3, float64(i))
		s := KitSpring{ID: fmt.Sprintf("S%d", i), RateNPerM: rate, RatePM: 0.08 * rate, Count: 2}
		if i < 5 {
			s.PreloadN, s.PreloadPM = 3+0.4*float64(i), 0.4
		} else {
			s.SlackM, s.SlackPM = []float64{0.0022}, 0.0002
		}
		k.Springs = append(k.Springs, s)
	}
	for i := range 5 {
		k.Stops = append(k.Stops, KitStop{ID: fmt.Sprintf("stop %d", 8+i), StopDeg: 8 + float64(i), PM: 0.2})
	}
	for i := range 3 {
		k.Weights = append(k.Weights, KitWeight{ID: fmt.Sprintf("W%d", i), MassKg: 0.035 + 0.005*float64(i), PM: 0.0005})
	}
	return k
}

// A curve made from pieces of the kit is found again, and first.
func TestBestFindsWhatMadeTheCurve(t *testing.T) {
	kit := tenSprings()
	r := rand.New(rand.NewPCG(6, 6))
	began := time.Now()
	const runs = 10
	for run := range runs {
		light, heavy, stop, weight := r.IntN(5), 5+r.IntN(5), r.IntN(5), r.IntN(3)
		m := Usual()
		m.Weights.MassKg = kit.Weights[weight].MassKg
		m.StopDeg = kit.Stops[stop].StopDeg
		m.Springs = []Spring{m.Springs[0], m.Springs[1]}
		m.Springs[0].RateNPerM, m.Springs[0].PreloadN = kit.Springs[light].RateNPerM, kit.Springs[light].PreloadN
		m.Springs[1].RateNPerM, m.Springs[1].SlackM = kit.Springs[heavy].RateNPerM, 0.0022
		var wanted []Wanted
		for rpm := 800.0; rpm <= 4400; rpm += 400 {
			wanted = append(wanted, Wanted{RPM: rpm, Advance: 8 + 2*m.At(rpm/2).Mid})
		}
		builds, err := Best(Usual(), kit, wanted, BestOptions{Seed: 1, Initial: [2]float64{8, 8}, FrictionPM: 0.0003})
		if err != nil {
			t.Fatal(err)
		}
		if len(builds) != 20 {
			t.Fatalf("%d builds", len(builds))
		}
		found := false
		for i, b := range builds {
			if b.StopID == kit.Stops[stop].ID && b.WeightID == kit.Weights[weight].ID &&
				b.SpringIDs[0] == kit.Springs[light].ID && b.SpringIDs[1] == kit.Springs[heavy].ID {
				found = true
				if b.Worst > 0.03 {
					t.Errorf("run %d: what made the curve is off by %g of the tolerance", run, b.Worst)
				}
			}
			if i > 0 && b.Chance > builds[i-1].Chance {
				t.Error("ranked wrongly")
			}
			for j, p := range b.Points {
				if p.Chance < b.Chance {
					t.Error("all inside more often than one")
				}
				near(t, "predicted", p.Advance.Mid, b.Initial+2*b.Mechanism.At(wanted[j].RPM/2).Mid, 1e-9)
				near(t, "off", p.Off, p.Advance.Mid-wanted[j].Advance, 1e-9)
			}
		}
		if !found {
			t.Errorf("run %d: springs %d and %d, stop %d, weights %d are not among the best", run, light, heavy, stop, weight)
		}
	}
	each := time.Since(began) / runs
	t.Logf("825 builds in %v", each)
	if each > time.Second && !underRace {
		t.Errorf("825 builds take %v", each)
	}
}

// 10 springs in two places alike, twins allowed: 55 pairs; 5 stops, 3 weights.
func TestBuildsAreCounted(t *testing.T) {
	kit := tenSprings()
	b := bench{start: Usual(), kit: kit}
	sets, err := b.springSets()
	if err != nil || len(sets) != 55 {
		t.Errorf("%d pairs, %v; want 55", len(sets), err)
	}
	for i := range b.kit.Springs {
		b.kit.Springs[i].Count = 1
	}
	if sets, _ = b.springSets(); len(sets) != 45 {
		t.Errorf("%d pairs without twins, want 45", len(sets))
	}
	b.start.Springs = append([]Spring(nil), b.start.Springs...)
	b.start.Springs[1].PostM += 0.002
	if sets, _ = b.springSets(); len(sets) != 90 {
		t.Errorf("%d pairs in two places that differ, want 90", len(sets))
	}
	b.kit.Springs[0].SlackM = []float64{0, 0.001, 0.002}
	if sets, _ = b.springSets(); len(sets) != 90+2*2*9 {
		t.Errorf("%d pairs with one spring hung three ways, want 126", len(sets))
	}
}

// The chance by hand: a stop of 10 +- 1 (95 %) and a tolerance of 1 crank
// degree = half a distributor degree either way: |z| < 0.5*1.96 = 0.98, 67.3 %.
func TestChanceByHand(t *testing.T) {
	kit := Kit{Stops: []KitStop{{ID: "ten", StopDeg: 10, PM: 1}}}
	start := Usual()
	start.FrictionNm = 0
	builds, err := Best(start, kit, []Wanted{{RPM: 6000, Advance: 30, Tol: 1}}, BestOptions{Initial: [2]float64{10, 10}, Draws: 20000})
	if err != nil || len(builds) != 1 {
		t.Fatal(err, len(builds))
	}
	near(t, "chance", builds[0].Chance, 0.673, 0.012)
	near(t, "off", builds[0].Points[0].Off, 0, 1e-9)
	if builds[0].SpringIDs[0] != "" || builds[0].WeightID != "" || builds[0].StopID != "ten" {
		t.Errorf("%+v", builds[0])
	}
}

// The initial is set where the worst point is least: remains of -1 and +3 with
// equal tolerances want one degree less.
func TestInitialIsChosen(t *testing.T) {
	start := Usual()
	wanted := []Wanted{{RPM: 100, Advance: 11}, {RPM: 6000, Advance: 7 + 22}}
	builds, err := Best(start, Kit{}, wanted, BestOptions{Initial: [2]float64{0, 20}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "initial", builds[0].Initial, 9, 1e-6)
	builds, _ = Best(start, Kit{}, wanted, BestOptions{Initial: [2]float64{10, 20}})
	near(t, "initial held to its range", builds[0].Initial, 10, 1e-6)
	near(t, "off then", builds[0].Points[1].Off, 3, 1e-9)
}
