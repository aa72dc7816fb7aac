// @ts-check
// The live page of Find the fault: what is answered is asked of the server at
// once and put in place; its reasons follow. Each answer is a step of the
// browser's history, so that going back takes it back.

import { place } from "./patch.js";
import { watch } from "./choose.js";

/**
 * @typedef {object} Answer
 * @property {string} title
 * @property {string} address
 * @property {Record<string, string>} parts
 * @property {string} say
 * @property {number} ms
 * @property {string} edition
 */

/** @type {AbortController | null} */
let under = null; // the request under way
let later = 0;

const page = document.documentElement;

function whole() {
	return document.getElementById("case")?.dataset.state;
}

/** Says that a person is entering something, which must not be taken away. */
function busy() {
	const field = document.getElementById("say-it");
	return field instanceof HTMLInputElement && field.value !== field.defaultValue;
}

/**
 * @param {string} address
 * @param {"quick" | "fine"} how
 * @returns {Promise<Answer | null>} null where it was given up
 */
async function ask(address, how) {
	under?.abort();
	const mine = new AbortController();
	under = mine;
	clearTimeout(later);
	const at = new URL(address, location.href);
	at.searchParams.set("live", how);
	try {
		const r = await fetch(at, { signal: mine.signal });
		if (r.status === 422) {
			location.reload();
			return null;
		}
		if (!r.ok) throw new Error(await r.text());
		const a = await r.json();
		return under === mine ? a : null;
	} catch (e) {
		if (e instanceof DOMException && e.name === "AbortError") return null;
		const cost = document.getElementById("answered-in");
		if (cost) cost.textContent = "The workshop does not answer: is the program still running? What is shown is from before.";
		return null;
	} finally {
		if (under === mine) under = null;
	}
}

/**
 * @param {Answer} a
 */
function show(a) {
	const shut = document.querySelector("#owner:not([open])") !== null;
	for (const [id, html] of Object.entries(a.parts)) place(id, html, document.activeElement);
	document.title = a.title + " · Dwellwright";
	document.body.dataset.edition = a.edition;
	if (shut) document.getElementById("owner")?.removeAttribute("open");
}

/** Asks for what takes longer, once what came at once is shown. */
async function settle() {
	const state = whole();
	if (state === "working") {
		later = window.setTimeout(async () => {
			const a = await ask(location.href, "quick");
			if (a) show(a);
			settle();
		}, 700);
		return;
	}
	if (state !== "quick") {
		page.dataset.answered = "settled";
		return;
	}
	// Who answers at once again is not kept waiting by reasons of before.
	await new Promise((r) => { clearTimeout(later); later = window.setTimeout(r, 350); });
	const asked = document.getElementById("next")?.dataset.reading;
	const a = await ask(location.href, "fine");
	if (!a) return;
	if (busy()) { // the card in hand stays; its suspects are made finer
		const held = document.getElementById("next");
		const was = held?.dataset.reading;
		const fresh = new DOMParser().parseFromString(a.parts.case ?? "", "text/html").getElementById("next");
		if (!fresh || fresh.dataset.reading !== was) {
			page.dataset.answered = "settled";
			return;
		}
	}
	show(a);
	const now = document.getElementById("next")?.dataset.reading, say = document.getElementById("say");
	if (say && now !== asked) say.textContent = "Worked out finer, the next step has changed. " + (document.getElementById("next-title")?.textContent ?? "");
	page.dataset.answered = "settled";
}

/** What is distrusted stands before the next reading, and is to be seen first. */
function toNext() {
	(document.querySelector(".distrusted") ?? document.getElementById("next"))?.scrollIntoView({ block: "start" });
}

/**
 * Goes to an address of this page.
 * @param {string} address
 * @param {{push?: boolean, top?: boolean}} [how]
 */
async function go(address, { push = true, top = true } = {}) {
	delete page.dataset.answered;
	const start = performance.now();
	const a = await ask(address, "quick");
	if (!a) return;
	if (push) history.pushState(null, "", a.address);
	show(a);
	page.dataset.took = String(Math.round(performance.now() - start));
	page.dataset.answered = "quick";
	const say = document.getElementById("say");
	if (say) say.textContent = a.say;
	const wrong = document.querySelector("#next .wrong");
	if (wrong) {
		document.getElementById("say-it")?.scrollIntoView({ block: "center" });
	} else if (top) {
		const title = document.getElementById("next-title");
		title?.focus({ preventScroll: true });
		toNext();
	}
	await settle();
}

document.addEventListener("submit", (e) => {
	if (!(e.target instanceof HTMLFormElement)) return;
	e.preventDefault();
	const q = new URLSearchParams();
	for (const [name, value] of new FormData(e.target, e.submitter)) {
		if (typeof value === "string") q.append(name, value);
	}
	go(e.target.getAttribute("action") + "?" + q);
});

// A complaint counts as soon as it is touched.
document.addEventListener("change", (e) => {
	const box = e.target;
	if (!(box instanceof HTMLInputElement) || box.form?.id !== "complaints") return;
	const q = new URLSearchParams();
	for (const [name, value] of new FormData(box.form)) {
		if (typeof value === "string") q.append(name, value);
	}
	go(box.form.getAttribute("action") + "?" + q, { top: false });
});

document.addEventListener("click", (e) => {
	if (!(e.target instanceof Element)) return;
	const key = e.target.closest("button[data-key]");
	if (key instanceof HTMLButtonElement) {
		press(key.dataset.key ?? "");
		return;
	}
	const jump = e.target.closest("a[data-jump]");
	if (jump) {
		e.preventDefault();
		document.getElementById("owner")?.removeAttribute("open");
		document.getElementById("next-title")?.focus({ preventScroll: true });
		document.getElementById("next")?.scrollIntoView({ block: "start" });
		return;
	}
	const link = e.target.closest("a[data-go]");
	if (!(link instanceof HTMLAnchorElement) || e.ctrlKey || e.metaKey || e.shiftKey) return;
	e.preventDefault();
	go(link.href);
});

/**
 * A key of the number pad.
 * @param {string} key
 */
function press(key) {
	const field = document.getElementById("say-it");
	if (!(field instanceof HTMLInputElement)) return;
	let t = field.value;
	switch (key) {
		case "back":
			t = t.replace(/(\s*±\s*|.)$/u, "");
			break;
		case "clear":
			t = "";
			break;
		case "minus":
			t = t.startsWith("-") ? t.slice(1) : "-" + t;
			break;
		case "over":
			t = t.startsWith(">") ? t.slice(1) : ">" + t;
			break;
		case "±":
			if (t !== "" && !t.includes("±")) t += " ± ";
			break;
		case ".":
			if (!/\.[0-9]*$/.test(t)) t += /[0-9]$/.test(t) ? "." : "0.";
			break;
		default:
			t += key;
	}
	if (t.length <= field.maxLength) field.value = t;
}

addEventListener("popstate", () => go(location.href, { push: false, top: false }));
watch(() => location.reload());
settle();
