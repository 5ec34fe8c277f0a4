// What all charts share: how Vega is loaded and run, colours, and small helpers.
//
// Colours are the style sheet's variables, so that charts follow dark and light and print. Vega's expressions are
// interpreted, not compiled, so that the page's policy can forbid turning text into code.
let chart_library = null;

function load_charts() {
  if (chart_library) return chart_library;
  const transforms = load_module("vega-dataflow").transforms;
  for (const name of ["vega-transforms", "vega-view-transforms", "vega-encode", "vega-label"]) {
    Object.assign(transforms, load_module(name));
  }
  chart_library = { parse: load_module("vega-parser").parse, View: load_module("vega-view").View,
    interpreter: load_module("vega-interpreter").expressionInterpreter };
  return chart_library;
}

const ink = "var(--ink)", soft_ink = "var(--soft-ink)", hairline = "var(--line)", paper = "var(--paper)";
const accent = "var(--accent)", alarm = "var(--alarm)", fill_ink = "var(--fill-ink)";

function fill_color(i) {
  return `var(--fill-${i % 8})`;
}

const chart_config = {
  background: null,
  font: "inherit",
  text: { font: "inherit", fontSize: 12, fill: ink },
  axis: { labelFont: "inherit", titleFont: "inherit", labelFontSize: 12, titleFontSize: 12, titleFontWeight: "normal",
    labelColor: ink, titleColor: soft_ink, domainColor: soft_ink, tickColor: soft_ink, gridColor: hairline, labelLimit: 260 },
  legend: { labelFont: "inherit", titleFont: "inherit", labelFontSize: 12, labelColor: ink, titleColor: soft_ink,
    orient: "top", direction: "horizontal", symbolStrokeColor: ink, offset: 8 },
};

async function draw(id, specification) {
  const figure = document.getElementById("chart-" + id);
  if (!figure) return;
  const { parse, View, interpreter } = load_charts();
  const place = figure.querySelector(".canvas");
  const view = new View(parse({ ...specification, width: specification.width || width_of(id), padding: 4,
    autosize: { type: "fit-x", contains: "padding" } }, chart_config, { ast: true }),
  { expr: interpreter, renderer: "none" });
  const drawing = new DOMParser().parseFromString(await view.toSVG(), "image/svg+xml").documentElement;
  view.finalize();
  const size = [drawing.getAttribute("width"), drawing.getAttribute("height")];
  drawing.setAttribute("aria-hidden", "true");
  drawing.setAttribute("viewBox", drawing.getAttribute("viewBox") || `0 0 ${size[0]} ${size[1]}`);
  drawing.removeAttribute("height");
  drawing.style.maxWidth = size[0] + "px";
  place.replaceChildren(document.importNode(drawing, true));
}

function width_of(id) {
  const place = document.querySelector("#chart-" + id + " .canvas");
  return Math.max(280, Math.min(900, place.clientWidth || 640));
}

function is_narrow(id) {
  return width_of(id) < 520;
}

// A value's number in one unit for a whole axis.
function axis_unit(values, unit) {
  const largest = Math.max(...values.map(Math.abs).filter(Number.isFinite), 0);
  return display_unit(largest, unit, 3);
}

function band_scale(name, domain, range, padding = 0.2) {
  return { name, type: "band", domain, range, padding };
}

// How wide a text of this length comes out, roughly; for deciding whether it fits.
function text_width(text) {
  return 6.6 * String(text).length + 6;
}

// Choices above a chart: made once, redrawn on change.
function chart_choice(id, label, options, initial) {
  const tools = document.querySelector("#chart-" + id + " .tools");
  let select = [...tools.querySelectorAll("select")].find((one) => one.getAttribute("aria-label") === label);
  if (!select) {
    select = element("select", { "aria-label": label, onchange: () => schedule([]) },
      ...options.map(([value, text]) => element("option", { value }, text)));
    select.value = initial;
    tools.append(element("label", {}, label + " ", select));
  }
  return select.value;
}
