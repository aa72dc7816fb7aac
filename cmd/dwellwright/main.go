// Command dwellwright is the workshop: see README.md.
package main

import (
	"os"
	"strconv"

	"dwellwright/internal/cli"
)

func main() {
	width := 118
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n >= 40 {
		width = n
	}
	os.Exit(cli.Run(os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Width: width}))
}
