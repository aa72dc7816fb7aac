package web

import (
	"log"
	"net"
	"net/http"
	"runtime/debug"
	"strings"
)

// policy lets a page use what this server gives and nothing else: no inline
// script or style, no frame, no plug-in, no form to anywhere else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// longestAddress is more than any bench needs, in bytes.
const longestAddress = 4 << 10

// guard puts before a handler what every request has to pass.
func guard(port string, logger *log.Logger, next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	h := cross.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if x := recover(); x != nil {
				if x == http.ErrAbortHandler {
					panic(x)
				}
				logger.Printf("a mistake in the program, at %s: %v\n%s", r.URL.Path, x, debug.Stack())
				refuse(w, http.StatusInternalServerError, "Something in the program went wrong. The car file is untouched; what happened is in the terminal.")
			}
		}()
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "no-referrer")
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		head.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
		switch {
		case !ownHost(r.Host, port):
			refuse(w, http.StatusForbidden, "This workshop answers only to localhost, 127.0.0.1 and [::1], with its own port.")
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			head.Set("Allow", "GET, HEAD")
			refuse(w, http.StatusMethodNotAllowed, "This workshop only shows; nothing can be sent to it.")
		case len(r.RequestURI) > longestAddress:
			refuse(w, http.StatusRequestURITooLong, "That address is longer than any bench needs.")
		default:
			r.Body = http.MaxBytesReader(w, r.Body, 1<<10)
			h.ServeHTTP(w, r)
		}
	})
}

// refuse answers in one plain line.
func refuse(w http.ResponseWriter, status int, text string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(text + "\n")) // a reader that has gone needs no answer
}

// ownHost reports whether a Host header names this server: a name some other
// site points at this machine does not (DNS rebinding).
func ownHost(host, port string) bool {
	name, p, err := net.SplitHostPort(host)
	if err != nil { // no port: the default one
		name, p = strings.Trim(host, "[]"), "80"
	}
	return p == port && (name == "127.0.0.1" || name == "::1" || strings.EqualFold(name, "localhost"))
}
