package curve

import (
	"fmt"
	"math"

	"dwellwright/advance"
	"dwellwright/car"
)

// caution writes what has to be minded. There is no safe figure for all
// engines: the band is the one the car file states for its engine and fuel.
func (v *Curve) caution() {
	a := &v.Car.Advance
	add := func(format string, args ...any) { v.Cautions = append(v.Cautions, fmt.Sprintf(format, args...)) }
	if a.SafeMost.Origin == car.Assumed {
		add("No safe band for total timing is stated (advance.safe). Too much under load knocks and holes pistons, too little burns exhaust valves; what is safe hangs on this engine, its compression and today's fuel.")
	} else {
		top := math.Inf(-1)
		at := 0.0
		low, lowAt := math.Inf(1), 0.0
		for i, b := range v.Off {
			if hi := math.Max(b.Mid, v.Spread[i].Hi); hi > top {
				top, at = hi, v.Speeds[i]
			}
		}
		if n := len(v.Off) - 1; n >= 0 {
			low, lowAt = math.Min(v.Off[n].Mid, v.Spread[n].Lo), v.Speeds[n]
		}
		if top > a.SafeMost.X+0.5 {
			add("Total timing with the throttle open comes to as much as %.1f° at %.0f rpm: over the %.1f° stated as safe for this engine and fuel (%s). It may knock under load: do not pull hard like this.", top, at, a.SafeMost.X, a.SafeSource)
		}
		if a.SafeLeast.Origin != car.Assumed && low < a.SafeLeast.X-0.5 {
			add("At %.0f rpm it may come to no more than %.1f°, under the %.1f° stated (%s): dull and hot.", lowAt, low, a.SafeLeast.X, a.SafeSource)
		}
	}
	if v.Begins < v.idle() {
		add("The weights are off their stop at idle (from %.0f rpm): initial timing will not repeat.", v.Begins)
	}
	if s, err := v.Mechanism.Snaps(); err == nil && len(s) > 0 {
		add("The advance jumps from %.1f° to %.1f° (distributor) at %.0f engine rpm: the springs are weaker than the weights' pull grows.", s[0].FromDeg, s[0].ToDeg, 2*s[0].AtRPM)
	}
	if v.Estimated != nil && v.Estimated.Misfit.P < 0.01 {
		add("No weights and springs give the readings within their stated ±: look for a worn pivot, a spring that sticks, a reading with the hose on, or a ± that is too small.")
	}
	if v.Vacuum.Source != advance.NoVacuum && v.Vacuum.Reached < 0.98 {
		add("The vacuum of no condition draws the can all the way (%.0f %% of its travel at most): at this height and with this source the rest is never used.", 100*v.Vacuum.Reached)
	}
}

// idle is the slowest speed the engine runs at.
func (v *Curve) idle() float64 {
	slow := math.Inf(1)
	for i := range v.Car.Conditions {
		if k := &v.Car.Conditions[i]; k.Engine == car.Running {
			slow = min(slow, k.Speed.X)
		}
	}
	return slow
}
