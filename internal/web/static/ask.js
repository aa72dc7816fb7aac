// @ts-check
// Asks the server for the page as the bench now stands. While something moves,
// few cars are drawn so that the answer comes at once; when it rests, many.

/**
 * @typedef {object} Answer
 * @property {string} title
 * @property {string} address
 * @property {Record<string, string>} parts
 * @property {string} say
 * @property {number} ms
 * @property {number} draws
 * @property {string} edition
 */

const fewest = 16, most = 100, settled = 1000; // cars drawn
const aim = 14; // ms a quick answer may be worked on
const rest = 300; // ms without a move after which it rests
const stale = 400; // ms after which a quick answer is given up for a newer one

/** On a narrow screen the wiring is drawn tall; only what is seen is asked for. */
export const narrow = matchMedia("(max-width: 899px)");

export class Asker {
	/**
	 * @param {() => URLSearchParams} query reads the bench
	 * @param {(a: Answer, moved: boolean, quick: boolean) => void} show puts an answer on the page; moved says that the bench has changed since it was asked
	 * @param {() => void} broken called when the car file can't be used
	 */
	constructor(query, show, broken) {
		this.query = query;
		this.show = show;
		this.broken = broken;
		this.draws = 40;
		this.moves = 0;
		/** @type {AbortController | null} */
		this.under = null; // the request under way
		this.quick = false; // whether that is a quick one
		this.since = 0;
		this.timer = 0;
	}

	/** Says that the bench has changed. */
	moved() {
		this.moves++;
		delete document.documentElement.dataset.answered; // that was of before this move
		clearTimeout(this.timer);
		this.timer = window.setTimeout(() => this.send(false), rest);
		if (this.under && this.quick && performance.now() - this.since < stale) return; // it asks anew when answered
		this.send(true);
	}

	/**
	 * @param {boolean} quick
	 */
	async send(quick) {
		this.under?.abort();
		const under = new AbortController();
		this.under = under;
		this.quick = quick;
		this.since = performance.now();
		const moves = this.moves;
		const q = this.query();
		q.set("live", "1");
		q.set("layout", narrow.matches ? "tall" : "wide");
		q.set("draws", String(quick ? this.draws : settled));
		try {
			const r = await fetch(location.pathname + "?" + q, { signal: under.signal });
			if (r.status === 422) {
				this.broken();
				return;
			}
			if (!r.ok) throw new Error(await r.text());
			/** @type {Answer} */
			const a = await r.json();
			if (this.under !== under) return;
			this.under = null;
			if (quick) {
				const fit = Math.round((this.draws * aim) / Math.max(a.ms, 3));
				this.draws = Math.min(most, Math.max(fewest, Math.round((this.draws + fit) / 2)));
			}
			this.show(a, moves !== this.moves, quick);
			if (moves !== this.moves) this.send(true);
			else document.documentElement.dataset.answered = quick ? "quick" : "settled";
		} catch (e) {
			if (this.under === under) this.under = null;
			if (e instanceof DOMException && e.name === "AbortError") return;
			const cost = document.getElementById("cost");
			if (cost) cost.textContent = "The workshop does not answer: is the program still running? What is shown is from before.";
		}
	}
}
