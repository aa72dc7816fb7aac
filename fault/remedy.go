package fault

// Remedy is what cures a fault. Faults with the same remedy have the same ID:
// which of them it was need not be found out.
type Remedy struct {
	ID       string
	Words    string   // what to do
	Minutes  float64  // for a competent mechanic once it is found: an estimate
	Parts    []string // what is bought; none where nothing is
	Cautions []string // before any of it is touched
}

// cure is a remedy with the hazards its cautions are made from.
type cure struct {
	id, words string
	minutes   float64
	parts     []string
	hazards   hazard
}

// by names a fault's remedy in the tables.
func by(id string) Remedy { return Remedy{ID: id} }

// remedyOf looks a remedy up; all that the tables name are there.
func remedyOf(id string) Remedy {
	for _, list := range [...][]cure{electricCures, turningCures} {
		for _, r := range list {
			if r.id == id {
				return Remedy{r.id, r.words, r.minutes, append([]string(nil), r.parts...), cautions(r.hazards)}
			}
		}
	}
	return Remedy{ID: id}
}

// electricCures are those of supply, wiring, ballast and coil. All minutes are
// estimates.
var electricCures = []cure{
	{"charge_battery", "Charge the battery, then look for what emptied it.", 30, nil, battery | acid},
	{"replace_battery", "Replace the battery after it has failed a load test fully charged.", 30, []string{"battery"}, battery | acid},
	{"clean_posts", "Take both clamps off, clean posts and clamps to bright metal, grease, tighten.", 15, []string{"terminal grease"}, battery | acid},
	{"renew_ground_strap", "New strap from engine to body, on clean bare metal at both ends.", 25, []string{"ground strap"}, battery | wiring},
	{"renew_earth_cable", "New cable from the battery's earthed post to the block, lugs on bare metal.", 30, []string{"battery cable"}, battery | acid},
	{"overhaul_generator", "Overhaul the generator: brushes, commutator, field; then cutout and regulator as the book says.", 90, []string{"brushes"}, battery | runs},
	{"overhaul_alternator", "Overhaul the alternator: test each diode, renew what is open or shorted.", 60, []string{"diode plate"}, battery | runs},
	{"tension_belt", "Tension the belt, or renew it if it is glazed.", 15, []string{"belt"}, belt | runs},
	{"adjust_regulator", "Set the regulator, or replace it; write down its temperature with the voltage.", 30, []string{"regulator"}, runs},
	{"ground_regulator", "Clean and fix the regulator's base to bare metal; if it stays high, replace it.", 30, []string{"regulator"}, runs | lamps},
	{"renew_charge_lead", "Renew the ends of the charge lead, both nuts clean and tight.", 25, []string{"ring terminals"}, battery | wiring},
	{"overhaul_starter", "Take the starter out: bushes, brushes, commutator.", 120, []string{"starter bushes", "brushes"}, battery | hotParts},

	{"renew_ballast", "Fit a ballast of the value the coil asks for, on bare metal, clear of wires.", 15, []string{"ballast"}, wiring | hotParts},
	{"restore_ballast", "Take the bypass away and feed the coil through its ballast again, or fit a coil that stands full voltage.", 30, []string{"ballast"}, wiring | hotParts | overheats},
	{"renew_plate_wire", "New flexible wire from breaker plate to housing, long enough for the plate's whole travel; screws clean.", 25, []string{"flexible pivot wire"}, wiring},
	{"ground_housing", "Clean the housing's seat and clamp to bare metal, or add a strap from housing to block. Turn nothing, or set the timing anew.", 20, []string{"ground strap"}, wiring | runs},
	{"renew_switch", "Replace the ignition switch, or let it work a relay only.", 40, []string{"ignition switch"}, wiring},
	{"renew_feed_joints", "Renew the hot or green joints ahead of the ignition switch, bulkhead plug included; check the drop with the coil drawing its current.", 45, []string{"terminals", "wire"}, wiring},
	{"repair_ignition_lead", "With the coil drawing its current, go along the ignition lead from joint to joint with the meter and by hand: renew what is hot, green, chafed or hangs on a few strands. Join the wires across a tachometer that it runs through: if the drop goes, the tachometer comes out or is converted.", 45, []string{"wire", "terminals", "sleeve"}, wiring},
	{"restore_bypass", "Renew the start bypass: terminal of the starter switch, its contact, its wire.", 40, []string{"wire", "terminals"}, battery | wiring},
	{"move_trigger_feed", "Move the trigger's supply wire ahead of the ballast, fused.", 20, []string{"fuse holder", "wire"}, wiring | polarity},
	{"feed_in_both_positions", "Feed the trigger from a point that is live in start and in run.", 40, []string{"relay", "fuse holder"}, wiring | polarity},
	{"renew_feed_wire", "Renew the trigger's supply wire with its fuse holder and ends.", 20, []string{"fuse holder", "wire"}, wiring | polarity},
	{"renew_relay", "Replace the relay; clean its socket.", 10, []string{"relay"}, wiring},
	{"renew_relay_fuse", "Renew fuse and holder between battery and relay, of the same rating.", 10, []string{"fuse", "fuse holder"}, wiring | battery},
	{"insulate_switched_lead", "Find where the lead from the coil's switched terminal, or a tachometer's wire on it, touches metal: new lead or sleeve, clear of edges and hot parts.", 25, []string{"wire", "sleeve"}, wiring | hotParts},
	{"renew_coil_leads", "Renew the terminals at coil and ballast; nuts tight, the posts not turned.", 20, []string{"terminals"}, wiring | hotParts},

	{"swap_coil_wires", "Change the coil's two primary wires over.", 5, nil, wiring | highV},
	{"fit_right_coil", "Fit the coil that goes with this ballast and switch, or a ballast that goes with this coil.", 30, []string{"coil"}, wiring | hotParts | highV},
	{"renew_coil", "Replace the coil by one of the same resistance.", 20, []string{"coil"}, wiring | hotParts | highV},
	{"renew_coil_tower", "Replace coil and boot: a burnt track comes back.", 20, []string{"coil", "boot"}, wiring | highV},
	{"renew_king_lead", "Clean the coil's tower and the cap's centre, fit a new lead and push it home until it clicks.", 10, []string{"coil lead"}, highV},
}
