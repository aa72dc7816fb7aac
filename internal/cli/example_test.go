package cli_test

import (
	"fmt"
	"os"
	"strings"

	"dwellwright/internal/cli"
)

// One command line, run as the shell would.
func ExampleRun() {
	code := cli.Run([]string{"check", "-"}, cli.Streams{
		In:  strings.NewReader("format: 1\nsystem: {voltage: 12 V, earth: sideways, cylinders: 8}\n"),
		Out: os.Stdout, Err: os.Stdout, Width: 80,
	})
	fmt.Println("exit status", code)
	// Output:
	// dwellwright: standard input:2:32: system.earth: "sideways" is not one of the words known here; accepted: negative, positive
	// exit status 2
}
