package cli

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/units"
)

// mechanic answers what the terminal asks, from a car that has a fault.
type mechanic struct {
	t    *testing.T
	list []measure.Measure
	show []float64
	rng  *rand.Rand
	out  bytes.Buffer
	todo []byte // typed and not read yet
	seen int
	did  []string // remedies at STOP
}

// Write takes what the terminal shows.
func (m *mechanic) Write(p []byte) (int, error) { return m.out.Write(p) }

// Read is asked for the next line.
func (m *mechanic) Read(p []byte) (int, error) {
	if len(m.todo) == 0 {
		m.todo = []byte(m.answer() + "\n")
	}
	n := copy(p, m.todo)
	m.todo = m.todo[n:]
	return n, nil
}

var nextReading = regexp.MustCompile(`(?s)NEXT READING: .*?\((\w+)\)\n`)
var stopAndMend = regexp.MustCompile(`STOP READING AND MEND: (\w+)`)

func (m *mechanic) answer() string {
	text := m.out.String()[m.seen:]
	m.seen = m.out.Len()
	switch {
	case m.seen > 1<<20:
		m.t.Fatal("it asks and asks")
	case strings.HasSuffix(text, "none of them: "):
		return ""
	case strings.Contains(text, "STOP READING AND MEND"):
		m.did = append(m.did, stopAndMend.FindStringSubmatch(text)[1])
		return "q"
	case strings.Contains(text, "LOOK ELSEWHERE") || strings.Contains(text, "SOMETHING ELSE"):
		return "q"
	}
	at := nextReading.FindStringSubmatch(text)
	if at == nil {
		m.t.Fatalf("nothing is asked in: %s", text)
	}
	for i := range m.list {
		x := &m.list[i]
		if x.ID != at[1] {
			continue
		}
		y := m.show[i]
		switch {
		case math.IsNaN(y) || math.IsInf(y, 0):
			return "c"
		case x.Observation && y >= 0.5:
			return "y"
		case x.Observation:
			return "n"
		}
		y += x.Accuracy(y) / 1.96 * m.rng.NormFloat64()
		if x.Kind == units.Resistance || x.Kind == units.Length || x.Kind == units.Vacuum {
			y = math.Max(y, 0)
		}
		return units.Format(x.Kind, y, units.Metric)
	}
	m.t.Fatalf("asks for %s, which this car has not", at[1])
	return ""
}

// A diagnosis in the terminal, answered by a car with a known fault, ends at
// what mends it; and the command line that it prints at the end comes to the
// same.
func TestInteractiveFindsTheFault(t *testing.T) {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		t.Fatal(err)
	}
	list := measure.Catalogue(c)
	right := 0
	ids := []string{"plate_ground_high", "ballast_bypassed", "points_closed_up"}
	for n, id := range ids {
		f, err := fault.ByID(id)
		if err != nil {
			t.Fatal(err)
		}
		bench, err := measure.NewBench(c, list)
		if err != nil {
			t.Fatal(err)
		}
		m := &mechanic{t: t, list: list, show: make([]float64, len(list)), rng: rand.New(rand.NewPCG(7, uint64(n)))}
		s := fault.Severity{U: [4]float64{0.6, 0.5, 0.5, 0.5}}
		if err := bench.Read(func(d *car.Car, k *car.Condition) { f.Apply(d, k, s) }, m.show); err != nil {
			t.Logf("%s: %v", id, err) // a state without a solution cannot be read
		}
		var complaints bytes.Buffer
		code := Run([]string{"suspect", "demo", "-i", "--draws", "6", "--pairs", "0"}, Streams{In: m, Out: m, Err: &complaints, Width: 80})
		if code == ExitBadInput {
			t.Fatalf("%s: %s\n%s", id, complaints.String(), m.out.String())
		}
		if len(m.did) == 1 && m.did[0] == f.Remedy.ID {
			right++
		} else {
			t.Logf("%s is mended by %s, and it says %v", id, f.Remedy.ID, m.did)
		}
		if n == 0 {
			sameAgain(t, m.out.String())
		}
	}
	if right < len(ids)-1 {
		t.Errorf("%d of %d found", right, len(ids))
	}
}

// sameAgain runs the command line printed at the end of a dialogue.
func sameAgain(t *testing.T, dialogue string) {
	t.Helper()
	_, end, ok := strings.Cut(dialogue, "The same again:\n")
	if !ok {
		t.Fatal("it says no command line")
	}
	args := unquote(strings.TrimSpace(end))
	var out, complaints bytes.Buffer
	if Run(args[1:], Streams{In: strings.NewReader(""), Out: &out, Err: &complaints, Width: 80}) == ExitBadInput {
		t.Fatalf("%v: %s", args, complaints.String())
	}
	head := regexp.MustCompile(`(?m)^[A-Z][A-Z ,:;'-]{8,}`)
	before := dialogue[:strings.Index(dialogue, "The same again:")]
	all := head.FindAllString(before, -1)
	if want, got := all[len(all)-1], head.FindString(out.String()); want != got {
		t.Errorf("in the dialogue %q, from its command line %q", want, got)
	}
}

// unquote splits a command line as a shell does, single quotes only.
func unquote(line string) []string {
	var out []string
	word, in, any := "", false, false
	for _, r := range line {
		switch {
		case r == '\'':
			in, any = !in, true
		case r == ' ' && !in:
			if word != "" || any {
				out = append(out, word)
			}
			word, any = "", false
		default:
			word += string(r)
		}
	}
	return append(out, word)
}

// A bar is shown on a terminal only, and only when it takes its time.
func TestProgress(t *testing.T) {
	var b bytes.Buffer
	quiet := newProgress(&b, "waiting")
	quiet.show(1, 2)
	quiet.clear()
	if b.Len() > 0 {
		t.Errorf("no terminal, and it shows %q", b.String())
	}
	now := time.Unix(0, 0)
	p := &progress{w: &b, what: "waiting", since: now, now: func() time.Time { return now }}
	p.show(1, 4)
	if b.Len() > 0 {
		t.Errorf("at once it shows %q", b.String())
	}
	now = now.Add(patience)
	p.show(2, 4)
	p.show(2, 4)
	p.show(9, 4)
	p.clear()
	if n := strings.Count(b.String(), "waiting"); n != 2 || !strings.HasSuffix(b.String(), "\r") {
		t.Errorf("%d lines: %q", n, b.String())
	}
}

// Sheets of the diagnosis fit the terminal; prompts and the command line to
// copy are as long as they are.
func TestSuspectFitsTheTerminal(t *testing.T) {
	for _, width := range []int{72, 80, 118} {
		for _, line := range []string{
			"faults", "faults demo", "readings", "readings demo --draws 4 --inch",
			"suspect demo --draws 4 --pairs 0 --report no_start --read plate_housing_drop=1.1 --read battery_rest=1.26 --why plate_ground_high",
		} {
			var out, errs bytes.Buffer
			if code := Run(strings.Fields(line), Streams{In: strings.NewReader(""), Out: &out, Err: &errs, Width: width}); code > 1 {
				t.Fatalf("%s: status %d: %s", line, code, errs.String())
			}
			for _, l := range strings.Split(out.String(), "\n") {
				if n := len([]rune(strings.TrimRight(l, " "))); n > width {
					t.Errorf("%s at %d columns: a line of %d: %s", line, width, n, l)
				}
			}
		}
	}
}

var _ io.ReadWriter = (*mechanic)(nil)

func ExampleRun_suspect() {
	var out bytes.Buffer
	code := Run(strings.Fields("suspect demo --draws 4 --pairs 0 --report no_start --read plate_housing_drop=1.1 --read plate_earth_drop=1.2"), Streams{In: strings.NewReader(""), Out: &out, Err: io.Discard, Width: 100})
	for _, l := range strings.Split(out.String(), "\n") {
		if strings.HasPrefix(l, "GROUND WIRE") {
			fmt.Println(strings.Split(l, ":")[0])
		}
	}
	fmt.Println("exit status", code)
	// Output:
	// GROUND WIRE OF THE BREAKER PLATE HIGH
	// exit status 1
}
