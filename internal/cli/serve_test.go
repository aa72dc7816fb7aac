package cli

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"
)

// The demo car says first what it is there to say: a trigger fed behind the
// ballast falls short at a hot idle with every load on, one fed before it is
// expected to hold.
func TestDemoVerdict(t *testing.T) {
	var out bytes.Buffer
	cmd := demoCmd{Verdict: true}
	if err := cmd.Run(&session{ctx: context.Background(), Streams: Streams{Out: &out, Err: io.Discard, Width: 100}}); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(out.String()), " ")
	for _, want := range []string{
		"fed behind the ballast FALLS SHORT at hot idle, every load on: lowest instant of its feed ",
		"fed before the ballast is expected to hold at hot idle, every load on: lowest instant of its feed ",
		" V, limit at least ", " ± ", "Best of all ways: ", "a reading proves", "local codes and licensed practice decide",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the verdict does not say %q:\n%s", want, text)
		}
	}
}

func TestServeRefusesTheNetwork(t *testing.T) {
	for _, host := range []string{"0.0.0.0", "192.168.1.20", "::"} {
		cmd := serveCmd{Cars: []string{"demo"}, door: door{Listen: host}}
		err := cmd.Run(&session{ctx: context.Background(), Streams: Streams{Out: io.Discard, Err: io.Discard}})
		if err == nil || !strings.Contains(err.Error(), "accepted: 127.0.0.1") {
			t.Errorf("--listen %s: %v", host, err)
		}
	}
}

// lockedBuffer is written by the command and read by the test.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// serve says where it is, answers there, and stops when told to.
func TestServeUntilStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var out lockedBuffer
	done := make(chan error, 1)
	go func() {
		cmd := serveCmd{Cars: []string{"demo"}, door: door{Listen: "127.0.0.1"}}
		done <- cmd.Run(&session{ctx: ctx, Streams: Streams{Out: &out, Err: io.Discard}})
	}()
	address := ""
	for range 500 {
		if _, rest, ok := strings.Cut(out.String(), "open at "); ok {
			address, _, _ = strings.Cut(rest, " ")
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	r, err := http.Get(address)
	if err != nil {
		t.Fatalf("%q: %v", out.String(), err)
	}
	r.Body.Close()
	if r.StatusCode != http.StatusOK || r.Request.URL.Path != "/cars/1/found" {
		t.Errorf("status %d at %s", r.StatusCode, r.Request.URL)
	}
	cancel()
	if err := <-done; err != nil {
		t.Error(err)
	}
}
