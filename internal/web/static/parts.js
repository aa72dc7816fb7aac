// @ts-check
// Fetches the stretches of a page that take their time: <div data-part="address">
// holds what that address answers. One is asked for at a time, from the top;
// what is out of sight waits until the bench rests.

import { narrow } from "./ask.js";
import { place } from "./patch.js";

/** @type {WeakMap<Element, string>} what each part shows */
const shown = new WeakMap();
let asking = false;
/** @type {{part: HTMLElement, at: string, off: AbortController} | null} */
let under = null; // what is being asked for

/** @param {Element} e */
function inSight(e) {
	const r = e.getBoundingClientRect();
	return r.bottom > -200 && r.top < innerHeight + 200;
}

/** @param {HTMLElement} e */
function wanted(e) {
	return (e.dataset.part ?? "") + "&layout=" + (narrow.matches ? "tall" : "wide");
}

/** The next part whose address is not the one it shows. */
function next() {
	for (const e of document.querySelectorAll("[data-part]")) {
		if (!(e instanceof HTMLElement)) continue;
		const at = wanted(e);
		if (!shown.has(e) && e.firstElementChild) shown.set(e, at); // it came with the page
		const stale = shown.get(e) !== at;
		if (stale !== e.classList.contains("stale")) e.classList.toggle("stale", stale);
		if (stale && (!at.includes("&draws=0&") || inSight(e))) return e;
	}
	return null;
}

async function fill() {
	if (asking) return; // it looks again when answered
	asking = true;
	for (let e = next(); e; e = next()) {
		const at = wanted(e);
		shown.set(e, at);
		under = { part: e, at, off: new AbortController() };
		try {
			const r = await fetch(at, { signal: under.off.signal });
			if (!r.ok) throw new Error(`the workshop answered ${r.status}`);
			const html = await r.text();
			const was = e.firstElementChild;
			if (was?.id) place(was.id, html, null);
			else e.replaceChildren(document.importNode(/** @type {Node} */ (new DOMParser().parseFromString(html, "text/html").body.firstElementChild), true));
		} catch (x) {
			if (x instanceof DOMException && x.name === "AbortError") continue; // it moved on
			const p = document.createElement("p");
			p.className = "wrong";
			p.textContent = "This can't be shown: " + (x instanceof Error ? x.message : String(x)) + ".";
			e.replaceChildren(p);
		}
	}
	asking = false;
	under = null;
	document.documentElement.dataset.parts = "whole";
}

function moved() {
	delete document.documentElement.dataset.parts;
	// A long answer is given up when something moved meanwhile; a quick one is shown.
	if (under && !under.at.includes("&draws=0&") && wanted(under.part) !== under.at) under.off.abort();
	fill();
}

new MutationObserver(moved).observe(document.body, { childList: true, subtree: true, attributes: true, attributeFilter: ["data-part"] });
narrow.addEventListener("change", moved);
moved();
