package prove

import (
	"fmt"
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/twin"
	"dwellwright/units"
)

// Settings say how a sheet is worked out.
type Settings struct {
	Option string // twin option; "" is the car as fitted
	Draws  int    // cars drawn from the spreads for each condition
	Seed   uint64
	// Wiring leaves the rows of the distributor out: they are the same however
	// the car is wired.
	Wiring bool
	// Each runs do for 0 to n-1, in any order and at the same time if it
	// likes; the result does not depend on it. nil runs them one by one.
	Each func(n int, do func(i int))
}

// DefaultDraws is how many cars are drawn where nothing else is asked.
const DefaultDraws = 1000

// Sheet is a proof sheet.
type Sheet struct {
	Car      *car.Car // as wired in the option
	Option   twin.Option
	Settings Settings
	Columns  []Column
	Rows     []Row
	Loose    []Loose // readings that no cell takes
}

// Column is a condition, or the key off.
type Column struct{ ID, Name string }

// Row is one thing that must hold, with a cell for each column.
type Row struct {
	ID, Name, Group string
	Kind            units.Kind
	Critical        bool   // only a reading makes its cells hold
	Weighs          bool   // a plan weighs it: critical, or of weight although predicted
	How             string // how it is read, in words
	Cells           []Cell
}

// Cell is one figure on the sheet.
type Cell struct {
	Shown     bool // false where the row has no meaning in the column
	Predicted twin.Estimate
	Reading   *Taken // the reading that decides, nil when none does
	Limit     Limit
	Wanted    *Band
	State     State
	Note      string
}

// Band is a range that is wanted, short of being required.
type Band struct {
	Lo, Hi float64
	Source string
}

// Taken is a reading as it counts: leads subtracted, with its half-width.
type Taken struct {
	Value, PM float64
	Reading   *car.Reading
}

// Loose is a reading that decides no cell, with the reason.
type Loose struct {
	Reading *car.Reading
	Why     string
}

// Compute works out the proof sheet of a car.
func Compute(c *car.Car, set Settings) (*Sheet, error) {
	if set.Option == "" {
		set.Option = twin.AsFitted
	}
	opt, err := twin.OptionByID(set.Option)
	if err != nil {
		return nil, err
	}
	d, err := opt.Apply(c)
	if err != nil {
		return nil, err
	}
	if err := twin.Mechanics(d); err != nil { // or the rows about it would be missing, and a job proven without them
		return nil, err
	}
	s := &Sheet{Car: d, Option: opt, Settings: set}
	list := rows(d)
	if set.Wiring {
		list = slices.DeleteFunc(list, func(r row) bool { return r.group == FitGroup })
	}
	s.Columns = append(s.Columns, Column{AtRest, "key off"})
	for i := range d.Conditions {
		s.Columns = append(s.Columns, Column{d.Conditions[i].ID, d.Conditions[i].Name})
	}
	for _, r := range list {
		s.Rows = append(s.Rows, Row{ID: r.id, Name: r.name, Group: r.group, Kind: r.kind, Critical: r.critical, Weighs: r.weighs || r.critical && r.group != SparkGroup && r.group != FitGroup,
			How: how(r), Cells: make([]Cell, len(s.Columns))})
	}
	est, err := s.estimate(list)
	if err != nil {
		return nil, err
	}
	for i, r := range list {
		for j := range s.Columns {
			s.Rows[i].Cells[j] = s.cell(&r, j, est[j][i])
		}
	}
	s.take(list)
	s.drop()
	return s, nil
}

// column lists what is read in column j: the rows that belong there and, of
// those shown only where they have a limit, the ones that have.
func (s *Sheet) column(list []row, j int) (specs []twin.Spec, rowOf []int) {
	k := s.condition(j)
	if k == nil {
		k = &car.Condition{Engine: car.StoppedOpen}
	}
	for i, r := range list {
		if r.rest == (j == 0) {
			if _, applies := r.limit(s.Car, k); r.only && !applies {
				continue
			}
			specs = append(specs, r.spec)
			rowOf = append(rowOf, i)
		}
	}
	return specs, rowOf
}

// estimate predicts all columns, each a task of its own.
func (s *Sheet) estimate(list []row) ([]map[int]twin.Estimate, error) {
	out := make([]map[int]twin.Estimate, len(s.Columns))
	errs := make([]error, len(s.Columns))
	work := func(j int) {
		specs, rowOf := s.column(list, j)
		cond := s.Columns[j].ID
		if j == 0 { // any condition serves: the supply is off
			cond = restCondition(s.Car)
		}
		est, err := twin.Predict(s.Car, cond, specs, s.Settings.Draws, s.Settings.Seed)
		if err != nil {
			errs[j] = fmt.Errorf("%s: %w", s.Columns[j].Name, err)
			return
		}
		out[j] = map[int]twin.Estimate{}
		for k, i := range rowOf {
			out[j][i] = est[k]
		}
	}
	if each := s.Settings.Each; each != nil {
		each(len(s.Columns), work)
	} else {
		for j := range s.Columns {
			work(j)
		}
	}
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// restCondition is a condition with the engine stopped, the first when there
// is none.
func restCondition(c *car.Car) string {
	for i := range c.Conditions {
		if c.Conditions[i].Engine == car.StoppedOpen {
			return c.Conditions[i].ID
		}
	}
	return c.Conditions[0].ID
}

func (s *Sheet) condition(j int) *car.Condition {
	if j == 0 {
		return nil
	}
	return &s.Car.Conditions[j-1]
}

// cell makes the cell of a row in column j from its prediction.
func (s *Sheet) cell(r *row, j int, e twin.Estimate) Cell {
	if e.Missing() {
		return Cell{Limit: NoLimit()}
	}
	c := Cell{Shown: true, Predicted: e, Limit: NoLimit()}
	k := s.condition(j)
	if k == nil {
		k = &car.Condition{Engine: car.StoppedOpen}
	}
	if l, applies := r.limit(s.Car, k); applies {
		c.Limit = l
	} else if r.only {
		return Cell{Limit: NoLimit()}
	}
	if r.wanted != nil {
		if lo, hi, source, ok := r.wanted(s.Car, k); ok {
			c.Wanted = &Band{lo, hi, source}
		}
	}
	c.State = predicted(c.Limit, e, r.critical || r.weighs) // what weighs does not hold by a guess either
	if r.id == "coil_current" && k.Engine == car.StoppedClosed {
		c.Note = "key on with the engine stopped: a minute at most, the coil heats"
	}
	return c
}

// drop takes out the rows in which no cell is shown.
func (s *Sheet) drop() {
	kept := s.Rows[:0]
	for _, r := range s.Rows {
		for _, c := range r.Cells {
			if c.Shown {
				kept = append(kept, r)
				break
			}
		}
	}
	s.Rows = kept
}

// take puts each reading of the file into the cell it decides.
func (s *Sheet) take(list []row) {
	for n := range s.Car.Readings {
		rd := &s.Car.Readings[n]
		if !s.ofThisWiring(rd) {
			s.Loose = append(s.Loose, Loose{rd, "taken with the car wired another way (" + optionOf(rd) + ")"})
			continue
		}
		if !s.place(rd, list) {
			s.Loose = append(s.Loose, Loose{rd, s.why(rd, list)})
		}
	}
}

func optionOf(rd *car.Reading) string {
	if rd.Option == "" {
		return twin.AsFitted
	}
	return rd.Option
}

func (s *Sheet) ofThisWiring(rd *car.Reading) bool { return optionOf(rd) == s.Option.ID }

// place gives a reading to the cell it settles. Of several readings of one
// cell the worst decides: by state first, then by its margin. The others stay
// in the list of those that decide nothing.
func (s *Sheet) place(rd *car.Reading, list []row) bool {
	for i := range list {
		r := &list[i]
		for j := range s.Columns {
			if r.rest != (j == 0) || !r.rest && s.Columns[j].ID != rd.Condition {
				continue
			}
			c := &s.Rows[i].Cells[j]
			if !c.Shown || !r.settledBy(rd, s.condition(j)) {
				continue
			}
			t := taken(rd)
			state, note := c.read(t)
			if c.Reading != nil {
				loser := rd
				if state > c.State || state == c.State && c.Limit.Margin(t.Value)-t.PM < c.Limit.Margin(c.Reading.Value)-c.Reading.PM {
					loser = c.Reading.Reading
					c.Reading, c.State, c.Note = &t, state, note
				}
				s.Loose = append(s.Loose, Loose{loser, "another reading of the same cell is worse and decides"})
				return true
			}
			c.Reading, c.State, c.Note = &t, state, note
			return true
		}
	}
	return false
}

// read gives the state of a cell from a reading, and a note where the reading
// asks for a second look.
func (c *Cell) read(t Taken) (State, string) {
	state := read(c.Limit, t.Value, t.PM)
	if t.Reading.Instrument == car.Ohmmeter && t.Value < -t.PM {
		return max(state, Doubtful), "less than its own leads: were they nulled already?"
	}
	if off := math.Abs(t.Value - c.Predicted.Mid); off > 1.5*math.Hypot(c.Predicted.PM(), t.PM) {
		return state, "reads otherwise than the file would have it: look for what is different"
	}
	return state, c.Note
}

// settledBy reports whether a reading is of this row's two points with an
// instrument that settles it in that condition (nil: key off). The probes may
// be the other way round.
func (r *row) settledBy(rd *car.Reading, k *car.Condition) bool {
	if !r.samePlace(rd) {
		return false
	}
	for _, in := range r.accepts {
		if in == rd.Instrument {
			return true
		}
	}
	if k != nil && stopped(k) {
		for _, in := range r.still {
			if in == rd.Instrument {
				return true
			}
		}
	}
	return false
}

func (r *row) samePlace(rd *car.Reading) bool {
	return r.spec.Red == rd.Red && r.spec.Black == rd.Black || r.spec.Black != "" && r.spec.Red == rd.Black && r.spec.Black == rd.Red
}

// why says why a reading decides no cell.
func (s *Sheet) why(rd *car.Reading, list []row) string {
	for i := range list {
		r := &list[i]
		if !r.samePlace(rd) {
			continue
		}
		if rd.Instrument == car.Voltmeter && len(r.still) > 0 {
			return "an averaging meter hides the " + map[bool]string{true: "lowest", false: "highest"}[r.spec.Instrument == twin.ScopeMin] +
				" instant while the points or trigger switch; wanted: " + how(*r)
		}
		if !r.accepted(rd) {
			return "taken with another instrument than the row asks for; wanted: " + how(*r)
		}
		return r.name + " has no limit in that condition"
	}
	return "no row of the sheet is read there"
}

func (r *row) accepted(rd *car.Reading) bool {
	for _, in := range r.accepts {
		if in == rd.Instrument {
			return true
		}
	}
	return false
}

// taken turns a reading into what counts: an ohmmeter's leads are subtracted
// unless they were nulled, and a reversed sign is turned.
func taken(rd *car.Reading) Taken {
	v, pm := rd.Value.X, math.Hypot(rd.Value.PM, rd.Accuracy.X)
	if rd.Accuracy.PM > 0 {
		pm = math.Hypot(rd.Value.PM, rd.Accuracy.PM)
	}
	if rd.Instrument == car.Ohmmeter && !rd.LeadsNulled {
		v -= rd.Leads.X
		pm = math.Hypot(pm, rd.Leads.PM)
	}
	switch rd.Instrument {
	case car.Voltmeter, car.VoltmeterMin, car.VoltmeterMax, car.ScopeMin, car.ScopeMax, car.ClampPeak:
		v = math.Abs(v) // a person reads so that the needle goes the right way
	}
	return Taken{Value: v, PM: pm, Reading: rd}
}

func how(r row) string {
	switch r.spec.Instrument {
	case twin.ScopeMin:
		return "minimum hold or scope, " + r.spec.Red + " to " + r.spec.Black
	case twin.LargestDrop:
		return "maximum hold or scope (any voltmeter with the key on and the engine stopped), " + r.spec.Red + " to " + r.spec.Black
	case twin.Voltmeter:
		return "voltmeter, " + r.spec.Red + " to " + r.spec.Black
	case twin.Ohmmeter:
		return "ohmmeter, leads subtracted, " + r.spec.Red + " to " + r.spec.Black
	case twin.ClampAmmeter:
		return "clamp ammeter round the " + r.spec.Red
	case twin.ClampPeak:
		return "current clamp on a scope round the " + r.spec.Red
	case twin.AvailableVolts:
		return "spark tester at the " + r.spec.Red
	case twin.Thermometer:
		return "thermometer on the " + r.spec.Red
	case twin.TimingLight:
		return "timing light at the damper, on the lead of No. 1, vacuum hose off and plugged"
	case twin.WindowedCap:
		how := "windowed cap and timing light, vacuum hose off"
		if r.spec.Red != "rotor_tip" {
			how = "windowed cap and timing light, can drawn all the way with a hand pump"
		}
		return how + "; degrees past the tower, below nothing before it"
	case twin.FeelerGauge:
		return "plastic feeler between sensor and ring, at every lobe, the widest"
	case twin.Caliper:
		return "clay or a cut cap, measured with a caliper"
	}
	return "computed"
}

// Count returns how many critical cells are in each state.
func (s *Sheet) Count() map[State]int {
	n := map[State]int{}
	for _, r := range s.Rows {
		if !r.Critical {
			continue
		}
		for _, c := range r.Cells {
			if c.State != None {
				n[c.State]++
			}
		}
	}
	return n
}

// Proven reports whether every critical cell holds.
func (s *Sheet) Proven() bool {
	n := s.Count()
	return n[Holds] > 0 && n[NotProven] == 0 && n[Doubtful] == 0 && n[FallsShort] == 0
}
