package workshop

import (
	"fmt"
	"math"
	"strings"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/prove"
	"dwellwright/twin"
	"dwellwright/units"
)

// Found is the car on one page: what is fitted and what it does in one
// condition.
type Found struct {
	Car       *car.Car
	Condition *car.Condition
	Option    twin.Option
	Points    []PointView
	Wiring    draw.WiringSpec // set Tall before drawing for a phone
	Assumed   []FigureView
	Stated    int // figures the file says
	Draws     int
}

// PointView is a test point with its predicted voltage to the earthed post.
type PointView struct {
	ID, Name string
	Mean     twin.Estimate
	Low      twin.Estimate
	High     twin.Estimate
}

// FigureView is one figure of the car in words.
type FigureView struct{ Path, Value, Origin string }

// place of each test point in the wiring picture, with a short label.
var places = []struct {
	id, label string
	at        draw.Place
}{
	{"battery_live", "battery, live post", draw.AtBatteryLive},
	{"starter_stud", "starter stud", draw.AtStarterStud},
	{"feed_junction", "feed junction", draw.AtFeedJunction},
	{"generator_output", "charging output", draw.AtChargeOut},
	{"switch_in", "switch, in", draw.AtSwitchIn},
	{"switch_out", "switch, out", draw.AtSwitchOut},
	{"ballast_supply", "ballast, supply side", draw.AtBallastSupply},
	{"ballast_coil_side", "ballast, coil side", draw.AtBallastCoil},
	{"coil_feed", "coil, feed", draw.AtCoilFeed},
	{"coil_switched", "coil, switched", draw.AtCoilSwitched},
	{"breaker_terminal", "breaker terminal", draw.AtBreakerTerminal},
	{"breaker_plate", "breaker plate", draw.AtBreakerPlate},
	{"housing", "housing", draw.AtHousing},
	{"block", "block", draw.AtBlock},
	{"body", "body", draw.AtBody},
	{"battery_earth", "battery, earthed post", draw.AtBatteryEarth},
	{"trigger_supply", "trigger supply", draw.AtTriggerSupply},
	{"relay_out", "relay out", draw.AtRelayOut},
}

// Look works out what the car does in the bench's condition and wiring. The
// readings are predicted from as many draws as the bench asks for.
func Look(c *car.Car, b Bench) (*Found, error) {
	opt, err := twin.OptionByID(b.Option)
	if err != nil {
		return nil, err
	}
	d, err := opt.Apply(b.Apply(c))
	if err != nil {
		return nil, err
	}
	f := &Found{Car: d, Option: opt, Draws: b.Draws}
	for i := range d.Conditions {
		if d.Conditions[i].ID == b.Condition {
			f.Condition = &d.Conditions[i]
		}
	}
	if f.Condition == nil {
		return nil, &twin.UnknownError{What: "condition", ID: b.Condition}
	}
	l := look{f: f, b: b, parts: map[string]int{}}
	l.ask()
	if l.est, err = twin.Predict(d, b.Condition, l.specs, b.Draws, 1); err != nil {
		return nil, err
	}
	l.nodes()
	l.wires()
	for _, r := range car.Params(d) {
		if r.P.Origin != car.Assumed && !f.elsewhere(r.Path) {
			f.Stated++
		}
	}
	for _, r := range prove.Assumed(d) {
		if !f.elsewhere(r.Path) {
			f.Assumed = append(f.Assumed, FigureView{r.Path, units.FormatValue(r.P.Kind, r.P.Value, b.Units), "assumed"})
		}
	}
	return f, nil
}

// elsewhere reports whether a figure is of a condition that is not looked at.
func (f *Found) elsewhere(path string) bool {
	return strings.HasPrefix(path, "conditions.") && !strings.HasPrefix(path, "conditions."+f.Condition.ID+".")
}

// look gathers what the picture needs.
type look struct {
	f     *Found
	b     Bench
	specs []twin.Spec
	est   []twin.Estimate
	parts map[string]int // clamp readings by part
}

func (l *look) ask() {
	for _, p := range places {
		for _, in := range []twin.Instrument{twin.Voltmeter, twin.ScopeMin, twin.ScopeMax} {
			l.specs = append(l.specs, twin.Spec{Instrument: in, Red: p.id, Black: "battery_earth"})
		}
	}
	clamp := func(part string) {
		l.parts[part] = len(l.specs)
		l.specs = append(l.specs, twin.Spec{Instrument: twin.ClampAmmeter, Red: part})
	}
	for _, n := range car.LegNames {
		clamp(n)
	}
	for _, n := range []string{"coil", "battery", "generator"} {
		clamp(n)
	}
	l.parts["trigger feed"] = len(l.specs)
	l.specs = append(l.specs, prove.TriggerFeed)
	l.parts["ballast heat"] = len(l.specs)
	l.specs = append(l.specs, twin.Spec{Instrument: twin.Thermometer, Red: "ballast"})
}

// volts writes a voltage as short as a tag of the picture needs it: to a tenth
// of a volt, small ones to a millivolt, the half-width rounded up. The table
// of test points has it in full.
func volts(e twin.Estimate) string {
	scale, unit, digits := 1.0, "V", 1
	if math.Abs(e.Mid) < 0.1 && e.PM() < 0.1 {
		scale, unit, digits = 1000, "mV", 0
	}
	step := math.Pow10(-digits)
	pm := math.Ceil(scale*e.PM()/step-1e-6) * step
	return fmt.Sprintf("%.*f ± %.*f %s", digits, zero(e.Mid)*scale, digits, pm, unit)
}

// zero turns what is nothing but rounding into nothing.
func zero(v float64) float64 {
	if math.Abs(v) < 5e-4 {
		return 0
	}
	return v
}

func (l *look) nodes() {
	feed := marks[prove.TriggerFeedState(l.f.Car, l.f.Condition, l.est[l.parts["trigger feed"]])]
	for i, p := range places {
		mean, low, high := l.est[3*i], l.est[3*i+1], l.est[3*i+2]
		if mean.Missing() || p.id == "ballast_coil_side" && !l.f.Car.Ballast.Fitted {
			continue
		}
		l.f.Points = append(l.f.Points, PointView{p.id, p.label, mean, low, high})
		n := draw.Node{ID: p.id, Label: p.label, Place: p.at, Origin: draw.Predicted}
		switch {
		case p.id == "battery_earth":
			n.Value = "0 V"
		default:
			n.Value = volts(mean)
		}
		if high.Mid-low.Mid > 0.15 {
			n.Sub = "lowest " + units.Format(units.Voltage, low.Mid, l.b.Units)
		}
		if p.id == "trigger_supply" {
			n.Mark = feed
		}
		l.f.Wiring.Nodes = append(l.f.Wiring.Nodes, n)
	}
	l.f.Wiring.Title = l.f.Condition.Name
	l.f.Wiring.PositiveEarth = l.f.Car.Earth == car.PositiveEarth
}

// marks are the signs of the sheet's states.
var marks = map[prove.State]draw.CellMark{prove.Holds: draw.MarkHolds, prove.NotProven: draw.MarkUnproven, prove.Doubtful: draw.MarkDoubtful, prove.FallsShort: draw.MarkShort}

// origin of a figure of the car, for the picture.
func origin(o car.Origin) draw.Origin {
	switch o {
	case car.Stated:
		return draw.Stated
	case car.Measured:
		return draw.Measured
	}
	return draw.Assumed
}

func (l *look) amps(part string) (string, int) {
	i, ok := l.parts[part]
	if !ok || l.est[i].Missing() {
		return "", 0
	}
	e := l.est[i]
	if math.Abs(e.Mid) < 0.005 {
		return "", 0
	}
	flow := 1
	if e.Mid < 0 {
		flow = -1
	}
	return short(units.Current, math.Abs(e.Mid), 3), flow
}

func (l *look) leg(id car.LegID, from, to string) draw.Part {
	w := &l.f.Car.Wiring[id]
	p := draw.Part{ID: car.LegNames[id], Kind: draw.Leg, From: from, To: to}
	o := w.Length.Origin
	if w.Given {
		o = w.Resistance.Origin
	} else if w.Section.Origin == car.Assumed {
		o = car.Assumed
	}
	p.Value = short(units.Resistance, twin.LegOhms(w, l.f.Condition.BayTemp.X), 2)
	p.Origin = origin(o)
	p.Current, p.Flow = l.amps(car.LegNames[id])
	if l.f.Car.Earth == car.PositiveEarth {
		p.Flow = -p.Flow
	}
	return p
}

func (l *look) add(p draw.Part) { l.f.Wiring.Parts = append(l.f.Wiring.Parts, p) }

func (l *look) wires() {
	c, k := l.f.Car, l.f.Condition
	fig := func(p *car.Param) string { return units.FormatValue(p.Kind, p.Value, l.b.Units) }
	cranking := k.Engine == car.Cranking

	battAmps, _ := l.amps("battery")
	l.add(draw.Part{ID: "battery", Kind: draw.Battery, From: "battery_live", To: "battery_earth", Label: "battery",
		Value: percent(&k.StateOfCharge), Origin: origin(k.StateOfCharge.Origin), Current: battAmps})
	l.add(l.leg(car.BatteryCable, "battery_live", "starter_stud"))
	l.add(l.leg(car.MainFeed, "starter_stud", "feed_junction"))
	l.add(l.leg(car.SwitchFeed, "feed_junction", "switch_in"))
	if c.Charging.Kind != car.NoCharging {
		kind, label := draw.Generator, "generator"
		if c.Charging.Kind == car.ACAlternator {
			kind, label = draw.Alternator, "alternator"
		}
		amps, flow := l.amps("generator")
		l.add(draw.Part{ID: "generator", Kind: kind, From: "generator_output", To: "block", Label: label,
			Value: fig(&c.Charging.SetPoint), Origin: origin(c.Charging.SetPoint.Origin), Current: amps, Flow: -flow})
		l.add(l.leg(car.ChargeLead, "generator_output", "feed_junction"))
	}
	if cranking {
		l.add(draw.Part{ID: "starter", Kind: draw.Starter, From: "starter_stud", To: "block", Label: "starter",
			Value: fig(&c.Starter.Current), Origin: origin(c.Starter.Current.Origin)})
	}
	l.loads()
	l.add(draw.Part{ID: "key_switch", Kind: draw.KeySwitch, From: "switch_in", To: "switch_out", Label: "ignition switch",
		Value: fig(&c.KeySwitch.Contact), Origin: origin(c.KeySwitch.Contact.Origin), Open: cranking && !c.KeySwitch.LiveInStart})
	if c.Feed == car.FeedRelay && c.Relay.Fitted {
		l.relay()
	} else {
		l.add(l.leg(car.IgnitionLead, "switch_out", "ballast_supply"))
	}
	if c.Ballast.Fitted {
		v := fig(&c.Ballast.Cold) + " cold"
		if e := l.est[l.parts["ballast heat"]]; !e.Missing() {
			hot := c.Ballast.Cold.X * (1 + c.Ballast.TempCo.X*(e.Mid-20))
			v = short(units.Resistance, hot, 3) + " at " + units.Format(units.Temperature, e.Mid, l.b.Units)
		}
		l.add(draw.Part{ID: "ballast", Kind: draw.Ballast, From: "ballast_supply", To: "ballast_coil_side", Label: "ballast", Value: v, Origin: origin(c.Ballast.Cold.Origin)})
		l.add(l.leg(car.CoilLead, "ballast_coil_side", "coil_feed"))
	} else {
		l.add(l.leg(car.CoilLead, "ballast_supply", "coil_feed"))
	}
	if c.KeySwitch.Bypass {
		p := l.leg(car.BypassLead, "starter_stud", "coil_feed")
		p.ID, p.Kind, p.Label, p.Open = "bypass_lead", draw.KeySwitch, "start bypass", !cranking
		p.Value = ""
		l.add(p)
	}
	amps, flow := l.amps("coil")
	l.add(draw.Part{ID: "coil", Kind: draw.Coil, From: "coil_feed", To: "coil_switched", Label: "coil", Value: fig(&c.Coil.Primary), Origin: origin(c.Coil.Primary.Origin), Current: amps, Flow: l.turn(flow)})
	l.add(l.leg(car.TriggerLead, "coil_switched", "breaker_terminal"))
	l.breaker()
	l.add(l.leg(car.PivotWire, "breaker_plate", "housing"))
	clamp := l.leg(car.HousingClamp, "housing", "block")
	clamp.Kind = draw.Earth
	l.add(clamp)
	l.add(l.leg(car.EngineStrap, "body", "block"))
	l.add(l.leg(car.EarthCable, "block", "battery_earth"))
}

// short writes a figure to n significant digits: the picture has no room for
// its plus-or-minus and must not look surer than it is.
func short(k units.Kind, x float64, n int) string {
	if x != 0 && !math.IsInf(x, 0) && !math.IsNaN(x) {
		step := math.Pow10(int(math.Floor(math.Log10(math.Abs(x)))) - n + 1)
		x = math.Round(x/step) * step
	}
	return units.Format(k, x, units.Metric)
}

// percent writes a share of a whole as short as the picture needs it.
func percent(p *car.Param) string {
	if p.PM == 0 {
		return fmt.Sprintf("%.0f %% full", 100*p.X)
	}
	return fmt.Sprintf("%.0f ± %.0f %% full", 100*p.X, 100*p.PM)
}

// turn reverses a flow on a positive earth car, where current runs the other
// way.
func (l *look) turn(flow int) int {
	if l.f.Car.Earth == car.PositiveEarth {
		return -flow
	}
	return flow
}

func (l *look) loads() {
	c, k := l.f.Car, l.f.Condition
	var on []string
	var total float64
	o := car.Measured
	for i := range c.Loads {
		for _, id := range k.Loads {
			if id == c.Loads[i].ID {
				on = append(on, c.Loads[i].Name)
				total += c.Loads[i].Current.X
				o = min(o, c.Loads[i].Current.Origin)
			}
		}
	}
	p := draw.Part{ID: "loads", Kind: draw.Loads, From: "feed_junction", To: "body", Label: "loads off", Open: true}
	if len(on) > 0 {
		p.Label = fmt.Sprintf("%d loads on", len(on))
		p.Open = false
		p.Value = units.Format(units.Current, total, l.b.Units) + " rated"
		p.Origin = origin(o)
		p.Flow = l.turn(1)
	}
	l.add(p)
}

func (l *look) breaker() {
	c := l.f.Car
	kinds := map[car.SwitchKind]draw.PartKind{car.SinglePoints: draw.Points, car.DualPoints: draw.DualPoints}
	p := draw.Part{ID: "switch", From: "breaker_terminal", To: "breaker_plate", Open: l.f.Condition.Engine == car.StoppedOpen}
	fig := func(p *car.Param) string { return units.FormatValue(p.Kind, p.Value, l.b.Units) }
	if k, ok := kinds[c.Switch.Kind]; ok {
		p.Kind, p.Label = k, "points"
		if k == draw.DualPoints {
			p.Label = "dual points"
		}
		p.Value, p.Origin = "dwell "+fig(&c.Switch.Dwell), origin(c.Switch.Dwell.Origin)
		l.add(p)
		l.add(draw.Part{ID: "condenser", Kind: draw.Condenser, From: "breaker_terminal", To: "breaker_plate", Label: "condenser"})
		return
	}
	p.Kind, p.Label, p.Third = draw.Trigger, "trigger", "trigger_supply"
	p.Value, p.Origin = "needs "+fig(&c.Switch.MinFeed), origin(c.Switch.MinFeed.Origin)
	l.add(p)
	from := map[car.FeedPoint]string{car.FeedCoil: "coil_feed", car.FeedBallastSupply: "ballast_supply", car.FeedKeySwitch: "switch_out", car.FeedRelay: "relay_out"}[c.Feed]
	w := l.leg(car.FeedWire, from, "trigger_supply")
	w.New = l.f.Option.ID != twin.AsFitted
	l.add(w)
}

func (l *look) relay() {
	c := l.f.Car
	l.f.Wiring.Nodes = append(l.f.Wiring.Nodes, draw.Node{ID: "relay_in", Label: "relay in", Place: draw.AtRelayIn, Origin: draw.Predicted})
	l.add(draw.Part{ID: "fuse", Kind: draw.Fuse, From: "starter_stud", To: "relay_in", Label: "fuse", New: true})
	l.add(draw.Part{ID: "relay", Kind: draw.Relay, From: "relay_in", To: "relay_out", Third: "switch_out", Label: "relay",
		Value: units.FormatValue(units.Resistance, c.Relay.Winding.Value, l.b.Units), Origin: origin(c.Relay.Winding.Origin), New: true,
		Open: l.f.Condition.Engine == car.Cranking && !c.KeySwitch.LiveInStart})
	w := draw.Part{ID: "relay_lead", Kind: draw.Leg, From: "relay_out", To: "ballast_supply", New: true}
	l.add(w)
}
