// Package evidence diagnoses from weighted draws. It knows hypotheses, what each
// predicts for every reading that could be taken, the readings that were taken,
// and what readings and remedies cost; it knows nothing of cars.
//
// # Draws
//
// A hypothesis is some dozens of cars, drawn as it says they are: draw k of every
// hypothesis is the same base car k with that hypothesis' faults in it. What each
// car would show in each channel is worked out once, beforehand, by the caller
// ([Hypothesis].Draws). A reading then only weighs draws: the likelihood of all
// readings together belongs to one draw, never to a product over channels, so a
// high battery explains a high coil and not a fault. Hypotheses exclude each
// other; two faults at once are a hypothesis of their own with Members (de Kleer &
// Williams 1987, Diagnosing multiple faults). The last hypothesis is always that
// something is wrong which the model does not know ([Unknown]).
//
//	b, err := evidence.Prepare(model) // once per catalogue and car
//	c := b.Open()                     // a case
//	err = c.Take(evidence.Reading{Channel: "coil", Value: 11.2})
//	p := c.Posterior()                // hypotheses, remedies, members
//	n, err := c.Next(evidence.Situation{Setup: "key on"})
//	w, err := c.Why("feed_high", evidence.Situation{})
//	err = c.Repair(evidence.Repair{Remedies: []string{"clean_feed"}})
//
// # Between draws
//
// A few dozen draws leave room between them. Each carries a Gaussian kernel with
// the shape of the draws' own correlation (Silverman 1986; West 1993), narrower
// where draws are dense, and a reading moves it as a Kalman filter would (Alspach &
// Sorenson 1972). In a world
// of straight lines and Gaussians, 48 draws give the log evidence of one reading
// to -0.03 ± 0.23, of four readings of three causes to -0.2 ± 1.1, in nats; where
// the instrument is as wide as the spread of the cars, ± 0.2. [Case.NeedsDraws]
// says where too few draws carry too much; [Case.Redraw] gives them more.
// [Case.Posterior] takes the sums as they are; [Case.Hedged] averages over evidence
// that is off by as much as this, and is what a person is to be told.
//
// All figures are kept in widths of the instrument, in a scale on which its error
// is the same everywhere: a resistance read to 5 % becomes its logarithm.
//
// # Slips
//
// What is written down may not be what was to be read: the point one place off,
// millivolts for volts, probes swapped, a probe in the wrong place. Every reading
// is a mixture of the right one and these ([Channel].SlipProb), so none vetoes a
// hypothesis for good, and [Case.Taken] says of each how likely it was a slip.
// Read again, a channel's last reading counts.
//
// # What to read next
//
// [Case.Next] gives each channel's expected gain in bits about the remedy
// (Lindley 1956, On a measure of the information provided by an experiment) and
// the expected minutes to the right remedy with it: reading, set-up, and then the
// remedies in falling order of probability per minute (Heckerman, Breese &
// Rommelse 1995, Decision-theoretic troubleshooting; Breese & Heckerman 1996,
// Decision-theoretic troubleshooting: a framework for repair and experiment). The
// most promising are looked at with a second reading behind them. When no reading
// saves what it costs, it says stop and mend. On small catalogues, where every
// plan can be tried, following it takes 1 % longer than the best plan on average.
//
// # Why, and after a repair
//
// [Case.Why] adds up in decibans what each reading did to the odds against the
// healthy car and against the runner-up, and names the reading that would tell
// most against a verdict. [Case.Repair] passes the probability of what was mended
// on, draw by draw; readings before and after are kept apart.
//
// # Limits
//
//   - The kernel bends only as the draws as a whole do: two readings on a sharply
//     curved line are blurred to its chord by the kernel's share of the spread,
//     about a third of the variance for 48 draws.
//   - An instrument's error is drawn anew for each reading. One meter that reads
//     2 % high throughout is not modelled; give it as an uncertain figure of the
//     base car.
//   - Because of possible slips the order of readings matters a little: 0.7 % of
//     the probability changes hands on average in synthetic cases.
//   - After a repair what was learnt of the base car lives on in the weights of
//     the draws alone where the hypothesis changed, the kernels start afresh.
//   - Remedies are taken to help for sure in the expected minutes, and no reading
//     is planned between two remedies; [Case.Next] is asked anew instead.
//   - In a synthetic circuit with faults over two decades and readings chosen by
//     Next, verdicts were said with 66 % on average and right in 63 %. The excess
//     comes from a fault that shows on half of its cars only, of which 48 draws
//     are too few to be sure; with 400 draws it is gone.
//   - Checked by simulation-based calibration (Talts et al. 2018) and by how often
//     verdicts of a stated probability are right, in worlds drawn from the model
//     itself. A catalogue that misses the truth is caught only as far as Unknown
//     can catch it.
//
// Everything is deterministic. A [Bank] may be shared, a [Case] belongs to one
// goroutine.
package evidence
