package web

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/draw"
	"dwellwright/fit"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/twin"
	"dwellwright/units"
)

// fitView is the stage Fit and time.
type fitView struct {
	Wiring     string
	Wide, Tall liveView // the distributor from above, with handles
	Strip      html
	Facts      []factView
	Tried      string // what is turned, in words
	Hold       string // what can be dragged
	Says       string // what a start would be like, and what the rotor does

	Rest     bool // what stands below comes with this answer
	Ways     []wayView
	More     []wayView
	Refused  []refusedView
	RefusedN int
	StepsBy  string
	Steps    []fit.Step

	Heights          bool // gap and heights come with this answer
	Gap              *gapView
	Seat             seatView
	Lobes            []lobesView
	HasGap, HasLobes bool
}

// liveView is a picture with things in it that can be taken hold of.
type liveView struct {
	ID      string
	Picture html
	X, Y    string // the shaft's centre, user units
	W, H    string // extent
	Turn    string // by how much the housing is turned in it, degrees
	Trigger string
	Grips   []gripView
}

// gripView is a place in a picture where something can be taken hold of.
type gripView struct{ ID, Moves, X, Y string }

// wayView is one way back to the wanted timing.
type wayView struct {
	Rank        int
	Brief, Try  string
	Here        bool
	Do          []string
	Mark        html
	State, Word string
	Timing      string
	Room        string
	Minutes     string
	Start       string
}

type refusedView struct {
	Why   string
	Moves []string
	More  int
}

// roomWanted is what should be left to turn the housing either way when the
// timing is set by light, distributor degrees [common practice, no source].
const roomWanted = 10

// Ways shown as cards, in a list, and refused ones named for each reason.
const (
	wayCards, wayList, refusedNamed = 6, 24, 8
)

func viewFit(p *page, f *fit.Fit, t fit.Trial, anew bool) *fitView {
	sys := p.bench.Units
	v := &fitView{Wiring: f.Option.Name, Rest: !p.moves(), Heights: !p.moves() || anew, Tried: fit.Brief(t.Move), HasGap: f.Gap != nil, HasLobes: len(f.Lobes) > 0}
	if p.Layout != "tall" {
		v.Wide = topView(f, t, 600, "top-wide", sys)
	}
	if p.Layout != "wide" {
		v.Tall = topView(f, t, 340, "top-tall", sys)
	}
	scene, err := draw.PhaseStrip(workshop.FitStrip(f, t, 340))
	v.Strip = picture(scene, err, "strip")
	v.Facts = trialFacts(f, t, sys)
	v.Hold = "Drag what sticks out of the housing to turn it"
	if len(f.Rig.Features) > 0 {
		v.Hold = "Drag the " + f.Rig.Features[0].Name + " to turn the housing"
	}
	if f.Gap != nil {
		v.Hold += ", or the trigger along its plate"
	}
	v.Hold += "; the sliders do the same."
	_, sentence := fit.VerdictWords(t.Register.Verdict)
	v.Says = saysOf(t) + sentence
	if v.Rest {
		v.ways(p, f, t)
		way, by := stepsBy(f, t)
		v.StepsBy, v.Steps = by, f.Steps(way, sys)
		for i := range f.Lobes {
			v.Lobes = append(v.Lobes, viewLobes(f, i))
		}
	}
	if v.Heights {
		if f.Gap != nil {
			v.Gap = viewGap(p, f)
		}
		v.Seat = viewSeat(p, f)
	}
	return v
}

// topView draws the distributor from above and puts handles on can and
// trigger.
func topView(f *fit.Fit, t fit.Trial, width float64, id string, sys units.System) liveView {
	spec := workshop.FitTop(f, t, width, sys)
	scene, at, err := draw.DistributorTop(spec)
	v := liveView{ID: id, X: plain(at.X), Y: plain(at.Y), W: plain(scene.W), H: plain(scene.H), Turn: plain(t.Move.Housing), Trigger: plain(t.Move.Trigger)}
	if err == nil {
		workshop.Turned(&scene, at, f, t)
		place := func(name, moves string, r, deg float64) {
			s, c := math.Sincos(deg * math.Pi / 180)
			v.Grips = append(v.Grips, gripView{id + "-grip-" + name, moves, plain(at.X + r*s), plain(at.Y - r*c)})
		}
		if c := spec.Can; c != nil {
			if from, to, ok := bodyReach(scene, "can", at); ok {
				place("can", "turn", (from+to)/2, (c.From+c.To)/2)
			}
		}
		if x := spec.Trigger; x != nil && f.Car.Switch.Kind.Electronic() {
			place("trigger", "trigger", (x.RadiusM+x.DepthM/2)*at.Scale, x.Angle)
		}
	}
	v.Picture = picture(scene, err, id)
	return v
}

// bodyReach is the least and greatest distance of a group's outline from the
// shaft, user units.
func bodyReach(s draw.Scene, id string, at draw.Placed) (from, to float64, ok bool) {
	for _, it := range s.Items {
		g, is := it.(draw.Group)
		if !is || g.ID != id || len(g.Items) == 0 {
			continue
		}
		p, is := g.Items[0].(draw.Path)
		if !is {
			continue
		}
		from, to = math.Inf(1), 0
		for _, seg := range p.Segs {
			if seg.Op == draw.Close {
				continue
			}
			end := seg.P[0]
			if seg.Op == draw.CubicTo {
				end = seg.P[2]
			}
			r := math.Hypot(end.X-at.X, end.Y-at.Y)
			from, to = math.Min(from, r), math.Max(to, r)
		}
		return from, to, true
	}
	return 0, 0, false
}

// trialFacts are the read-outs beside the picture.
func trialFacts(f *fit.Fit, t fit.Trial, sys units.System) []factView {
	var list []factView
	judged := func(name, mid, pm, note string, s prove.State, word string) {
		x := factView{Name: name, Mid: mid, PM: pm, Note: note}
		if s != prove.None {
			x.Mark, x.Word = sign(s), word
		}
		list = append(list, x)
	}
	origin := "predicted"
	if f.Timing.Seen && t.Move == (distributor.Move{}) {
		origin = "seen with a light"
	}
	mid, pm := parted(advanceWords(t.Timing))
	if pm == "" {
		mid, pm = strings.TrimSuffix(strings.TrimSuffix(mid, " before top dead centre"), " after top dead centre"), mid[strings.Index(mid, "°")+2:]
	}
	judged("Timing", mid, pm, fmt.Sprintf("crank, hose off, %s; wanted %s ± %.1f°", origin, advanceWords(twin.Interval{Mid: f.Timing.Wanted.Mid, Lo: f.Timing.Wanted.Mid, Hi: f.Timing.Wanted.Mid}), f.Timing.Tolerance),
		timingState(f, t), timingState(f, t).String())
	word, _ := fit.VerdictWords(t.Register.Verdict)
	full := ""
	if f.Rig.VacuumTravel > 0 {
		full = fmt.Sprintf("; %s at full vacuum", workshop.PastWords(t.Register.AtFull))
	}
	past := workshop.PastWords(t.Register.AtRest)
	mid, rest := past, ""
	if i := strings.Index(past, "°"); i >= 0 {
		mid, rest = past[:i+len("°")], strings.TrimSpace(past[i+len("°"):])
	}
	if x := f.Phase.AtRest.PM(); x >= 0.05 {
		rest = fmt.Sprintf("± %.1f° %s", x, rest)
	}
	judged("Rotor at the spark", mid, rest, "predicted, distributor, vacuum off"+full, registerState(t.Register.Verdict), word)
	if t.Vacuum > 0 {
		judged("With the plate drawn", workshop.PastWords(t.Phase), "", fmt.Sprintf("predicted, No. 1, plate drawn %.1f°", t.Vacuum), prove.None, "")
	}
	room := "free all round"
	state := prove.None
	switch {
	case t.Blocked != "":
		room, state = "in the way", prove.FallsShort
	case t.Room[0] < 179 || t.Room[1] < 179:
		room = fmt.Sprintf("%.0f° and %.0f°", t.Room[0], t.Room[1])
		state = prove.NotProven
		if math.Min(t.Room[0], t.Room[1]) < roomWanted {
			state = prove.Doubtful
		}
	}
	note := "anticlockwise and clockwise, predicted; 10° each way is wanted for setting"
	said := map[prove.State]string{prove.NotProven: "enough", prove.Doubtful: "little", prove.FallsShort: "touches"}[state]
	if t.Blocked != "" {
		note = t.Blocked
	}
	judged("Room to turn", room, "", note, state, said)
	mm := f.Rig.ClampRadiusM * t.Move.Housing * math.Pi / 180
	way := "nothing turned"
	if math.Abs(t.Move.Housing) >= 0.05 {
		w, effect := fit.Turned(t.Move.Housing, f.Rig.Rotation)
		way = fmt.Sprintf("%.1f° %s, %s", math.Abs(t.Move.Housing), w, effect)
	}
	at := twin.Interval{Mid: math.Abs(mm), Lo: math.Abs(mm), Hi: math.Abs(mm)}
	if r := f.Car.Distributor.ClampRadius; r.X > 0 {
		half := at.Mid * r.PM / r.X
		at.Lo, at.Hi = at.Mid-half, at.Mid+half
	}
	mid, pm = parted(workshop.Amount(units.Length, at, sys))
	judged("At the clamp", mid, pm, way+"; clamp radius "+f.Car.Distributor.ClampRadius.Origin.String(), prove.None, "")
	crank, st := crankWords(t)
	start := t.Start.Verdict.String()
	if t.Register.Verdict == distributor.WrongTower {
		start = "fires the wrong cylinder"
	}
	judged("First start", start, "", fmt.Sprintf("predicted; kicks back or backfires: %.0f of 100", 100*(t.Start.Chances[distributor.KicksBack]+t.Start.Chances[distributor.Backfires]+t.Start.Chances[distributor.FiresOnOverlap])), st, crank)
	judged("The longer way costs", units.Format(units.Voltage, 1000*t.Register.ExtraKV, sys), "", fmt.Sprintf("predicted, at %d kV for each mm (common practice); %s to spare%s", fit.KVPerMM, units.Format(units.Voltage, f.Spare.Volts, sys), inWords(f.Spare.In)), prove.None, "")
	return list
}

func inWords(condition string) string {
	if condition == "" {
		return ""
	}
	return " in " + lower(condition)
}

// ways fills in the ways back and those refused.
func (v *fitView) ways(p *page, f *fit.Fit, t fit.Trial) {
	for i := range f.Ways {
		if i >= wayCards+wayList {
			break
		}
		w := &f.Ways[i]
		x := viewWay(p, f, w, i+1)
		x.Here = near(w.Move, t.Move)
		if i < wayCards {
			v.Ways = append(v.Ways, x)
		} else {
			v.More = append(v.More, x)
		}
	}
	at := map[string]int{}
	for _, r := range f.Refused {
		v.RefusedN++
		i, ok := at[r.Why]
		if !ok {
			i = len(v.Refused)
			at[r.Why] = i
			v.Refused = append(v.Refused, refusedView{Why: prove.Title(r.Why)})
		}
		x := &v.Refused[i]
		if len(x.Moves) < refusedNamed {
			x.Moves = append(x.Moves, fit.Brief(r.Move))
		} else {
			x.More++
		}
	}
	sort.SliceStable(v.Refused, func(a, b int) bool {
		return len(v.Refused[a].Moves)+v.Refused[a].More > len(v.Refused[b].Moves)+v.Refused[b].More
	})
}

func near(a, b distributor.Move) bool {
	return a.Leads == b.Leads && a.Mesh == b.Mesh && math.Abs(a.Housing-b.Housing) < 0.06 && math.Abs(a.Trigger-b.Trigger) < 0.06 && math.Abs(a.Sleeve-b.Sleeve) < 0.06
}

func viewWay(p *page, f *fit.Fit, w *fit.Way, n int) wayView {
	s := registerState(w.Register.Verdict)
	word, _ := fit.VerdictWords(w.Register.Verdict)
	tries := p.picks
	tries.Fit.Move, tries.Fit.Drawn = w.Move, 0
	q := p.bench.Query()
	tries.add(q)
	v := wayView{
		Rank: n, Brief: prove.Title(fit.Brief(w.Move)), Try: fmt.Sprintf("/cars/%d/fit?%s", p.N, q.Encode()),
		Do: fit.Moves(&f.Rig, w.Move, p.bench.Units), Mark: sign(s), State: stateClass(s), Word: word,
		Timing: advanceWords(w.Timing), Minutes: fmt.Sprintf("%.0f min", w.Minutes), Start: w.Start.Verdict.String(), Room: "free all round",
	}
	if w.Room[0] < 179 || w.Room[1] < 179 {
		v.Room = fmt.Sprintf("%.0f° anticlockwise, %.0f° clockwise", w.Room[0], w.Room[1])
		if math.Min(w.Room[0], w.Room[1]) < roomWanted {
			v.Room += ": little to set it by"
		}
	}
	return v
}

// stepsBy is the way the steps are written for: the one tried where it brings
// timing and rotor right, else the first.
func stepsBy(f *fit.Fit, t fit.Trial) (*fit.Way, string) {
	lead := ""
	if t.Move != (distributor.Move{}) {
		if t.Blocked == "" && worse(timingState(f, t), registerState(t.Register.Verdict)) != prove.FallsShort {
			return &fit.Way{Way: distributor.Way{Move: t.Move}}, "by what is tried: " + fit.Brief(t.Move)
		}
		lead = "what is tried does not bring it right; "
	}
	if len(f.Ways) == 0 {
		return nil, lead + "no way back was found: set it where it can be set"
	}
	w := &f.Ways[0]
	if w.Move == (distributor.Move{}) {
		return nil, lead + "nothing has to be turned"
	}
	return w, lead + "by the first way: " + fit.Brief(w.Move)
}

// gapView is the air gap.
type gapView struct {
	Wide, Tall html
	Facts      []factView
	Words      []string
	Rows       []gapRow
	Volts      bool
}

type gapRow struct {
	Name, Largest, Fires, Volts string
	Here                        bool
	Mark                        html
	Word                        string
}

func chance(x float64) string { return fmt.Sprintf("%.0f of 100", 100*x) }

// chanceState is how a chance that all is well stands.
func chanceState(x float64) prove.State {
	switch {
	case x >= 0.975:
		return prove.NotProven
	case x < 0.5:
		return prove.FallsShort
	}
	return prove.Doubtful
}

func viewGap(p *page, f *fit.Fit) *gapView {
	g, sys := f.Gap, p.bench.Units
	v := &gapView{Volts: g.Principle == car.Reluctance}
	if p.Layout != "tall" {
		scene, err := draw.Curve(workshop.GapCurve(f, 560, 300, sys))
		v.Wide = picture(scene, err, "gap-wide")
	}
	if p.Layout != "wide" {
		scene, err := draw.Curve(workshop.GapCurve(f, 340, 300, sys))
		v.Tall = picture(scene, err, "gap-tall")
	}
	fact := func(name string, i twin.Interval, note string, st prove.State, word string) {
		x := factView{Name: name, Note: note}
		x.Mid, x.PM = parted(workshop.Amount(units.Length, i, sys))
		if st != prove.None {
			x.Mark, x.Word = sign(st), word
		}
		v.Facts = append(v.Facts, x)
	}
	worst := g.At[g.Worst]
	st := chanceState(worst.Fires)
	fact("Air gap now", g.Now, f.Car.Trigger.Gap.Origin.String(), st, "every lobe fires: "+chance(worst.Fires)+", "+lower(worst.Name))
	fact("Nearest as the shaft rocks", g.Least, "predicted, with side play; 0.1 mm at least is wanted", chanceState(1-g.Rubs), "touches: "+chance(g.Rubs))
	fact("Gap wanted", exactly(g.Wanted), f.Car.Trigger.GapWanted.Origin.String(), chanceState(g.After), "every lobe fires: "+chance(g.After))
	if g.Band.Most > g.Band.Least {
		v.Words = append(v.Words, fmt.Sprintf("Between %s and %s the ring clears the sensor as the shaft rocks and every lobe fires in every condition (predicted).", units.Format(units.Length, g.Band.Least, sys), units.Format(units.Length, g.Band.Most, sys)))
	} else {
		v.Words = append(v.Words, "There is no gap that both clears the ring as the shaft rocks and surely fires every lobe: less side play, stronger magnets or a better line-up first.")
	}
	v.Words = append(v.Words, slotWords(f, sys)...)
	if g.Switching != nil {
		v.Words = append(v.Words, fmt.Sprintf("It conducts for %s of each lobe (predicted), and each tenth of a millimetre more gap turns the timing %s.", workshop.Amount(units.DistributorAngle, g.Dwell, sys), creepWords(g.CreepDeg)))
	}
	for i := range g.At {
		a := &g.At[i]
		st := chanceState(a.Fires)
		v.Rows = append(v.Rows, gapRow{
			Name: prove.Title(a.Name), Largest: workshop.Amount(units.Length, a.Largest, sys), Fires: chance(a.Fires),
			Volts: workshop.Amount(units.Voltage, a.Volts, sys), Here: i == g.Worst, Mark: sign(st), Word: st.String(),
		})
	}
	return v
}

func exactly(x float64) twin.Interval { return twin.Interval{Mid: x, Lo: x, Hi: x} }

func creepWords(deg float64) string {
	switch {
	case math.Abs(deg) < 0.05:
		return "by less than 0.1° of the crank"
	case deg > 0:
		return fmt.Sprintf("%.1f° of the crank later", deg)
	}
	return fmt.Sprintf("%.1f° of the crank earlier", -deg)
}

// slotWords says what the mounting's slot has to do for the wanted gap.
func slotWords(f *fit.Fit, sys units.System) []string {
	g := f.Gap
	if g.SlotRefused != nil {
		return []string{"The slot can't bring the gap to what is wanted: " + plainly(g.SlotRefused) + "."}
	}
	s := g.Slot
	if math.Abs(s.SensorM) < 0.02e-3 {
		return []string{"The gap is as wanted: the base stays where it is."}
	}
	length := func(x float64) string { return units.Format(units.Length, math.Abs(x), sys) }
	way := "out, away from the shaft"
	if s.Inwards {
		way = "in, towards the shaft"
	}
	out := fmt.Sprintf("For the gap wanted the sensor has to come %s %s (predicted): its base moves %s at the screw.", length(s.SensorM), way, length(s.SlotM))
	end := "the end farther from the shaft"
	if s.OpenShaftEnd {
		end = "the end nearer the shaft"
	}
	if s.OpenM > 0 {
		out += fmt.Sprintf(" The slot has too little travel: open %s of it by %s with a file, with the base off the plate and no filings left.", end, length(s.OpenM))
	} else {
		out += fmt.Sprintf(" The slot's travel is enough; %s are left.", length(s.LeftM))
	}
	if math.Abs(s.SensorDeg) >= 0.05 {
		out += fmt.Sprintf(" The base swings, which turns the sensor by %.1f° about the shaft and the timing by %.1f° of the crank: time it afterwards.", math.Abs(s.SensorDeg), 2*math.Abs(s.SensorDeg))
	}
	return []string{out}
}

// seatView is how rotor and sleeve sit.
type seatView struct {
	Wide, Tall html
	Facts      []factView
	Words      []string
}

func viewSeat(p *page, f *fit.Fit) seatView {
	s, sys := f.Seat, p.bench.Units
	var v seatView
	if p.Layout != "tall" {
		scene, _, err := draw.DistributorSide(workshop.FitSide(f, 600, sys))
		v.Wide = picture(scene, err, "side-wide")
	}
	if p.Layout != "wide" {
		scene, _, err := draw.DistributorSide(workshop.FitSide(f, 340, sys))
		v.Tall = picture(scene, err, "side-tall")
	}
	fact := func(name string, i twin.Interval, note string, least, most float64) {
		x := factView{Name: name, Note: note}
		x.Mid, x.PM = parted(workshop.Amount(units.Length, i, sys))
		st := prove.NotProven
		switch {
		case i.Hi < least || i.Lo > most:
			st = prove.FallsShort
		case i.Lo < least || i.Hi > most:
			st = prove.Doubtful
		}
		x.Mark, x.Word = sign(st), st.String()
		v.Facts = append(v.Facts, x)
	}
	length := func(x float64) string { return units.Format(units.Length, x, sys) }
	inf := math.Inf(1)
	fact("Shaft in the rotor's bore", s.Engagement, "predicted; at least "+length(s.Least)+", "+f.Car.Trigger.EngagementLeast.Origin.String(), s.Least, inf)
	fact("Free under the cap", s.Roof, "predicted, shaft up; at least "+length(s.Heights.ClearanceM)+" (from memory)", s.Heights.ClearanceM, inf)
	fact("Tip and contact face", s.Facing, "predicted, least; at least "+length(s.Heights.LeastM)+" (from memory)", s.Heights.LeastM, inf)
	if f.Gap != nil {
		fact("Magnets out of line", s.Axial, "predicted, most over the end play; at most "+length(s.AxialMost)+" (common practice)", -inf, s.AxialMost)
	}
	switch {
	case s.Refused != nil:
		v.Words = append(v.Words, "It can't sit right as it is: "+plainly(s.Refused)+".")
	case s.Middle.ReliefM > 0:
		v.Words = append(v.Words, fmt.Sprintf("Take %s off the underside of the sleeve, or off the rotor's skirt, so that everything above has room (predicted).", length(s.Middle.ReliefM)))
	}
	if f.Gap != nil && math.Abs(s.Middle.ShimM) >= 0.1e-3 {
		where := "under the sensor"
		if s.Middle.ShimM < 0 {
			where = "under the sleeve, or taken off the sensor's foot,"
		}
		v.Words = append(v.Words, fmt.Sprintf("A shim of %s %s brings magnets and sensor into line (predicted).", length(math.Abs(s.Middle.ShimM)), where))
	}
	v.Words = append(v.Words, fmt.Sprintf("All of it sits right in %s drawn cars.", chance(s.Fits)))
	return v
}

// lobesView is a bench run taken apart.
type lobesView struct {
	Title   string
	Bars    html
	Rows    []lobeRow
	Facts   []factView
	Warning string
}

type lobeRow struct{ Lobe, Error, Crank string }

func viewLobes(f *fit.Fit, i int) lobesView {
	run, e := f.Lobes[i].Run, &f.Lobes[i].Errors
	side := map[car.Side]string{car.FreeSide: "shaft free", car.LeftSide: "shaft pressed to the left", car.RightSide: "shaft pressed to the right"}[run.Side]
	v := lobesView{Title: fmt.Sprintf("Bench run %d, %s, %d turns", i+1, side, e.Turns)}
	scene, err := draw.Bars(workshop.LobeBars(f, i))
	v.Bars = picture(scene, err, fmt.Sprintf("lobes-%d", i+1))
	deg := func(mid, pm float64) string {
		return minus(fmt.Sprintf("%.2f ± %.2f°", mid, pm))
	}
	for j, x := range e.Cam {
		c := e.Cost.Cam[j]
		v.Rows = append(v.Rows, lobeRow{fmt.Sprintf("Lobe %d, cyl. %d", j+1, f.Rig.FiringOrder[j%len(f.Rig.FiringOrder)]), deg(x.Mid, x.PM), deg(c.Mid, c.PM)})
	}
	fact := func(name, mid, pm, note string) {
		v.Facts = append(v.Facts, factView{Name: name, Mid: mid, PM: pm, Note: note})
	}
	size := func(name string, mid, pm, hi float64, known bool, note string) {
		if !known {
			fact(name, fmt.Sprintf("under %.2f°", hi), "", note+"; less than the run can show")
			return
		}
		fact(name, fmt.Sprintf("%.2f", mid), fmt.Sprintf("± %.2f°", pm), note)
	}
	if e.Wobble.Told {
		size("Wobble, once a turn", e.Wobble.Amp.Mid, e.Wobble.Amp.PM, e.Wobble.Amp.Hi, e.Wobble.Amp.Known, "measured; bent shaft, worn bush, or the wheel off centre")
	}
	size("Side play's wander", e.SidePlay.Mid, e.SidePlay.PM, e.SidePlay.Hi, e.SidePlay.Known, "measured, one standard deviation")
	size("Left over", e.Random.Mid, e.Random.PM, e.Random.Hi, e.Random.Known, "measured, one standard deviation of a firing")
	fact("Widest off its interval", minus(fmt.Sprintf("%.2f", e.Spacing.Worst.Mid)), fmt.Sprintf("± %.2f°", e.Spacing.Worst.PM), fmt.Sprintf("measured, from lobe %d to the next", e.Spacing.From+1))
	if e.Doubtful {
		v.Warning = "The readings scatter by less than the accuracy given allows: it was given too large, or readings were copied from turn to turn."
	}
	return v
}
