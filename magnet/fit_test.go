package magnet

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// usual is a usual ring and switch at 20 degrees and 1 mm.
func usual(lobes int) Fit {
	return Fit{Ring: UsualRing(lobes, 0.015), Hall: UsualHall(), GapM: 0.001, TempC: 20}
}

// Facts of the trade (common practice, no source): a hall trigger with a ring
// of magnets is set to 0.5 to 1.5 mm and works to about 1.5 to 3.5 mm; a
// toothed pickup wants about 0.008 in. Heat takes some of the gap away.
func TestGapsOfTheTrade(t *testing.T) {
	for _, lobes := range []int{4, 6, 8} {
		f := usual(lobes)
		cold, err := f.LargestGap()
		if err != nil {
			t.Fatal(err)
		}
		f.TempC = 110
		hot, err := f.LargestGap()
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d lobes: %.2f mm cold, %.2f mm at 110 degrees", lobes, 1e3*cold, 1e3*hot)
		if !within(cold, 0.0015, 0.0035) || !within(hot, 0.0015, cold-0.0002) {
			t.Errorf("%d lobes: largest gap %g m cold, %g m hot", lobes, cold, hot)
		}
		// Uncritical once it fires: half a millimetre more moves the spark less
		// than one distributor degree.
		f.TempC = 20
		if late := f.Timing(0.0015); !within(late, 0, 1) {
			t.Errorf("%d lobes: 1 to 1.5 mm moves the spark %g degrees", lobes, late)
		}

		r := UsualReluctor(lobes)
		for _, volts := range []float64{0.25, 0.35, 0.5} {
			gap, err := r.LargestGap(volts, 75)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%d teeth: %.2f mm for %g V at 75 rpm", lobes, 1e3*gap, volts)
			if !within(gap, 0.0002, 0.001) || gap > cold/3 {
				t.Errorf("%d teeth, %g V at cranking speed: largest gap %g m", lobes, volts, gap)
			}
		}
		if emf := r.EMF(0.008*0.0254, 75); !within(emf, 0.4, 1) {
			t.Errorf("%d teeth at 0.008 in: %g V at cranking speed", lobes, emf)
		}
	}
}

// The voltage of a reluctor is the steepest slope of its flux, taken
// numerically from the pulse its comment states; it is in proportion to speed and
// falls to 1/e over tau.
func TestReluctor(t *testing.T) {
	r := UsualReluctor(6)
	const gap, rpm = 0.0003, 300.0
	flux := func(s float64) float64 { // at time s, tooth passing at s = 0
		x := math.Abs(r.RadiusM * 2 * math.Pi * rpm / 60 * s)
		if x > r.ToothM {
			return 0
		}
		return r.FluxWb * math.Exp(-gap/r.TauM()) * (1 + math.Cos(math.Pi*x/r.ToothM)) / 2
	}
	top := 0.0
	const h = 1e-7
	for s := -0.01; s < 0.01; s += 1e-6 {
		top = math.Max(top, r.Turns*math.Abs(flux(s+h)-flux(s-h))/(2*h))
	}
	near(t, "emf", r.EMF(gap, rpm), top, 1e-4)
	near(t, "speed", r.EMF(gap, 2*rpm), 2*r.EMF(gap, rpm), 1e-12)
	near(t, "tau", r.EMF(gap+r.TauM(), rpm), r.EMF(gap, rpm)/math.E, 1e-12)
	g, err := r.LargestGap(0.3, rpm)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "there and back", r.EMF(g, rpm), 0.3, 1e-9)
	if _, err := r.LargestGap(0.5, 10); !errors.Is(err, ErrNeverFires) {
		t.Errorf("at 10 rpm: %v", err)
	}
}

// Where the wave is a sine of the ring's period the switch turns over where
// sine times peak is its point, counted from the zero crossing, a quarter of
// the period before the middle of the magnet.
func TestAsinLaw(t *testing.T) {
	f := usual(8)
	f.Ring.WidthM = 2.0 / 3 * f.Ring.pitchM() // no third harmonic
	f.Hall.OperateT, f.Hall.ReleaseT = 0.010, 0.007
	f.GapM = 0.003
	s, err := f.Switching()
	if err != nil {
		t.Fatal(err)
	}
	elec := s.PeriodDeg / 360
	on := -90 + math.Asin(f.Hall.OperateT/s.PeakT)*180/math.Pi
	off := 90 - math.Asin(f.Hall.ReleaseT/s.PeakT)*180/math.Pi
	near(t, "on", s.OnDeg, on*elec, 3e-3)
	near(t, "off", s.OffDeg, off*elec, 3e-3)
	near(t, "period", s.PeriodDeg, 45, 0)
	near(t, "spark", s.SparkDeg, s.OnDeg, 0)
	near(t, "dwell", s.DwellDeg, s.PeriodDeg-(s.OffDeg-s.OnDeg), 1e-12)
	f.Hall.SparksOnRelease = true
	other, err := f.Switching()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "spark at release", other.SparkDeg, s.OffDeg, 0)
	near(t, "dwell together", other.DwellDeg+s.DwellDeg, s.PeriodDeg, 1e-12)
	// At 3,000 distributor rpm 5 microseconds are 0.09 degrees.
	near(t, "lag", f.Hall.LagDeg(3000), 360*3000/60*5e-6, 1e-12)
}

// Whatever the fit: at the largest gap the field is just what is needed, a
// little less gap fires and a little more does not; a wider gap has less
// margin and, on an alternating ring half a pitch off, operates later and
// releases earlier; hysteresis holds the release off; heat and offset take gap away.
func TestFitLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Fit{Ring: drawRing(t), Hall: UsualHall(), TempC: rapid.Float64Range(-20, 120).Draw(t, "temp")}
		f.Hall.OperateT = rapid.Float64Range(0.005, 0.025).Draw(t, "operate")
		f.Hall.ReleaseT = f.Hall.OperateT - rapid.Float64Range(0.001, 0.004).Draw(t, "hysteresis")
		f.AxialM = rapid.Float64Range(0, 0.3).Draw(t, "axial") * f.Ring.HeightM
		largest, err := f.LargestGap()
		if errors.Is(err, ErrNeverFires) {
			if f.Peak(0) >= f.Hall.OperateT {
				t.Errorf("%v, with %g T", err, f.Peak(0))
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		operate, release := f.Hall.Points(f.TempC)
		if largest > 1e-6 {
			peak, between := f.Peak(largest), f.Field(largest, math.Pi)
			switch {
			case math.Abs(peak/operate-1) < 2e-4:
			case peak > operate && math.Abs(between/release-1) < 5e-3: // a unipolar ring that would stick on
			default:
				t.Errorf("at the largest gap %g: %g T for %g, %g T between for %g", largest, peak, operate, between, release)
			}
		}
		if largest > 1e-5 && !f.FiresAll([]float64{0, largest - 2e-6}) || f.FiresAll([]float64{0, largest + 2e-6}) || f.FiresAll([]float64{-1e-6}) {
			t.Errorf("does not fire up to %g", largest)
		}
		if largest < 0.0015 {
			return
		}
		near := rapid.Float64Range(0.4, 0.9).Draw(t, "near") * largest
		far := near + rapid.Float64Range(0.02, 0.99).Draw(t, "far")*(largest-near)
		f.GapM = near
		a, err := f.Switching()
		if err != nil {
			t.Fatal(err)
		}
		late := f.Timing(far)
		f.GapM = far
		b, err := f.Switching()
		if err != nil {
			t.Fatal(err)
		}
		if !(b.Margin < a.Margin) {
			t.Errorf("from %g to %g m: %+v, %+v", near, far, a, b)
		}
		// The pulse of blocks and of narrow magnets first widens with the gap.
		if sine := near > f.Ring.pitchM()/2; !f.Ring.Unipolar && sine && !(b.OnDeg > a.OnDeg && b.OffDeg < a.OffDeg) {
			t.Errorf("from %g to %g m: %+v, %+v", near, far, a, b)
		}
		if math.Abs(late-(b.SparkDeg-a.SparkDeg)) > 1e-9 {
			t.Errorf("timing %g, edges %g", late, b.SparkDeg-a.SparkDeg)
		}
		for _, s := range []Switching{a, b} {
			if s.OffDeg < -s.OnDeg || s.OnForDeg <= 0 || s.DwellDeg <= 0 || s.OnForDeg >= s.PeriodDeg {
				t.Errorf("%+v", s)
			}
		}
		hot := f
		hot.TempC += 30
		if g, err := hot.LargestGap(); err != nil && !errors.Is(err, ErrNeverFires) || g > largest+1e-6 && f.Peak(largest) < 1.001*operate {
			t.Errorf("%g m cold, %g m hot, %v", largest, g, err)
		}
		off := f
		off.AxialM += 0.2 * f.Ring.HeightM
		if largest < f.Ring.HeightM/2 {
			return // so near, the ends of a high magnet stand above its middle
		}
		if g, err := off.LargestGap(); err != nil && !errors.Is(err, ErrNeverFires) || g > largest+1e-6 && f.Peak(largest) < 1.001*operate {
			t.Errorf("%g m in line, %g m off it, %v", largest, g, err)
		}
	})
}

// An eccentric ring passes each lobe at another gap: one beyond the largest
// misses, whatever their mean.
func TestEccentricRingMisses(t *testing.T) {
	f := usual(4)
	largest, err := f.LargestGap()
	if err != nil {
		t.Fatal(err)
	}
	mean := largest - 0.0003
	for _, c := range []struct {
		eccentric float64
		fires     bool
	}{{0.0002, true}, {0.0004, false}} {
		gaps := []float64{mean, mean + c.eccentric, mean, mean - c.eccentric}
		if got := f.FiresAll(gaps); got != c.fires {
			t.Errorf("%g m eccentric at %g of %g: fires %v", c.eccentric, mean, largest, got)
		}
	}
}

// What cannot work says why.
func TestFitsThatFail(t *testing.T) {
	weak := usual(4)
	weak.Ring.RemanenceT = 0.02
	if _, err := weak.LargestGap(); !errors.Is(err, ErrNeverFires) {
		t.Errorf("weak ring: %v", err)
	}
	far := usual(4)
	far.GapM = 0.006
	if s, err := far.Switching(); !errors.Is(err, ErrNeverFires) || s.Margin >= 1 || s.Margin <= 0 {
		t.Errorf("far: %+v, %v", s, err)
	}
	if late := far.Timing(0.001); !math.IsNaN(late) {
		t.Errorf("timing from a gap that does not fire: %g", late)
	}
	// Wide magnets nearly touching, all alike: between them the field stays up.
	full := Fit{Ring: UsualUnipolar(8, 0.015), Hall: UsualHall(), TempC: 20, GapM: 0.004}
	full.Ring.WidthM = full.Ring.pitchM() * 0.999
	full.Ring.HeightM = 0.01
	full.Ring.ThicknessM = 0.01
	if g, err := full.LargestGap(); err == nil {
		if !(full.Field(g, math.Pi) <= full.Hall.ReleaseT+1e-6 && full.Peak(g) > 1.01*full.Hall.OperateT) {
			t.Errorf("full ring: %g m", g)
		}
	} else if !errors.Is(err, ErrNeverReleases) {
		t.Errorf("full ring: %v", err)
	}
	if _, err := full.Switching(); !errors.Is(err, ErrNeverReleases) {
		t.Errorf("full ring: %v", err)
	}
	// Two wide thin poles right under the switch: strong edges, weak middle.
	wide := Fit{Ring: Ring{Poles: 2, RadiusM: 0.03, HeightM: 0.02, ThicknessM: 0.001, RemanenceT: 0.3, RefC: 20}, Hall: UsualHall(), TempC: 20, GapM: 0}
	wide.Hall.DepthM = 0.0003
	wide.Hall.OperateT = wide.Peak(0) * 0.98
	wide.Hall.ReleaseT = wide.Hall.OperateT - 0.001
	if _, err := wide.Switching(); err != nil {
		t.Errorf("wide thin magnet: %v", err)
	}
	wide.Hall.OperateT = wide.Peak(0) * 1.02
	if _, err := wide.Switching(); !errors.Is(err, ErrNeverFires) {
		t.Errorf("wide thin magnet, edges only: %v", err)
	}
}

// A latch lets go under the opposite pole: on and off half a period apart.
func TestLatch(t *testing.T) {
	f := usual(4)
	f.Hall.OperateT, f.Hall.ReleaseT = 0.012, -0.012
	s, err := f.Switching()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "half a period", s.OnForDeg, s.PeriodDeg/2, 1e-6)
	f.Hall.ReleaseT = -0.020
	g, err := f.LargestGap()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the weaker point decides", f.Peak(g), 0.020, 1e-3)
	f.Ring = UsualUnipolar(4, 0.015)
	if _, err := f.LargestGap(); err != nil && !errors.Is(err, ErrNeverReleases) {
		t.Errorf("latch on a unipolar ring: %v", err)
	}
}

func TestPoints(t *testing.T) {
	s := UsualHall()
	s.TempCoeff = -0.001
	on, off := s.Points(120)
	near(t, "operate", on, 0.0135, 1e-9)
	near(t, "release", off, 0.0108, 1e-9)
	if on, off := s.Points(5000); !(on > off && off > 0) {
		t.Errorf("far out: %g, %g", on, off)
	}
}

func TestValidate(t *testing.T) {
	good := usual(4)
	for _, c := range []struct {
		name  string
		kind  error
		field string
		spoil func(*Fit)
	}{
		{"odd poles", ErrRing, "Ring.Poles", func(f *Fit) { f.Ring.Poles = 5 }},
		{"no poles", ErrRing, "Ring.Poles", func(f *Fit) { f.Ring.Poles = 0 }},
		{"NaN radius", ErrRing, "Ring.RadiusM", func(f *Fit) { f.Ring.RadiusM = math.NaN() }},
		{"flat", ErrRing, "Ring.HeightM", func(f *Fit) { f.Ring.HeightM = 0 }},
		{"through the shaft", ErrRing, "Ring.ThicknessM", func(f *Fit) { f.Ring.ThicknessM = f.Ring.RadiusM }},
		{"overlapping", ErrRing, "Ring.WidthM", func(f *Fit) { f.Ring.WidthM = 0.02 }},
		{"no width", ErrRing, "Ring.WidthM", func(f *Fit) { f.Ring = UsualUnipolar(4, 0.015); f.Ring.WidthM = 0 }},
		{"remanence in mT", ErrRing, "Ring.RemanenceT", func(f *Fit) { f.Ring.RemanenceT = 250 }},
		{"per cent", ErrRing, "Ring.TempCoeff", func(f *Fit) { f.Ring.TempCoeff = -0.2 }},
		{"infinite", ErrRing, "Ring.RefC", func(f *Fit) { f.Ring.RefC = math.Inf(1) }},
		{"no operate", ErrSwitch, "Switch.OperateT", func(f *Fit) { f.Hall.OperateT = 0 }},
		{"no hysteresis", ErrSwitch, "Switch.ReleaseT", func(f *Fit) { f.Hall.ReleaseT = f.Hall.OperateT }},
		{"face", ErrSwitch, "Switch.FaceM", func(f *Fit) { f.Hall.FaceM = -1 }},
		{"depth", ErrSwitch, "Switch.DepthM", func(f *Fit) { f.Hall.DepthM = 1 }},
		{"delay", ErrSwitch, "Switch.DelayS", func(f *Fit) { f.Hall.DelayS = 5 }},
		{"gap", ErrPlace, "GapM", func(f *Fit) { f.GapM = -0.01 }},
		{"axial", ErrPlace, "AxialM", func(f *Fit) { f.AxialM = math.NaN() }},
		{"tilt in degrees", ErrPlace, "TiltRad", func(f *Fit) { f.TiltRad = 5 }},
		{"temperature", ErrPlace, "TempC", func(f *Fit) { f.TempC = -300 }},
	} {
		f := good
		c.spoil(&f)
		err := f.Validate()
		var e *Error
		if !errors.Is(err, c.kind) || !errors.As(err, &e) || e.Field != c.field || e.Accept == "" || e.Error() == "" {
			t.Errorf("%s: %v", c.name, err)
		}
		if _, err := f.Switching(); !errors.Is(err, c.kind) {
			t.Errorf("%s: Switching says %v", c.name, err)
		}
	}
	if err := good.Validate(); err != nil {
		t.Error(err)
	}
	if b := (Ring{}).Peak(0.001, 0, 0, 20); !math.IsNaN(b) {
		t.Errorf("no ring: %g T", b)
	}
	if b := good.Peak(-0.001); !math.IsNaN(b) {
		t.Errorf("gap below zero: %g T", b)
	}
	if p := (Ring{}).PeriodDeg(); p != 0 {
		t.Errorf("no ring: period %g", p)
	}
	for _, r := range []Reluctor{{}, {Teeth: 4, RadiusM: 0.015, ToothM: 0.02, FluxWb: 1e-6, Turns: 100}, {Teeth: 4, RadiusM: 0.015, ToothM: 0.002, FluxWb: 1e-6, Turns: math.NaN()}} {
		if err := r.Validate(); !errors.Is(err, ErrReluctor) {
			t.Errorf("%+v: %v", r, err)
		}
		if v := r.EMF(0.001, 75); !math.IsNaN(v) {
			t.Errorf("%+v: %g V", r, v)
		}
	}
	if _, err := UsualReluctor(4).LargestGap(0, 75); !errors.Is(err, ErrReluctor) {
		t.Errorf("no threshold: %v", err)
	}
}

// Whatever the figures: no panic, a number or a reason, and never both.
func FuzzFit(f *testing.F) {
	f.Add(8, false, 0.015, 0.006, 0.003, 0.005, 0.25, 0.015, 0.012, 0.001, 0.0, 0.0, 20.0)
	f.Add(4, true, 0.015, 0.004, 0.002, 0.004, 1.15, 0.015, 0.012, 0.001, 0.001, 0.1, 110.0)
	f.Add(64, false, 0.5, 0.5, 0.0001, 0.0, 2.0, 1e-5, -2.0, 0.5, 0.5, 1.57, -273.0)
	f.Add(2, false, 0.001, 0.0001, 0.00098, 0.0, 1e-3, 1e-5, 0.0, 0.0, 0.0, -1.57, 1000.0)
	f.Fuzz(func(t *testing.T, poles int, uni bool, radius, height, thick, width, br, on, off, gap, axial, tilt, temp float64) {
		fit := Fit{
			Ring: Ring{Poles: poles, Unipolar: uni, RadiusM: radius, HeightM: height, ThicknessM: thick, WidthM: width, RemanenceT: br, TempCoeff: -0.001, RefC: 20},
			Hall: Switch{OperateT: on, ReleaseT: off, FaceM: 0.0003},
			GapM: gap, AxialM: axial, TiltRad: tilt, TempC: temp,
		}
		bad := fit.Validate() != nil
		peak := fit.Peak(gap)
		if bad != (math.IsNaN(peak) || math.IsInf(peak, 0)) {
			t.Fatalf("refused %v, peak %g: %+v", bad, peak, fit)
		}
		s, err := fit.Switching()
		if bad && err == nil {
			t.Fatal("switches though refused")
		}
		if err == nil && !(s.OnForDeg >= 0 && s.OnForDeg <= s.PeriodDeg && s.Margin >= 1) {
			t.Fatalf("%+v of %+v", s, fit)
		}
		largest, err := fit.LargestGap()
		if err == nil && !within(largest, 0, mostM) {
			t.Fatalf("largest gap %g of %+v", largest, fit)
		}
	})
}

func BenchmarkPeak(b *testing.B) {
	f := usual(4)
	b.ReportAllocs()
	for b.Loop() {
		f.Peak(0.001)
	}
}

func BenchmarkLargestGap(b *testing.B) {
	leaning := usual(4)
	leaning.AxialM, leaning.TiltRad = 0.001, 0.05
	blocks := usual(4)
	blocks.Ring = UsualUnipolar(4, 0.015)
	for _, c := range []struct {
		name string
		fit  Fit
	}{{"in line", usual(4)}, {"off and leaning", leaning}, {"blocks", blocks}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := c.fit.LargestGap(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkSwitching(b *testing.B) {
	f := usual(4)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := f.Switching(); err != nil {
			b.Fatal(err)
		}
	}
}
