// @ts-check
// The theme choice, and the watch for a car file that changes.

/** Sets the theme chosen and keeps the choice. */
function choose() {
	const select = /** @type {HTMLSelectElement | null} */ (document.getElementById("theme"));
	if (!select) return;
	const page = document.documentElement;
	select.value = page.dataset.theme ?? "";
	select.addEventListener("change", () => {
		if (select.value) page.dataset.theme = select.value;
		else delete page.dataset.theme;
		try {
			if (select.value) localStorage.setItem("theme", select.value);
			else localStorage.removeItem("theme");
		} catch {
			// Not kept, but it holds for this page.
		}
	});
}

/**
 * Asks now and then whether the car file has changed.
 * @param {() => void} changed called when it has
 */
export function watch(changed) {
	const { car } = document.body.dataset;
	if (!car) return;
	setInterval(async () => {
		if (document.hidden) return;
		try {
			const r = await fetch(`/cars/${car}/stamp`);
			if (r.ok && (await r.text()) !== document.body.dataset.edition) changed();
		} catch {
			// The workshop was closed; what is on the page stays.
		}
	}, 2000);
}

choose();
if (!document.body.dataset.stage) watch(() => location.reload());
