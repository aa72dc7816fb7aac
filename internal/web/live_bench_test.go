package web

import (
	"fmt"
	"testing"
)

// What the server spends on a live answer, drawing few cars.
func BenchmarkLive(b *testing.B) {
	h := handler(b)
	for _, st := range stages {
		for _, draws := range []int{24, 60, 100} {
			b.Run(fmt.Sprintf("%s/%d", st.ID, draws), func(b *testing.B) {
				b.ReportAllocs()
				n := 0
				for b.Loop() {
					r := get(b, h, fmt.Sprintf("/cars/1/%s?live=1&layout=wide&draws=%d&option=feed_behind_ballast&ballast=0.7", st.ID, draws))
					n = len(body(b, r))
				}
				b.ReportMetric(float64(n)/1024, "KiB")
			})
		}
	}
}
