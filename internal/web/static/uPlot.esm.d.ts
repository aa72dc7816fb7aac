// The server gives vendor/uPlot.esm.js under its bare name, beside the page's
// own modules; this says so to tsc.
import uPlot from "./vendor/uPlot";
export default uPlot;
