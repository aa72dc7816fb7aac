// @ts-check
// The stretch of the time axis that is shown: how zooming and panning move it.

export class Span {
	/**
	 * @param {number} lo where the whole begins
	 * @param {number} hi where it ends
	 * @param {number} least the shortest stretch that may be shown
	 */
	constructor(lo, hi, least) {
		this.lo = lo;
		this.hi = hi;
		this.least = Math.min(least, hi - lo);
		this.from = lo;
		this.to = hi;
	}

	/** Says whether less than the whole is shown. */
	zoomed() {
		return this.to - this.from < (this.hi - this.lo) * (1 - 1e-9);
	}

	/**
	 * Shows the stretch, no shorter than the least and within the whole.
	 * @param {number} from
	 * @param {number} to
	 */
	show(from, to) {
		const width = Math.min(Math.max(to - from, this.least), this.hi - this.lo);
		const middle = (from + to) / 2;
		this.from = Math.min(Math.max(middle - width / 2, this.lo), this.hi - width);
		this.to = this.from + width;
	}

	/**
	 * Shows a stretch longer by a factor, in which at keeps its place.
	 * @param {number} factor below 1 to see less, and that larger
	 * @param {number} at
	 */
	zoom(factor, at) {
		const width = Math.min(Math.max((this.to - this.from) * factor, this.least), this.hi - this.lo);
		const part = (at - this.from) / (this.to - this.from);
		const from = at - part * width;
		this.show(from, from + width);
	}

	/**
	 * Moves along by a share of what is shown.
	 * @param {number} share positive: later
	 */
	pan(share) {
		const d = share * (this.to - this.from);
		this.show(this.from + d, this.to + d);
	}

	/**
	 * Puts x in the middle, as near as the ends allow.
	 * @param {number} x
	 */
	centre(x) {
		const half = (this.to - this.from) / 2;
		this.show(x - half, x + half);
	}

	reset() {
		this.show(this.lo, this.hi);
	}
}
