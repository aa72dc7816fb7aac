package draw_test

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"dwellwright/draw"
)

// A scene is a list of shapes in tones; the palette gives them colours.
func ExampleWriteSVG() {
	s := draw.Scene{W: 40, H: 20, Title: "A lamp", Desc: "One lamp, lit.", Items: []draw.Item{
		draw.Circle{X: 20, Y: 10, R: 8, Style: draw.Style{Stroke: draw.Ink, Width: 2, Fill: draw.Panel}},
	}}
	if err := draw.WriteSVG(os.Stdout, s, draw.SVGOptions{IDPrefix: "lamp"}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" class="dw" viewBox="0 0 40 20" font-family="sans-serif" stroke-linejoin="round" role="img" aria-labelledby="lamp-title" aria-describedby="lamp-desc">
	// <title id="lamp-title">A lamp</title>
	// <desc id="lamp-desc">One lamp, lit.</desc>
	// <circle cx="20" cy="10" r="8" class="dw-s-ink dw-f-panel" fill="#ffffff" stroke="#1c2126" stroke-width="2"/>
	// </svg>
}

// Two terminals and the ballast between them; the rest of the grid stays
// empty.
func ExampleWiring() {
	s, err := draw.Wiring(draw.WiringSpec{
		Title: "Hot idle", Tall: true, PositiveEarth: true,
		Nodes: []draw.Node{
			{ID: "bs", Label: "ballast, supply side", Value: "11.4 ± 0.3 V", Origin: draw.Predicted, Place: draw.AtBallastSupply},
			{ID: "bc", Label: "ballast, coil side", Value: "7.2 ± 0.1 V", Sub: "lowest 6.1 V", Origin: draw.Measured, Mark: draw.MarkHolds, Place: draw.AtBallastCoil},
		},
		Parts: []draw.Part{
			{ID: "b", Kind: draw.Ballast, From: "bs", To: "bc", Label: "ballast, hot", Value: "1.42 Ω", Origin: draw.Assumed, Current: "3.1 A", Flow: 1},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.W, s.Title)
	fmt.Println(s.Desc)
	// Output:
	// 390 Hot idle
	// Primary circuit, positive earth. Ballast, supply side: 11.4 ± 0.3 V predicted. Ballast, coil side: 7.2 ± 0.1 V measured, lowest 6.1 V, holds. Ballast, hot from ballast, supply side to ballast, coil side: 1.42 Ω assumed, 3.1 A, current flows towards ballast, coil side.
}

// A spec that cannot be drawn is refused with where, what, and what would do.
func ExampleSpecError() {
	_, err := draw.Wiring(draw.WiringSpec{
		Nodes: []draw.Node{{ID: "a", Place: draw.AtCoilFeed}, {ID: "b", Place: draw.AtBlock}},
		Parts: []draw.Part{{ID: "coil", Kind: draw.Coil, From: "a", To: "b"}},
	})
	var se *draw.SpecError
	fmt.Println(errors.As(err, &se))
	fmt.Println(err)
	// Output:
	// true
	// draw: parts[0] (coil): cannot be drawn as a coil from coil feed terminal to engine block; it goes from coil feed terminal to coil switched terminal
}

func ExampleBars() {
	s, err := draw.Bars(draw.BarsSpec{
		Title: "Trigger feed voltage, lowest instant", Unit: "V",
		Rows: []draw.BarRow{{
			Label: "hot idle, every load on", Value: 8.3, PlusMinus: 0.6, Origin: draw.Predicted,
			Limit: draw.Limit{Side: draw.AtLeast, At: 8}, Mark: draw.MarkDoubtful,
		}},
	})
	fmt.Println(s.Desc, err)
	// Output:
	// Hot idle, every load on: 8.3 ± 0.6 V predicted, limit at least 8 V, doubtful. <nil>
}

func ExampleCurve() {
	s, err := draw.Curve(draw.CurveSpec{
		Title: "Centrifugal advance",
		X:     draw.Axis{Label: "engine speed", Unit: "rpm"}, Y: draw.Axis{Label: "advance", Unit: "°"},
		Series: []draw.Series{{Name: "readings", X: []float64{600, 1500, 3000}, Y: []float64{0.4, 13, 25}, Origin: draw.Measured, Marks: true}},
	})
	fmt.Println(s.Desc, err)
	// Output:
	// Readings: measured, engine speed from 600 to 3000 rpm, 0.4 ° at 600 rpm, 13 ° at 1500 rpm, 25 ° at 3000 rpm. <nil>
}

func ExampleMarkSVG() {
	fmt.Println(draw.MarkSVG(draw.MarkShort))
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" class="dw dw-mark" viewBox="0 0 20 20" width="20" height="20" role="img" aria-label="falls short"><rect x="1.5" y="1.5" width="17" height="17" rx="2" class="dw-f-short" fill="#b3221c"/>
	// <line x1="6" y1="6" x2="14" y2="14" class="dw-s-back" fill="none" stroke="#faf9f6" stroke-width="2.4"/>
	// <line x1="6" y1="14" x2="14" y2="6" class="dw-s-back" fill="none" stroke="#faf9f6" stroke-width="2.4"/>
	// </svg>
}

func ExampleWrap() {
	for _, l := range draw.Wrap("lowest feed voltage at hot idle", 12, 90, false) {
		fmt.Println(l)
	}
	// Output:
	// lowest feed
	// voltage at hot
	// idle
}

func ExampleStack() {
	s, err := draw.Stack(draw.StackSpec{
		Title: "One firing", X: draw.Axis{Label: "time", Unit: "ms"},
		Charts: []draw.StackChart{{Y: draw.Axis{Label: "primary current", Unit: "A"}, Series: []draw.Series{
			{Name: "primary current", X: []float64{0, 8, 8.05}, Y: []float64{0, 5.7, 0}, Origin: draw.Predicted}}}},
		Moments: []draw.Moment{{Name: "switch opens", At: 8}},
	})
	fmt.Println(s.Desc, err)
	// Output:
	// Primary current: predicted, time from 0 to 8.05 ms, 0 A at 0 ms, 5.7 A at 8 ms, 0 A at 8.05 ms. Moment 1, switch opens, at 8 ms. <nil>
}

func ExampleMap() {
	s, err := draw.Map(draw.MapSpec{
		Title: "Spark in hand", Value: "available over required", Origin: draw.Predicted,
		X:  draw.Axis{Label: "engine speed", Unit: "rpm"},
		Y:  draw.Axis{Label: "supply", Unit: "V"},
		Xs: []float64{1000, 3000, 5000}, Ys: []float64{8, 14},
		Z:     [][]float64{{1.2, 0.9, 0.6}, {2.1, 1.5, 1.2}},
		Limit: draw.Limit{Side: draw.AtLeast, At: 1},
		Points: []draw.MapPoint{
			{Name: "cruise", X: 2600, Y: 13.5, Text: "1.6 ± 0.2", Origin: draw.Predicted, Mark: draw.MarkHolds},
		},
	})
	fmt.Println(strings.ReplaceAll(s.Desc, ". ", ".\n"), err)
	// Output:
	// Available over required: predicted, over engine speed from 1000 to 5000 rpm and supply from 8 to 14 V, lowest 0.6 at 5000 rpm and 8 V, highest 2.1 at 1000 rpm and 14 V.
	// Limit at least 1; falls short in 33 % of the map.
	// At 1000 rpm: kept throughout.
	// At 2000 rpm: kept throughout.
	// At 3000 rpm: kept from 9 V up.
	// At 4000 rpm: kept from 10.5 V up.
	// At 5000 rpm: kept from 12 V up.
	// Point A: Cruise: at 2600 rpm and 13.5 V, 1.6 ± 0.2 predicted, holds. <nil>
}

func ExampleDistributorTop() {
	s, at, err := draw.DistributorTop(draw.DistributorTopSpec{
		Title: "Four cylinders", W: 390, Rotation: 1,
		HousingRadiusM: 0.038, HousingAt: 120, ClampRadiusM: 0.032, ElectrodeRadiusM: 0.0267, ElectrodeWidthM: 0.005,
		Towers: []draw.TopTower{
			{Angle: 30, Label: "1", First: true, Order: 1}, {Angle: 120, Label: "3", Order: 2},
			{Angle: 210, Label: "4", Order: 3}, {Angle: 300, Label: "2", Order: 4},
		},
		Rotor: draw.TopRotor{Angle: 33, TipRadiusM: 0.026, TipWidthM: 0.006, Value: draw.Figure{Text: "3° ± 2° past", Origin: draw.Predicted, Mark: draw.MarkHolds}},
		Can:   &draw.TopArc{From: 95, To: 145},
		Turn:  &draw.TopTurn{From: 120, To: 145, Value: draw.Figure{Text: "25° ± 3° clockwise, 14.0 mm at the clamp", Origin: draw.Predicted}},
	})
	fmt.Println(strings.ReplaceAll(s.Desc, ". ", ".\n"), err)
	fmt.Printf("%.2f units to the millimetre\n", at.Scale/1000)
	// Output:
	// Distributor from above, to scale, front of the car at the top; the rotor turns clockwise.
	// Tower marked 1: 30° clockwise from the front, fires as number 1.
	// Tower marked 3: 120° clockwise from the front, fires as number 2.
	// Tower marked 4: 210° clockwise from the front, fires as number 3.
	// Tower marked 2: 300° clockwise from the front, fires as number 4.
	// Turn the housing: 25° ± 3° clockwise, 14.0 mm at the clamp predicted.
	// Rotor as the spark jumps: stands at 33°, 3° ± 2° past predicted, holds.
	// Vacuum can: from 95° to 145°.
	// Vacuum can after the turn: from 120° to 170°. <nil>
	// 3.94 units to the millimetre
}

func ExampleDistributorSide() {
	s, _, err := draw.DistributorSide(draw.DistributorSideSpec{
		Title: "Rotor on its shaft", W: 390, ShaftRadiusM: 0.006, ShaftTop: 0.034, RoofHeight: 0.05,
		Rotor:   draw.SideRotor{RadiusM: 0.016, Band: draw.SideBand{From: 0.022, To: 0.042}, BoreTop: 0.036, Tip: draw.SideBand{From: 0.0365, To: 0.0385}, TipRadiusM: 0.026},
		Contact: draw.SideBody{InnerM: 0.0267, OuterM: 0.030, Band: draw.SideBand{From: 0.035, To: 0.043}},
		Gaps: []draw.SideGap{{ID: "engagement", Name: "shaft in the rotor's bore", At: 0.008, From: 0.022, To: 0.034,
			Value: draw.Figure{Text: "12 ± 2 mm", Origin: draw.Measured, Mark: draw.MarkHolds}}},
	})
	fmt.Println(strings.ReplaceAll(s.Desc, ". ", ".\n"), err)
	// Output:
	// Distributor cut through its shaft, to scale.
	// Shaft in the rotor's bore: drawn 12 mm, 12 ± 2 mm measured, holds.
	// Rotor arm.
	// Blade of the rotor: from height 36.5 mm to 38.5 mm.
	// Contact in the cap: from height 35 mm to 43 mm.
	// Shaft.
	// Cap. <nil>
}

func ExamplePhaseStrip() {
	s, err := draw.PhaseStrip(draw.PhaseStripSpec{
		Title: "Rotor phase", PitchDeg: 90, ElectrodeDeg: 10.7, TipDeg: 13.2, RestDeg: 3, FullDeg: -9, Origin: draw.Predicted,
		OverlapDeg: 12, JumpDeg: 16, Tower: "1", Verdict: "in register", Mark: draw.MarkHolds,
	})
	fmt.Println(strings.ReplaceAll(s.Desc, "\u00a0", " "), err)
	// Output:
	// Rotor's tip at tower 1: vacuum off 3° past, full vacuum 9° short, predicted. Tip and tower overlap: up to 12° to either side, the spark still jumps up to 16°. Neighbouring towers: at 90° to either side. In register: holds. <nil>
}

func ExampleCurvePlace() {
	box, err := draw.CurvePlace(draw.CurveSpec{W: 390, X: draw.Axis{Lo: 0, Hi: 5000}, Y: draw.Axis{Lo: 0, Hi: 40},
		Series: []draw.Series{{Name: "wanted", X: []float64{600, 4500}, Y: []float64{8, 34}, Handles: true}}})
	fmt.Printf("%.0f rpm to a unit across, %.2f degrees to a unit up, %v\n", box.X.Hi/(box.X1-box.X0), box.Y.Hi/(box.Y1-box.Y0), err)
	// Output:
	// 15 rpm to a unit across, 0.16 degrees to a unit up, <nil>
}
