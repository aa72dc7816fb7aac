package cli

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"
)

// progress is a bar on a terminal, for what takes its time. The zero value
// shows nothing.
type progress struct {
	mu    sync.Mutex
	w     io.Writer // nil: nobody is watching
	what  string
	since time.Time
	now   func() time.Time
	last  string
}

// patience is how long a person waits without being told.
const patience = 500 * time.Millisecond

// newProgress shows what is being done on w where that is a terminal.
func newProgress(w io.Writer, what string) *progress {
	if !onTerminal(w) {
		return &progress{}
	}
	return &progress{w: w, what: what, since: time.Now(), now: time.Now}
}

// onTerminal reports whether a stream is a terminal.
func onTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	if !ok {
		return false
	}
	st, err := f.Stat()
	return err == nil && st.Mode()&os.ModeCharDevice != 0
}

const progressWide = 20

// show says how much is done.
func (p *progress) show(done, of int) {
	if p.w == nil || of <= 0 {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.now().Sub(p.since) < patience {
		return
	}
	n := min(max(progressWide*done/of, 0), progressWide)
	line := fmt.Sprintf("%s%s %s", strings.Repeat("█", n), strings.Repeat("░", progressWide-n), p.what)
	if line != p.last {
		fmt.Fprintf(p.w, "\r%s", line)
		p.last = line
	}
}

// clear takes the bar away.
func (p *progress) clear() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.last != "" {
		fmt.Fprintf(p.w, "\r%s\r", strings.Repeat(" ", len([]rune(p.last))))
		p.last = ""
	}
}
