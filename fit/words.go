package fit

import (
	"fmt"
	"math"

	"dwellwright/distributor"
	"dwellwright/units"
)

// Turned says which way a clockwise angle goes, seen from above, and what it
// does to the spark.
func Turned(deg float64, r distributor.Rotation) (way, effect string) {
	way = "clockwise"
	if deg < 0 {
		way = "anticlockwise"
	}
	if deg*float64(r) < 0 {
		return way, "against the rotor's rotation: earlier"
	}
	return way, "with the rotor's rotation: later"
}

// Moves says what has to be done for a move, a sentence for each step, in the
// order in which it is done. A move of nothing gives none.
func Moves(d *distributor.Distributor, m distributor.Move, sys units.System) []string {
	var list []string
	if m.Trigger != 0 {
		way, _ := Turned(m.Trigger, d.Rotation)
		list = append(list, fmt.Sprintf("Move the trigger on its plate %s %s, seen from above. This moves rotor phase and timing.", degrees(m.Trigger), way))
	}
	if m.Sleeve != 0 {
		way, _ := Turned(m.Sleeve, d.Rotation)
		list = append(list, fmt.Sprintf("Turn the magnet sleeve on the shaft %s %s, seen from above. This moves rotor phase and timing.", degrees(m.Sleeve), way))
	}
	if m.Mesh != 0 {
		list = append(list, fmt.Sprintf("Lift the distributor out and mesh the drive %s %s the rotor's rotation. Look where the oil pump's drive goes. Rotor phase stays as it is.", count(abs(m.Mesh), "tooth", "teeth"), along(m.Mesh)))
	}
	if m.Leads != 0 {
		list = append(list, fmt.Sprintf("Move every plug lead %s %s the rotor's rotation. Rotor phase stays as it is.", count(abs(m.Leads), "tower", "towers"), along(m.Leads)))
	}
	if math.Abs(m.Housing) >= 0.05 {
		way, effect := Turned(m.Housing, d.Rotation)
		mm := math.Round(1e4*d.ClampRadiusM*math.Abs(m.Housing)*math.Pi/180) / 1e4 // a tenth of a millimetre is what is seen
		turn := "Turn the housing"
		if !turns(d, m.Housing) {
			turn = "It cannot be turned past what stands in its way: lift the distributor out and put it back on the same tooth with the housing turned"
			if m.Mesh != 0 {
				turn = "It cannot be turned past what stands in its way: put it back with the housing turned"
			}
		}
		list = append(list, fmt.Sprintf("%s %s %s, seen from above (%s), %s at the clamp. Rotor phase stays as it is.", turn, degrees(m.Housing), way, effect, units.Format(units.Length, mm, sys)))
	}
	return list
}

// turns reports whether the housing can be turned so far where it sits.
func turns(d *distributor.Distributor, housing float64) bool {
	const touch = 1e-6 // degrees
	for _, free := range d.FreeTurn(false) {
		if housing >= free[0]-touch && housing <= free[1]+touch {
			return true
		}
	}
	return false
}

// Brief says a move in a few words.
func Brief(m distributor.Move) string {
	text := ""
	add := func(s string) {
		if text != "" {
			text += ", "
		}
		text += s
	}
	turn := func(what string, deg float64) {
		if math.Abs(deg) >= 0.05 {
			way := "clockwise"
			if deg < 0 {
				way = "anticlockwise"
			}
			add(fmt.Sprintf("%s %s %s", what, degrees(deg), way))
		}
	}
	turn("trigger", m.Trigger)
	turn("sleeve", m.Sleeve)
	if m.Mesh != 0 {
		add(fmt.Sprintf("drive %s %s", count(abs(m.Mesh), "tooth", "teeth"), short(m.Mesh)))
	}
	if m.Leads != 0 {
		add(fmt.Sprintf("leads %s %s", count(abs(m.Leads), "tower", "towers"), short(m.Leads)))
	}
	turn("housing", m.Housing)
	if text == "" {
		return "nothing turned"
	}
	return text
}

func short(n int) string {
	if n < 0 {
		return "back"
	}
	return "on"
}

func along(n int) string {
	if n < 0 {
		return "against"
	}
	return "with"
}

func degrees(deg float64) string { return fmt.Sprintf("%.1f°", math.Abs(deg)) }

func count(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// VerdictWords says what a register verdict means, in a word and a sentence.
func VerdictWords(v distributor.RegisterVerdict) (word, sentence string) {
	switch v {
	case distributor.InRegister:
		return "in register", "Tip and contact overlap over the whole travel of the vacuum plate."
	case distributor.OnEdge:
		return "on the edge", "Tip and contact no longer overlap over the whole travel; the spark jumps a longer way that the coil can still pay for."
	case distributor.Jumps:
		return "jumps", "The spark has to jump sideways farther than the coil has in hand: it misses under load and burns the contacts at one edge."
	}
	return "wrong tower", "The neighbour's contact is as near as its own: it fires the wrong cylinder, with backfires and knocks under load."
}
