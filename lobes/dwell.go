package lobes

import (
	"fmt"
	"math"
)

// DwellSpreadLimit is what dwell may differ from lobe to lobe, distributor
// degrees: common practice, no source (4 to 6 are quoted; a sound distributor
// keeps within 2).
const DwellSpreadLimit = 4.0

// Dwell is how long the points stay closed, distributor degrees.
type Dwell struct {
	PerLobe []Fig // the dwell that ends when this lobe opens: the one that charges the coil for it
	Mean    Fig
	// Spread is the longest lobe's mean less the shortest's; its interval holds
	// for all pairs of lobes at once (Bonferroni).
	Spread            Fig
	Longest, Shortest int
	// Scatter is the standard deviation of one lobe's dwell from turn to turn,
	// the reader's error of both angles taken off.
	Scatter  Fig
	Doubtful bool // the readings scatter by less than the reader could: as in Errors
}

// Dwells takes dwell from a run's openings and the closings after them:
// closes.Turns[t][j] is where the points closed again after the opening
// opens.Turns[t][j]. ideal and accuracy are those of Separate.
//
// Lobe 0 of the first turn has no closing before it, nor the last closing an
// opening after it, so lobe 0 has one dwell fewer than the others.
// Intervals are Student's on the spread pooled over lobes: they take one turn
// as independent of the next, which a shaft that wanders slowly does not upset,
// since opening and closing of one dwell then move together. The mean's is on
// the wide side where a late opening is followed by a late closing: what one
// dwell loses the next gains.
func Dwells(opens, closes Run, ideal []float64, accuracy float64) (Dwell, error) {
	if err := checkAccuracy(accuracy); err != nil {
		return Dwell{}, err
	}
	lt, err := unwind(opens, ideal)
	if err != nil {
		return Dwell{}, err
	}
	n, l := len(opens.Turns), len(ideal)
	if len(closes.Turns) != n {
		return Dwell{}, &Error{"closes.Turns", fmt.Sprintf("%d turns", len(closes.Turns)), fmt.Sprintf("%d, as of the openings", n), ErrLobes}
	}
	for t, turn := range closes.Turns {
		if len(turn) != l {
			return Dwell{}, &Error{fmt.Sprintf("closes.Turns[%d]", t), fmt.Sprintf("%d angles", len(turn)), fmt.Sprintf("%d, one after each opening", l), ErrMissing}
		}
	}
	dwells := make([][]float64, l)
	for t, turn := range closes.Turns {
		for j, c := range turn {
			field := fmt.Sprintf("closes.Turns[%d][%d]", t, j)
			if !finite(c) {
				return Dwell{}, &Error{field, fmt.Sprint(c), "an angle in degrees, up to 1e9", ErrNumber}
			}
			open := opens.Turns[t][j]
			nt, nj := t, j+1
			if nj == l {
				nt, nj = t+1, 0
			}
			held := unsigned(lt.sign * (math.Mod(c, 360) - math.Mod(open, 360)))
			if nt == n { // nothing after it
				if held == 0 || held >= interval(ideal, j) {
					return Dwell{}, &Error{field, fmt.Sprintf("closes %.4g° after its opening", held), "less than the lobe's interval", ErrOrder}
				}
				continue
			}
			whole := interval(ideal, j) + lt.d[nt][nj] - lt.d[t][j]
			if held == 0 || held >= whole {
				return Dwell{}, &Error{field, fmt.Sprintf("closes %.4g° after its opening", held),
					fmt.Sprintf("between that opening and the next, %.4g° on", whole), ErrOrder}
			}
			dwells[nj] = append(dwells[nj], whole-held)
		}
	}

	var d Dwell
	var rss, nu, inverse float64
	mean := make([]float64, l)
	for j, all := range dwells {
		for _, x := range all {
			mean[j] += x / float64(len(all))
		}
		for _, x := range all {
			rss += (x - mean[j]) * (x - mean[j])
		}
		nu += float64(len(all) - 1)
		inverse += 1 / float64(len(all))
	}
	reading := math.Sqrt2 * accuracy / z95
	v := rss / nu
	repeats := max(0, reading*reading-v)
	t95 := student(0.975, nu)
	tAll := t95
	if l > 1 {
		tAll = student(1-0.025/float64(l*(l-1)/2), nu)
	}
	se := func(j int) float64 { return math.Sqrt(v/float64(len(dwells[j])) + repeats) }
	for j := range dwells {
		d.PerLobe = append(d.PerLobe, around(mean[j], t95*se(j)))
		d.Mean.Mid += mean[j] / float64(l)
		if mean[j] > mean[d.Longest] {
			d.Longest = j
		}
		if mean[j] < mean[d.Shortest] {
			d.Shortest = j
		}
	}
	d.Mean = around(d.Mean.Mid, t95*math.Sqrt(v*inverse/float64(l*l)+repeats))
	if d.Longest != d.Shortest {
		s, pm := mean[d.Longest]-mean[d.Shortest], tAll*math.Hypot(se(d.Longest), se(d.Shortest))
		d.Spread = size(s, s-pm, s+pm)
	}
	less := func(v float64) float64 { return math.Sqrt(max(0, v-reading*reading)) }
	lo, hi := v*nu/chi2(0.975, nu), v*nu/chi2(0.025, nu)
	d.Scatter = size(less(v), less(lo), less(hi))
	if d.Doubtful = hi < reading*reading; d.Doubtful {
		d.Scatter = Fig{0, math.Sqrt(hi), 0, math.Sqrt(hi), false}
	}
	return d, nil
}
