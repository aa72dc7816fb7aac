package plan

import (
	"errors"
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
	FuseA      float64 // 0: protected by the fuse of what feeds it
	Terminals  []string
	WhyThisOne string
}

const (
	thinnestAWG = 18                     // thinner breaks under vibration [common practice]
	dropAllowed = 0.1                    // V in any one wire [control circuit test, US Army TM 5-3820-256-24-4]
	bayHotC     = 105                    // °C air round a hot-soaked engine [90-120 °C, from memory]
	insulationC = wire.CrossLinkedLimitC // °C, for the engine bay
	bundled     = 0.8                    // part of its ampacity a wire keeps in a bundle of four to six [common practice]
)

// cutList works out the wires of the winner from its predicted currents.
func cutList(c *car.Car, w *Choice) (*CutList, error) {
	d := w.Sheet.Car
	list := &CutList{Cautions: cautions(d)}
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
	mean, peak, err := currents(d)
	if err != nil {
		return nil, err
	}
	electronics := d.Switch.Supply.X
	if d.Feed == car.FeedRelay {
		list.Parts = append(list.Parts, "relay with a normally open contact, winding for the car's voltage", "fuse holder, within 0.2 m of the starter stud")
		if err := list.add(d, car.RelayFeed, "starter stud, through the fuse", "relay contact", mean+electronics, peak+electronics, true,
			"ring terminal on the stud", "blade terminal on the relay"); err != nil {
			return nil, err
		}
		list.Wires[len(list.Wires)-1].WhyThisOne = "carries coil and trigger"
	}
	from := map[car.FeedPoint]string{
		car.FeedCoil: "coil feed terminal", car.FeedBallastSupply: "supply side of the ballast",
		car.FeedKeySwitch: "outgoing terminal of the ignition switch", car.FeedRelay: "relay output",
	}[d.Feed]
	if err := list.add(d, car.FeedWire, from, "trigger supply terminal", electronics, electronics, d.Feed != car.FeedRelay,
		"ring or blade terminal at the feed point", "the trigger's own connector"); err != nil {
		return nil, err
	}
	list.Wires[len(list.Wires)-1].WhyThisOne = "feeds the trigger's electronics only; gauge set by strength, not current"
	if err := list.add(d, car.PivotWire, "breaker plate", "distributor housing", mean, peak, false,
		"ring terminal under the plate screw", "ring terminal inside the housing"); err != nil {
		return nil, err
	}
	p := &list.Wires[len(list.Wires)-1]
	p.WhyThisOne = "flexible, finely stranded: the trigger's ground through the whole travel of the plate"
	return list, nil
}

// currents returns the largest mean and peak coil current over the
// conditions in which the engine turns, upper end of the spread.
func currents(d *car.Car) (mean, peak float64, err error) {
	specs := []twin.Spec{{Instrument: twin.ClampAmmeter, Red: "coil"}, {Instrument: twin.ClampPeak, Red: "coil"}}
	for i := range d.Conditions {
		k := &d.Conditions[i]
		if k.Engine != car.Running {
			continue
		}
		est, err := twin.Predict(d, k.ID, specs, 200, 1)
		if err != nil {
			return 0, 0, err
		}
		mean = math.Max(mean, est[0].Hi)
		peak = math.Max(peak, est[1].Hi)
	}
	return mean, peak, nil
}

func (l *CutList) add(d *car.Car, leg car.LegID, from, to string, amps, peak float64, fused bool, terminals ...string) error {
	length := d.Wiring[leg].Length
	awg, dropV, tempC, err := wire.Choose(math.Max(amps, peak), length.X, dropAllowed, bayHotC, insulationC)
	if err != nil {
		return fmt.Errorf("%s: %w", car.LegTitles[leg], err)
	}
	awg = min(awg, thinnestAWG)
	w := CutWire{
		Leg: leg, From: from, To: to, LengthM: length.X, Origin: length.Origin, AWG: awg, SectionM2: wire.AWGSection(awg),
		CurrentA: amps, PeakA: peak, DropV: dropV, TempC: tempC, Terminals: terminals,
	}
	w.DropV = peak * wire.Resistance(w.SectionM2, length.X, bayHotC, 1.03)
	if fused {
		fuse, err := wire.Fuse(math.Max(amps, peak), bundled*wire.Ampacity(w.SectionM2, bayHotC, insulationC))
		if err != nil {
			return errors.Join(fmt.Errorf("fuse of %s", car.LegTitles[leg]), err)
		}
		w.FuseA = fuse
	}
	l.Wires = append(l.Wires, w)
	return nil
}

// cautions are what the trade says before anyone cuts a wire.
func cautions(d *car.Car) []string {
	earth := "negative"
	if d.Earth == car.PositiveEarth {
		earth = "positive"
	}
	return []string{
		fmt.Sprintf("This is a %d V, %s earth car: %s earth. A trigger wired the wrong way round is destroyed at once.", d.NominalV, earth, earth),
		"Disconnect the battery, earthed clamp first, for all wiring work; connect it for tests only. No flame or spark near it; rings and watches off.",
		"Fuse every new wire at its source. Never drive with a ballast bypassed that the coil was made for.",
		"Key on with the engine stopped: a minute at most with the coil conducting.",
		"The ballast and its surroundings reach 150 °C and more: keep new wire clear of it and of the exhaust.",
		"Local codes and licensed practice decide; this list advises.",
	}
}
