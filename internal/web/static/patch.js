// @ts-check
// Puts new HTML in the place of old, touching only what differs, so that
// focus, open details and the place of a scroll stay where they are.

/** Attributes a person or a script changes; the server has no say in them. */
const own = new Set(["open", "style"]);

/**
 * @param {Element} old
 * @param {Element} fresh
 */
function attributes(old, fresh) {
	for (const { name, value } of fresh.attributes) {
		if (!own.has(name) && old.getAttribute(name) !== value) old.setAttribute(name, value);
	}
	for (const { name } of [...old.attributes]) {
		if (!own.has(name) && !fresh.hasAttribute(name)) old.removeAttribute(name);
	}
}

/**
 * Sets what a person may have changed in a form to what the server says, but
 * for the control the person is at.
 * @param {Element} old
 * @param {Element} fresh
 */
function settings(old, fresh) {
	if (!old.closest("#bench") && old.getAttribute("form") !== "bench") return;
	if (old instanceof HTMLInputElement && fresh instanceof HTMLInputElement) {
		if (old.checked !== fresh.checked) old.checked = fresh.checked;
		if (old.type !== "checkbox" && old.type !== "radio" && old.value !== fresh.value) old.value = fresh.value;
	} else if (old instanceof HTMLSelectElement && fresh instanceof HTMLSelectElement) {
		if (old.value !== fresh.value) old.value = fresh.value;
	}
}

/**
 * @param {Node} a
 * @param {Node} b
 */
function alike(a, b) {
	if (a.nodeName !== b.nodeName) return false;
	if (!(a instanceof Element) || !(b instanceof Element)) return true;
	return a.id === b.id && a.getAttribute("type") === b.getAttribute("type");
}

/**
 * Makes old like fresh.
 * @param {Element} old
 * @param {Element} fresh
 * @param {Element | null} held the control the person is at, left as it is
 */
export function patch(old, fresh, held) {
	attributes(old, fresh);
	if (fresh.hasAttribute("data-later")) return; // what is in it comes when the bench rests
	const news = [...fresh.childNodes];
	let at = old.firstChild;
	for (const n of news) {
		if (n instanceof Element && n.id && !(at && alike(at, n))) {
			// The same element further down: what stands before it has gone.
			let later = at;
			while (later && !alike(later, n)) later = later.nextSibling;
			while (later && at && at !== later) {
				const gone = at;
				at = at.nextSibling;
				gone.remove();
			}
		}
		if (!at) {
			old.append(n);
			continue;
		}
		const next = at.nextSibling;
		if (!alike(at, n)) at.replaceWith(n);
		else if (at instanceof Element && n instanceof Element) patch(at, n, held);
		else if (at.nodeValue !== n.nodeValue) at.nodeValue = n.nodeValue;
		at = next;
	}
	while (at) {
		const gone = at;
		at = at.nextSibling;
		gone.remove();
	}
	if (!atHand(old, held)) settings(old, fresh);
}

/**
 * Reports whether a control sets the figure the person is at: the field being
 * typed in, or the slider beside it.
 * @param {Element} control
 * @param {Element | null} held
 */
function atHand(control, held) {
	if (!held || !control.matches("input, select") || control.matches("[type=checkbox], [type=radio]")) return false;
	const name = (/** @type {Element} */ e) => e.getAttribute("data-moves") ?? e.getAttribute("name");
	return name(control) !== null && name(control) === name(held);
}

/**
 * Replaces the element of an id by HTML, as patch does.
 * @param {string} id
 * @param {string} html
 * @param {Element | null} held
 */
export function place(id, html, held) {
	const old = document.getElementById(id);
	const made = new DOMParser().parseFromString(html, "text/html").body.firstElementChild;
	if (old && made) patch(old, document.importNode(made, true), held);
}
