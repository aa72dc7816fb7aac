package supply

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestValidateNamesTheField(t *testing.T) {
	nan := math.NaN()
	generator := Generator{CutInRPM: 1050, FullRPM: 2150, RatingA: 27}
	alternator := Alternator{RatingA: 45, IdleShare: 0.45, FullRPM: 2400}
	regulator := Regulator{SetPointV: 14.4, AtC: 20, DriftVPerK: -0.016}
	starter := Starter{CurrentA: 160, AtV: 10.2}
	for _, v := range []interface{ Validate() error }{car12, car6, generator, alternator, regulator, starter} {
		if err := v.Validate(); err != nil {
			t.Errorf("%+v: %v", v, err)
		}
	}
	battery := func(set func(*Battery)) error { b := car12; set(&b); return b.Validate() }
	gen := func(set func(*Generator)) error { g := generator; set(&g); return g.Validate() }
	alt := func(set func(*Alternator)) error { a := alternator; set(&a); return a.Validate() }
	reg := func(set func(*Regulator)) error { r := regulator; set(&r); return r.Validate() }
	st := func(set func(*Starter)) error { s := starter; set(&s); return s.Validate() }
	for _, c := range []struct {
		err             error
		of, field, want string
	}{
		{Battery{}.Validate(), "battery", "NominalV", "6 or 12 V"},
		{battery(func(b *Battery) { b.NominalV = 24 }), "battery", "NominalV", "6 or 12 V"},
		{battery(func(b *Battery) { b.SOC = 80 }), "battery", "SOC", "0 (empty) to 1 (full)"},
		{battery(func(b *Battery) { b.SOC = nan }), "battery", "SOC", "0 (empty) to 1 (full)"},
		{battery(func(b *Battery) { b.TempC = 293 }), "battery", "TempC", "-50 to 80 °C"},
		{battery(func(b *Battery) { b.CapacityAh = 216000 }), "battery", "CapacityAh", "A·h"},
		{battery(func(b *Battery) { b.InternalOhm20 = 0 }), "battery", "InternalOhm20", "more than 0"},
		{battery(func(b *Battery) { b.InternalOhm20 = nan }), "battery", "InternalOhm20", "more than 0"},
		{Generator{}.Validate(), "generator", "CutInRPM", "rpm"},
		{gen(func(g *Generator) { g.FullRPM = 1000 }), "generator", "FullRPM", "more than the cut-in"},
		{gen(func(g *Generator) { g.RatingA = -3 }), "generator", "RatingA", "1000 A"},
		{Alternator{}.Validate(), "alternator", "RatingA", "1000 A"},
		{alt(func(a *Alternator) { a.IdleShare = 45 }), "alternator", "IdleShare", "0 to 1"},
		{alt(func(a *Alternator) { a.FullRPM = 600 }), "alternator", "FullRPM", "more than the idle"},
		{alt(func(a *Alternator) { a.IdleRPM = 2400 }), "alternator", "FullRPM", "more than the idle"},
		{alt(func(a *Alternator) { a.IdleRPM = -1 }), "alternator", "IdleRPM", "or 0 for the usual"},
		{Regulator{}.Validate(), "regulator", "SetPointV", "5 to 20 V"},
		{reg(func(r *Regulator) { r.AtC = nan }), "regulator", "AtC", "°C"},
		{reg(func(r *Regulator) { r.DriftVPerK = -16 }), "regulator", "DriftVPerK", "V/K"},
		{Starter{}.Validate(), "starter", "CurrentA", "3000 A"},
		{st(func(s *Starter) { s.AtV = 0 }), "starter", "AtV", "20 V"},
	} {
		var f *FieldError
		if !errors.Is(c.err, ErrField) || !errors.As(c.err, &f) {
			t.Errorf("%s %s: %v", c.of, c.field, c.err)
			continue
		}
		if f.Of != c.of || f.Field != c.field || !strings.Contains(f.Want, c.want) || !strings.Contains(c.err.Error(), c.of+": "+c.field) {
			t.Errorf("%s %s: %v", c.of, c.field, c.err)
		}
	}
}
