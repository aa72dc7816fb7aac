// Package suspect finds what is wrong with a car's ignition: it puts the
// catalogue of faults, the catalogue of readings and the mathematics of
// evidence together.
//
// # The bank
//
// [Prepare] draws cars from the spreads of all uncertain figures and, for each
// drawn car, works out every reading that could be taken: of the car in order,
// and of the same car with each fault of package fault at a drawn severity. All
// of it is the car's own physics, solved; nothing is looked up. Pairs of faults
// are hypotheses as well, solved in the same way as a car that has both: two faults
// may do together what neither does alone.
//
// # The case
//
// [Bank.Open] starts a diagnosis. [Case.Take] adds a reading, an owner's report,
// or that it could not be had; it only weighs the drawn cars anew. [Case.Next]
// says which reading pays most, in minutes to the right remedy, or to stop and
// mend; [Case.Why] what speaks for and against a suspect. [Case.Refine] draws
// more where few drawn cars are left to carry an answer, about those that carry it
// and with the weights that this asks for (importance sampling), and looks for
// pairs where no single fault explains what was read. A reading may be a slip: it
// never vetoes for good, and the case says which one it distrusts.
//
// # What is uncertain
//
// Priors are estimates: no survey of how often what goes wrong was found. They count
// cars that come in, most of them because their owner notices something; so how bad
// a fault is, is weighed by the chance that it is noticed. That
// nothing is wrong, and that something is wrong which this tool does not know,
// are hypotheses too; the latter grows when nothing explains what was read.
// Faults that mend alike need not be told apart.
package suspect
