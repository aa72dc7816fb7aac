package spike

import "math"

// Reason is why a case has no figures for this car in this condition.
type Reason string

// The reasons.
const (
	NotCharging     Reason = "not_charging"       // no generator, or one that gives nothing at this speed
	LineNotFed      Reason = "line_not_fed"       // the ignition line is not fed through its own contact in this condition
	NoSixVoltLevels Reason = "no_six_volt_levels" // the standard's levels stand above the car's own voltage
)

// Sample is one instant of a trace.
type Sample struct {
	TimeS float64 `json:"t_s"` // from the spike's beginning
	Volts float64 `json:"v"`
}

// Seen is what the trigger sees at its own terminals: its supply terminal to
// the breaker plate, with points the coil's feed terminal to the breaker
// plate, live side positive.
type Seen struct {
	RestV     float64 `json:"rest_v"` // before
	PeakV     float64 `json:"peak_v"`
	PeakAtS   float64 `json:"peak_at_s"`
	LowestV   float64 `json:"lowest_v"`
	LowestAtS float64 `json:"lowest_at_s"`

	// PeakPM and LowestPM are the plus-or-minus (95 %) that the car's uncertain
	// figures give, V; 0 where Options.Draws asked for none.
	PeakPM   float64 `json:"peak_pm_v"`
	LowestPM float64 `json:"lowest_pm_v"`

	TriggerJ       float64 `json:"trigger_j"` // into the trigger's electronics over the trace; 0 with points
	ClampJ         float64 `json:"clamp_j"`
	ClampPeakA     float64 `json:"clamp_peak_a"`
	CapacitorPeakA float64 `json:"capacitor_peak_a"`

	AboveS float64 `json:"above_limit_s"` // time above the limit's peak
	BelowS float64 `json:"below_limit_s"` // time below the limit's lowest

	Trace []Sample `json:"trace"` // the first sample is before the spike; straight lines join them
}

// ExcursionV is how far the voltage goes from where it stood, in V, upward or
// downward, whichever is more.
func (s *Seen) ExcursionV() float64 {
	return math.Max(s.PeakV-s.RestV, s.RestV-s.LowestV)
}

// Result is one case, without protection and with each that was asked for.
type Result struct {
	Case    Case   `json:"case"`
	Refused Reason `json:"refused,omitempty"` // with one there are no figures

	NominalV         int   `json:"nominal_v"`
	Points           bool  `json:"points"`             // no module: read at the coil's feed
	TwelveVoltLevels bool  `json:"twelve_volt_levels"` // a 6 V car under levels for 12 V, as the standard has none for 6 V
	Limit            Limit `json:"limit"`
	// SourceOhm is what the spike came through: of a test pulse, the standard's;
	// of a battery that comes off, this generator's.
	SourceOhm float64 `json:"source_ohm"`
	// SourceV is how far it would go with nothing joined, from what it rides on.
	SourceV float64 `json:"source_v"`
	// DurationS is how long the source's spike lasts, 10 % to 10 %; 0 where that
	// has no meaning.
	DurationS float64 `json:"duration_s"`

	Without Seen   `json:"without"`
	With    []With `json:"with,omitempty"`
}

// With is what is seen with one protection fitted.
type With struct {
	Protection Protection `json:"protection"`
	// ShareTaken is the part of the excursion the protection takes away: 0
	// nothing, 1 all of it; below 0 it makes things worse.
	ShareTaken float64 `json:"share_taken"`
	Seen
}

// sum fills in what a trace comes to. ohms is the trigger's electronics, 0
// for none.
func (s *Seen) sum(limit Limit, ohms float64) {
	s.PeakV, s.LowestV = math.Inf(-1), math.Inf(1)
	for i, p := range s.Trace {
		if p.Volts > s.PeakV {
			s.PeakV, s.PeakAtS = p.Volts, p.TimeS
		}
		if p.Volts < s.LowestV {
			s.LowestV, s.LowestAtS = p.Volts, p.TimeS
		}
		if i == 0 || p.TimeS <= 0 {
			continue
		}
		q := s.Trace[i-1]
		dt := p.TimeS - math.Max(q.TimeS, 0)
		if ohms > 0 {
			s.TriggerJ += (q.Volts*q.Volts + q.Volts*p.Volts + p.Volts*p.Volts) / 3 * dt / ohms
		}
		s.AboveS += beyond(q.Volts-limit.PeakV, p.Volts-limit.PeakV) * dt
		s.BelowS += beyond(limit.LowestV-q.Volts, limit.LowestV-p.Volts) * dt
	}
	s.peak(+1, &s.PeakV, &s.PeakAtS)
	s.peak(-1, &s.LowestV, &s.LowestAtS)
}

// beyond is the part of a straight line from a to b that is above 0.
func beyond(a, b float64) float64 {
	switch {
	case a <= 0 && b <= 0:
		return 0
	case a >= 0 && b >= 0:
		return 1
	case a > 0:
		return a / (a - b)
	}
	return b / (b - a)
}

// peak puts a parabola through the highest sample (lowest, with sign -1) and
// its neighbours where they stand evenly, and takes its top if that is
// beyond.
func (s *Seen) peak(sign float64, v, at *float64) {
	for i := 1; i+1 < len(s.Trace); i++ {
		a, b, c := s.Trace[i-1], s.Trace[i], s.Trace[i+1]
		if b.TimeS != *at || b.Volts != *v {
			continue
		}
		h := b.TimeS - a.TimeS
		if !(h > 0) || math.Abs(c.TimeS-b.TimeS-h) > 1e-6*h || a.TimeS < 0 {
			return
		}
		up, down := sign*(b.Volts-a.Volts), sign*(b.Volts-c.Volts)
		if !(up >= 0 && down >= 0 && up+down > 0) {
			return
		}
		d := (up - down) / (up + down) / 2
		*at = b.TimeS + d*h
		*v = b.Volts + sign*(up+down)/2*d*d
		return
	}
}
