package pulse

import (
	"fmt"
	"math"
)

// DumpOhm is the source resistance of an alternator that sheds its load, in
// ohm [ISO 16750-2, as quoted in manuals of test supplies]:
//
//	Ri = 10 U N / (0.8 I 12000 rpm)
//
// U its nominal voltage (14 V for a 12 V system), I its rated current at
// 6000 rpm of its own, in A, N its speed now in rpm.
func DumpOhm(nominalV, ratedA, alternatorRPM float64) float64 {
	return 10 * nominalV * alternatorRPM / (0.8 * ratedA * 12000)
}

// Dump is pulse 5a as one alternator would give it: its source resistance by
// DumpOhm, and within the standard's ranges the amplitude and duration that go
// with that resistance, for the standard says that low goes with low and high
// with high; that they go along a straight line is this package's. Beyond the
// ends of the range of resistance they stay at the ends. A duration below
// 50 ms is taken as 50 ms, as a double exponential can't rise slowly in less.
func Dump(nominalV, ratedA, alternatorRPM float64) (Pulse, error) {
	p, _ := Find("5a")
	ohm := DumpOhm(nominalV, ratedA, alternatorRPM)
	if !(ohm > 0) || math.IsInf(ohm, 0) {
		return Pulse{}, fmt.Errorf("pulse: load dump of %g V, %g A at %g rpm; figures above 0 are accepted", nominalV, ratedA, alternatorRPM)
	}
	share := (ohm - p.OhmRange.Least) / (p.OhmRange.Most - p.OhmRange.Least)
	share = math.Min(math.Max(share, 0), 1)
	p.ID, p.Name = "dump", "load dump of this car's own generator"
	p.Ohm = ohm
	p.PeakV = p.PeakRangeV.Least + share*(p.PeakRangeV.Most-p.PeakRangeV.Least)
	p.DurationS = math.Max(p.DurationRangeS.Least+share*(p.DurationRangeS.Most-p.DurationRangeS.Least), 50e-3)
	p.RiseS = math.Min(math.Max(0.1*p.DurationS, p.RiseRangeS.Least), p.RiseRangeS.Most)
	p.Source = "source resistance by the formula of ISO 16750-2 (" + fromManuals + "); amplitude and duration along a straight line through its ranges, assumed"
	return p, p.Validate()
}
