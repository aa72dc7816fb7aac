package distributor

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestCombine(t *testing.T) {
	for name, c := range map[string]struct {
		pitch        float64
		sets         []BreakerSet
		opens, dwell float64
		err          error
	}{
		"one set": {45, []BreakerSet{{50, 28}}, 5, 28, nil},
		// Closed −27 to 0 and −17 to 10: together −27 to 10, open 10 to 18.
		"an eight": {45, []BreakerSet{{0, 27}, {10, 27}}, 10, 37, nil},
		// Each by itself 27, together about 33: what dual sets of eights are set to
		// [from memory]: the second opens 6 later.
		"33 of 45":       {45, []BreakerSet{{100, 27}, {106, 27}}, 16, 33, nil},
		"order is none":  {45, []BreakerSet{{106, 27}, {100, 27}}, 16, 33, nil},
		"one inside":     {90, []BreakerSet{{0, 50}, {-10, 20}}, 0, 50, nil},
		"across the end": {45, []BreakerSet{{44, 27}, {1, 27}}, 1, 29, nil},
		// Closed 0 to 30 and 18 to 45 of 45.
		"never open":  {45, []BreakerSet{{30, 30}, {0, 27}}, 0, 0, ErrNeverOpen},
		"twice":       {90, []BreakerSet{{20, 20}, {60, 20}}, 0, 0, ErrOpenTwice},
		"no sets":     {45, nil, 0, 0, ErrBreakers},
		"no pitch":    {0, []BreakerSet{{0, 27}}, 0, 0, ErrBreakers},
		"all dwell":   {45, []BreakerSet{{0, 45}}, 0, 0, ErrBreakers},
		"not a dwell": {45, []BreakerSet{{0, math.NaN()}}, 0, 0, ErrBreakers},
		"not an open": {45, []BreakerSet{{math.Inf(1), 20}}, 0, 0, ErrBreakers},
	} {
		opens, dwell, err := Combine(c.pitch, c.sets...)
		if !errors.Is(err, c.err) {
			t.Errorf("%s: %v", name, err)
		}
		same(t, name+" opens", opens, c.opens, 1e-9)
		same(t, name+" dwell", dwell, c.dwell, 1e-9)
	}
}

// Against a count of small steps round the pitch.
func TestCombineByWalking(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	var good, never, twice int
	for range 2000 {
		pitch := []float64{45, 60, 90}[r.IntN(3)]
		sets := make([]BreakerSet, 1+r.IntN(3))
		for i := range sets {
			sets[i] = BreakerSet{360 * r.Float64(), pitch * (0.05 + 0.9*r.Float64())}
		}
		const steps = 4000
		var shut [steps]bool
		n := 0
		for k := range shut {
			at := pitch * (float64(k) + 0.5) / steps
			for _, b := range sets {
				if since := math.Mod(b.Opens-at+720, pitch); since < b.DwellDeg {
					shut[k] = true
				}
			}
			if shut[k] {
				n++
			}
		}
		opens, dwell, err := Combine(pitch, sets...)
		breaks := 0
		for k := range shut {
			if shut[k] && !shut[(k+1)%steps] {
				breaks++
				if err == nil && math.Abs(math.Remainder(pitch*float64(k+1)/steps-opens, pitch)) > pitch/steps {
					t.Fatalf("opens %g, walked %g: %v", opens, pitch*float64(k+1)/steps, sets)
				}
			}
		}
		switch {
		case err == nil && breaks == 1:
			good++
			same(t, "dwell", dwell, pitch*float64(n)/steps, 2*pitch/steps)
		case errors.Is(err, ErrNeverOpen) && breaks == 0:
			never++
		case errors.Is(err, ErrOpenTwice) && breaks > 1:
			twice++
		default:
			t.Fatalf("%v, walked %d breaks: %g %v", err, breaks, pitch, sets)
		}
	}
	t.Logf("%d good, %d never open, %d twice", good, never, twice)
}

func TestFirstStart(t *testing.T) {
	for _, c := range []struct {
		advance float64
		want    StartVerdict
		words   string
	}{
		{8, StartsWell, "catch"}, {0, StartsWell, ""}, {14, StartsWell, ""}, {-5, StartsLate, "late"}, {-30, HardToStart, "Too late"},
		{17, HardToStart, "starter"}, {40, KicksBack, "kick"}, {55, KicksBack, ""},
		{100, Backfires, "1 tower early"}, {-82, HardToStart, "1 tower late"}, {190, Backfires, "2 towers early"},
		{360, FiresOnOverlap, "whole turn"}, {-355, FiresOnOverlap, ""}, {370, FiresOnOverlap, ""}, {720 + 8, StartsWell, "catch"},
	} {
		s := FirstStart(c.advance, 0, 90)
		if s.Verdict != c.want || s.Chances[c.want] != 1 || !strings.Contains(s.Words, c.words) {
			t.Errorf("%g: %+v, want %v", c.advance, s, c.want)
		}
	}
	// 10 ± 8: σ = 8/1.96 = 4.0816. Φ((14−10)/σ) − Φ((0−10)/σ) = Φ(0.98) − Φ(−2.45)
	// = 0.8365 − 0.0071; 14 to 20: Φ(2.45) − Φ(0.98) = 0.9929 − 0.8365 [tables of
	// the normal distribution].
	s := FirstStart(10, 8, 90)
	same(t, "well", s.Chances[StartsWell], 0.8294, 0.0002)
	same(t, "labours", s.Chances[HardToStart], 0.1564, 0.0002)
	same(t, "kicks", s.Chances[KicksBack], 0.0071, 0.0002)
	same(t, "late", s.Chances[StartsLate], 0.0071, 0.0002)
	if s = FirstStart(10, 20, 90); !strings.Contains(s.Words, "in 100") {
		t.Error(s.Words)
	}
	for _, pm := range []float64{0, 1e-12, 1, 30, 300, 2000, 1e300} {
		var sum float64
		for _, c := range FirstStart(10, pm, 90).Chances {
			sum += c
			if !(c >= 0) {
				t.Error(pm, c)
			}
		}
		same(t, "sum", sum, 1, 1e-9)
	}
	if s := FirstStart(math.NaN(), 1, 90); s.Verdict != HardToStart || s.Words == "" || s.Chances[HardToStart] != 0 {
		t.Errorf("%+v", s)
	}
	for v := range StartVerdict(startVerdicts + 1) {
		if v.String() == "" {
			t.Error(v)
		}
	}
}

// seated is a rotor on a shaft, in millimetres, turned into metres.
func seated() Heights {
	h := Heights{
		LiftM: 0, BoreM: 14, LeastBoreM: 11,
		Blade: [2]float64{20, 23}, Contacts: [2]float64{18, 26}, LeastM: 2,
		RotorTopM: 25, RoofM: 28, ClearanceM: 1,
		SpringM: 24, Brush: [2]float64{21, 27},
		EndPlayUpM: 0.3, EndPlayDownM: 0.3,
		SleeveM: 5, SensorM: 4.4, AxialMostM: 1,
	}
	for _, p := range []*float64{&h.LiftM, &h.BoreM, &h.LeastBoreM, &h.Blade[0], &h.Blade[1], &h.Contacts[0], &h.Contacts[1], &h.LeastM,
		&h.RotorTopM, &h.RoofM, &h.ClearanceM, &h.SpringM, &h.Brush[0], &h.Brush[1], &h.EndPlayUpM, &h.EndPlayDownM, &h.SleeveM, &h.SensorM, &h.AxialMostM} {
		*p *= 1e-3
	}
	return h
}

func TestSeat(t *testing.T) {
	h := seated()
	s, err := h.Seat()
	if err != nil {
		t.Fatal(err)
	}
	same(t, "engagement", s.EngagementM, 14e-3, 1e-12)
	same(t, "facing down", s.FacingM[0], 3e-3, 1e-12) // the whole blade: 19.7 to 22.7 in 18 to 26
	same(t, "facing up", s.FacingM[1], 3e-3, 1e-12)
	same(t, "roof down", s.RoofM[0], 3.3e-3, 1e-12) // 28 − 25 + 0.3
	same(t, "roof up", s.RoofM[1], 2.7e-3, 1e-12)
	same(t, "press down", s.PressM[0], 2.7e-3, 1e-12)   // 24 − 0.3 − 21
	same(t, "brush up", s.BrushLeftM[1], 2.7e-3, 1e-12) // 27 − 24.3
	same(t, "magnets down", s.AxialM[0], 0.3e-3, 1e-12) // 5 − 0.3 − 4.4
	same(t, "magnets up", s.AxialM[1], 0.9e-3, 1e-12)   // 5 + 0.3 − 4.4
	same(t, "shim", s.ShimM, 0.6e-3, 1e-12)             // under the sensor
	same(t, "relief", s.ReliefM, 0, 0)
	if !s.AxialFits {
		t.Error("0.9 of 1 mm fits")
	}

	// A sleeve that lifts the rotor 2 mm: roof 28 − 27.3 = 0.7 of 1 wanted, so 0.3
	// relief; engagement 12 of 11 will do; brush 27 − 26.3 will do.
	h.LiftM = 2e-3
	s, err = h.Seat()
	if err != nil {
		t.Fatal(err)
	}
	same(t, "lifted roof", s.RoofM[1], 0.7e-3, 1e-12)
	same(t, "lifted relief", s.ReliefM, 0.3e-3, 1e-12)
	same(t, "lifted engagement", s.EngagementM, 12e-3, 1e-12)
	// 5 mm: engagement 9: 2 short; roof −2.3: 3.3 short; brush −2.3: 2.3 short;
	// blade from 25.3: 0.7 of contacts above it, 1.3 short. 3.3 off cures all.
	h.LiftM = 5e-3
	s, err = h.Seat()
	if err != nil {
		t.Fatal(err)
	}
	same(t, "5 mm", s.ReliefM, 3.3e-3, 1e-12)
	same(t, "5 mm facing", s.FacingM[1], 0.7e-3, 1e-12)
	h.LiftM -= s.ReliefM
	if s, err = h.Seat(); err != nil || s.ReliefM > 1e-9 {
		t.Errorf("after the relief: %+v %v", s, err)
	}

	for name, c := range map[string]struct {
		want   error
		change func(*Heights)
	}{
		"short bore":       {ErrEngagement, func(h *Heights) { h.BoreM = 10e-3 }},
		"low roof":         {ErrRoof, func(h *Heights) { h.RoofM = 26.2e-3 }},
		"solid brush":      {ErrBrush, func(h *Heights) { h.Brush[1] = 24.2e-3 }},
		"brush too short":  {ErrBrush, func(h *Heights) { h.Brush[0] = 23.8e-3 }},
		"blade above":      {ErrContacts, func(h *Heights) { h.Contacts = [2]float64{10e-3, 22e-3} }},
		"blade below":      {ErrContacts, func(h *Heights) { h.Contacts = [2]float64{21e-3, 30e-3} }},
		"too much play":    {ErrNoRoom, func(h *Heights) { h.EndPlayUpM, h.EndPlayDownM = 1.2e-3, 1.2e-3 }},
		"negative lift":    {ErrHeights, func(h *Heights) { h.LiftM = -1e-3 }},
		"millimetres":      {ErrHeights, func(h *Heights) { h.BoreM = 14 }},
		"not a number":     {ErrHeights, func(h *Heights) { h.SleeveM = math.NaN() }},
		"blade turned":     {ErrHeights, func(h *Heights) { h.Blade[0], h.Blade[1] = h.Blade[1], h.Blade[0] }},
		"brush turned":     {ErrHeights, func(h *Heights) { h.Brush[1] = 0 }},
		"faces too little": {ErrHeights, func(h *Heights) { h.LeastM = 4e-3 }},
	} {
		h := seated()
		c.change(&h)
		_, err := h.Seat()
		var e *Error
		if !errors.Is(err, c.want) || !errors.As(err, &e) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
}

func TestErrorWords(t *testing.T) {
	d := eight()
	d.Housing = -20
	if got, want := d.Validate().Error(), "distributor: Housing: the vacuum can stands in the heater hose or nearer than 3 degrees to it: a housing that is clear where it stands is wanted"; got != want {
		t.Error(got)
	}
}
