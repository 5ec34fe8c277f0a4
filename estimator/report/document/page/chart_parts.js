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

// Named, since the library measures texts with it.
const chart_font = "Seravek, 'Gill Sans Nova', Ubuntu, Calibri, 'DejaVu Sans', sans-serif";

const chart_config = {
  background: null,
  text: { font: chart_font, fontSize: 12, fill: ink },
  axis: { labelFont: chart_font, titleFont: chart_font, labelFontSize: 12, titleFontSize: 12, titleFontWeight: "normal",
    labelColor: ink, titleColor: soft_ink, domainColor: soft_ink, tickColor: soft_ink, gridColor: hairline, labelLimit: 260 },
  legend: { labelFont: chart_font, titleFont: chart_font, labelFontSize: 12, labelColor: ink, titleColor: soft_ink,
    orient: "top", direction: "horizontal", symbolStrokeColor: ink, offset: 8 },
};

// A specification as an SVG element that scales with its place.
async function render(specification) {
  const { parse, View, interpreter } = load_charts();
  const view = new View(parse({ ...specification, padding: 4, autosize: { type: "fit-x", contains: "padding" } }, chart_config,
    { ast: true }), { expr: interpreter, renderer: "none" });
  const text = await view.toSVG();
  view.finalize();
  const drawing = document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true);
  drawing.style.maxWidth = drawing.getAttribute("width") + "px";
  drawing.removeAttribute("height");
  drawing.setAttribute("aria-hidden", "true");
  return drawing;
}

async function draw(id, specification) {
  const drawing = await render({ width: width_of(id), ...specification });
  const place = document.querySelector("#chart-" + id + " .canvas");
  place.replaceChildren(drawing);
  place.style.minHeight = "";
}

// Letters and names beside their fills.
function fill_legend(entries) {
  return element("ul", { class: "legend" }, ...entries.map(([letter, name], i) => element("li", {},
    element("span", { class: "swatch fill-" + i % 8 }, letter), " " + name)));
}

// Words in lines of at most this many characters, where words allow.
function wrap_words(words, most) {
  const lines = [];
  for (const word of words) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + 1 + word.length <= most) lines[lines.length - 1] = last + " " + word;
    else lines.push(word);
  }
  return lines;
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
