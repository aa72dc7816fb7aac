package web_test

import (
	"fmt"
	"io"
	"log"
	"net/http/httptest"
	"strings"

	"dwellwright/internal/web"
)

// The demo car is opened and its proof sheet asked for.
func Example() {
	srv, err := web.New([]string{"demo"}, strings.NewReader(""))
	if err != nil {
		fmt.Println(err)
		return
	}
	h := srv.Handler("8747", log.New(io.Discard, "", 0))
	r := httptest.NewRequest("GET", "/cars/1/prove?ground=0.5+ohm&draws=50", nil)
	r.Host = "localhost:8747"
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	_, rest, _ := strings.Cut(w.Body.String(), `<p class="head">`)
	head, _, _ := strings.Cut(rest, "</p>")
	fmt.Println(w.Code, head)
	// Output: 200 FALLS SHORT in 1 critical cell
}
