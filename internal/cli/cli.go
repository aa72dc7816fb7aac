// Package cli is the shell's door to the workshop: it reads the command line,
// calls one use case and writes what came of it.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"

	"dwellwright/internal/workshop"
)

// Exit statuses. They are part of the interface: scripts lean on them.
const (
	ExitHolds    = 0 // all is well; of prove: every critical cell holds; of suspect: nothing wrong
	ExitUnproven = 1 // something falls short or is not proven; of suspect: something is suspected
	ExitBadInput = 2 // the car file or the command line can't be used
)

// Streams are where a command reads and writes.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
	Width    int // columns of the terminal
}

type commands struct {
	Demo     demoCmd     `cmd:"" help:"Open the workshop on the built-in demo car: verdict here, pages in the browser."`
	Serve    serveCmd    `cmd:"" help:"Open the workshop on car files, in the browser on this machine."`
	Prove    proveCmd    `cmd:"" help:"Print the proof sheet of a car. Exit status: 0 every critical cell holds, 1 not, 2 bad input."`
	Spark    sparkCmd    `cmd:"" help:"Work out one firing in each condition: what the coil gives, what the plug asks, what is in hand."`
	Plan     planCmd     `cmd:"" help:"Compare the ways to feed and protect trigger and coil, with the wires to cut for the best."`
	Fit      fitCmd      `cmd:"" help:"Where everything of the distributor goes: timing, rotor, air gap, seating, every way back, a safe first start."`
	Curve    curveCmd    `cmd:"" help:"The advance over speed and load: against what is wanted, what the readings say of springs and stop, the best build."`
	Suspect  suspectCmd  `cmd:"" help:"Find the fault: what is wrong, how sure, and what to read next. Exit status: 0 nothing wrong, 1 something suspected or nothing settled yet, 2 bad input."`
	Faults   faultsCmd   `cmd:"" help:"List what can go wrong, of everything or of a car: what changes, how often, what mends it."`
	Readings readingsCmd `cmd:"" help:"List what can be read, seen and asked, of everything or of a car: probes, cautions, what a car in order shows."`
	Read     readCmd     `cmd:"" help:"Predict what an instrument would read between two points of a car."`
	Netlist  netlistCmd  `cmd:"" help:"Write the solved network as a netlist for ngspice."`
	Check    checkCmd    `cmd:"" help:"Check car files and say what is assumed."`
	Schema   schemaCmd   `cmd:"" help:"Print the JSON Schema of the car file, or of what a command writes."`
	Example  exampleCmd  `cmd:"" help:"Print the demo car's file, to start your own from."`
}

// session is what every command is given.
type session struct {
	ctx context.Context
	Streams
}

// Run runs one command line and returns the exit status.
func Run(args []string, st Streams) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	var c commands
	status := -1
	parser, err := kong.New(&c,
		kong.Name("dwellwright"),
		kong.Description("Points-era ignition: what is fitted, which conversion and wiring survive, proven by measurement. It advises; local codes and licensed practice decide."),
		kong.Writers(st.Out, st.Err),
		kong.Exit(func(code int) { status = code }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Vars{"draws": "1000"},
	)
	if err != nil {
		fmt.Fprintln(st.Err, "dwellwright:", err)
		return ExitBadInput
	}
	k, err := parser.Parse(args)
	if status >= 0 { // help was asked for and printed
		return status
	}
	if err != nil {
		fmt.Fprintf(st.Err, "dwellwright: %v\nTry: dwellwright --help\n", err)
		return ExitBadInput
	}
	err = k.Run(&session{ctx: ctx, Streams: st})
	var code exitCode
	switch {
	case errors.As(err, &code):
		return int(code)
	case err != nil:
		fmt.Fprintln(st.Err, workshop.Explain(err))
		return ExitBadInput
	}
	return ExitHolds
}

// exitCode is an exit status that is not a mistake.
type exitCode int

func (e exitCode) Error() string { return fmt.Sprintf("exit status %d", int(e)) }
