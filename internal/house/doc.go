// Package house holds the shape of the program to its plan: which package
// stands on which floor, who may import whom, and what every package and file
// owes its reader. It is used by its own test only, which walks the module:
//
//   - a package imports from floors below its own; an import upward or on the
//     same floor is refused, but for the few arrows that are named with their
//     reason;
//   - packages that only tests use are not imported by the program;
//   - below the floor of the use cases nothing opens files or sockets, asks
//     the clock or draws unseeded chance;
//   - a file a person reads has at most 600 lines;
//   - every package has a comment and, where it has something to show, an
//     example whose output is checked;
//   - no package has a name that could hold anything.
//
// [Ours] is the plan of this program. ARCHITECTURE.md draws it; a test
// compares the two, and others hold README.md to what the program prints and
// the links of every page to files that are there.
package house
