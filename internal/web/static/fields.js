// @ts-check
// Writes figures into the bench and says that it has moved.

/**
 * Writes a figure into the field of a name, and moves the slider beside it.
 * @param {string} name
 * @param {string} text
 * @param {number} [at] where the slider goes; left where it is without
 */
export function write(name, text, at) {
	const field = document.getElementById(name);
	if (field instanceof HTMLInputElement) field.value = text;
	const slider = document.querySelector(`#bench input[data-moves=${name}]`);
	if (slider instanceof HTMLInputElement && at !== undefined) {
		slider.value = String(at);
		slider.setAttribute("aria-valuetext", text || "as it is");
	}
}

/** Says that the bench has moved: the page asks anew. */
export function moved() {
	document.dispatchEvent(new Event("dw-moved"));
}
