// Package measure is everything that can be read, looked at or asked of a car's
// ignition, each with where the probes go, what the engine does meanwhile, what
// it takes in minutes and skill, what can hurt, and what this very car would
// show: predicted from its figures, in order or with any fault that can be
// written as a change of figures.
//
// # The list
//
// Catalogue gives the measures that a car can have; Why says of any other why
// not (points have no feed to measure). A Measure is plain data. Its ids are
// those of IDs. There are
//
//   - readings: supply, feed, ground, primary, trigger, secondary, timing and
//     advance. Their figure is in the SI unit of their Kind, and Accuracy is the
//     half-width of the instrument at a figure.
//   - observations: looks, and what owners say. Their figure is the chance, 0 to
//     1, that it would be reported of that car.
//
// What has to be got ready first is a Setup, which costs its minutes once for
// all readings of the group. All minutes and skills are estimates.
//
// # Reading a drawn car
//
//	list := measure.Catalogue(c)
//	b, err := measure.NewBench(c, list)
//	s := twin.NewSampler(c, seed)
//	for k := 1; k <= n; k++ {
//		s.Draw(k)
//		b.Take(s) // or write figures into b.Car()
//		err := b.Read(func(c *car.Car, k *car.Condition) { fault.Apply(c, k, how) }, out)
//	}
//
// The networks are built once; Read sets their figures and solves them, one
// for each state that the list needs, and everything that is read in a state
// comes from one solution. change is called for every state on a fresh copy of
// the drawn car, so that a fault can be there hot and not cold. A change that
// alters what is joined to what gets a network of its own, which is kept. On
// one core of a plain machine a Read of all of the demo car takes some 0.7 ms.
//
// Every figure with a Spec is the same as twin.Predict gives without draws; but
// what a tester on a plug lead gets is without the leaks of the plugs, which it
// stands in for, and less what a break on the way takes, where a change has put
// some there.
// NaN is what cannot be read on that car, never a failure in silence: a state
// without a solution is told as an *UnsolvedError.
//
// # States
//
// A measure is taken in one of the car's built-in conditions, with the key off,
// or in a state made out of a condition: cranking on a mild day, 1500 rpm two
// minutes after a cold start, hot idle with nothing on, and the key on with a
// hand pump holding the vacuum can's plate over.
//
// # How an observation comes about
//
// From margins, wherever physics can say. The chance that
//
//   - a spark strikes: ln(available/asked) over the spread of one spark from the
//     next (8 %);
//   - a trigger works: its feed's lowest instant over what it must have, its air
//     gap under the largest that fires every lobe at that heat, its chip under
//     the temperature it stands;
//   - a spark is of use: the rotor's phase inside what its neighbours leave it
//     (package distributor), and the spark in the right stroke;
//   - an engine starts, runs or misses: from the share of its sparks that are
//     of use, the timing's verdict for a first start, and the speed that a
//     series motor reaches at the starter's volts;
//   - a lamp dims: light as the power 3.4 of volts;
//   - it pings or is dull: timing over the speeds against the curve the car's
//     file wants, what it says is safe, or what is common.
//
// Where physics ends there are estimates, each a named constant with its
// reason: how many sparks an engine needs, how large a miss is noticed, how
// often what is so goes unreported (1 in 10) and what is not so is reported (1
// in 50). Nothing was surveyed. An engine's timing is what its plugs do, not
// what a light shows: a change of a condition's advance that the light does not
// show counts for the plugs, and one that only the light shows does not.
//
// # What is left out
//
// Cylinders are alike: a single bad lead or plug is not told from the rest.
// Readings of the running engine are those it would have if turned at that
// speed; with OnlyIfRuns they are NaN where it certainly would not run. Ripple,
// noise and mixture are no figures of a car, and compression is that of all its
// cylinders. How king lead and plug leads share their resistance is taken as three
// parts in ten to seven, good to 40 %. Reports of an owner
// hang together more closely than here, where each has its own lapse.
//
// What is said of hazards are the usual cautions; the maker's manual, local
// rules and licensed practice come before them.
package measure
