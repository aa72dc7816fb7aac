// @ts-check
// Traces on one time axis, one panel to a unit, one above another. Colours are
// the page's own, read from its custom properties, so they follow the theme.

/** @typedef {import("./vendor/uPlot")} Plot */

// From vendor/, by a script of its own that the page loads before this one.
const uPlot = /** @type {typeof import("./vendor/uPlot")} */ (/** @type {any} */ (globalThis).uPlot);

/**
 * @typedef {object} Line
 * @property {string} label "primary current"
 * @property {string} unit "A"
 * @property {string} scale lines of one scale share a panel
 * @property {(number | null)[]} values null where there is none
 * @property {number | number[]} [pm] half width of the interval, for all points or for each
 * @property {string} [origin] measured, predicted or assumed
 * @property {number} reach from its lowest to its highest
 */

/**
 * @typedef {object} Mark
 * @property {number} x
 * @property {string} label "plug breaks down"
 */

/**
 * @typedef {object} Trace
 * @property {{label: string, unit: string, values: number[]}} x rising
 * @property {Line[]} series
 * @property {Mark[]} marks
 * @property {[number, number]} [show] the stretch that is shown first
 */

/**
 * @typedef {object} Panel
 * @property {string} scale
 * @property {string} unit
 * @property {Line[]} lines
 */

const looks = [
	{ tone: "series-a", dash: /** @type {number[]} */ ([]), width: 2 },
	{ tone: "series-b", dash: [6, 4], width: 2 },
	{ tone: "series-c", dash: [2, 3], width: 2 },
	{ tone: "series-d", dash: /** @type {number[]} */ ([]), width: 3.4 },
];
const used = ["ink", "muted", "faint", "panel", "accent", ...looks.map((l) => l.tone)];
const gutter = 58; // room for the figures of the y axis, alike in every panel
const badge = 18; // size of a mark's number

/**
 * Says what is wrong with an answer that is to be a trace, or nothing.
 * @param {any} t
 * @returns {string}
 */
export function fault(t) {
	const numbers = (/** @type {any} */ a) => Array.isArray(a) && a.every((v) => typeof v === "number" && Number.isFinite(v));
	if (!numbers(t?.x?.values) || t.x.values.length < 2) return "the time axis has fewer than two numbers";
	for (let i = 1; i < t.x.values.length; i++) if (t.x.values[i] < t.x.values[i - 1]) return `time falls at point ${i + 1}`;
	if (!(t.x.values.at(-1) > t.x.values[0])) return "time stands still";
	if (!Array.isArray(t.series) || t.series.length === 0) return "there is no line";
	for (const s of t.series) {
		if (typeof s?.label !== "string" || typeof s.unit !== "string" || !Array.isArray(s.values)) return "a line has no label, unit or values";
		if (s.values.length !== t.x.values.length) return `${s.label} has ${s.values.length} values for ${t.x.values.length} times`;
		if (!s.values.every((/** @type {any} */ v) => v === null || Number.isFinite(v))) return `${s.label} has a value that is no number`;
		if (Array.isArray(s.pm) && (!numbers(s.pm) || s.pm.length !== s.values.length)) return `${s.label} has a plus-or-minus that does not fit`;
	}
	if (t.marks !== undefined && (!Array.isArray(t.marks) || t.marks.some((/** @type {any} */ m) => !Number.isFinite(m?.x) || typeof m.label !== "string"))) return "a mark has no place or no label";
	if (t.show !== undefined && !(numbers(t.show) && t.show.length === 2 && t.show[0] < t.show[1])) return "the stretch to be shown first is none";
	for (const p of group(t.series)) if (p.lines.length > looks.length) return `more than ${looks.length} lines share the scale ${p.scale}`;
	return "";
}

/**
 * @param {Line[]} lines
 * @returns {Panel[]}
 */
function group(lines) {
	/** @type {Map<string, Panel>} */
	const by = new Map();
	for (const l of lines) {
		const scale = l.scale ?? l.unit;
		const p = by.get(scale);
		if (p) p.lines.push(l);
		else by.set(scale, { scale, unit: l.unit, lines: [l] });
	}
	return [...by.values()];
}

/**
 * Writes a number with no more decimals than the step between neighbours has.
 * @param {number} v
 * @param {number} step
 */
export function written(v, step) {
	const decimals = Math.min(12, Math.max(0, Math.ceil(-Math.log10(Math.max(Math.abs(step), 1e-12)) - 1e-9)));
	const s = v.toFixed(decimals);
	return (Number(s) === 0 ? s.replace("-", "") : s).replace("-", "−");
}

/**
 * The shortest power of ten a step is made of: 0.1 for 2.5.
 * @param {number} step
 */
function grain(step) {
	let places = 0;
	while (places < 12 && Math.abs(step * 10 ** places - Math.round(step * 10 ** places)) > 1e-6 * step * 10 ** places) places++;
	return 10 ** -places;
}

/**
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} name
 * @param {string} cls
 * @param {string} [text]
 */
export function make(name, cls, text) {
	const e = document.createElement(name);
	if (cls) e.className = cls;
	if (text !== undefined) e.textContent = text;
	return e;
}

/** The panels of one trace in an element of the page. */
export class Panels {
	/**
	 * @param {HTMLElement} host
	 * @param {Trace} trace which has no fault
	 */
	constructor(host, trace) {
		this.host = host;
		this.trace = trace;
		/** @type {Record<string, string>} */
		this.tones = {};
		/** @type {Plot[]} */
		this.plots = [];
		this.width = Math.max(host.clientWidth, 200);
		this.recolour();
		const panels = group(trace.series);
		this.shape = shape(trace);
		panels.forEach((p, i) => this.add(p, i === 0, i === panels.length - 1));
	}

	/** Reads the colours of the theme. */
	recolour() {
		const style = getComputedStyle(this.host);
		for (const t of used) this.tones[t] = style.getPropertyValue("--dw-" + t).trim() || "#444";
		this.font = "12px " + (style.getPropertyValue("--dw-font").trim() || "sans-serif");
		for (const u of this.plots) u.redraw(false);
	}

	/**
	 * @param {Panel} p
	 * @param {boolean} first
	 * @param {boolean} last
	 */
	add(p, first, last) {
		const name = make("p", "of");
		p.lines.forEach((l, i) => {
			const item = make("span", "line");
			item.append(make("i", "sample " + looks[i].tone), ` ${l.label}, ${l.unit}${l.origin ? ", " + l.origin : ""}`);
			name.append(item);
		});
		this.host.append(name);
		const tone = (/** @type {string} */ t) => () => this.tones[t];
		const grid = { stroke: tone("faint"), width: 1 };
		const common = { stroke: tone("muted"), font: this.font, grid, ticks: { stroke: tone("muted"), width: 1, size: 5 } };
		const values = (/** @type {Plot} */ _u, /** @type {number[]} */ at, /** @type {number} */ _a, /** @type {number} */ _s, /** @type {number} */ step) => at.map((v) => written(v, grain(step)));
		const most = Math.max(...p.lines.map((l) => l.reach));
		/** @type {import("./vendor/uPlot").Options} */
		const options = {
			width: this.width,
			height: this.height(first, last),
			padding: [first ? badge + 6 : 8, 12, last ? 0 : 8, 0],
			legend: { show: false },
			select: { show: false, left: 0, top: 0, width: 0, height: 0 },
			cursor: { y: false, drag: { x: false, y: false, setScale: false }, bind: unbound, points: { size: 8, fill: (u, i) => String(u.series[i].stroke instanceof Function ? u.series[i].stroke(u, i) : "") } },
			scales: {
				x: { time: false, auto: false, min: this.trace.x.values[0], max: this.trace.x.values[this.trace.x.values.length - 1] },
				y: { range: (_u, lo, hi) => roomy(lo, hi, most) },
			},
			axes: [
				{ ...common, size: last ? 30 : 0, ...(last ? { label: `${this.trace.x.label}, ${this.trace.x.unit}`, labelSize: 20, labelFont: this.font } : {}), values: last ? values : () => [], ticks: { ...common.ticks, show: last }, space: 64 },
				{ ...common, scale: "y", size: gutter, values, space: 32 },
			],
			series: [
				{},
				...p.lines.map((l, i) => ({ label: l.label, scale: "y", stroke: tone(looks[i].tone), width: looks[i].width, dash: looks[i].dash, points: { show: false } })),
			],
			hooks: { draw: [(u) => this.marks(u, first)] },
		};
		const data = /** @type {import("./vendor/uPlot").AlignedData} */ ([this.trace.x.values, ...p.lines.map((l) => l.values)]);
		this.plots.push(new uPlot(options, data, this.host));
	}

	/**
	 * @param {boolean} first
	 * @param {boolean} last
	 */
	height(first, last) {
		return (this.width < 600 ? 120 : 140) + (first ? badge : 0) + (last ? 50 : 0);
	}

	/** Draws the marks: a line in every panel, its number above the first. */
	marks(/** @type {Plot} */ u, /** @type {boolean} */ first) {
		const { ctx } = u, ratio = uPlot.pxRatio, { left, top, width, height } = u.bbox;
		const r = (badge / 2) * ratio;
		ctx.save();
		ctx.lineWidth = 1.5 * ratio;
		ctx.setLineDash([2 * ratio, 3 * ratio]);
		ctx.strokeStyle = this.tones.ink;
		/** @type {{x: number, from: number, to: number}[]} */
		const groups = []; // neighbours that would cover one another share a sign
		this.trace.marks.forEach((m, i) => {
			const x = u.valToPos(m.x, "x", true);
			if (!(x >= left - 1 && x <= left + width + 1)) return;
			ctx.beginPath();
			ctx.moveTo(x, first ? top - 2 : top);
			ctx.lineTo(x, top + height);
			ctx.stroke();
			const g = groups.at(-1);
			if (g && x - g.x < 2.2 * r) g.to = i + 1;
			else groups.push({ x, from: i + 1, to: i + 1 });
		});
		if (first) {
			ctx.setLineDash([]);
			ctx.font = `700 ${12 * ratio}px sans-serif`;
			ctx.textAlign = "center";
			ctx.textBaseline = "middle";
			for (const g of groups) {
				const text = g.from === g.to ? String(g.from) : `${g.from}–${g.to}`;
				const w = Math.max(2 * r, ctx.measureText(text).width + 8 * ratio);
				const x = Math.min(Math.max(g.x, w / 2), u.ctx.canvas.width - w / 2);
				ctx.beginPath();
				ctx.roundRect(x - w / 2, top - 2 * r - 3 * ratio, w, 2 * r, r);
				ctx.fillStyle = this.tones.ink;
				ctx.fill();
				ctx.fillStyle = this.tones.panel;
				ctx.fillText(text, x, top - r - 2.5 * ratio);
			}
		}
		ctx.restore();
	}

	/**
	 * Puts another trace of the same shape in place.
	 * @param {Trace} trace
	 */
	replace(trace) {
		this.trace = trace;
		group(trace.series).forEach((p, i) => this.plots[i].setData([trace.x.values, ...p.lines.map((l) => l.values)], false));
	}

	/**
	 * @param {number} from
	 * @param {number} to
	 */
	show(from, to) {
		for (const u of this.plots) u.setScale("x", { min: from, max: to });
	}

	/**
	 * Puts the cursor at x in every panel, or takes it away.
	 * @param {number | null} x
	 */
	point(x) {
		for (const u of this.plots) u.setCursor(x === null ? { left: -10, top: -10 } : { left: u.valToPos(x, "x"), top: u.over.clientHeight / 2 }, false);
	}

	/**
	 * How far along the field a place on the screen is, 0 to 1.
	 * @param {number} clientX
	 */
	part(clientX) {
		const box = this.plots[0].over.getBoundingClientRect();
		return Math.min(1, Math.max(0, (clientX - box.left) / box.width));
	}

	/** Width of the field in CSS pixels. */
	across() {
		return this.plots[0].over.clientWidth;
	}

	/** Fits the panels to the width there is. */
	fit() {
		const w = this.host.clientWidth;
		if (w === 0 || w === this.width) return; // not on the screen, or nothing new
		this.width = w;
		this.plots.forEach((u, i) => u.setSize({ width: w, height: this.height(i === 0, i === this.plots.length - 1) }));
	}

	destroy() {
		for (const u of this.plots) u.destroy();
		this.host.replaceChildren();
	}
}

/** uPlot's own handling of the pointer is not used: see handle.js. */
const nothing = () => null;
const unbound = { mousedown: nothing, mouseup: nothing, click: nothing, dblclick: nothing, mousemove: nothing, mouseleave: nothing, mouseenter: nothing };

/**
 * What two traces must have alike for one to take the other's place.
 * @param {Trace} t
 */
export function shape(t) {
	return JSON.stringify(t.series.map((s) => [s.label, s.unit, s.scale, s.origin]));
}

/**
 * Fills in what an answer without a fault may leave out.
 * @param {any} t
 * @returns {Trace}
 */
export function whole(t) {
	t.marks ??= [];
	for (const l of t.series) {
		l.scale ??= l.unit;
		let lo = Infinity, hi = -Infinity;
		for (const v of l.values) {
			if (v === null) continue;
			if (v < lo) lo = v;
			if (v > hi) hi = v;
		}
		l.reach = hi > lo ? hi - lo : 1;
	}
	return t;
}

/**
 * The range of a y axis for what is in sight: some air, and never so little
 * that rounding fills the panel.
 * @param {number | null} lo
 * @param {number | null} hi
 * @param {number} whole
 * @returns {[number, number]}
 */
function roomy(lo, hi, whole) {
	if (lo === null || hi === null || !Number.isFinite(lo) || !Number.isFinite(hi)) return [0, 1];
	const air = Math.max((hi - lo) * 0.08, whole * 0.005, Math.max(Math.abs(lo), Math.abs(hi)) * 1e-9, 1e-12);
	return [lo - air, hi + air];
}
