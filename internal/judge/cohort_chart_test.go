package judge

import (
	"cmp"
	"math"
	"slices"

	"dwellwright/evidence"
	"dwellwright/measure"
	"dwellwright/suspect"
)

// The chart is a fixed order of checks as printed troubleshooting goes, each
// passed or failed by its limit. What is taken from print, in that order:
//
//   - US Army TM 5-4210-230-14&P-1, engine division, ignition, steps 2 to 4:
//     spark at a plug lead; if it is there, plugs and timing, then elsewhere; if
//     not, spark at the coil's tower; if it is there, cap, rotor and leads; if
//     not, the sensor's air gap (with points: their gap), then the primary.
//   - US Navy NAVEDTRA 14329, voltmeter tests of an ignition circuit, fig. 6-48:
//     run circuit, start circuit, points, ground.
//   - US Army TM 10-3930-671-24, slow cranking: battery while cranking, then the
//     drops of its cables.
//   - US Army TM 9-4940-421-14, periodic checks: leads, cap and rotor, points.
//
// Where these end, the checks go on in the order in which the trade's own lists
// of readings stand: coil, condenser, charging, advance, the distributor's wear
// [common practice]. The limits are kinder than printed ones: what 95 in 100 of
// this very car's like show in order. A check that fails has the chart's user put
// right what can make it fail, the likeliest for its minutes first, three at
// most, each proven by whether the complaint is gone.
var (
	sparkAtPlug = []string{
		"plug_gap", "timing_idle", "leads_in_order", "cap_leak_ohms", "rotor_leak_ohms", "king_lead_leak_ohms", "plug_lead_leak_ohms", "plug_lead_ohms", "king_lead_ohms", "brush_touches", "rotor_gap", "contacts_burnt_aside", "plugs_look_fouled",
		"points_look_burnt", "dwell_idle", "points_gap", "air_gap",
	}
	noSparkAtPlug = []string{"spark_at_tower"}
	sparkAtTower  = []string{"brush_touches", "cap_leak_ohms", "rotor_leak_ohms", "king_lead_leak_ohms", "king_lead_ohms", "plug_lead_leak_ohms", "rotor_gap", "contacts_burnt_aside", "leads_in_order", "rotor_at_first_tower", "plug_gap", "timing_static"}
	noSparkAtAll  = []string{"air_gap", "points_part", "points_gap", "points_look_burnt", "trigger_switches"}
	ofPrimary     = []string{"run_drop", "start_drop", "switch_drop", "plate_earth_drop", "plate_drop_pulled", "coil_feed_closed", "trigger_feed_closed", "trigger_feed_crank", "trigger_feed_idle", "trigger_lead_drop", "coil_switched_open", "switched_lead_live"}
	cranking      = []string{"battery_rest", "battery_crank", "live_cable_crank", "earth_cable_crank", "starter_crank"}
	theRest       = []string{
		"coil_ohms", "secondary_ohms", "breaker_terminal_insulated", "condenser_kicks", "condenser_farads", "condenser_series", "ballast_ohms", "ballast_ohms_hot", "main_feed_drop", "key_switch_drop", "ignition_lead_drop",
		"relay_drop", "coil_lead_drop", "available_cruise", "charging_cold", "charging_cruise", "battery_idle_loads", "body_block_drop",
		"timing_2500", "timing_3500", "can_travel", "hose_vacuum", "manifold_vacuum", "timing_scatter", "weights_spring_back", "dwell_fast",
		"coil_reversed", "rotor_phase", "points_spring", "burn_time", "plug_kv_idle", "plug_kv_snap", "rings", "side_play", "end_play", "rotor_engagement", "axial_offset", "trigger_temp", "compression",
	}
)

// chart takes a single patient through the chart: minutes spent, its right
// remedy's own not counted, and checks made.
func (w *ward) chart(p *patient) (minutes float64, checks int) {
	need := map[string]bool{}
	for _, r := range p.needs() {
		need[r] = true
	}
	tried, done := map[string]bool{}, map[string]bool{}
	setup := "ask"
	ended := false
	// check makes one check and what follows from it; it tells whether it passed.
	check := func(id string) (passed bool) {
		i := slices.IndexFunc(p.list, func(m measure.Measure) bool { return m.ID == id })
		if i < 0 || done[id] || ended {
			return true
		}
		done[id] = true
		m := &p.list[i]
		a := p.answer(i)
		checks++
		minutes += m.Minutes
		if m.Setup != setup {
			minutes += m.SetupMinutes
			setup = m.Setup
		}
		if w.passes(i, a) {
			return true
		}
		for _, r := range w.blamed(i) {
			if tried[r.id] {
				continue
			}
			tried[r.id] = true
			if need[r.id] {
				ended = true
				return false
			}
			minutes += r.minutes
		}
		return false
	}
	run := func(lists ...[]string) {
		for _, list := range lists {
			for _, id := range list {
				check(id)
			}
		}
	}
	slow := false
	for _, a := range p.complaints() {
		slow = slow || a.Measure == "slow_crank" || a.Measure == "lights_dim_crank"
	}
	if slow {
		run(cranking)
	}
	if check("spark_at_lead") {
		run(sparkAtPlug, ofPrimary, cranking, theRest)
	} else if check(noSparkAtPlug[0]) {
		run(sparkAtTower, noSparkAtAll, ofPrimary, cranking, sparkAtPlug, theRest)
	} else {
		run(noSparkAtAll, ofPrimary, cranking, theRest, sparkAtTower, sparkAtPlug)
	}
	if need[evidence.ElsewhereID] {
		return minutes, checks
	}
	if !ended {
		minutes += 120 // nobody finds it: as for the other
	}
	return minutes, checks
}

type blame struct {
	id      string
	minutes float64
	worth   float64
}

// passes holds an answer against what 95 in 100 cars in order show.
func (w *ward) passes(i int, a suspect.Answer) bool {
	switch a.Kind {
	case evidence.CouldNot:
		return true // nothing was seen to be wrong
	case evidence.Yes:
		return w.usual[i].yes >= 0.5
	case evidence.No:
		return w.usual[i].yes < 0.5
	}
	return a.Value >= w.usual[i].lo && a.Value <= w.usual[i].hi
}

// usual is what cars in order show of a measure.
type usual struct{ lo, hi, yes float64 }

// learn reads cars in order, and what each fault makes fail more often than not.
func (w *ward) learn(rows [][][]float64) {
	w.usual = make([]usual, len(w.bank.Measures))
	w.fails = make([][]blame, len(w.bank.Measures))
	for i := range w.usual {
		m := &w.bank.Measures[i]
		var x []float64
		sum := 0.0
		for _, row := range rows[0] {
			if !math.IsNaN(row[i]) {
				x = append(x, row[i])
				sum += row[i]
			}
		}
		if len(x) == 0 {
			w.usual[i] = usual{math.Inf(-1), math.Inf(1), 0.5}
			continue
		}
		slices.Sort(x)
		w.usual[i] = usual{x[0], x[len(x)-1], sum / float64(len(x))}
		best := map[string]*blame{}
		for f := range w.have {
			failed := 0.0
			for _, row := range rows[1+f] {
				switch y := row[i]; {
				case math.IsNaN(y):
				case m.Observation && w.usual[i].yes >= 0.5:
					failed += 1 - y
				case m.Observation:
					failed += y
				case y < w.usual[i].lo || y > w.usual[i].hi:
					failed++
				}
			}
			failed /= float64(len(rows[1+f]))
			if failed < 0.3 {
				continue
			}
			r := w.have[f].Remedy
			if best[r.ID] == nil {
				best[r.ID] = &blame{id: r.ID, minutes: r.Minutes}
			}
			best[r.ID].worth += failed * w.have[f].Prior / r.Minutes
		}
		for _, b := range best {
			w.fails[i] = append(w.fails[i], *b)
		}
		slices.SortFunc(w.fails[i], func(a, b blame) int {
			if c := cmp.Compare(b.worth, a.worth); c != 0 {
				return c
			}
			return cmp.Compare(a.id, b.id)
		})
	}
}

// blamed are the remedies that a failed check leads to.
func (w *ward) blamed(i int) []blame { return w.fails[i][:min(3, len(w.fails[i]))] }
