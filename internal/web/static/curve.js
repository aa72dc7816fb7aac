// @ts-check
// The wanted points of the advance curve are moved by finger, mouse and keys:
// each is a slider in the picture. What is moved goes along at once; the
// figures follow from the server.

import { moved } from "./fields.js";

const steps = { rpm: 50, deg: 0.5 };
const limits = { rpm: [200, 9000], deg: [-20, 60] };

/** @type {{ring: SVGGElement, id: number} | null} */
let held = null;

/**
 * The fields of the point a ring stands for.
 * @param {Element} ring
 * @returns {{n: number, rpm: HTMLInputElement, deg: HTMLInputElement} | null}
 */
function fields(ring) {
	const n = Number(ring.id.split("-").pop()) + 1;
	const rpm = document.getElementById(`wr-${n}`), deg = document.getElementById(`wd-${n}`);
	return rpm instanceof HTMLInputElement && deg instanceof HTMLInputElement ? { n, rpm, deg } : null;
}

/** @param {HTMLInputElement | null} f */
function number(f) {
	const x = parseFloat((f?.value ?? "").replace("−", "-").replace(",", "."));
	return Number.isFinite(x) ? x : NaN;
}

/**
 * The speed and the timing that a place in the picture stands for, and back.
 * @param {Element} ring
 */
function scale(ring) {
	const box = ring.closest(".handled"), svg = ring.closest("svg");
	if (!(box instanceof HTMLElement) || !svg) return null;
	const d = Object.fromEntries(Object.entries(box.dataset).map(([k, v]) => [k, Number(v)]));
	const view = svg.viewBox.baseVal;
	return {
		/** @param {PointerEvent} e */
		at(e) {
			const r = svg.getBoundingClientRect();
			const x = ((e.clientX - r.left) / r.width) * view.width, y = ((e.clientY - r.top) / r.height) * view.height;
			return { rpm: d.xlo + ((x - d.x0) / (d.x1 - d.x0)) * (d.xhi - d.xlo), deg: d.yhi - ((y - d.y0) / (d.y1 - d.y0)) * (d.yhi - d.ylo) };
		},
		/** @param {number} rpm @param {number} deg */
		place(rpm, deg) {
			return { x: d.x0 + ((rpm - d.xlo) / (d.xhi - d.xlo)) * (d.x1 - d.x0), y: d.y0 + ((d.yhi - deg) / (d.yhi - d.ylo)) * (d.y1 - d.y0) };
		},
		span: d,
	};
}

/**
 * Puts a ring at a speed and a timing, no nearer to its neighbours than a
 * step, so that the points stay in their order.
 * @param {Element} ring
 * @param {number} rpm
 * @param {number} deg
 */
function put(ring, rpm, deg) {
	const f = fields(ring), s = scale(ring);
	if (!f || !s) return;
	const before = number(/** @type {HTMLInputElement | null} */ (document.getElementById(`wr-${f.n - 1}`)));
	const next = number(/** @type {HTMLInputElement | null} */ (document.getElementById(`wr-${f.n + 1}`)));
	const lo = Math.max(limits.rpm[0], s.span.xlo, before + steps.rpm || -Infinity), hi = Math.min(limits.rpm[1], s.span.xhi, next - steps.rpm || Infinity);
	rpm = Math.min(Math.max(rpm, lo), hi);
	deg = Math.min(Math.max(deg, limits.deg[0], s.span.ylo), limits.deg[1], s.span.yhi);
	f.rpm.value = String(Math.round(rpm));
	f.deg.value = String(Math.round(deg * 100) / 100);
	follow(ring);
	moved();
}

/**
 * Moves a ring from where the server drew it to where its fields say.
 * @param {Element} ring
 */
function follow(ring) {
	const f = fields(ring), s = scale(ring);
	const c = ring.querySelector("circle");
	if (!f || !s || !c) return;
	const to = s.place(number(f.rpm), number(f.deg));
	const dx = to.x - Number(c.getAttribute("cx")), dy = to.y - Number(c.getAttribute("cy"));
	if (Math.hypot(dx, dy) < 0.05) ring.removeAttribute("transform");
	else ring.setAttribute("transform", `translate(${dx.toFixed(2)} ${dy.toFixed(2)})`);
	ring.setAttribute("aria-valuenow", String(number(f.deg)));
	ring.setAttribute("aria-valuetext", `${number(f.deg)}° at ${number(f.rpm)} rpm`);
}

/** @param {Event} e */
function ringOf(e) {
	const ring = e.target instanceof Element ? e.target.closest(".handled [role=slider]") : null;
	return ring instanceof SVGGElement ? ring : null;
}

document.addEventListener("pointerdown", (e) => {
	const ring = ringOf(e);
	if (!ring || (e.pointerType === "mouse" && e.button !== 0)) return;
	held = { ring, id: e.pointerId };
	ring.setPointerCapture(e.pointerId);
	ring.focus({ preventScroll: true });
	e.preventDefault();
});

document.addEventListener("pointermove", (e) => {
	if (!held || e.pointerId !== held.id) return;
	const at = scale(held.ring)?.at(e);
	if (at) put(held.ring, Math.round(at.rpm / steps.rpm) * steps.rpm, Math.round(at.deg / steps.deg) * steps.deg);
});

for (const end of /** @type {const} */ (["pointerup", "pointercancel"])) {
	document.addEventListener(end, (e) => {
		if (held && e.pointerId === held.id) held = null;
	});
}

document.addEventListener("keydown", (e) => {
	const ring = ringOf(e);
	const f = ring && fields(ring);
	if (!ring || !f || e.ctrlKey || e.metaKey || e.altKey) return;
	const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowDown: [0, -1], ArrowUp: [0, 1], PageDown: [0, -4], PageUp: [0, 4] }[e.key];
	if (!by) return;
	e.preventDefault();
	put(ring, number(f.rpm) + by[0] * steps.rpm, number(f.deg) + by[1] * steps.deg);
});

document.addEventListener("dw-shown", () => {
	if (held) follow(held.ring);
});
