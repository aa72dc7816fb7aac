// @ts-check
// Fingers, wheel and keys on a trace. One finger or the mouse pans what is
// zoomed and moves the cursor of what is not; two fingers and the wheel zoom.

/**
 * @typedef {object} Moves
 * @property {(factor: number, at: number) => void} zoom
 * @property {(share: number) => void} pan
 * @property {(x: number | null) => void} point
 * @property {() => boolean} zoomed
 * @property {(clientX: number) => number} under the place under the pointer
 * @property {() => number} across width of the field, CSS pixels
 */

const slack = 6; // CSS pixels a pointer may tremble and still only point

/**
 * Listens to an element until the signal says no more.
 * @param {HTMLElement} e
 * @param {Moves} moves
 * @param {AbortSignal} signal
 */
export function handle(e, moves, signal) {
	/** @type {Map<number, {x: number, y: number}>} */
	const down = new Map();
	let begun = 0, dragging = false;
	let engaged = false; // the mouse has been moved here since the page scrolled
	const gap = () => {
		const [a, b] = [...down.values()];
		return Math.max(Math.hypot(a.x - b.x, a.y - b.y), 1);
	};
	const middle = () => {
		const [a, b] = [...down.values()];
		return (a.x + b.x) / 2;
	};

	e.addEventListener("pointerdown", (ev) => {
		if (ev.pointerType === "mouse" && ev.button !== 0) return;
		down.set(ev.pointerId, { x: ev.clientX, y: ev.clientY });
		begun = ev.clientX;
		dragging = down.size > 1;
		if (down.size === 1) moves.point(moves.under(ev.clientX));
	}, { signal });

	e.addEventListener("pointermove", (ev) => {
		if (ev.pointerType === "mouse" && (ev.movementX || ev.movementY)) engaged = true;
		const p = down.get(ev.pointerId);
		if (!p) {
			if (ev.pointerType === "mouse") moves.point(moves.under(ev.clientX));
			return;
		}
		if (down.size === 2) {
			const was = gap(), at = middle();
			p.x = ev.clientX;
			p.y = ev.clientY;
			moves.zoom(was / gap(), moves.under(at)); // first, since the whole can't be panned
			moves.pan((at - middle()) / moves.across());
			return;
		}
		if (down.size > 2) return;
		if (!dragging && Math.abs(ev.clientX - begun) > slack) {
			dragging = true;
			e.setPointerCapture(ev.pointerId);
		}
		if (dragging && moves.zoomed()) moves.pan((p.x - ev.clientX) / moves.across());
		else if (dragging) moves.point(moves.under(ev.clientX));
		p.x = ev.clientX;
		p.y = ev.clientY;
	}, { signal });

	for (const end of /** @type {const} */ (["pointerup", "pointercancel"])) {
		e.addEventListener(end, (ev) => {
			down.delete(ev.pointerId);
			begun = [...down.values()][0]?.x ?? 0;
		}, { signal });
	}
	e.addEventListener("pointerleave", (ev) => {
		if (ev.pointerType !== "mouse" || down.size > 0) return;
		moves.point(null);
		engaged = false;
	}, { signal });

	// A wheel that scrolls the page past a trace must not be caught by it.
	addEventListener("scroll", () => { engaged = false; }, { signal, passive: true });
	e.addEventListener("wheel", (ev) => {
		if (!engaged && !ev.ctrlKey) return;
		if (ev.deltaY > 0 && !moves.zoomed()) return; // nothing left to zoom out of: the page scrolls
		ev.preventDefault();
		const lines = ev.deltaMode === WheelEvent.DOM_DELTA_LINE ? 33 : 1;
		moves.zoom(Math.exp(Math.max(-300, Math.min(300, ev.deltaY * lines)) * 0.002), moves.under(ev.clientX));
	}, { signal, passive: false });
}
