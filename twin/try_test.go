package twin

import (
	"fmt"
	"testing"

	"dwellwright/car"
)

func TestTry(t *testing.T) {
	c := car.Defaults(12, car.NegativeEarth, 8)
	for _, id := range []string{"feed_behind_ballast", "feed_before_ballast", "relay_feed", "full_voltage_coil"} {
		o, _ := OptionByID(id)
		d, err := o.Apply(c)
		if err != nil {
			t.Error(err)
			continue
		}
		for _, k := range d.Conditions {
			specs := []Spec{{Instrument: ScopeMin, Red: "trigger_supply", Black: "breaker_plate"}, {Instrument: Voltmeter, Red: "trigger_supply", Black: "breaker_plate"}, {Instrument: ClampPeak, Red: "coil"}, {Instrument: Wattmeter, Red: "coil"}, {Instrument: Thermometer, Red: "ballast"}, {Instrument: Voltmeter, Red: "battery_live", Black: "battery_earth"}, {Instrument: ClampAmmeter, Red: "battery"}, {Instrument: ClampAmmeter, Red: "generator"}, {Instrument: Ohmmeter, Red: "breaker_plate", Black: "battery_earth"}}
			e, err := Predict(d, k.ID, specs, 200, 1)
			if err != nil {
				t.Error(id, k.ID, err)
				continue
			}
			fmt.Printf("%-20s %-14s", id, k.ID)
			for _, x := range e {
				fmt.Printf(" %7.3f±%.3f", x.Mid, x.PM())
			}
			fmt.Println()
		}
	}
}

func BenchmarkSheet(b *testing.B) {
	c := car.Defaults(12, car.NegativeEarth, 8)
	o, _ := OptionByID("feed_before_ballast")
	d, _ := o.Apply(c)
	specs := []Spec{{Instrument: ScopeMin, Red: "trigger_supply", Black: "breaker_plate"}, {Instrument: ClampPeak, Red: "coil"}, {Instrument: Wattmeter, Red: "coil"}}
	for b.Loop() {
		Predict(d, "hot_idle", specs, 1000, 1)
	}
}
