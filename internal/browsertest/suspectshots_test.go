package browsertest

import (
	"fmt"
	"net/url"
	"os"
	"testing"
	"time"
)

// banked waits until what can be wrong with the car has been worked out.
func (p *tab) banked() {
	p.t.Helper()
	for end := time.Now().Add(80 * time.Second); ; time.Sleep(100 * time.Millisecond) {
		if eval[bool](p, `document.documentElement.dataset.answered === "settled" && document.getElementById("case")?.dataset.state === "fine"`) {
			return
		}
		if time.Now().After(end) {
			p.t.Fatalf("the bank is never ready: %s", eval[string](p, "document.body.innerText.slice(0, 300)"))
		}
	}
}

// suspectScenes are the states of the page Find the fault, for the eye and for
// the rules.
var suspectScenes = []struct{ name, query string }{
	{"empty", ""},
	{"voltage", "?c=misses_speed&c=dull_hot&r=coil_feed_closed%3A5.9+V"},
	{"chosen", "?c=misses_speed&ask=plate_drop_pulled"},
	{"ohms", "?c=no_start&ask=rotor_leak_ohms"},
	{"clamp", "?c=no_start&ask=coil_amps_key"},
	{"crank", "?c=no_start&ask=battery_crank"},
	{"yesno", "?c=no_start&ask=spark_at_lead"},
	{"live", "?c=no_start&ask=switched_lead_live"},
	{"leak", "?c=misses_speed&ask=plug_lead_leak_ohms"},
	{"mend", "?c=misses_speed&r=plate_earth_drop%3A1.4+V&r=plate_housing_drop%3A1.3+V&r=coil_peak_idle%3A2.6+A"},
	{"proof", "?c=misses_speed&r=plate_earth_drop%3A1.4+V&r=plate_housing_drop%3A1.3+V&r=done%3Arenew_plate_wire%3Agone"},
	{"slip", "?c=misses_speed&r=plate_earth_drop%3A1.4+V&r=plate_housing_drop%3A0.01+V&r=housing_block_drop%3A0.01+V&r=block_earth_drop%3A0.01+V"},
	{"healthy", "?c=misses_speed&r=plate_earth_drop%3A1.4+V&r=plate_housing_drop%3A1.3+V&r=done%3Arenew_plate_wire%3Agone&r=plate_housing_drop%3A0.01+V"},
	{"distrusted", "?c=hard_start_hot&c=smells_hot&r=ballast_drop%3Aleave&r=coil_feed_closed%3A88.3+V"},
	{"unknown", "?" + url.Values{"c": {"misses_speed"}, "r": strangeReadings}.Encode()},
}

// TestSuspectPictures leaves pictures of Find the fault on both screens, for a
// person to look at.
func TestSuspectPictures(t *testing.T) {
	if os.Getenv("DWELLWRIGHT_SHOTS") == "" {
		t.Skip("DWELLWRIGHT_SHOTS is not set: no pictures are asked for")
	}
	s := open(t)
	for _, x := range suspectScenes {
		for _, sc := range []screen{phone, laptop} {
			for _, theme := range []string{"light", "dark", "contrast"} {
				if theme == "contrast" && x.name != "distrusted" && x.name != "voltage" {
					continue
				}
				p := s.visit(t, sc, theme, "/cars/1/suspect"+x.query)
				if x.name == "empty" && sc == phone && theme == "light" {
					p.shoot("suspect-working-phone", false)
				}
				p.banked()
				name := fmt.Sprintf("suspect-%s-%s-%s", x.name, sc.name, theme)
				if theme == "light" {
					eval[bool](p, `(() => { const d = document.querySelector(".suspect"); if (d) d.open = true; return true; })()`)
				}
				p.shoot(name, true)
			}
		}
	}
}
