package web

import (
	"fmt"
	"math"

	"dwellwright/draw"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/spike"
	"dwellwright/units"
)

// spikesView is what spikes on the supply do.
type spikesView struct {
	Head       string // of the spike drawn
	Wide, Tall html
	Says       []string
	Sum        string // how many of them are too much
	Rows       []spikeRow
	Limit      string
	Place      string
	Caption    string
}

// spikeRow is a spike in the table.
type spikeRow struct {
	Name, Refused string
	Here          bool
	Cells         []spikeCell // without, then each protection
	Stands        string
}

// spikeCell is the voltage a spike drives the trigger's supply to.
type spikeCell struct {
	Name string
	Text string
	Mark html
	Word string
	bad  bool // too much, or doubtful
}

// protections are named for the columns, in the order of spike.Usual.
var protections = []struct{ id, name string }{
	{"capacitor", "Capacitor"}, {"clamp", "Clamp"}, {"both", "Both"}, {"healthy_battery", "Healthy battery"},
}

// spikeName names a spike in a few words.
func spikeName(k *spike.Case) string {
	switch k.Kind {
	case spike.TestPulse:
		return "test pulse " + k.Pulse.ID + ", " + k.Pulse.Name
	case spike.LoadOff:
		return k.Load.Name + " switched off with the ignition"
	case spike.BatteryOff:
		return "battery terminal comes off while charging"
	case spike.JumpStart:
		name := "jump start from " + units.Format(units.Voltage, k.Level.Volts, units.Metric)
		if k.BatteryOff {
			return name + " without this car's battery"
		}
		return name
	case spike.ReverseBattery:
		return "battery the wrong way round"
	}
	return "starting profile " + k.Profile.Level
}

// usualSpike is drawn where none is picked.
const usualSpike = "pulse_5a"

func (a *sparkAsk) spike() string {
	if a.picks.Spike == "" {
		return usualSpike
	}
	return a.picks.Spike
}

// spikeChoices lists the spikes that can be drawn.
func spikeChoices(a *sparkAsk) []choice {
	var list []choice
	for _, k := range spike.Cases(a.c) {
		list = append(list, choice{ID: k.ID, Name: prove.Title(spikeName(&k)), On: k.ID == a.spike()})
	}
	return list
}

func spikesOf(a *sparkAsk) ([]spike.Result, error) {
	draws := partDraws(a.b.Draws, 0, 12)
	return kept(a.keep(a.b.Draws), a.key("spikes", true, draws), func() ([]spike.Result, error) {
		return workshop.Spikes(a.c, a.b.Option, a.b.Condition, nil, spike.Options{Draws: draws, Seed: 1})
	})
}

// viewSpikes works out all spikes and draws one.
func viewSpikes(a *sparkAsk) (*spikesView, error) {
	list, err := spikesOf(a)
	if err != nil {
		return nil, err
	}
	v := &spikesView{}
	k := condition(a.c, a.b.Condition)
	for i := range list {
		r := &list[i]
		v.Rows = append(v.Rows, spikeRowOf(r, r.Case.ID == a.spike()))
		if r.Refused == "" && v.Limit == "" {
			v.Limit = minus(fmt.Sprintf("%s to %s, %s", whole(r.Limit.LowestV), whole(r.Limit.PeakV), r.Limit.Source))
			v.Place = "at the trigger's supply terminal, to the breaker plate"
			if r.Points {
				v.Place = "at the coil's feed terminal: with points there is no module to hurt; choose a wiring with a trigger at the bench to see what that stands"
			}
		}
		if r.Case.ID != a.spike() {
			continue
		}
		v.Head = prove.Title(spikeName(&r.Case))
		for _, t := range spike.Words(r) {
			v.Says = append(v.Says, minus(t))
		}
		if r.Refused != "" {
			continue
		}
		if a.layout != "tall" {
			scene, err := draw.Curve(spikeSpec(r, 900, 360))
			v.Wide = picture(scene, err, "spike-wide")
		}
		if a.layout != "wide" {
			scene, err := draw.Curve(spikeSpec(r, 360, 380))
			v.Tall = picture(scene, err, "spike-tall")
		}
	}
	v.Sum = sumSpikes(v.Rows)
	v.Caption = fmt.Sprintf("Predicted in %s, %s: how far each spike drives the supply, upward or downward, whichever is worse. In the picture time runs from the spike's beginning.", lower(k.Name), v.Place)
	return v, nil
}

func whole(v float64) string { return units.Format(units.Voltage, math.Round(v), units.Metric) }

// worseDown reports whether a spike is worse downward: by its limit, else by how
// far it goes.
func worseDown(r *spike.Result) bool {
	s := &r.Without
	over, under := s.PeakV-r.Limit.PeakV, r.Limit.LowestV-s.LowestV
	if over > 0 || under > 0 {
		return under > over
	}
	return s.RestV-s.LowestV > s.PeakV-s.RestV
}

func spikeRowOf(r *spike.Result, here bool) spikeRow {
	row := spikeRow{Name: prove.Title(spikeName(&r.Case)), Here: here}
	if r.Refused != "" {
		row.Refused = spike.Words(r)[1]
		return row
	}
	down := worseDown(r)
	put := func(name string, s *spike.Seen) bool {
		v, pm := s.PeakV, s.PeakPM
		if down {
			v, pm = s.LowestV, s.LowestPM
		}
		c := spikeCell{Name: name, Text: fmt.Sprintf("%.1f V", v)}
		if math.Abs(v) < 0.05 {
			c.Text = "0 V"
		}
		if pm > 0.05 {
			c.Text = fmt.Sprintf("%.1f ± %.1f V", v, pm)
		}
		st := prove.Holds
		switch beyond := s.AboveS > 0 || s.BelowS > 0; {
		case s.PeakV+s.PeakPM > r.Limit.PeakV && s.PeakV-s.PeakPM <= r.Limit.PeakV, s.LowestV-s.LowestPM < r.Limit.LowestV && s.LowestV+s.LowestPM >= r.Limit.LowestV:
			st = prove.Doubtful
		case beyond:
			st = prove.FallsShort
		}
		c.Mark, c.Word = sign(st), map[prove.State]string{prove.Holds: "stands", prove.Doubtful: "doubtful", prove.FallsShort: "too much"}[st]
		c.Text = tight(minus(c.Text))
		c.bad = st != prove.Holds
		row.Cells = append(row.Cells, c)
		return st == prove.Holds
	}
	if put("Nothing fitted", &r.Without) {
		row.Stands = "needs nothing"
	}
	stand := ""
	for i := range r.With {
		w := &r.With[i]
		name := w.Protection.ID
		for _, p := range protections {
			if p.id == name {
				name = p.name
			}
		}
		if put(name, &w.Seen) && stand == "" && row.Stands == "" {
			stand = name
		}
	}
	if row.Stands == "" {
		row.Stands = "none of these is enough"
		if stand != "" {
			row.Stands = lower(stand) + " is enough"
			if stand == "Both" {
				row.Stands = "both together are enough"
			}
		}
	}
	return row
}

// sumSpikes says how many spikes are too much without protection, and with
// each.
func sumSpikes(rows []spikeRow) string {
	asked := 0
	bad := map[string]int{}
	for _, r := range rows {
		if r.Refused != "" {
			continue
		}
		asked++
		for _, c := range r.Cells {
			if c.bad {
				bad[c.Name]++
			}
		}
	}
	if asked == 0 {
		return "None of these spikes can come in this condition."
	}
	if bad["Nothing fitted"] == 0 {
		return fmt.Sprintf("None of the %d spikes is beyond the limit, even with nothing fitted (predicted).", asked)
	}
	say := fmt.Sprintf("%d of %d spikes are too much or doubtful with nothing fitted", bad["Nothing fitted"], asked)
	for _, p := range protections {
		name := "a " + lower(p.name)
		if p.id == "both" {
			name = "both of these"
		}
		say += fmt.Sprintf(", %d with %s", bad[p.name], name)
	}
	return say + " (predicted)."
}

// spikeSpec draws a spike without protection and with each that can be told
// apart from it.
func spikeSpec(r *spike.Result, wide, high float64) draw.CurveSpec {
	fast := r.Case.Kind == spike.TestPulse || r.Case.Kind == spike.LoadOff || r.Case.Kind == spike.BatteryOff
	end := 0.0
	for _, p := range r.Without.Trace {
		end = math.Max(end, p.TimeS)
	}
	unit, scale := "s", 1.0
	switch {
	case end < 2e-3:
		unit, scale = "µs", 1e6
	case end < 2:
		unit, scale = "ms", 1e3
	}
	spec := draw.CurveSpec{
		Title: prove.Title(spikeName(&r.Case)), W: wide, H: high,
		X: draw.Axis{Label: "time from the beginning", Unit: unit, Log: fast}, Y: draw.Axis{Label: "voltage", Unit: "V"},
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	first := math.Inf(1) // on a logarithmic axis all lines begin together
	if fast {
		for _, p := range r.Without.Trace {
			if p.TimeS > 0 && p.TimeS >= 1e-6*end {
				first = math.Min(first, p.TimeS)
			}
		}
	}
	add := func(name string, s *spike.Seen) {
		line := draw.Series{Name: name, Origin: draw.Predicted}
		for _, p := range s.Trace {
			if fast && p.TimeS < first {
				continue
			}
			line.X, line.Y = append(line.X, p.TimeS*scale), append(line.Y, p.Volts)
			lo, hi = math.Min(lo, p.Volts), math.Max(hi, p.Volts)
		}
		if len(line.X) > 0 {
			spec.Series = append(spec.Series, line)
		}
	}
	add("nothing fitted", &r.Without)
	for i := range r.With {
		for _, p := range protections {
			if p.id == r.With[i].Protection.ID && p.id != "both" {
				add(lower(p.name), &r.With[i].Seen)
			}
		}
	}
	// A limit far from what happens would press the lines flat.
	if l := r.Limit.PeakV; l < hi+1.5*(hi-lo) {
		spec.Limits = append(spec.Limits, draw.CurveLimit{Name: "not above", Limit: draw.Limit{Side: draw.AtMost, At: l}})
	}
	if l := r.Limit.LowestV; l > lo-0.6*(hi-lo) {
		spec.Limits = append(spec.Limits, draw.CurveLimit{Name: "not below", Limit: draw.Limit{Side: draw.AtLeast, At: l}})
	}
	if fast && !math.IsInf(first, 1) {
		spec.X.Lo, spec.X.Hi = first*scale, end*scale
	}
	return spec
}
