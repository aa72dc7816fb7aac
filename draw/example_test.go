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
