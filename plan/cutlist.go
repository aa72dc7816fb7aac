package plan

import (
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/twin"
	"dwellwright/units"
	"dwellwright/wire"
)

// CutList is what has to be cut, crimped and fitted for a choice with a
// trigger.
type CutList struct {
	Wires    []CutWire
	Parts    []string // relay, coil, fuse holder and the like, in words
	Removed  []string // what comes out
	Moved    []string // what is joined elsewhere
	Cautions []string
}

// CutWire is one new wire.
type CutWire struct {
	Leg        car.LegID
	From, To   string
	LengthM    float64
	Origin     car.Origin // of the length
	AWG        int        // 0 is 1/0
	SectionM2  float64
	CurrentA   float64 // continuous, that it is chosen for
	PeakA      float64
	DropV      float64 // at the continuous current
	TempC      float64 // of the wire in the engine bay
	FuseA      float64 // its own fuse at its source, 0 for none
	Protected  string  // what protects it where it has none
	Terminals  []string
	WhyThisOne string
}

const (
	thinnestAWG = 18                     // thinner breaks under vibration [common practice]
	dropAllowed = 0.1                    // V in any one wire [control circuit test, US Army TM 5-3820-256-24-4]
	bayHotC     = 105                    // °C air round a hot-soaked engine [90-120 °C, from memory]
	cabinHotC   = 60                     // °C behind the dash on a hot day [from memory]
	insulationC = wire.CrossLinkedLimitC // °C, for the engine bay
	bundled     = 0.8                    // part of its ampacity a wire keeps in a bundle of four to six [common practice]
)

// cutList works out the wires of the winner from its predicted currents.
func cutList(c *car.Car, w *Choice, draws int) (*CutList, error) {
	d := w.Sheet.Car
	list := &CutList{Cautions: cautions()}
	if c.Ballast.Fitted && !d.Ballast.Fitted {
		list.Removed = append(list.Removed, "the ballast, with both its wires joined through")
	}
	if d.Coil.Class != c.Coil.Class {
		list.Parts = append(list.Parts, fmt.Sprintf("coil of %s primary, for full voltage without a ballast",
			units.FormatValue(units.Resistance, d.Coil.Primary.Value, units.Metric)))
	}
	if !c.Switch.Kind.Electronic() {
		list.Removed = append(list.Removed, "points and condenser (keep the set, tuned, as the spare)")
		list.Parts = append(list.Parts, "trigger module with its sleeve, to its own sheet")
	}
	mean, peak, err := currents(d, draws)
	if err != nil {
		return nil, err
	}
	electronics := d.Switch.Supply.Hi()
	if d.Feed == car.FeedRelay {
		if err := list.relay(d, mean+electronics, peak+electronics); err != nil {
			return nil, err
		}
	} else if err := list.fuseFeed(d, mean+electronics, peak+electronics); err != nil {
		return nil, err
	}
	from := map[car.FeedPoint]string{
		car.FeedCoil: "coil feed terminal", car.FeedBallastSupply: "supply side of the ballast",
		car.FeedKeySwitch: "outgoing terminal of the ignition switch", car.FeedRelay: "relay output",
	}[d.Feed]
	if err := list.add(d, wireSpec{leg: car.FeedWire, from: from, to: "trigger supply terminal", amps: electronics, peak: electronics,
		fuse: fuseHere, ends: []string{"ring or blade terminal at the feed point", "the trigger's own connector"},
		why: "feeds the trigger's electronics only; gauge set by strength, not current"}); err != nil {
		return nil, err
	}
	if err := list.add(d, wireSpec{leg: car.PivotWire, from: "breaker plate", to: "distributor housing", amps: mean, peak: peak,
		fuse: "returns what the coil carries, behind the coil's own resistance", ends: []string{"ring terminal under the plate screw", "ring terminal inside the housing"},
		why: "flexible, finely stranded: the trigger's ground through the whole travel of the plate"}); err != nil {
		return nil, err
	}
	return list, nil
}

// relay adds what a relay from the battery takes.
func (l *CutList) relay(d *car.Car, mean, peak float64) error {
	l.Parts = append(l.Parts, "relay with a normally open contact, winding for the car's voltage", "fuse holder, within 0.2 m of the starter stud")
	feed := "coil feed terminal"
	if d.Ballast.Fitted {
		feed = "supply side of the ballast"
	}
	l.Moved = append(l.Moved, "the old ignition wire: off the "+feed+", on to one end of the relay's winding")
	if d.KeySwitch.Bypass {
		l.Moved = append(l.Moved, "the start bypass stays at the coil's feed terminal: while cranking the trigger lives off it, back through the ballast, where the run contact is dead in the start position")
	}
	winding := lampVolts(d) / d.Relay.Winding.Lo()
	for _, w := range []wireSpec{
		{leg: car.RelayFeed, from: "starter stud, through the fuse", to: "relay contact", amps: mean, peak: peak, fuse: fuseHere,
			ends: []string{"ring terminal on the stud", "blade terminal on the relay"}, why: "carries coil and trigger"},
		{leg: noLeg, length: relayLeadM, from: "relay output", to: feed, amps: mean, peak: peak, fuse: "protected by the fuse at the starter stud",
			ends: []string{"blade terminal on the relay", "ring terminal"}, why: "carries the coil"},
		{leg: noLeg, length: relayLeadM, from: "other end of the relay's winding", to: "bodywork, bare metal", amps: winding, peak: winding, fuse: "protected by what feeds the old ignition wire",
			ends: []string{"blade terminal on the relay", "ring terminal under a clean screw"}, why: "the winding's earth; gauge set by strength"},
	} {
		if err := l.add(d, w); err != nil {
			return err
		}
	}
	return nil
}

// fuseFeed says which fuse the common feed of coil and trigger takes.
func (l *CutList) fuseFeed(d *car.Car, mean, peak float64) error {
	ampacity := bundled * wire.Ampacity(d.Wiring[car.SwitchFeed].Section.X, cabinHotC, wire.PlainPVCLimitC)
	fuse, err := wire.Fuse(math.Max(mean, peak), ampacity)
	if err != nil {
		return fmt.Errorf("fuse of coil and trigger: %w", err)
	}
	l.Parts = append(l.Parts, fmt.Sprintf("fuse holder where the ignition switch takes its feed, %g A, if there is none: it protects coil and trigger together", fuse))
	return nil
}

func lampVolts(d *car.Car) float64 { return 1.2 * float64(d.NominalV) } // as high as charging goes

// currents returns the largest mean and peak coil current over all
// conditions, upper ends of the spreads; a starter's few seconds count for
// the peak only.
func currents(d *car.Car, draws int) (mean, peak float64, err error) {
	specs := []twin.Spec{{Instrument: twin.ClampAmmeter, Red: "coil"}, {Instrument: twin.ClampPeak, Red: "coil"}}
	for i := range d.Conditions {
		k := &d.Conditions[i]
		if k.Engine == car.StoppedOpen {
			continue
		}
		est, err := twin.Predict(d, k.ID, specs, min(draws, 200), 1)
		if err != nil {
			return 0, 0, err
		}
		if k.Engine != car.Cranking {
			mean = math.Max(mean, est[0].Hi)
		}
		peak = math.Max(peak, est[1].Hi)
	}
	return mean, peak, nil
}

// noLeg marks a wire that is no leg of the car file; relayLeadM is the
// length assumed for one beside the relay, m.
const (
	noLeg      = car.LegID(-1)
	relayLeadM = 0.5
	fuseHere   = "" // the wire's own fuse is worked out
)

// wireSpec is a wire that is wanted.
type wireSpec struct {
	leg        car.LegID
	length     float64 // m, of one that is no leg
	from, to   string
	amps, peak float64
	fuse       string // what protects it when it has no fuse of its own
	ends       []string
	why        string
}

// add chooses the gauge of a wire, and its fuse where it has its own.
func (l *CutList) add(d *car.Car, x wireSpec) error {
	length, origin := x.length, car.Assumed
	if x.leg != noLeg {
		length, origin = d.Wiring[x.leg].Length.X, d.Wiring[x.leg].Length.Origin
	}
	awg, _, _, err := wire.Choose(math.Max(x.amps, x.peak), length, dropAllowed, bayHotC, insulationC)
	if err != nil {
		return fmt.Errorf("%s to %s: %w", x.from, x.to, err)
	}
	awg = min(awg, thinnestAWG)
	w := CutWire{Leg: x.leg, From: x.from, To: x.to, LengthM: length, Origin: origin, AWG: awg, SectionM2: wire.AWGSection(awg),
		CurrentA: x.amps, PeakA: x.peak, Protected: x.fuse, Terminals: x.ends, WhyThisOne: x.why}
	w.DropV = x.peak * wire.Resistance(w.SectionM2, length, bayHotC, wire.Stranded)
	w.TempC = bayHotC + wire.TempRise(w.SectionM2, x.amps, bayHotC)
	if x.fuse == fuseHere {
		w.FuseA, err = wire.Fuse(math.Max(x.amps, x.peak), bundled*wire.Ampacity(w.SectionM2, bayHotC, insulationC))
		if err != nil {
			return fmt.Errorf("fuse of %s to %s: %w", x.from, x.to, err)
		}
	}
	l.Wires = append(l.Wires, w)
	return nil
}

// cautions are those of the cut list itself, beside prove.Cautions.
func cautions() []string {
	return []string{"Keep new wire clear of ballast and exhaust. A trigger joined the wrong way round is destroyed at once."}
}
