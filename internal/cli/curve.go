package cli

import (
	"fmt"
	"io"
	"math"
	"slices"
	"sort"
	"strings"

	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/curve"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/twin"
	"dwellwright/units"
)

type curveCmd struct {
	Car  string `arg:"" help:"Car file, 'demo', or - for standard input."`
	All  bool   `help:"Every build of the kit that was kept, not the best five only."`
	JSON bool   `name:"json" help:"Write JSON (its schema: dwellwright schema curve)."`
	drawing
}

// fewBuilds is how many builds are written unless all are asked for.
const fewBuilds = 5

// curveSheet is a curve as it is written.
type curveSheet struct {
	*curve.Curve
	all bool
}

// Run prints the advance over speed and load.
func (c *curveCmd) Run(s *session) error {
	if err := c.check(); err != nil {
		return err
	}
	k, err := workshop.Open(c.Car, s.In)
	if err != nil {
		return err
	}
	v, err := workshop.Curve(k, curve.Settings{Draws: c.Draws, Seed: c.Seed})
	if err != nil {
		return err
	}
	sh := &curveSheet{v, c.All}
	if c.JSON {
		return writeJSON(s, sh.document())
	}
	sh.write(s.Out, s.Width, c.system())
	return nil
}

// curveStand says where the curve stands against the wanted points.
type curveStand uint8

const (
	noCurveWanted curveStand = iota
	curveInside
	curveDoubtful
	curveOutside
)

var curveStands = [...]struct{ id, mark, head string }{
	noCurveWanted: {"none_wanted", " ", "NO CURVE IS WANTED"},
	curveInside:   {"inside", "○", "INSIDE"},
	curveDoubtful: {"doubtful", "?", "DOUBTFUL"},
	curveOutside:  {"outside", "✘", "OUTSIDE"},
}

// insideChance is the chance from which on a point counts as inside.
const insideChance = 0.95

// pointStand is where the curve stands at one wanted point: inside if it is so
// in 95 of 100 mechanisms, outside if it is so in no more than 5 or the middle
// one is out.
func pointStand(w *curve.Wanted) curveStand {
	switch off := math.Abs(w.Model.Mid - w.Advance); {
	case w.Inside >= insideChance:
		return curveInside
	case off > w.Tolerance && w.Inside < 0.5, w.Inside <= 1-insideChance:
		return curveOutside
	}
	return curveDoubtful
}

// state is the worst of the points.
func (sh *curveSheet) state() curveStand {
	st := noCurveWanted
	for i := range sh.Wanted {
		st = max(st, pointStand(&sh.Wanted[i]))
	}
	return st
}

// safeStand says how the full-load timing stands to the band stated as safe.
type safeStand uint8

const (
	safeNotStated safeStand = iota
	safeWithin
	safeDoubtful
	safeOver
)

var safeIDs = [...]string{safeNotStated: "not_stated", safeWithin: "within", safeDoubtful: "doubtful", safeOver: "over"}

// highest is the most timing with the throttle open and the speed of it.
func (sh *curveSheet) highest() (mid twin.Interval, rpm float64) {
	mid = alone(math.Inf(-1))
	for i, b := range sh.Off {
		if hi := math.Max(b.Mid, sh.Spread[i].Hi); hi > mid.Hi {
			mid, rpm = twin.Interval{Mid: b.Mid, Lo: math.Min(b.Mid, sh.Spread[i].Lo), Hi: hi}, sh.Speeds[i]
		}
	}
	return mid, rpm
}

// safe holds the highest against what is stated as safe.
func (sh *curveSheet) safe() safeStand {
	most := &sh.Car.Advance.SafeMost
	if most.Origin == car.Assumed {
		return safeNotStated
	}
	top, _ := sh.highest()
	switch {
	case top.Mid > most.X:
		return safeOver
	case top.Hi > most.X:
		return safeDoubtful
	}
	return safeWithin
}

// verdict is the sheet in a few sentences.
func (sh *curveSheet) verdict() string {
	a := &sh.Car.Advance
	st := sh.state()
	text := curveStands[st].head
	out, worst := 0, -1
	for i := range sh.Wanted {
		w := &sh.Wanted[i]
		if pointStand(w) == st {
			out++
		}
		if worst < 0 || w.Inside < sh.Wanted[worst].Inside || w.Inside == sh.Wanted[worst].Inside && math.Abs(w.Model.Mid-w.Advance)/w.Tolerance > math.Abs(sh.Wanted[worst].Model.Mid-sh.Wanted[worst].Advance)/sh.Wanted[worst].Tolerance {
			worst = i
		}
	}
	switch st {
	case noCurveWanted:
		text += ": the car file states no wanted curve (advance.wanted) to hold this one against."
	case curveInside:
		text += fmt.Sprintf(" at each of the %d wanted points (predicted).", len(sh.Wanted))
	default:
		w := &sh.Wanted[worst]
		text += fmt.Sprintf(" at %d of %d wanted points (predicted). Worst at %.0f rpm: %s where %.1f ± %.1f° crank is wanted, %s; inside in %s of the mechanisms.",
			out, len(sh.Wanted), w.RPM, ofInterval(units.CrankAngle, w.Model, units.Metric), w.Advance, w.Tolerance, offWords(w.Model.Mid-w.Advance), percent(w.Inside))
	}
	top, rpm := sh.highest()
	at := fmt.Sprintf("%s at %.0f rpm", ofInterval(units.CrankAngle, top, units.Metric), rpm)
	switch sh.safe() {
	case safeNotStated:
		text += fmt.Sprintf(" Throttle open it comes to %s; what this engine stands on its fuel is not stated (advance.safe), so nothing is called safe.", at)
	case safeWithin:
		text += fmt.Sprintf(" Throttle open it comes to %s, within the %.0f° stated as safe (%s).", at, a.SafeMost.X, sh.safeSource())
	case safeDoubtful:
		text += fmt.Sprintf(" MAY GO OVER WHAT IS SAFE: throttle open it comes to %s, and its ± reaches over the %.0f° stated as safe (%s).", at, a.SafeMost.X, sh.safeSource())
	case safeOver:
		text += fmt.Sprintf(" OVER WHAT IS SAFE: throttle open it comes to %s, over the %.0f° stated (%s): it may knock, do not pull hard like this.", at, a.SafeMost.X, sh.safeSource())
	}
	return text
}

func (sh *curveSheet) safeSource() string {
	if s := sh.Car.Advance.SafeSource; s != "" {
		return s
	}
	return "no source given"
}

// offWords says by how much a point is off.
func offWords(deg float64) string {
	side := "too early"
	if deg < 0 {
		side = "too late"
	}
	return fmt.Sprintf("%.1f° %s", math.Abs(deg), side)
}

// subtitle says what the curve rests on.
func (sh *curveSheet) subtitle() string {
	text := sh.Car.Name + ". Timing is crank degrees before top dead centre at engine speed, vacuum hose off, initial included. "
	if n := len(sh.Measured); sh.Estimated != nil {
		text += fmt.Sprintf("The mechanism is estimated from %d readings; each ± is the 95 %% interval of the mechanisms that agree with them", n)
	} else {
		text += "There are no readings (advance.runs): the mechanism is that of the car file, what it does not say assumed"
		if sh.Draws == 0 {
			return text + ". Every figure at its middle: no draws, no ±."
		}
		text += fmt.Sprintf("; each ± is the 95 %% interval of %d draws of its figures", sh.Draws)
	}
	return text + fmt.Sprintf(" (seed %d).", sh.Seed)
}

// tableSpeeds are the speeds that stand in the table: those wanted and read,
// and round ones between.
func (sh *curveSheet) tableSpeeds() []float64 {
	var list []float64
	for i := range sh.Wanted {
		list = append(list, sh.Wanted[i].RPM)
	}
	for i := range sh.Measured {
		list = append(list, sh.Measured[i].RPM)
	}
	sort.Float64s(list)
	list = slices.Compact(list)
	top := sh.Speeds[len(sh.Speeds)-1]
	for x := 500.0; x <= top; x += 500 {
		near := false
		for _, y := range list {
			near = near || math.Abs(x-y) < 200
		}
		if !near {
			list = append(list, x)
		}
	}
	sort.Float64s(list)
	return list
}

// at is the curve at a speed: the middle mechanism, and its spread, which
// between the speeds worked out is taken in a straight line.
func (sh *curveSheet) at(rpm float64) (b advance.Band, pm float64) {
	m := sh.Mechanism.At(rpm / 2)
	initial := sh.initial()
	b = advance.Band{Mid: initial + 2*m.Mid, Rising: initial + 2*m.Rising, Falling: initial + 2*m.Falling}
	i := sort.SearchFloat64s(sh.Speeds, rpm)
	switch {
	case i == 0:
		return b, sh.Spread[0].PM()
	case i == len(sh.Speeds):
		return b, sh.Spread[i-1].PM()
	}
	f := (rpm - sh.Speeds[i-1]) / (sh.Speeds[i] - sh.Speeds[i-1])
	return b, (1-f)*sh.Spread[i-1].PM() + f*sh.Spread[i].PM()
}

// initial is the initial advance that the middle curve stands on.
func (sh *curveSheet) initial() float64 {
	if sh.Estimated != nil {
		return sh.Estimated.Best.InitialCrank
	}
	return sh.Off[0].Mid - 2*sh.Mechanism.At(sh.Speeds[0]/2).Mid
}

// readAt are the readings at a speed, in words.
func (sh *curveSheet) readAt(rpm float64, going int8) string {
	var list []string
	for i := range sh.Measured {
		if m := &sh.Measured[i]; m.RPM == rpm && m.Going == going {
			list = append(list, tenths(m.Advance, m.PM))
		}
	}
	return strings.Join(list, ", ")
}

// tenths writes a crank angle as finely as a light shows it.
func tenths(v, pm float64) string {
	if pm == 0 {
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.1f±%.1f", v, math.Max(pm, 0.1))
}

// signed writes what is off, to a tenth.
func signed(deg float64) string {
	if math.Abs(deg) < 0.05 {
		return "0.0"
	}
	return fmt.Sprintf("%+.1f", deg)
}

// table is the curve over speed.
func (sh *curveSheet) table() *grid {
	g := &grid{}
	read := map[int8]bool{}
	for i := range sh.Measured {
		read[sh.Measured[i].Going] = true
	}
	g.heads = append(g.heads, "predicted\nup", "predicted\ndown")
	ways := []struct {
		going int8
		head  string
	}{{1, "measured\nup"}, {-1, "measured\ndown"}, {0, "measured"}}
	for _, x := range ways {
		if read[x.going] {
			g.heads = append(g.heads, x.head)
		}
	}
	if len(sh.Wanted) > 0 {
		g.heads = append(g.heads, "wanted", "off", "inside")
	}
	for _, rpm := range sh.tableSpeeds() {
		b, pm := sh.at(rpm)
		cells := []string{tenths(b.Rising, pm), tenths(b.Falling, pm)}
		for _, x := range ways {
			if read[x.going] {
				cells = append(cells, sh.readAt(rpm, x.going))
			}
		}
		for i := range sh.Wanted {
			if w := &sh.Wanted[i]; w.RPM == rpm {
				cells = append(cells, tenths(w.Advance, w.Tolerance), signed(w.Model.Mid-w.Advance), curveStands[pointStand(w)].mark+" "+percent(w.Inside))
			}
		}
		g.add(fmt.Sprintf("%.0f rpm", rpm), cells...)
	}
	return g
}

// write writes the sheet as text.
func (sh *curveSheet) write(w io.Writer, width int, sys units.System) {
	first, rest := sh.cautions()
	writeWrapped(w, "! ", first, width)
	fmt.Fprintln(w)
	writeWrapped(w, "", together(sh.verdict()), width)
	writeWrapped(w, "", together(sh.subtitle()), width)
	fmt.Fprintln(w)
	writeWrapped(w, "", "TIMING OVER SPEED, crank degrees; up and down: as the speed goes", width)
	sh.table().write(w, width)
	if len(sh.Wanted) > 0 {
		writeLegend(w, []string{"○ inside, predicted: only a light proves it", "? doubtful", "✘ outside", "off: predicted less wanted"}, width)
	}
	heading(w, sh.partsHead(), width)
	writeList(w, sh.parts(sys), width, sys)
	for _, t := range sh.partsWords() {
		writeWrapped(w, "  ", together(t), width)
	}
	sh.writeBuilds(w, width)
	sh.writeVacuum(w, width, sys)
	if len(sh.Cautions) > 0 {
		heading(w, "MIND", width)
		for _, t := range sh.Cautions {
			writeWrapped(w, "  ! ", together(t), width)
		}
	}
	writeNamed(w, "ASSUMED: what of advance and timing the car file does not say, taken at typical values", sh.assumed(sys), width, 14)
	writeCautions(w, rest, width)
}

// assumed lists what of the advance neither the file says nor readings decide.
func (sh *curveSheet) assumed(sys units.System) []assumedFigure {
	var list []assumedFigure
	decided := map[string]bool{}
	if sh.Estimated != nil {
		for id, yes := range sh.decided() {
			decided["advance."+strings.NewReplacer("_rate", ".rate", "_preload", ".preload", "_takes_up", ".slack").Replace(id)] = yes
		}
	}
	for _, r := range prove.Assumed(sh.Car) {
		timing := r.Path == "timing.before" || r.Path == "timing.after" && sh.Car.Switch.Kind.Electronic() || r.Path == "timing.wanted"
		vacuum := strings.HasPrefix(r.Path, "advance.vacuum.") || r.Path == "advance.altitude"
		switch {
		case decided[r.Path] || strings.HasPrefix(r.Path, "advance.safe.") || vacuum && sh.Car.Advance.Source == car.NoVacuum:
		case strings.HasPrefix(r.Path, "advance.") || timing:
			list = append(list, assumedFigure{r.Path, units.FormatValue(r.P.Kind, r.P.Value, sys)})
		}
	}
	return list
}

// cautions are what can hurt: the first stands before everything else.
func (sh *curveSheet) cautions() (first string, rest []string) {
	const voltage = "Secondary voltage"
	for _, t := range prove.Cautions(sh.Car, prove.EngineRuns) {
		if first == "" && strings.HasPrefix(t, voltage) {
			first = t
			continue
		}
		rest = append(rest, t)
	}
	return first, rest
}
