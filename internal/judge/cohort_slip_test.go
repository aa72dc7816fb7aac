package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"dwellwright/evidence"
	"dwellwright/suspect"
)

// A reading of which what is written down is not what was read: the point a place
// off, another unit, probes changed over.
var slips = []struct {
	what string
	of   float64
}{
	{"point a place on", 10}, {"point a place back", 0.1}, {"thousandfold unit", 1000}, {"thousandth unit", 0.001}, {"probes changed over", -1},
}

// Of cars that are diagnosed rightly, with one reading written down wrongly: once
// a few more readings are in, the verdict is what it was without, and the reading
// is named as one to distrust.
func TestSlipsAreFoundOut(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector has nothing to find here")
	}
	n := 9
	if wholeIsAsked() {
		n = 80
	}
	const further = 8
	w := wards(t, 1, 0)[0]
	type slip struct {
		p          *patient
		reading    int
		kind       int
		same, seen bool
		first      bool // read again, the verdict is that of before the further readings
		tried      bool
		line       string
	}
	list := make([]slip, n)
	for i := range list {
		rng := rand.New(rand.NewPCG(77, uint64(i)))
		list[i] = slip{p: w.come(20000+i, "single"), reading: rng.IntN(1000), kind: rng.IntN(len(slips))}
	}
	var lock sync.Mutex
	each(n, func(i int) {
		s := &list[i]
		_, right := diagnose(t, w.bank, s.p, mostAsked)
		verdict := right.post.Mends[0].Remedies
		if len(verdict) != 1 || verdict[0] != s.p.needs()[0] {
			return
		}
		var figures []string // readings taken that can be slipped in
		for _, id := range right.steps {
			if a := s.p.answer(s.p.at(id)); a.Kind == evidence.Figure && math.Abs(a.Value) > 3*s.p.list[s.p.at(id)].Accuracy(a.Value) {
				figures = append(figures, id)
			}
		}
		if len(figures) == 0 {
			return
		}
		s.tried = true
		id := figures[s.reading%len(figures)]
		good := s.p.given[id]
		bad := good
		bad.Value *= slips[s.kind].of
		s.p.given[id] = bad
		c, e := diagnose(t, w.bank, s.p, mostAsked)
		// More readings: those proposed, else the ones that tell most.
		setup, more := e.setup, 0
		for more < further {
			next, err := c.Next(suspect.Situation{Setup: setup})
			if err != nil || len(next.Ranked) == 0 {
				break
			}
			pick := next.Reading
			if pick == "" {
				best := 0
				for j := range next.Ranked {
					if next.Ranked[j].BitsPerMinute > next.Ranked[best].BitsPerMinute {
						best = j
					}
				}
				pick = next.Ranked[best].Channel
			}
			if err := c.Take(s.p.answer(s.p.at(pick))); err != nil {
				lock.Lock()
				t.Error(err)
				lock.Unlock()
				return
			}
			setup = s.p.list[s.p.at(pick)].Setup
			more++
		}
		got := c.Posterior().Mends[0]
		asked, distrust := false, 0.0
		for _, r := range c.Taken() {
			if r.Channel == id {
				asked, distrust = true, r.Slip
			}
		}
		if !asked {
			s.tried = false // another way was taken, and it was never asked
			return
		}
		s.seen = distrust > 0.5
		// Read again, as the distrust asks for, it is the case without the slip: the
		// same readings, of which further ones may have brought another verdict.
		s.p.given[id] = good
		if err := c.Take(good); err != nil {
			lock.Lock()
			t.Error(err)
			lock.Unlock()
			return
		}
		again := c.Posterior().Mends[0]
		s.same = slices.Equal(got.Remedies, again.Remedies)
		s.first = slices.Equal(again.Remedies, verdict)
		s.line = fmt.Sprintf("%s: %s of %s, %g for %g: %v %.2f, distrusted %.2f", s.p.name, slips[s.kind].what, id, bad.Value, good.Value, got.Remedies, got.P, distrust)
	})
	tried, same, seen, first := 0, 0, 0, 0
	for i := range list {
		s := &list[i]
		if !s.tried {
			continue
		}
		tried++
		if s.same {
			same++
		}
		if s.seen {
			seen++
		}
		if s.first {
			first++
		}
		if !s.same || !s.seen {
			t.Log(s.line)
		}
	}
	t.Logf("%d slips: the verdict is that of the same readings without it in %s, named as distrusted in %s; read again, the verdict is that of before the further readings in %s", tried, share(same, tried), share(seen, tried), share(first, tried))
	if tried < n/3 {
		t.Errorf("only %d slips were tried", tried)
	}
	want(t, "verdicts in spite of a slip", same, tried, 0.9)
	want(t, "slips named", seen, tried, 0.9)
}
