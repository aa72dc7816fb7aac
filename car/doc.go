// Package car is one car's ignition as data: what is fitted, how it is wired,
// how its distributor stands, in which conditions it must hold and what was
// measured on it. It reads the car file, fills in what the file does not say, and does no
// physics.
//
// # The file
//
// A car file is YAML that a person writes. Two lines are enough:
//
//	format: 1
//	system: {voltage: 12 V, earth: negative, cylinders: 8}
//
// Everything else is optional and falls back to a typical figure with its
// spread. The sections are battery, charging, starter, key_switch, wiring (one
// entry for each leg of LegNames), ballast, coil, switch (points or trigger
// module), feed, relay, loads, planned (a conversion being thought of), plugs,
// cap (with its rotor), engine, distributor, timing, trigger (how a module
// sits on the shaft), advance, bench, conditions and readings. docs/car-file.md lists every field;
// schema/car.schema.json lets an editor complete and check them as they are
// typed.
//
// A figure is written with its unit and, if known, its uncertainty, and can
// be marked as measured:
//
//	coil:
//	  class: ballasted
//	  primary: 1.5 ohm
//	  inductance: 7 ± 1 mH
//	ballast:
//	  cold: {value: 0.9 ± 0.05 ohm, measured: yes}
//
// Without a ±, a figure is taken as good to what is usual for its field: 5 %
// for a coil's resistance, 10 % for a current, three or five degrees for a
// temperature. Nothing but a count, or a limit off a sheet, is ever taken as
// exact.
//
// A reading says where the probes were, in which condition, with what, and
// what it showed:
//
//	readings:
//	  - at: [trigger_supply, breaker_plate]
//	    condition: hot_idle
//	    instrument: voltmeter_minimum
//	    value: 7.4 V
//	    accuracy: 0.5 % + 2 digits
//
// # The distributor
//
// Angles of the distributor are in its own degrees, clockwise seen from above
// the cap; timing is in crank degrees before top dead centre, of which there
// are two to each:
//
//	distributor:
//	  rotation: clockwise
//	  firing_order: 1-8-4-3-6-5-7-2
//	  obstacles: {hose: {from: 8 deg, to: 34 deg}}
//	timing: {wanted: 8 deg, before: 8 ± 1 deg, trigger_later: 20 ± 1 deg}
//	advance:
//	  wanted: [[600 rpm, 8 deg], [2000 rpm, 24 deg]]
//	  runs:
//	    - {going: up, points: [[650 rpm, 8 deg], [1400 rpm, 13 deg]]}
//
// Of timing.before, timing.after and timing.trigger_later any two make the
// third, which is then assumed. Params lists the three as figures of their
// own, so who draws a car at random makes the third anew. Whether the can can
// stand where it does is a question for the package distributor.
//
// # Where a figure comes from
//
// Every figure is a Param: a value with its spread, its kind, whether it is
// assumed, stated or measured, and where in the file it stands. Params lists
// all of them in a fixed order, for a program that draws cars at random from
// what is known or shows how far each figure can be trusted.
//
// Some figures bear on the spark alone and on no voltage a meter reads: most
// of the coil's secondary, the condenser, plugs, cap, engine, what a cylinder
// holds in each condition. Params lists them behind those that do; and behind
// all of them what belongs to distributor, timing and advance.
//
// # One table
//
// Each section has a table of entries, one for each name it may hold, with
// its doc, its kind, its limits and its typical value; the source of each
// typical value stands beside it. Reading, filling in, listing, the schema and
// the reference page all walk these tables, so they cannot disagree. A new
// figure is one new entry and one new struct field.
//
// # What is refused
//
// Parse reports everything that is wrong at once, in file order, as Errors:
// each Problem says where, which field, what is wrong, what would be accepted
// and, for a slip of the pen, what was probably meant. Refused are figures no
// car can have, entries that cannot both be true, and whatever in YAML makes
// a file mean something else than it seems to: anchors, aliases, merge keys,
// tags, doubled names, several documents. Files are limited to MaxBytes,
// MaxDepth and MaxNodes, and reading the worst of them takes a fraction of a
// second.
//
// A slip that YAML takes for something else is said as what it is: a decimal
// comma inside { } (slips.go), a missing space after a colon, a word where a
// section should be, a word of the trade for ours (suggest.go).
//
// A mistake that is really made on cars is not refused: a ballasted coil
// without its ballast is a car to be mended, not a file to be corrected.
package car
