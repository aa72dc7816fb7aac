// @ts-check
// Runs before the page is painted: says that scripts run, and sets the theme
// chosen last. Nothing else is kept in the browser.
(function () {
	const page = document.documentElement;
	page.classList.add("script");
	try {
		const theme = localStorage.getItem("theme");
		if (theme === "light" || theme === "dark" || theme === "contrast") page.dataset.theme = theme;
	} catch {
		// Storage is closed to the page: it follows the system.
	}
})();
