package judge

import (
	"bytes"
	"math"
	"path/filepath"
	"testing"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/twin"
)

// The files a person writes with `dwellwright netlist`, given to ngspice as
// they are: every example car, every option, a slow and a fast condition and
// the key on. Least, mean and most of the feed, and the coil's current, within
// 0.5 % of what the shell and the page show.
func TestWrittenFilesAgainstNgspice(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	judged := 0
	for _, f := range files {
		c, err := workshop.Open(f, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range twin.Options() {
			if o.Unfit(c) != "" {
				continue
			}
			d, err := o.Apply(c)
			if err != nil {
				t.Fatal(err)
			}
			feed := "coil_feed"
			if d.Switch.Kind.Electronic() {
				feed = "trigger_supply"
			}
			for _, k := range []string{"hot_idle", "top_speed"} {
				var net bytes.Buffer
				if err := workshop.Netlist(&net, c, o.ID, k, false); err != nil {
					t.Fatal(err)
				}
				got := Results(Ngspice(t, net.String()))
				e, err := twin.Predict(d, k, []twin.Spec{
					{Instrument: twin.ScopeMin, Red: feed, Black: "breaker_plate"}, {Instrument: twin.Voltmeter, Red: feed, Black: "breaker_plate"},
					{Instrument: twin.ScopeMax, Red: feed, Black: "breaker_plate"}, {Instrument: twin.StoredEnergy, Red: "coil"},
				}, 0, 1)
				if err != nil {
					t.Fatal(err)
				}
				low, high, peak := "p0_min", "p0_max", "p1_max"
				if d.Earth == car.PositiveEarth {
					low, high, peak = "p0_max", "p0_min", "p1_min"
				}
				judged++
				// What is written is the current of the inductance alone,
				// without that of the iron: from half L i².
				e[3].Mid = math.Sqrt(2 * e[3].Mid / d.Coil.Inductance.X)
				for i, name := range []string{low, "p0_avg", high, peak} {
					his, ok := got[name]
					if ours := e[i].Mid; !ok || math.Abs(math.Abs(his)-ours) > 5e-3*ours {
						t.Errorf("%s, %s, %s: %s is %.6g, ngspice %.6g (printed %v)", f, o.ID, k, name, ours, his, ok)
					}
				}
			}
		}
	}
	t.Logf("%d files agree", judged)
}
