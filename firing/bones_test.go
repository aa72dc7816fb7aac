package firing

import (
	"math/rand/v2"
	"testing"
)

// bones is where a phase's A has entries: the switch's voltage is moved by the
// primary alone, the secondary's by the secondary alone.
var bones = [16]bool{
	true, true, true, true,
	true, true, true, true,
	true, false, true, false,
	false, true, false, true,
}

// Every phase has entries only where rate and nudged look for them.
func TestBones(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	for trial := 0; trial < 200; trial++ {
		var p plant
		p.ready(randomCase(rng))
		for ps := closed; ps < poses; ps++ {
			for burn := -1.0; burn <= 1; burn++ {
				for bent := -1.0; bent <= 1; bent++ {
					var ph phase
					p.make(&ph, ps, burn, bent)
					for i, a := range ph.a {
						if a != 0 && !bones[i] {
							t.Fatalf("pose %d: entry %d of A is %g", ps, i, a)
						}
					}
				}
			}
		}
	}
}
