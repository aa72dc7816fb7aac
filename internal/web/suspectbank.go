package web

import (
	"fmt"
	"log"
	"maps"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/suspect"
)

// workup is what can be wrong with one edition of a car, being worked out or
// ready, and the diagnoses under way on it.
type workup struct {
	key   string
	done  atomic.Int64 // of total
	total int64
	began time.Time
	ready chan struct{} // closed when bank and err are set
	bank  *suspect.Bank // of single faults
	err   error
	took  time.Duration

	mu       sync.Mutex
	full     *suspect.Bank // with pairs, once they are worked out behind the first answers
	sittings []sitting     // the one used last stands last
	looks    map[string]*look
	order    []string
}

// sitting is a diagnosis with what was said in it.
type sitting struct {
	said []string
	at   *workshop.Sitting
}

// look is how a diagnosis stands after something was said.
type look struct {
	*workshop.Outlook
	Foreseen map[string][]workshop.Foreseen
	Fine     bool // made as fine as it gets, with its reasons
}

const (
	mostWorkups  = 3 // cars whose banks are kept
	mostSittings = 3 // diagnoses kept open for each: some tens of megabytes apiece
	mostLooks    = 80
	pairsBehind  = 200 // pairs of faults worked out behind the first answers
	finest       = 16  // times a diagnosis is made finer
	suspectsSeen = 6
)

// workups are those of a server's cars.
type workups struct {
	mu   sync.Mutex
	list []*workup // the one asked for last stands last
}

// of gives the work-up of an edition of a car; one that is not there is begun.
func (w *workups) of(key string, c *car.Car) *workup {
	w.mu.Lock()
	defer w.mu.Unlock()
	for i, u := range w.list {
		if u.key == key {
			w.list = append(slices.Delete(w.list, i, i+1), u)
			return u
		}
	}
	u := &workup{key: key, began: time.Now(), ready: make(chan struct{}), looks: map[string]*look{},
		total: suspect.DefaultDraws}
	if w.list = append(w.list, u); len(w.list) > mostWorkups {
		w.list = w.list[1:]
	}
	go func() {
		if u.prepare(c); u.err == nil {
			u.addPairs()
		}
	}()
	return u
}

// prepare works the bank out, on half of the cores so that pages are still
// answered.
func (u *workup) prepare(c *car.Car) {
	defer close(u.ready)
	defer func() {
		if x := recover(); x != nil {
			u.err = fmt.Errorf("a mistake in the program: %v", x)
		}
	}()
	each := workshop.Parallel(max(1, runtime.GOMAXPROCS(0)/2))
	u.bank, u.err = suspect.Prepare(c, suspect.Settings{Seed: 1, Each: each, Progress: func(int, int) { u.done.Add(1) }})
	u.took = time.Since(u.began)
}

// addPairs works out pairs of faults while answers are already given, and has
// diagnoses begin anew with them. Without them nothing is lost but time: pairs that
// readings call for are looked for in any case.
func (u *workup) addPairs() {
	defer func() {
		if x := recover(); x != nil { // answers go on as without them
			log.Printf("pairs of faults are not held ready, by a mistake in the program: %v\n%s", x, debug.Stack())
		}
	}()
	full, err := u.bank.WithPairs(pairsBehind, nil)
	if err != nil {
		return
	}
	u.mu.Lock()
	defer u.mu.Unlock()
	u.full, u.sittings, u.order = full, nil, nil
	clear(u.looks)
}

// share is how much of the work is done, 0 to 1.
func (u *workup) share() float64 { return min(1, float64(u.done.Load())/float64(u.total)) }

func (u *workup) isReady() bool {
	select {
	case <-u.ready:
		return true
	default:
		return false
	}
}

// keyOf names entries.
func keyOf(entries []workshop.Entry) []string {
	list := make([]string, len(entries))
	for i, e := range entries {
		list[i] = written(e)
	}
	return list
}

// look gives how things stand after entries, and what ask would show. What is
// asked for at once is only weighed; fine makes it finer first, and adds the
// reasons, for as long as it is still wanted.
func (u *workup) look(entries []workshop.Entry, ask string, fine bool, wanted func() bool) (*look, error) {
	key := keyOf(entries)
	name := strings.Join(key, "\n")
	for round := 0; ; round++ {
		l, more, err := u.step(entries, key, name, ask, fine, round, wanted)
		if err != nil || !more || !wanted() {
			return l, err
		}
	}
}

// step is one round of look; between rounds others have their turn.
func (u *workup) step(entries []workshop.Entry, key []string, name, ask string, fine bool, round int, wanted func() bool) (l *look, more bool, err error) {
	u.mu.Lock()
	defer u.mu.Unlock()
	l = u.looks[name]
	if l != nil && (l.Fine || !fine) && (ask == "" || l.Foreseen[ask] != nil) {
		return l, false, nil
	}
	s, err := u.sit(entries, key)
	if err != nil {
		return nil, false, err
	}
	if fine && (l == nil || !l.Fine) && round < finest {
		if more, err = s.Refine(); err != nil {
			return nil, false, err
		} else if more {
			return l, true, nil
		}
	}
	if l == nil || fine && !l.Fine {
		o, err := s.Look(suspectsSeen, fine, wanted)
		if err != nil || o == nil {
			return nil, false, err
		}
		l = &look{Outlook: o, Foreseen: map[string][]workshop.Foreseen{}, Fine: fine}
	}
	// What was given out before is being read: what is added goes on a copy.
	next := *l
	next.Foreseen = maps.Clone(l.Foreseen)
	for _, id := range []string{ask, l.Choice.Reading, l.Proof} {
		if id == "" || next.Foreseen[id] != nil {
			continue
		}
		if next.Foreseen[id], err = s.Foresee(id, l.leads()); err != nil {
			return nil, false, err
		}
	}
	l = &next
	u.keep(name, l)
	return l, false, nil
}

// leads are the suspects whose figures are held against those of a car in
// order.
func (l *look) leads() []string {
	var list []string
	for _, s := range l.Suspects {
		if s.Fault != nil && len(list) < 3 && !slices.Contains(list, s.As) {
			list = append(list, s.As)
		}
	}
	return list
}

// sit gives a diagnosis in which just these entries were made: one under way
// is gone on with, or a new one begun.
func (u *workup) sit(entries []workshop.Entry, key []string) (*workshop.Sitting, error) {
	best := -1
	for i, s := range u.sittings {
		if len(s.said) <= len(key) && slices.Equal(s.said, key[:len(s.said)]) && (best < 0 || len(s.said) > len(u.sittings[best].said)) {
			best = i
		}
	}
	var s sitting
	if best >= 0 {
		s = u.sittings[best]
		u.sittings = slices.Delete(u.sittings, best, best+1)
	} else {
		bank := u.bank
		if u.full != nil {
			bank = u.full
		}
		s = sitting{at: workshop.Sit(bank)}
	}
	for i, e := range entries[len(s.said):] {
		if err := s.at.Note(e); err != nil {
			return nil, fmt.Errorf("entry %d: %w", len(s.said)+i+1, err)
		}
	}
	s.said = key
	if u.sittings = append(u.sittings, s); len(u.sittings) > mostSittings {
		u.sittings = slices.Delete(u.sittings, 0, 1)
	}
	return s.at, nil
}

func (u *workup) keep(name string, l *look) {
	if _, ok := u.looks[name]; !ok {
		if len(u.order) == mostLooks {
			delete(u.looks, u.order[0])
			u.order = u.order[1:]
		}
		u.order = append(u.order, name)
	}
	u.looks[name] = l
}
