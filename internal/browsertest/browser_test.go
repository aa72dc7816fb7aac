package browsertest

import (
	"context"
	"fmt"
	"iter"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"dwellwright/internal/web"
)

// The two screens the pages are made for.
var (
	phone  = screen{"phone", 390, 844}
	laptop = screen{"laptop", 1280, 800}
)

type screen struct {
	name          string
	width, height int64
}

// site is a workshop that is being served and a browser to look at it with.
type site struct {
	address string
	browser context.Context
}

var shared struct {
	once sync.Once
	site *site
	why  string
}

var closers []func()

func TestMain(m *testing.M) {
	code := m.Run()
	for i := len(closers) - 1; i >= 0; i-- {
		closers[i]()
	}
	os.Exit(code)
}

// open gives the shared workshop on the demo car, or skips the test.
func open(t *testing.T) *site {
	t.Helper()
	shared.once.Do(func() { shared.site, shared.why = start() })
	if shared.site != nil {
		return shared.site
	}
	if os.Getenv("CI") != "" {
		t.Fatalf("no browser, and CI is set: %s", shared.why)
	}
	fmt.Fprintf(os.Stderr, "\n*** THE PAGES ARE NOT TESTED: %s ***\n\n", shared.why)
	t.Skip(shared.why)
	return nil
}

func start() (*site, string) {
	path, err := exec.LookPath("chromium")
	if err != nil {
		return nil, "chromium is not installed"
	}
	address, stop, err := serve("demo")
	if err != nil {
		return nil, err.Error()
	}
	closers = append(closers, stop)
	profile, err := os.MkdirTemp("", "dwellwright-browser-")
	if err != nil {
		return nil, err.Error()
	}
	closers = append(closers, func() { os.RemoveAll(profile) })
	flags := append([]chromedp.ExecAllocatorOption{}, chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.Headless,
		chromedp.ExecPath(path), chromedp.UserDataDir(profile), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("hide-scrollbars", true), chromedp.Flag("process-per-site", true), chromedp.WSURLReadTimeout(60*time.Second))
	alloc, stopAlloc := chromedp.NewExecAllocator(context.Background(), flags...)
	browser, stopBrowser := chromedp.NewContext(alloc)
	closers = append(closers, stopAlloc, stopBrowser)
	if err := chromedp.Do(browser); err != nil {
		return nil, "chromium does not start: " + err.Error()
	}
	return &site{address, browser}, ""
}

// serve opens a workshop on car files.
func serve(cars ...string) (address string, stop func(), err error) {
	srv, err := web.New(cars, strings.NewReader(""))
	if err != nil {
		return "", nil, err
	}
	l, err := web.Listen("127.0.0.1", 0)
	if err != nil {
		return "", nil, err
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() {
		defer close(done)
		if err := srv.Serve(ctx, l, log.New(os.Stderr, "", 0)); err != nil {
			log.Print(err)
		}
	}()
	return strings.TrimSuffix(web.Address(l), "/"), func() { cancel(); <-done }, nil
}

// tab is one page under test.
type tab struct {
	t       *testing.T
	ctx     context.Context
	address string
	mu      sync.Mutex
	errors  []string
}

// visit opens a page on a screen in a theme ("" is the system's, light).
func (s *site) visit(t *testing.T, sc screen, theme, path string) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(s.browser)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	messages := chromedp.Console(ctx)
	ctx, cancelTime := context.WithTimeout(ctx, 90*time.Second)
	t.Cleanup(cancelTime)
	p := &tab{t: t, ctx: ctx, address: s.address}
	go p.listen(messages)
	p.run(chromedp.EmulateViewport(sc.width, sc.height), before(fmt.Sprintf("localStorage.setItem('theme', %q)", theme)))
	if os.Getenv("DWELLWRIGHT_SHOTS") == "" { // figures for the eye are drawn in full
		p.run(before(`{ const real = fetch; window.fetch = (at, how) => real(String(at).replace("draws=1000", "draws=150"), how); }`))
	}
	p.goTo(path)
	return p
}

// listen keeps what the page complains of.
func (p *tab) listen(messages iter.Seq2[chromedp.ConsoleMessage, error]) {
	for m, err := range messages {
		if err != nil {
			return
		}
		if m.IsException() || m.Type == "error" || m.Type == "warning" {
			p.mu.Lock()
			p.errors = append(p.errors, m.String())
			p.mu.Unlock()
		}
	}
}

func (p *tab) complaints() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.errors...)
}

func (p *tab) run(actions ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	if err := chromedp.Do(p.ctx, actions...); err != nil {
		p.t.Fatal(err)
	}
}

// goTo opens a path and waits until it is ready.
func (p *tab) goTo(path string) {
	p.t.Helper()
	p.run(chromedp.Navigate(p.address + path))
	p.ready()
}

// ready waits until a page just opened has its figures from many cars.
func (p *tab) ready() {
	p.t.Helper()
	p.wait("document.documentElement.dataset.answered === 'settled' || document.readyState === 'complete' && !document.body.dataset.stage")
}

// eval gives the value of an expression of the page.
func eval[T any](p *tab, js string) T {
	p.t.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v", js, err)
	}
	return v
}

// wait waits until an expression of the page is true.
func (p *tab) wait(js string) {
	p.t.Helper()
	for end := time.Now().Add(15 * time.Second); ; time.Sleep(15 * time.Millisecond) {
		// Between two pages there is an instant without a document.
		if eval[bool](p, "!!document.documentElement && !!document.body && !!("+js+")") {
			return
		}
		if time.Now().After(end) {
			p.t.Fatalf("never true: %s\nverdict: %s\nerrors: %q", js, eval[string](p, "document.body.innerText.slice(0, 400)"), p.complaints())
		}
	}
}

// settle waits until the page rests, with many cars drawn.
func (p *tab) settle() {
	p.t.Helper()
	p.wait("document.documentElement.dataset.answered === 'settled'")
}

// moving says that a move is about to be made, answered waits for what comes
// of it.
func (p *tab) moving() { eval[chromedp.Void](p, "delete document.documentElement.dataset.answered") }

func (p *tab) answered() {
	p.t.Helper()
	p.wait("document.documentElement.dataset.answered")
}

// shoot leaves a picture of the whole page, when pictures are asked for.
func (p *tab) shoot(name string, whole bool) {
	p.t.Helper()
	dir := os.Getenv("DWELLWRIGHT_SHOTS")
	if dir == "" {
		return
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		p.t.Fatal(err)
	}
	shot := chromedp.CaptureScreenshot()
	if whole {
		shot = chromedp.FullScreenshot(100)
	}
	png, err := chromedp.Run(p.ctx, shot)
	if err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
		p.t.Fatal(err)
	}
}
