// @ts-check
// The live page: each move at the bench is asked of the server and what
// comes back is put in place.

import { Asker, narrow } from "./ask.js";
import { watch } from "./choose.js";
import { place } from "./patch.js";
import { dress, fieldOf, written } from "./slider.js";

/** @returns {HTMLFormElement} */
function bench() {
	return /** @type {HTMLFormElement} */ (document.getElementById("bench"));
}

/** Reads the bench as a query. */
function query() {
	const q = new URLSearchParams();
	for (const [name, value] of new FormData(bench())) {
		if (typeof value === "string" && value.trim() !== "") q.append(name, value);
	}
	return q;
}

const asker = new Asker(query, (a, moved, quick) => {
	const held = document.activeElement;
	for (const [id, html] of Object.entries(a.parts)) {
		// A bench that has been moved since is ahead of the answer.
		if (!moved || (id !== "bench" && id !== "conditions")) place(id, html, held);
	}
	document.title = a.title + " · Dwellwright";
	document.body.dataset.edition = a.edition;
	if (!moved) history.replaceState(null, "", a.address);
	dress();
	document.dispatchEvent(new Event("dw-shown"));
	const say = document.getElementById("say");
	if (say && !quick && say.textContent !== a.say) say.textContent = a.say;
}, () => location.reload());

let typing = 0;

document.addEventListener("input", (e) => {
	const t = e.target;
	if (!(t instanceof HTMLInputElement || t instanceof HTMLSelectElement) || t.form?.id !== "bench" && !t.dataset.moves) return;
	clearTimeout(typing);
	if (t.dataset.moves && t instanceof HTMLInputElement) {
		const field = fieldOf(t);
		if (field) field.value = written(t);
		t.setAttribute("aria-valuetext", written(t));
	} else if (t instanceof HTMLInputElement && t.type === "text") {
		typing = window.setTimeout(() => asker.moved(), 500); // half a figure is not a figure
		return;
	}
	asker.moved();
});

// What is dragged in a picture has already been written into its fields.
document.addEventListener("dw-moved", () => {
	clearTimeout(typing);
	asker.moved();
});

document.addEventListener("submit", (e) => {
	e.preventDefault();
	clearTimeout(typing);
	asker.moved();
});

// "As filed" takes the figure off the bench.
document.addEventListener("click", (e) => {
	const link = e.target instanceof Element ? e.target.closest("a[data-reset]") : null;
	if (!(link instanceof HTMLAnchorElement) || e.ctrlKey || e.metaKey || e.shiftKey) return;
	e.preventDefault();
	const control = link.closest(".control");
	const to = control?.querySelector("input[type=text]") ?? control?.querySelector("input") ?? document.getElementById("bench-title");
	history.replaceState(null, "", link.href);
	const names = link.dataset.reset === "all" ? null : [link.dataset.reset];
	for (const field of bench().querySelectorAll("input[type=text]")) {
		if (field instanceof HTMLInputElement && (!names || names.includes(field.name))) field.value = "";
	}
	if (!names) for (const kept of bench().querySelectorAll("input[data-kept]")) if (!(kept instanceof HTMLInputElement && kept.name === "condition")) kept.remove();
	if (!names || names.includes("loads")) filedLoads(new URL(link.href));
	if (to instanceof HTMLElement) to.focus();
	asker.moved();
});

/**
 * Leaves the loads out of the next question, so that they come back as filed.
 * @param {URL} address
 */
function filedLoads(address) {
	const set = bench().querySelector("input[name=loads_set]");
	if (set instanceof HTMLInputElement && !address.searchParams.has("loads_set")) set.disabled = true;
}

// On a phone one control is shown at a time.
const picks = /** @type {HTMLButtonElement[]} */ ([...document.querySelectorAll("[data-pick]")].filter((b) => b instanceof HTMLButtonElement));

/** @param {string} name */
function pick(name) {
	document.body.dataset.pick = name;
	for (const b of picks) b.setAttribute("aria-pressed", String(b.dataset.pick === name));
}
for (const b of picks) b.addEventListener("click", () => pick(b.dataset.pick ?? "none"));
const tray = document.querySelector(".picks");
pick((tray instanceof HTMLElement && tray.dataset.first) || picks[1]?.dataset.pick || "none");

// The condition set is in sight although the row may be wider than the screen.
const chips = document.querySelector(".chips"), on = chips?.querySelector("input:checked")?.parentElement;
if (chips && on) chips.scrollLeft = on.offsetLeft - 24;

dress();
narrow.addEventListener("change", () => asker.send(false));
watch(() => asker.send(false));
asker.send(false); // many cars for what was first shown with few
