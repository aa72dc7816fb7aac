package measure

import (
	"math"
	"reflect"
	"testing"
)

// Every fact counts: one that moves is seen, one that hardly moves is not.
func TestTouchedKnowsEveryFact(t *testing.T) {
	var inOrder facts
	v := reflect.ValueOf(&inOrder).Elem()
	var each func(v reflect.Value, do func(x reflect.Value))
	each = func(v reflect.Value, do func(x reflect.Value)) {
		switch v.Kind() {
		case reflect.Float64:
			do(reflect.NewAt(v.Type(), v.Addr().UnsafePointer()).Elem())
		case reflect.Array:
			for i := range v.Len() {
				each(v.Index(i), do)
			}
		}
	}
	n := 0
	for i := range v.NumField() {
		each(v.Field(i), func(x reflect.Value) { n++; x.SetFloat(float64(n)) })
	}
	if got := len(inOrder.list()); got != n {
		t.Errorf("%d facts listed, there are %d", got, n)
	}
	now := inOrder
	if now.touched(&inOrder) {
		t.Error("touched by nothing")
	}
	v = reflect.ValueOf(&now).Elem()
	for i := range v.NumField() {
		each(v.Field(i), func(x reflect.Value) {
			was := x.Float()
			for _, to := range []struct {
				x       float64
				touched bool
			}{{was * 1.0005, false}, {was * 1.002, true}, {-was, true}, {math.NaN(), true}} {
				x.SetFloat(to.x)
				if got := now.touched(&inOrder); got != to.touched {
					t.Errorf("%s %g becomes %g: touched %t", v.Type().Field(i).Name, was, to.x, got)
				}
			}
			x.SetFloat(was)
		})
	}
}
