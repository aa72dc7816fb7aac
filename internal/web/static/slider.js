// @ts-check
// A slider writes into the field beside it; the field is what is asked with.

/**
 * Writes a figure with its unit, as it may be typed.
 * @param {HTMLInputElement} slider
 * @returns {string}
 */
export function written(slider) {
	const unit = slider.dataset.unit ?? "";
	if (!slider.dataset.power) return slider.value + unit;
	const x = 10 ** Number(slider.value);
	return x < 0.1 ? Number((x * 1000).toPrecision(3)) + " m" + unit.trim() : Number(x.toPrecision(3)) + unit;
}

/**
 * The field a slider moves.
 * @param {HTMLInputElement} slider
 * @returns {HTMLInputElement | null}
 */
export function fieldOf(slider) {
	return /** @type {HTMLInputElement | null} */ (document.getElementById(slider.dataset.moves ?? ""));
}

/** Marks on every slider where the file's figure is, and says its figure. */
export function dress() {
	for (const s of /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll("#bench input[type=range]"))) {
		const lo = Number(s.min), hi = Number(s.max), filed = Number(s.dataset.filed);
		s.style.setProperty("--at", String((filed - lo) / (hi - lo || 1)));
		s.setAttribute("aria-valuetext", fieldOf(s)?.value || written(s) + ", as filed");
	}
}
