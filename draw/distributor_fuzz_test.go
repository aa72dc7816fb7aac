package draw

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"testing"
)

// FuzzDistributor: whatever the numbers, the three pictures of a distributor
// are refused with a SpecError or can be written.
func FuzzDistributor(f *testing.F) {
	seed := func(vs ...float64) {
		var b []byte
		for _, v := range vs {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
		f.Add(b)
	}
	seed()
	seed(390, 0.04, 0.032, 0.0267, 0.005, 33, 0.026, 0.006, 0, 60, 120, 180)
	seed(620, -1, math.NaN(), math.Inf(1), 1e300, 5e-324)
	f.Fuzz(func(t *testing.T, b []byte) {
		num := func(v float64) float64 {
			if len(b) < 8 {
				return v
			}
			w := math.Float64frombits(binary.LittleEndian.Uint64(b))
			b = b[8:]
			return w
		}
		top, side, strip := topSpec(390), sideSpec(390), stripSpec(390)
		for _, p := range []*float64{
			&top.W, &top.HousingRadiusM, &top.ClampRadiusM, &top.ElectrodeRadiusM, &top.ElectrodeWidthM,
			&top.Rotor.Angle, &top.Rotor.TipRadiusM, &top.Rotor.TipWidthM, &top.Towers[0].Angle, &top.Towers[1].Angle,
			&top.Full.Angle, &top.Window.HalfDeg, &top.Trigger.Angle, &top.Trigger.RadiusM, &top.Trigger.WidthM, &top.Trigger.DepthM,
			&top.Ring.RadiusM, &top.Ring.Angles[0], &top.Pivot.RadiusM, &top.Pivot.Angle, &top.Can.From, &top.Can.To,
			&top.Obstacles[0].From, &top.Obstacles[0].To, &top.Turn.From, &top.Turn.To, &top.HousingAt,
		} {
			*p = num(*p)
		}
		for _, p := range []*float64{
			&side.ShaftTop, &side.ShaftRadiusM, &side.RoofHeight, &side.Rotor.LiftM, &side.Rotor.Band.From, &side.Rotor.Tip.To,
			&side.Rotor.TipRadiusM, &side.Contact.Band.To, &side.Contact.OuterM, &side.Gaps[0].From, &side.Gaps[0].At, &side.Ring.Band.From,
		} {
			*p = num(*p)
		}
		for _, p := range []*float64{
			&strip.W, &strip.PitchDeg, &strip.ElectrodeDeg, &strip.TipDeg, &strip.RestDeg, &strip.FullDeg, &strip.PM, &strip.OverlapDeg, &strip.JumpDeg,
		} {
			*p = num(*p)
		}
		look := func(s Scene, err error) {
			var se *SpecError
			switch {
			case errors.As(err, &se):
			case err != nil:
				t.Errorf("%v is no SpecError", err)
			default:
				var w bytes.Buffer
				if err := WriteSVG(&w, s, SVGOptions{}); err != nil {
					t.Error(err)
				}
			}
		}
		s, _, err := DistributorTop(top)
		look(s, err)
		s, _, err = DistributorSide(side)
		look(s, err)
		look(PhaseStrip(strip))
	})
}
