package web

import (
	"bufio"
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"io"
	"log"
	"net/http"
	"runtime"
	"strconv"
	"strings"
	"time"

	"dwellwright/car"
	"dwellwright/internal/workshop"
)

//go:embed page
var pageFiles embed.FS

// Server serves the pages of some car files.
type Server struct {
	files  []*carFile
	stdin  io.Reader
	assets map[string]asset
	pages  *template.Template
	heavy  chan struct{} // one long calculation at a time
	shelf  *shelf        // what the stage Spark has worked out

	workups workups // what can be wrong with each car
}

// New prepares to serve car files; a name is what workshop.Open takes. A file
// that can't be read is served too: its page says what is wrong.
func New(names []string, stdin io.Reader) (*Server, error) {
	if len(names) == 0 {
		return nil, errors.New("no car file to serve; one or more are accepted")
	}
	s := &Server{stdin: stdin, heavy: make(chan struct{}, 1), shelf: new(shelf)}
	for _, n := range names {
		s.files = append(s.files, &carFile{name: n})
	}
	var err error
	if s.assets, err = assets(); err != nil {
		return nil, err
	}
	inc := func(n int) int { return n + 1 }
	s.pages, err = template.New("").Funcs(template.FuncMap{"inc": inc, "signs": signs}).ParseFS(pageFiles, "page/*.html")
	return s, err
}

// stage is one page of a car.
type stage struct {
	ID, Name, Question string
	// work fills in what the stage shows, and its verdict.
	work func(p *page, c *car.Car, b workshop.Bench, workers int) error
	// wired says that the page looks at one wiring, which can be chosen.
	wired bool
	// own says that the page has controls of its own in the place of the
	// circuit's, and asks for no condition.
	own bool
}

// stages are in the order of a job.
var stages = []stage{
	{"found", "As found", "What is fitted, and what does it do?", lookAtCar, true, false},
	{"plan", "Plan", "Points or trigger? Fed from where?", planCar, false, false},
	{"spark", "Spark", "Does every plug fire, and with how much in hand?", sparkCar, true, false},
	{"fit", "Fit and time", "Where does everything go?", fitCar, true, true},
	{"curve", "Curve", "Does the advance suit the engine?", curveCar, false, true},
	{"prove", "Prove", "Is it right in every condition?", proveCar, true, false},
}

// inOrder are all stages, in the order of a job: those with a bench, and Find
// the fault, which has none.
func inOrder() []*stage {
	list := []*stage{&stages[0], &faultStage}
	for i := range stages[1:] {
		list = append(list, &stages[1+i])
	}
	return list
}

// Handler answers requests that name this server at the port.
func (s *Server) Handler(port string, logger *log.Logger) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.index)
	mux.HandleFunc("GET /static/{name}", s.static)
	mux.HandleFunc("GET /cars/{n}/{$}", s.toFound)
	mux.HandleFunc("GET /cars/{n}/stamp", s.stamp)
	for i := range stages {
		st := &stages[i]
		mux.HandleFunc("GET /cars/{n}/"+st.ID, func(w http.ResponseWriter, r *http.Request) { s.stage(w, r, st) })
	}
	mux.HandleFunc("GET /cars/{n}/suspect", s.suspect)
	mux.HandleFunc("GET /cars/{n}/spark/{part}", s.sparkPart)
	mux.HandleFunc("GET /", func(w http.ResponseWriter, _ *http.Request) {
		s.notFound(w, "There is no such page.")
	})
	return guard(port, logger, mux)
}

// number finds the car a path names.
func (s *Server) number(r *http.Request) (int, bool) {
	n, err := strconv.Atoi(r.PathValue("n"))
	return n, err == nil && n >= 1 && n <= len(s.files)
}

func (s *Server) noCar(w http.ResponseWriter) {
	what := "There is no such car here; only car 1 is open."
	if len(s.files) > 1 {
		what = fmt.Sprintf("There is no such car here; cars 1 to %d are open.", len(s.files))
	}
	s.notFound(w, what)
}

func (s *Server) toFound(w http.ResponseWriter, r *http.Request) {
	n, ok := s.number(r)
	if !ok {
		s.noCar(w)
		return
	}
	http.Redirect(w, r, fmt.Sprintf("/cars/%d/found", n), http.StatusSeeOther)
}

func (s *Server) stamp(w http.ResponseWriter, r *http.Request) {
	n, ok := s.number(r)
	if !ok {
		s.noCar(w)
		return
	}
	_, count, _ := s.files[n-1].open(s.stdin)
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	fmt.Fprint(w, edition(count))
}

// opened reads the car a request is for; where there is none, or its file is
// broken, it has answered.
func (s *Server) opened(w http.ResponseWriter, r *http.Request) (n int, c *car.Car, count int, ok bool) {
	if n, ok = s.number(r); !ok {
		s.noCar(w)
		return n, nil, 0, false
	}
	c, count, err := s.files[n-1].open(s.stdin)
	if err != nil {
		s.broken(w, r, n, count, err)
	}
	return n, c, count, err == nil
}

// turn waits for the one place there is for a long calculation, and reports
// whether it got it before the request was given up; done frees it.
func (s *Server) turn(r *http.Request) bool {
	select {
	case s.heavy <- struct{}{}:
		return true
	case <-r.Context().Done():
		return false
	}
}

func (s *Server) done() { <-s.heavy }

// stage answers with a stage of a car, whole or live.
func (s *Server) stage(w http.ResponseWriter, r *http.Request, st *stage) {
	start := time.Now()
	n, c, count, ok := s.opened(w, r)
	if !ok {
		return
	}
	q := settle(c, r.URL.Query())
	b, errs := workshop.ParseBench(c, q)
	workers := runtime.GOMAXPROCS(0)
	if b.Draws > quickDraws {
		// One at a time and on half the cores, so that a slider moved
		// meanwhile is still answered at once.
		workers = max(1, workers/2)
		if !s.turn(r) {
			return
		}
		defer s.done()
	}
	p := newPage(st, n, count, c, b, errs, q, len(s.files) > 1)
	p.shelf = s.shelf
	if q.Has("live") {
		p.Live, p.Quick, p.Layout = true, b.Draws <= quickDraws, q.Get("layout")
	}
	if err := st.work(p, c, b, workers); err != nil {
		// What a person set at the bench can have no operating point.
		p.Failed = strings.TrimSuffix(plainly(err), ".") + "."
		p.Verdict = verdict{Head: "This can't be worked out", Detail: p.Failed}
	}
	p.Ms = time.Since(start).Milliseconds()
	if r.URL.Query().Has("live") {
		s.live(w, p)
		return
	}
	if p.Spark != nil {
		s.stream(w, p, start)
		return
	}
	s.write(w, http.StatusOK, "stage", p)
}

// stream sends a page whose first part is ready and whose rest takes its
// time: the browser shows the first meanwhile.
func (s *Server) stream(w http.ResponseWriter, p *page, start time.Time) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	out := bufio.NewWriterSize(w, 64<<10)
	p.Spark.before = func() {
		_ = out.Flush() // a reader that has gone needs no answer
		_ = http.NewResponseController(w).Flush()
	}
	p.Spark.after = func() { p.Ms = time.Since(start).Milliseconds() }
	if err := s.pages.ExecuteTemplate(out, "stage", p); err != nil && out.Flush() == nil {
		panic(fmt.Sprintf("page stage: %v", err))
	}
	_ = out.Flush()
}

// quickDraws is the most a request may draw without waiting its turn.
const quickDraws = 400

// write renders a page whole before any of it is sent.
func (s *Server) write(w http.ResponseWriter, status int, name string, data any) {
	var b bytes.Buffer
	if err := s.pages.ExecuteTemplate(&b, name, data); err != nil {
		panic(fmt.Sprintf("page %s: %v", name, err))
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes()) // a reader that has gone needs no answer
}

// answer is a stage as live=1 gives it.
type answer struct {
	Title   string            `json:"title"`
	Address string            `json:"address"` // of the page with this bench
	Parts   map[string]string `json:"parts"`   // by the id of the element each replaces
	Say     string            `json:"say"`     // the verdict, to be spoken
	Ms      int64             `json:"ms"`
	Draws   int               `json:"draws"`
	Edition string            `json:"edition"`
}

// parts are the templates of what changes with the bench; each stands in an
// element of that id.
var parts = []string{"stages", "verdict", "conditions", "bench", "result", "cost"}

func (s *Server) live(w http.ResponseWriter, p *page) { s.liveParts(w, p, parts) }

func (s *Server) liveParts(w http.ResponseWriter, p *page, parts []string) {
	a := answer{Title: p.Title, Address: p.Address, Parts: map[string]string{}, Say: p.Verdict.Head + ". " + p.Verdict.Detail,
		Ms: p.Ms, Draws: p.Draws, Edition: p.Edition}
	var b bytes.Buffer
	for _, name := range parts {
		b.Reset()
		if err := s.pages.ExecuteTemplate(&b, name, p); err != nil {
			panic(fmt.Sprintf("part %s: %v", name, err))
		}
		a.Parts[name] = b.String()
	}
	s.json(w, http.StatusOK, a)
}

func (s *Server) json(w http.ResponseWriter, status int, v any) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // it is never read as HTML: its type says so, and nosniff holds
	if err := e.Encode(v); err != nil {
		panic(fmt.Sprintf("answer: %v", err))
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes())
}

func (s *Server) notFound(w http.ResponseWriter, what string) {
	s.write(w, http.StatusNotFound, "missing", struct{ Title, What string }{"Not found", what})
}

// problem is one thing wrong with a car file, as a page shows it.
type problem struct{ Place, Field, What, Accept, Hint string }

// broken shows what is wrong with a car file. A live page is told to load
// itself anew.
func (s *Server) broken(w http.ResponseWriter, r *http.Request, n, count int, err error) {
	if r.URL.Query().Has("live") {
		s.json(w, http.StatusUnprocessableEntity, answer{Edition: edition(count)})
		return
	}
	d := struct {
		Title, File, Edition string
		N                    int
		Several              bool
		Problems             []problem
		More                 int
		Other                string
	}{Title: "The car file can't be used", File: s.files[n-1].name, Edition: edition(count), N: n, Several: len(s.files) > 1}
	var list car.Errors
	if errors.As(err, &list) {
		for i, p := range list {
			if i == car.Listed {
				d.More = len(list) - i
				break
			}
			d.Problems = append(d.Problems, problem{p.Pos.String(), p.Field, p.What, p.Accept, p.Hint})
		}
	} else {
		d.Other = err.Error()
	}
	s.write(w, http.StatusUnprocessableEntity, "broken", d)
}

// index lists the cars, or goes to the only one.
func (s *Server) index(w http.ResponseWriter, r *http.Request) {
	if len(s.files) == 1 {
		http.Redirect(w, r, "/cars/1/found", http.StatusSeeOther)
		return
	}
	type entry struct {
		N                 int
		Name, File, Facts string
		Broken            bool
	}
	var d struct {
		Title string
		Cars  []entry
	}
	d.Title = "Cars"
	for i, f := range s.files {
		c, _, err := f.open(s.stdin)
		e := entry{N: i + 1, Name: f.title(c), File: f.name, Broken: err != nil}
		if err == nil {
			e.Facts = facts(c)
		}
		d.Cars = append(d.Cars, e)
	}
	s.write(w, http.StatusOK, "index", d)
}
