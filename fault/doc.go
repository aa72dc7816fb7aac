// Package fault is what goes wrong with a car's ignition, as changes of the
// figures of package car: the ballast that has burnt through is one of megohms,
// the worn switch some ohms more in its contact, the rotor a size too short a
// wider gap. What a meter, a light or a gauge would then show follows from the
// same physics as for the healthy car, and nothing here says it.
//
// # A fault
//
// Catalogue lists them, from the battery to the fuel, all with an id that
// stays. Each has the change in words with its figures, how common it is,
// which cars can have it (Fits), when it is there, and its Remedy; faults that
// the same work cures have the same remedy, for then it need not be found out
// which of them it was. ByID finds one.
//
// # How bad
//
// Sizes says how each figure is spread, from the mildest case to the worst.
// Resistances and leaks go over decades and are spread evenly in their
// logarithm, angles and gaps evenly. The caller draws the uniforms of a
// Severity; U[0] to U[2] go through the quantiles of the sizes and U[3] decides
// when the fault is there. The same severity is always the same fault.
//
// Figures and priors are common practice, from memory, or estimates, and
// Evidence says which for the figures. No survey of how often what fails was
// found: every prior is an estimate, in cases per 100 complaints, and its rank
// is worth more than its number. A car's story shifts it (Context, PriorIn).
//
// # Applied
//
// Apply changes a drawn car, the caller's own, as it is in one of its
// conditions:
//
//	d := c.Clone()
//	f.Apply(d, &d.Conditions[i], s)
//
// It is there always, only from a temperature of the bay on, in a share of the
// conditions, with the plate drawn over by vacuum, or in one position of the
// key (When, Present). A hand pump on the can of a stopped engine is a
// condition whose manifold is what the pump draws. Moves lists every figure
// that may change and which way; what goes through the car's wiring stays
// joined as it was, so that a network built once serves all, but for the fault
// that says Rewires.
//
// Two that set the same figure, or draw it opposite ways, are not Compatible;
// ohms in series, leaks side by side and degrees of timing add up. ApplyBoth
// puts two in, in the order in which the one bears on the other.
//
// What a timing light sees and when the plugs fire are changed each for itself:
// a damper's ring that has crept moves the first alone, a timing set by a wrong
// mark the second alone. With the plug leads a tower off, or half a turn, the
// light on No. 1 sees what it would; half a turn is 360 crank degrees, which
// at the mark looks like none.
//
// # What is not here
//
// A car's figures are those of all cylinders alike, so there is no fault of one
// plug, one lead, one magnet or one lobe. Ripple, noise and mixture are no
// figures either. Of a break in the high-voltage way only what it takes to jump it
// counts, and not what the arc in it burns. What joins the coil's switched side to earth is a short of an
// ohm at most: what leaks there and still lets a spark come is not here. A rotor
// out of phase is seen through the cap, but does not yet ask for more volts. A condenser that breaks down is taken as a load on the coil,
// shorted turns likewise: right for the spark, and for no ohmmeter.
package fault
