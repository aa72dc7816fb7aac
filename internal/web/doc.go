// Package web is the browser's door to the workshop: pages for a car file,
// served on this machine only.
//
// A page is worked out on the server and is complete without a script. What a
// person tries at the bench lives in the page's address and nowhere else, so
// a page can be kept, sent and gone back to; no request changes anything.
//
//	/                     the cars, or the only one
//	/cars/{n}/found       the car as found: wiring, voltages, one cycle
//	/cars/{n}/suspect     find the fault: suspects, and the next reading
//	/cars/{n}/plan        the ways to feed and protect coil and trigger
//	/cars/{n}/spark       what plug and coil say, one firing, map, switches, heat, spikes
//	/cars/{n}/spark/...   its parts that take their time, and the trace of a firing
//	/cars/{n}/fit         where everything of the distributor goes
//	/cars/{n}/curve       the advance against what is wanted
//	/cars/{n}/prove       the proof sheet
//	/cars/{n}/stamp       changes when the car file does
//	/static/...           style, scripts, icon
//
// With live=1 in the address a stage answers with JSON instead: the parts of
// the page that depend on the bench, each under the id of its element, and
// what it cost. The script in static/ puts them in place (see bench.js); draws
// in the address says how many cars to draw from the spreads, few while a
// slider moves and many when it rests.
//
// The stage Spark takes longer than the blink of an eye. Its page is sent as it
// gets ready, the figures first, and is whole without a script. With one, each
// of its parts is asked for by an address of its own (parts.js): in sight and
// from the middle car while something moves, in full when it rests. What was
// worked out is kept, so that going back costs nothing. A firing is drawn as a
// still picture, which trace.js makes zoomable.
//
// The stages Fit and time and Curve have controls of their own, and pictures
// with things in them to take hold of: can and trigger of the distributor, the
// wanted points of the curve. What is held moves at once, by the script
// (fit.js, curve.js), and is written into the form's fields, which are what
// the server is asked with. What a move does not change is answered from what
// was worked out at rest. Figures tried at one stage are carried along in the
// address, and in hidden fields, on every other.
//
// The stage Find the fault has no bench. What is said at the car stands in the
// address, c for each complaint of the owner and r for each reading or repair
// in order, and is carried along on every other stage. A form's answer is put
// into the address by a redirect. What can be wrong with a car is worked out
// once for each edition of its file, behind the pages, which say how far it is
// (suspectbank.go); after that an answer only weighs what is there. With
// live=quick it comes at once, with live=fine it is made finer and has the
// reasons; a plain page is always the latter. A fine answer may differ a little
// by the way it was come to, since each makes what it needs finer.
//
// # What is kept out
//
// The server listens on a loopback address and nothing else. A request is
// answered only if its Host is that of this server, so that no outside name
// pointed at this machine reads a job. Nothing is fetched from anywhere else,
// by the page or for it; the content policy says so to the browser.
package web
