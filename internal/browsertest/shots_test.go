package browsertest

import (
	"fmt"
	"os"
	"testing"
)

// TestPictures leaves pictures of every stage on both screens, for a person
// to look at.
func TestPictures(t *testing.T) {
	if os.Getenv("DWELLWRIGHT_SHOTS") == "" {
		t.Skip("DWELLWRIGHT_SHOTS is not set: no pictures are asked for")
	}
	s := open(t)
	for _, stage := range []string{"found", "plan", "spark", "fit", "curve", "prove"} {
		for _, sc := range []screen{phone, laptop} {
			for _, theme := range []string{"light", "dark", "contrast"} {
				path := "/cars/1/" + stage
				if stage == "found" {
					path += "?option=feed_behind_ballast&condition=hot_idle"
				}
				if stage == "prove" {
					path += "?option=feed_before_ballast&condition=hot_idle&ground=0.3"
				}
				p := s.visit(t, sc, theme, path)
				name := stage + "-" + sc.name + "-" + theme
				p.shoot(name, false)
				if theme == "light" {
					p.shoot(name+"-whole", true)
				}
				for i := 1; i <= 3; i++ {
					eval[bool](p, "scrollBy(0, innerHeight - 320), true")
					p.shoot(fmt.Sprintf("%s-%d", name, i), false)
				}
			}
		}
	}
}
