// Package prove makes the proof sheet of a car: what must hold, in every
// condition, with the figure, its plus-or-minus, the limit, where the limit
// comes from, and one of four states.
//
//	holds           shown to hold; of a critical row only by a reading
//	not yet proven  a critical cell that is expected to hold and wants a reading
//	doubtful        the plus-or-minus reaches over the limit
//	falls short     outside the limit, plus-or-minus and all
//
// A prediction can make a cell doubtful or let it fall short; it never makes
// a critical cell hold. A job is proven when every critical cell holds.
//
// Readings of the car file are put to the cells they settle: the row's two
// points, the column's condition, an instrument that shows what the row asks
// for (an averaging meter cannot settle a lowest instant), with the car wired
// as the sheet has it. An ohmmeter's leads are subtracted unless they were
// nulled. Of several readings of one cell the worst decides. Those that
// settle nothing are listed with the reason; none is lost.
//
// A figure and its limit are compared by the margin between them: inside when
// the margin is at least the root of the sum of the squares of the figure's
// plus-or-minus and the limit's own, outside when it is beyond that on the
// other side, else doubtful.
package prove
