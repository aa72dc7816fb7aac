// @ts-check
// What can be taken hold of in the distributor seen from above: the can, which
// turns the housing, and the trigger. What is held turns at once; the figures
// follow from the server.

import { moved, write } from "./fields.js";

/** What turns with the housing, and what moves with the trigger. */
const carried = {
	turn: /-(housing|can|trigger|window|rotor|rotor-full|sweep|ring|pivot|leads|tower-\d+)$/,
	trigger: /-(trigger|ring|rotor|rotor-full|sweep)$/,
};
const most = { turn: 180, trigger: 30 };

/** @typedef {"turn" | "trigger"} Held */

/** @type {{grip: HTMLElement, what: Held, id: number, last: number, at: number} | null} */
let held = null;

/** Puts every grip where its part stands. */
function settle() {
	for (const grip of document.querySelectorAll(".grip")) {
		const box = grip.parentElement;
		if (!(grip instanceof HTMLElement) || !box) continue;
		grip.style.left = (100 * Number(grip.dataset.x)) / Number(box.dataset.w) + "%";
		grip.style.top = (100 * Number(grip.dataset.y)) / Number(box.dataset.h) + "%";
	}
	if (held) follow();
}

/**
 * The direction of a point from the shaft, degrees clockwise from straight up.
 * @param {HTMLElement} box
 * @param {PointerEvent} e
 */
function direction(box, e) {
	const r = box.getBoundingClientRect();
	const x = e.clientX - r.left - (Number(box.dataset.x) / Number(box.dataset.w)) * r.width;
	const y = e.clientY - r.top - (Number(box.dataset.y) / Number(box.dataset.h)) * r.height;
	return (Math.atan2(x, -y) * 180) / Math.PI;
}

/** Turns what is held from where the server drew it to where it is held. */
function follow() {
	const box = held?.grip.parentElement;
	if (!held || !box) return;
	const by = held.at - Number(held.what === "turn" ? box.dataset.turn : box.dataset.trigger);
	const cx = Number(box.dataset.x), cy = Number(box.dataset.y);
	for (const g of box.querySelectorAll("svg > g[id]")) {
		if (!carried[held.what].test(g.id)) continue;
		if (Math.abs(by) < 1e-6) g.removeAttribute("transform");
		else g.setAttribute("transform", `rotate(${by.toFixed(2)} ${cx} ${cy})`);
	}
	const a = (by * Math.PI) / 180, s = Math.sin(a), c = Math.cos(a);
	for (const grip of box.querySelectorAll(".grip")) {
		if (!(grip instanceof HTMLElement) || (held.what === "trigger" && grip.dataset.grip !== "trigger")) continue;
		const x = Number(grip.dataset.x) - cx, y = Number(grip.dataset.y) - cy;
		grip.style.left = (100 * (cx + x * c - y * s)) / Number(box.dataset.w) + "%";
		grip.style.top = (100 * (cy + x * s + y * c)) / Number(box.dataset.h) + "%";
	}
}

/**
 * Writes where what is held stands, to half a degree.
 * @param {Held} what
 * @param {number} at
 */
function put(what, at) {
	const half = Math.round(at * 2) / 2;
	write(what, half === 0 ? "" : `${half}°`, half);
	moved();
}

document.addEventListener("pointerdown", (e) => {
	const grip = e.target instanceof Element ? e.target.closest(".grip") : null;
	if (!(grip instanceof HTMLElement) || !grip.parentElement || (e.pointerType === "mouse" && e.button !== 0)) return;
	const what = /** @type {Held} */ (grip.dataset.grip);
	const box = grip.parentElement;
	held = { grip, what, id: e.pointerId, last: direction(box, e), at: Number(what === "turn" ? box.dataset.turn : box.dataset.trigger) };
	grip.setPointerCapture(e.pointerId);
	grip.classList.add("held");
	e.preventDefault();
});

document.addEventListener("pointermove", (e) => {
	const box = held?.grip.parentElement;
	if (!held || !box || e.pointerId !== held.id) return;
	const now = direction(box, e);
	const by = ((((now - held.last + 180) % 360) + 360) % 360) - 180;
	held.last = now;
	held.at = Math.max(-most[held.what], Math.min(most[held.what], held.at + by));
	follow();
	put(held.what, held.at);
});

for (const end of /** @type {const} */ (["pointerup", "pointercancel"])) {
	document.addEventListener(end, (e) => {
		if (!held || e.pointerId !== held.id) return;
		held.grip.classList.remove("held");
		put(held.what, held.at);
		held = null;
	});
}

// Buttons that move leads and drive by whole steps.
document.addEventListener("click", (e) => {
	const button = e.target instanceof Element ? e.target.closest("button[data-step]") : null;
	if (!(button instanceof HTMLButtonElement)) return;
	const name = button.dataset.for ?? "";
	const field = document.getElementById(name);
	if (!(field instanceof HTMLInputElement)) return;
	const to = (parseInt(field.value.replace("−", "-"), 10) || 0) + Number(button.dataset.step);
	field.value = String(Math.max(Number(button.dataset.lo), Math.min(Number(button.dataset.hi), to)));
	if (field.value === "0") field.value = "";
	moved();
});

// A way back is put into the picture.
document.addEventListener("click", (e) => {
	const link = e.target instanceof Element ? e.target.closest("a[data-try]") : null;
	if (!(link instanceof HTMLAnchorElement) || e.ctrlKey || e.metaKey || e.shiftKey) return;
	e.preventDefault();
	const q = new URL(link.href).searchParams;
	for (const name of ["turn", "trigger", "sleeve", "drawn"]) {
		const v = q.get(name);
		write(name, v ? `${v}°` : "", Number(v ?? 0));
	}
	for (const name of ["leads", "teeth"]) write(name, q.get(name) ?? "");
	const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
	document.getElementById("above-title")?.scrollIntoView({ behavior: calm ? "auto" : "smooth" });
	moved();
});

document.addEventListener("dw-shown", settle);
settle();
