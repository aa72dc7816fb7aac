// Package lobes takes a run of a distributor on a degree wheel or under a
// stroboscope apart: what the cam does, what the shaft does, what the bushing
// does, and what is chance.
//
// # The run
//
// For every turn and every lobe, in the order they fire, the wheel's reading
// where the points opened or the trigger switched: a [Run]. [Separate] wants it,
// the ideal angles of the lobes, even or not, and how well the wheel was read.
// Three turns are the least; ten or more give useful figures.
//
// # The model
//
// With a[j] the ideal angle of lobe j and τ = t + a[j]/360 the shaft's turns, a
// firing comes late, in distributor degrees, by
//
//	d = offset + slope·(τ-τ̄) + cam[j] + C·cos a[j] + S·sin a[j] + g + e
//
// Least squares in two steps, exact on a full table of L lobes and n turns:
//
//	slope = Σ (t-t̄)·d / (L·Σ (t-t̄)²)                        over all firings
//	M[j]  = mean over turns of d - slope·(a[j]-ā)/360
//	offset, C, S = (Z'Z)⁻¹ Z'M,  Z = [1, cos a[j], sin a[j]]
//	cam   = M - Z·(offset, C, S)
//
// On even lobes C = 2/L·Σ M cos a, S = 2/L·Σ M sin a: the first harmonic.
//
// # What a run cannot tell
//
// A cam ground off centre, a bent shaft and a wheel clamped off centre all go
// once up and down in a turn and are one thing in one set-up. That sine is
// called [Wobble]; cam is the rest, which is why Σ cam, Σ cam·cos a and
// Σ cam·sin a are zero, and why it takes four lobes: with three, a sine fits
// every pattern, and [Wobble] is then left in the cam. A second run with the
// wheel turned on the shaft tells the wheel's part from the distributor's:
// [Reclamped].
//
// # Side play
//
// In a worn bushing the shaft's centre wanders by (x, y). With the trigger at
// angle T and the cam's radius r that turns the switching by
// (x·sin T - y·cos T)/r; points, whose block also feels the centre come nearer
// on a sloping flank, add a second share. T is fixed in the housing, so all of
// it is one series g. A shaft needs time to cross its play, so neighbouring
// firings share it; scatter e is new at each. The model is the plainest that
// says so,
//
//	cov(g, g') = played²·exp(-|u-u'|/reach),   var e = white²
//
// u in lobe pitches. Both variances and the reach (one pitch to two turns) are
// found by restricted maximum likelihood: the likelihood of what the fit above
// leaves. Intervals of the two are where the profile of the likelihood has
// fallen by 1.92. Plus-or-minus of everything else is Student's with
// (X'X)⁻¹X'VX(X'X)⁻¹, V averaged over all that is likely.
//
// Honest limits of one run: play that is new at every firing looks like
// scatter; play that repeats every turn (a pull from the drive) looks like
// wobble or cam; play slower than two turns looks like offset and slope. A
// shaft that whirls regularly, once in two turns, is smoother than the model:
// it is seen, its side play up to a quarter too large and the scatter beside
// it too small. Readings are taken as normal: one wild reading makes all of it
// wide. Two runs with the shaft pushed to one side and the other measure play
// outright: [SideLoad].
//
// # The reader
//
// accuracy is the reader's plus-or-minus at 95 %, its standard deviation
// accuracy/1.96; [Rounded] gives it for a wheel read to the nearest division.
// Random is √(white² - reader²), never below zero; where it is not Known, the
// figure to show is "less than Hi". Readings that scatter by less than the
// reader could are Doubtful. The part of the reader's error that turns don't
// show as scatter repeats at each lobe and doesn't average out: it is added to
// the plus-or-minus, which makes it wide rather than narrow near that limit.
//
// # At the plug
//
// One distributor degree is two of the crank: [Cost]. Wobble is given as its
// peak, side play and scatter as the span that holds 95 of 100 firings. All are
// there at once; variances add, and cam and wobble stay as they are.
// [Spacing] holds the intervals between firings against the ±2 degrees of a
// service manual. [Dwells] is dwell lobe by lobe where closings were read too.
//
// All figures are measured, in degrees, each a [Fig] with its 95 % interval.
//
// A spinning shaft takes sleeves and fingers, and a coil fed by the distributor
// under test burns and jolts: key off and coil disconnected when turning by
// hand, guards on a test stand. The maker's manual and licensed practice decide.
package lobes
