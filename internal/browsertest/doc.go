// Package browsertest drives the workshop's pages in a real browser: sliders
// by keyboard and pointer, the page without a pointer and without a script,
// its width on a phone, its console, its speed, and the rules of accessibility.
// It holds tests only.
//
// The browser is Debian's chromium. Where it is absent the tests are skipped,
// loudly, unless CI is set: then they fail. With DWELLWRIGHT_SHOTS set to a
// folder, pictures of every stage are left there.
//
// Zoomable traces are tested on a page of their own, with 10,000 points, under
// the workshop's policy, styles and scripts: by mouse, keys and fingers. What
// the page vendors is held to its checksums.
//
// testdata/axe.min.js.gz is axe-core 4.14.1 as its registry serves it, packed,
// under the licences beside it; axe.sha256 is the checksum of what is packed,
// which a test holds it to. What it checks are the success criteria of WCAG 2.2.
package browsertest
