package car

import (
	"regexp"
	"slices"
	"strings"
)

// synonyms are words of the trade for things that a car file calls otherwise.
// Of what each may mean, the first that can stand in the place counts. A word
// is looked up in small letters without spaces, dashes between words or _.
var synonyms = []struct {
	typed, means []string
}{
	{[]string{"neg", "minus", "-", "-ve"}, []string{"negative"}},
	{[]string{"pos", "plus", "+", "+ve"}, []string{"positive"}},
	{[]string{"ground", "earth", "gnd", "polarity"}, []string{"earth", "block"}},
	{[]string{"chassis", "frame", "bulkhead"}, []string{"body"}},
	{[]string{"engine"}, []string{"block"}},
	{[]string{"dynamo", "generator"}, []string{"generator", "generator_output", "charging"}},
	{[]string{"alternator"}, []string{"alternator", "generator", "generator_output", "charging"}},
	{[]string{"dmm", "dvm", "multimeter", "meter"}, []string{"voltmeter"}},
	{[]string{"scope", "oscilloscope"}, []string{"scope_minimum"}},
	{[]string{"clamp", "clampmeter", "ammeter", "currentclamp"}, []string{"clamp_ammeter"}},
	{[]string{"ohm", "ohms"}, []string{"ohmmeter"}},
	{[]string{"pyrometer", "thermocouple", "infrared"}, []string{"thermometer"}},
	{[]string{"coil+", "coilplus", "coilpositive", "coilfeed", "coil"}, []string{"coil_feed"}},
	{[]string{"coil-", "coilminus", "coilnegative"}, []string{"coil_switched"}},
	{[]string{"battery+", "battery"}, []string{"battery_live"}},
	{[]string{"battery-"}, []string{"battery_earth"}},
	{[]string{"points", "contacts", "breaker", "breakers"}, []string{"breaker_terminal", "single_points", "switch"}},
	{[]string{"plate", "baseplate"}, []string{"breaker_plate"}},
	{[]string{"distributor"}, []string{"housing", "switch"}},
	{[]string{"module", "trigger", "electronic", "transistor"}, []string{"darlington", "trigger_supply", "switch"}},
	{[]string{"key", "ignition", "ignitionswitch"}, []string{"key_switch", "switch_out"}},
	{[]string{"ballast", "resistor"}, []string{"ballast", "ballast_supply"}},
	{[]string{"resistance"}, []string{"primary", "cold", "internal", "contact"}},
	{[]string{"rpm"}, []string{"speed"}},
	{[]string{"volts"}, []string{"voltage"}},
	{[]string{"idle", "idling", "tickover"}, []string{"hot_idle", "running"}},
	{[]string{"crank", "cranking", "starting"}, []string{"cranking", "cold_crank"}},
	{[]string{"worn", "tired"}, []string{"worn", "old"}},
	{[]string{"eroded", "rounded", "burnt"}, []string{"worn"}},
	{[]string{"capacitor", "condensor"}, []string{"condenser", "stray"}},
	{[]string{"esr"}, []string{"condenser_series"}},
	{[]string{"zener", "clampvoltage"}, []string{"clamp"}},
	{[]string{"springtension", "tension"}, []string{"spring"}},
	{[]string{"grease", "compound", "thermalpaste", "heatsinkpaste"}, []string{"paste"}},
	{[]string{"bare", "baremetal"}, []string{"dry"}},
	{[]string{"paint", "lacquer", "lacquered", "gasket"}, []string{"painted"}},
	{[]string{"bent", "bowed"}, []string{"warped"}},
	{[]string{"reverse", "inverted", "swapped", "wrong"}, []string{"reversed"}},
	{[]string{"right", "correct"}, []string{"normal"}},
	{[]string{"saturation", "saturationcurrent"}, []string{"saturation", "knee"}},
	{[]string{"ironloss", "coreloss", "core"}, []string{"iron"}},
	{[]string{"sparkplugs", "sparkplug", "sparkingplugs", "plug"}, []string{"plugs"}},
	{[]string{"distributorcap", "rotor", "rotorarm"}, []string{"cap", "rotor_gap", "rotor_tip"}},
	{[]string{"leakage", "tracking", "fouling"}, []string{"shunt"}},
	{[]string{"motor"}, []string{"engine"}},
	{[]string{"compressionratio", "cr"}, []string{"compression"}},
	{[]string{"map", "manifoldpressure", "vacuum", "depression"}, []string{"manifold"}},
	{[]string{"timing", "ignitiontiming", "btdc"}, []string{"advance"}},
	{[]string{"mixturetemp", "chargetemperature", "intaketemp"}, []string{"charge_temp"}},
	{[]string{"rusty", "green"}, []string{"corroded"}},
	{[]string{"cw", "righthand"}, []string{"clockwise"}},
	{[]string{"ccw", "acw", "counterclockwise", "lefthand"}, []string{"anticlockwise"}},
	{[]string{"order", "firing"}, []string{"firing_order"}},
	{[]string{"slot", "dog", "tongue", "offset", "offsetdog", "offsettongue"}, []string{"offset_tang", "trigger_slot"}},
	{[]string{"magnet", "magnets", "magnetic", "halleffect"}, []string{"hall", "alternating"}},
	{[]string{"reluctor", "inductive", "pickup", "variablereluctance", "vr"}, []string{"reluctance", "trigger"}},
	{[]string{"airgap"}, []string{"air_gap", "gap"}},
	{[]string{"sleeve", "magnetring"}, []string{"ring", "trigger"}},
	{[]string{"initial", "static", "base"}, []string{"wanted"}},
	{[]string{"flyweights", "bobweights"}, []string{"weights"}},
	{[]string{"weight"}, []string{"mass", "weights"}},
	{[]string{"strobe", "stroboscope", "timinglamp", "light"}, []string{"timing_light", "light"}},
	{[]string{"pulley", "flywheel", "balancer"}, []string{"damper"}},
	{[]string{"feeler", "feelers"}, []string{"feeler_gauge"}},
	{[]string{"callipers", "calipers", "calliper", "vernier"}, []string{"caliper"}},
	{[]string{"tip"}, []string{"rotor_tip"}},
	{[]string{"rising"}, []string{"up"}},
	{[]string{"falling"}, []string{"down"}},
}

// hint gives the word of the list that was probably meant: another word of
// the trade for it, the same word written otherwise, or one much like it. On
// a car of positive earth + and - of battery and coil change places.
func (r *reader) hint(typed string, words []string) string {
	const longest = 40
	if len(typed) > longest {
		return ""
	}
	bare := squash(typed)
	if m := polarity.FindStringSubmatch(bare); r.positive && m != nil {
		bare = m[1] + map[string]string{"+": "-", "-": "+"}[m[2]]
	}
	for _, s := range synonyms {
		if !slices.Contains(s.typed, bare) {
			continue
		}
		for _, w := range s.means {
			if slices.Contains(words, w) {
				return w
			}
		}
	}
	for _, w := range words {
		if squash(w) == bare {
			return w
		}
	}
	return suggest(typed, words)
}

var polarity = regexp.MustCompile(`^(coil|battery)([-+])$`)

// squash writes a word in small letters without spaces, _ and dashes between
// letters; a - at either end stays.
func squash(text string) string {
	text = strings.NewReplacer(" ", "", "_", "").Replace(strings.ToLower(text))
	for i := 1; i+1 < len(text); i++ {
		if text[i] == '-' {
			text = text[:i] + text[i+1:]
			i--
		}
	}
	return text
}

// suggest gives the word of the list that was probably meant: the nearest by
// edit distance, if no more than a third of the typed letters (at least one)
// have to change. The first of equally near words wins.
func suggest(typed string, words []string) string {
	const longest = 40 // nobody mistypes a longer word; keeps hostile input cheap
	if len(typed) == 0 || len(typed) > longest {
		return ""
	}
	best, bestCost := "", max(1, len(typed)/3)+1
	for _, w := range words {
		if len(w)-len(typed) >= bestCost || len(typed)-len(w) >= bestCost {
			continue
		}
		if c := editDistance(typed, w); c < bestCost {
			best, bestCost = w, c
		}
	}
	return best
}

// editDistance is the optimal-string-alignment distance: the least number of
// single-byte insertions, deletions, substitutions and swaps of neighbours
// that turn a into b, no byte edited twice. (F. J. Damerau, "A technique for
// computer detection and correction of spelling errors", Comm. ACM 7 (1964).)
func editDistance(a, b string) int {
	before := make([]int, len(b)+1) // row i-2
	last := make([]int, len(b)+1)   // row i-1
	row := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
