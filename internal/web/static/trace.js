// @ts-check
// Makes <figure data-trace="address"> zoomable: the picture in it gives way to
// panels drawn from what the address answers. Without this script, on paper,
// or when the address fails, the picture stays.
//
// The answer is JSON:
//	{"x": {"label": "time", "unit": "ms", "values": [...]},
//	 "series": [{"label": "primary current", "unit": "A", "scale": "A",
//	             "values": [...], "pm": 0.1, "origin": "predicted"}, ...],
//	 "marks": [{"x": 3.2, "label": "switch opens"}, ...],
//	 "show": [-0.2, 2.1]}
// x rises; values has as many entries as x, null for none; series of one scale
// share a panel; pm (one number, or one for each point) and origin may be
// left out. show is the stretch that is shown first, without it the whole.

import { handle } from "./handle.js";
import { Panels, fault, make, shape, whole, written } from "./panels.js";
import { Span } from "./span.js";

const help = "Arrow keys move along, plus and minus zoom, 0 shows the whole, Shift with an arrow key moves the cursor.";
let count = 0;

class Zoomable {
	/** @param {HTMLElement} figure */
	constructor(figure) {
		this.figure = figure;
		this.address = "";
		this.asking = false;
		/** @type {Panels | null} */
		this.panels = null;
		/** @type {Span | null} */
		this.span = null;
		/** @type {{from: number, to: number} | null} what is shown before anything is moved */
		this.first = null;
		/** @type {number | null} */
		this.at = null; // the cursor
		this.frame = 0;
		this.speaking = 0;
		this.off = new AbortController();

		this.root = make("div", "traces");
		this.root.hidden = true;
		this.field = make("div", "field");
		this.field.tabIndex = 0;
		this.field.setAttribute("role", "group");
		this.range = make("p", "range");
		this.read = make("p", "read");
		this.read.setAttribute("aria-hidden", "true"); // the same is spoken
		this.spoken = make("p", "unseen");
		this.spoken.setAttribute("role", "status");
		this.spoken.setAttribute("aria-live", "polite");
		this.steps = make("ol", "steps");
		this.steps.setAttribute("aria-label", "Go to");
		const hint = make("p", "hint", "Two fingers or the wheel zoom, one finger drags. " + help);
		hint.id = `trace-hint-${++count}`;
		this.field.setAttribute("aria-describedby", hint.id);
		this.wrong = make("p", "wrong");
		this.wrong.hidden = true;
		this.root.append(this.bar(), this.read, this.field, this.steps, hint, this.spoken);
		this.listen();
	}

	bar() {
		const bar = make("div", "bar");
		bar.setAttribute("role", "group");
		bar.setAttribute("aria-label", "What is shown");
		/** @type {[string, string, () => void][]} */
		const buttons = [
			["+", "Zoom in", () => this.zoom(0.5, this.target())],
			["−", "Zoom out", () => this.zoom(2, this.target())],
			["◂", "Earlier", () => this.pan(-0.25)],
			["▸", "Later", () => this.pan(0.25)],
			["Whole", "Show the whole", () => this.reset()],
			["Start", "Back to the start", () => this.begin()],
		];
		for (const [sign, name, press] of buttons) {
			const b = make("button", "", sign);
			b.type = "button";
			b.setAttribute("aria-label", name);
			b.title = name;
			b.addEventListener("click", () => {
				press();
				this.say(() => this.stretch());
			});
			bar.append(b);
		}
		bar.append(this.range);
		return bar;
	}

	listen() {
		const { signal } = this.off;
		handle(this.field, {
			zoom: (factor, at) => this.zoom(factor, at),
			pan: (share) => this.pan(share),
			point: (x) => this.point(x, false),
			zoomed: () => this.span?.zoomed() ?? false,
			under: (x) => this.under(x),
			across: () => this.panels?.across() ?? 1,
		}, signal);
		this.field.addEventListener("keydown", (e) => {
			if (e.ctrlKey || e.metaKey || e.altKey || !this.span) return;
			const s = this.span, way = e.key === "ArrowLeft" ? -1 : e.key === "ArrowRight" ? 1 : 0;
			if (way && (e.shiftKey || !s.zoomed())) this.point((this.at ?? (s.from + s.to) / 2) + (way * (s.to - s.from)) / 100, true);
			else if (way) this.pan(way / 8);
			else if (e.key === "+" || e.key === "=") this.zoom(0.5, this.target());
			else if (e.key === "-" || e.key === "_") this.zoom(2, this.target());
			else if (e.key === "0") this.reset();
			else if (e.key === "Home") this.pan(-1e9);
			else if (e.key === "End") this.pan(1e9);
			else return;
			e.preventDefault();
			if (!way || !(e.shiftKey || !s.zoomed())) this.say(() => this.stretch());
		}, { signal });
		new ResizeObserver(() => this.panels?.fit()).observe(this.field);
	}

	/**
	 * The time under a place on the screen, by the stretch that is about to be
	 * drawn: a pointer moves more often than frames come.
	 * @param {number} clientX
	 */
	under(clientX) {
		const s = this.span;
		return s ? s.from + (this.panels?.part(clientX) ?? 0) * (s.to - s.from) : 0;
	}

	/** What a zoom without a pointer keeps in place: the cursor if it is in sight, else the middle. */
	target() {
		const s = this.span;
		if (!s) return 0;
		return this.at !== null && this.at >= s.from && this.at <= s.to ? this.at : (s.from + s.to) / 2;
	}

	/**
	 * @param {number} factor
	 * @param {number} at
	 */
	zoom(factor, at) {
		this.span?.zoom(factor, at);
		this.draw();
	}

	/** @param {number} share */
	pan(share) {
		this.span?.pan(share);
		this.draw();
	}

	reset() {
		this.span?.reset();
		this.draw();
	}

	/** Shows what was shown first. */
	begin() {
		if (this.first) this.span?.show(this.first.from, this.first.to);
		this.draw();
	}

	/**
	 * Puts the cursor at x and reads what is there.
	 * @param {number | null} x
	 * @param {boolean} aloud
	 */
	point(x, aloud) {
		const s = this.span;
		if (!s) return;
		this.at = x === null ? null : Math.min(Math.max(x, s.lo), s.hi);
		if (this.at !== null && (this.at < s.from || this.at > s.to)) s.centre(this.at);
		this.draw();
		if (aloud) this.say(() => this.reading());
	}

	/** Draws at the next frame, once, however often it was moved. */
	draw() {
		if (this.frame) return;
		this.frame = requestAnimationFrame(() => {
			this.frame = 0;
			const s = this.span, p = this.panels;
			if (!s || !p) return;
			p.show(s.from, s.to);
			this.range.textContent = this.stretch();
			this.root.dataset.from = String(s.from);
			this.root.dataset.to = String(s.to);
			this.field.classList.toggle("zoomed", s.zoomed());
			// The cursor goes where the scale will be when it is drawn.
			queueMicrotask(() => p.point(this.at));
			const text = this.reading();
			if (this.read.textContent !== text) this.read.textContent = text;
		});
	}

	/** What stands at the cursor, in words. */
	reading() {
		const p = this.panels, s = this.span;
		if (!p || !s || this.at === null) return "Point at a trace to read it.";
		const u = p.plots[0], i = u.valToIdx(this.at), t = p.trace;
		const figures = t.series.map((l) => {
			const v = l.values[i], pm = Array.isArray(l.pm) ? l.pm[i] : l.pm;
			if (v === null || v === undefined) return `${l.label} none`;
			const digits = pm ? pm / 10 : Math.max(Math.abs(v), l.reach / 10) / 1000; // two of the spread, else four
			return `${l.label} ${written(v, tenth(digits))}${pm ? " ± " + written(pm, tenth(digits)) : ""} ${l.unit}${l.origin ? " " + l.origin : ""}`;
		});
		return `${t.x.label} ${written(t.x.values[i], (s.to - s.from) / 1000)} ${t.x.unit}: ${figures.join("; ")}`;
	}

	/**
	 * Says something once things rest.
	 * @param {() => string} what
	 */
	say(what) {
		clearTimeout(this.speaking);
		this.speaking = window.setTimeout(() => { this.spoken.textContent = what(); }, 300);
	}

	/** The stretch shown, in words. */
	stretch() {
		const s = this.span, t = this.panels?.trace;
		if (!s || !t) return "";
		const step = (s.to - s.from) / 100;
		return `${t.x.label} ${written(s.from, step)} to ${written(s.to, step)} ${t.x.unit}`;
	}

	/** Asks for the trace the figure names, if that is another one than is shown. */
	async ask() {
		if (this.asking) return; // it looks again when answered
		this.asking = true;
		while (this.figure.isConnected && this.figure.dataset.trace && this.figure.dataset.trace !== this.address) {
			this.address = this.figure.dataset.trace;
			try {
				const r = await fetch(this.address);
				if (!r.ok) throw new Error(`the workshop answered ${r.status}`);
				const t = await r.json(), what = fault(t);
				if (what) throw new Error(what);
				this.put(whole(t));
			} catch (e) {
				this.fail(e instanceof Error ? e.message : String(e));
			}
		}
		this.asking = false;
	}

	/** @param {import("./panels.js").Trace} t */
	put(t) {
		this.wrong.hidden = true;
		this.root.hidden = false;
		this.figure.classList.add("traced");
		const xs = t.x.values, lo = xs[0], hi = xs[xs.length - 1];
		let least = Infinity;
		for (let i = 1; i < xs.length; i++) if (xs[i] > xs[i - 1]) least = Math.min(least, xs[i] - xs[i - 1]);
		const was = this.span;
		this.span = new Span(lo, hi, Math.max(4 * least, (hi - lo) * 1e-6));
		const asFirst = was && this.first && was.from === this.first.from && was.to === this.first.to;
		if (was?.zoomed() && !asFirst) this.span.show(was.from, was.to);
		else if (t.show && (!was || asFirst)) this.span.show(t.show[0], t.show[1]);
		if (!was || asFirst) this.first = { from: this.span.from, to: this.span.to };
		if (this.panels && this.panels.shape === shape(t)) {
			this.panels.replace(t);
		} else {
			this.panels?.destroy();
			this.panels = new Panels(this.field, t);
		}
		this.field.setAttribute("aria-label", "Traces of " + t.series.map((s) => s.label).join(", ") + " over " + t.x.label);
		this.steps.replaceChildren(...t.marks.map((m) => {
			const item = make("li", ""), b = make("button", "", m.label);
			b.type = "button";
			b.addEventListener("click", () => {
				this.span?.centre(m.x);
				this.point(m.x, true);
			});
			item.append(b);
			return item;
		}));
		this.steps.hidden = t.marks.length === 0;
		this.draw();
	}

	/** @param {string} what */
	fail(what) {
		this.root.hidden = true;
		this.figure.classList.remove("traced");
		this.wrong.textContent = `The picture can't be made zoomable: ${what}. The still one is shown.`;
		this.wrong.hidden = false;
	}

	/** Puts back what a page patched by others has thrown out. */
	stay() {
		if (this.root.parentNode !== this.figure) this.figure.append(this.root, this.wrong);
		if (!this.root.hidden) this.figure.classList.add("traced");
		this.ask();
	}
}

/**
 * The power of ten at or below x.
 * @param {number} x
 */
function tenth(x) {
	return 10 ** Math.floor(Math.log10(x) + 1e-9);
}

/** @type {Map<HTMLElement, Zoomable>} */
const known = new Map();

function sweep() {
	for (const f of known.keys()) if (!f.isConnected) drop(f);
	for (const f of document.querySelectorAll("figure[data-trace]")) {
		if (!(f instanceof HTMLElement)) continue;
		let z = known.get(f);
		if (!z) known.set(f, (z = new Zoomable(f)));
		z.stay();
	}
}

/** @param {HTMLElement} f */
function drop(f) {
	const z = known.get(f);
	z?.off.abort();
	z?.panels?.destroy();
	known.delete(f);
}

function recolour() {
	for (const z of known.values()) z.panels?.recolour();
}

new MutationObserver(sweep).observe(document.body, { childList: true, subtree: true, attributes: true, attributeFilter: ["data-trace"] });
new MutationObserver(recolour).observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
for (const q of ["(prefers-color-scheme: dark)", "(prefers-contrast: more)"]) matchMedia(q).addEventListener("change", recolour);
sweep();
