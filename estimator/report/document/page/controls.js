// The panel of sliders and fields. Every control is a labelled form field; a slider and a number field share one value.
function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (value !== false) made.setAttribute(key, value === true ? "" : value);
  }
  made.append(...children);
  return made;
}

const refreshers = [];  // bring each control to the present state
let next_control = 0;

// A slider over [low, high] with a number field in the unit's terms. `get` and `set` speak SI.
function slider_control({ label, unit, low, high, logarithmic, get, set }) {
  const id = "control-" + next_control++;
  const to_share = (value) => logarithmic ? Math.log(value / low) / Math.log(high / low) : (value - low) / (high - low);
  const to_value = (share) => logarithmic ? low * Math.pow(high / low, share) : low + (high - low) * share;
  const slider = element("input", { type: "range", id, min: 0, max: 1000, step: 1, oninput: () => {
    set(Number(to_value(slider.value / 1000).toPrecision(3)));
  } });
  const field = element("input", { type: "number", step: "any", min: 0, "aria-label": label + ", number", onchange: () => {
    const value = to_si(Number(field.value), unit);
    if (field.value !== "" && Number.isFinite(value) && value >= 0) set(value);
    refresh();
  } });
  const refresh = () => {
    const value = get();
    slider.value = Math.round(1000 * Math.min(1, Math.max(0, value > 0 || !logarithmic ? to_share(value) : 0)));
    slider.setAttribute("aria-valuetext", format_quantity(value, unit));
    if (document.activeElement !== field) field.value = Number(from_si(value, unit).toPrecision(6));
  };
  refreshers.push(refresh);
  refresh();
  return element("div", { class: "control" }, element("label", { for: id }, label), slider,
    element("span", { class: "entry" }, field, unit.t === "1" ? "" : " " + unit.t));
}

function number_control({ label, unit, get, set }) {
  const field = element("input", { type: "number", step: "any", min: 0, "aria-label": label, onchange: () => {
    const value = to_si(Number(field.value), unit);
    if (field.value !== "" && Number.isFinite(value) && value >= 0) set(value);
    refresh();
  } });
  const refresh = () => { field.value = Number(from_si(get(), unit).toPrecision(8)); };
  refreshers.push(refresh);
  refresh();
  return field;
}

function input_slider(key, low, high, logarithmic) {
  const input = page.inputs.find((one) => one.k === key);
  if (!input || input.r[1] < 0) return "";
  return slider_control({ label: input.l, unit: page.units[input.u], low, high, logarithmic,
    get: () => whatif.inputs.has(key) ? whatif.inputs.get(key) : input.r[1],
    set: (value) => { change(whatif.inputs, key, value, input.r[1]); apply_changes(); } });
}

function factor_slider(name, low, high) {
  return slider_control({ label: factor_kinds[name].label, unit: { t: "1", f: 1 }, low, high, logarithmic: true,
    get: () => whatif.factors.has(name) ? whatif.factors.get(name) : 1,
    set: (value) => { change(whatif.factors, name, value, 1); apply_changes(); } });
}

function budget_controls() {
  const rows = page.budgets.map((budget) => {
    const unit = page.units[budget.unit];
    const limit = number_control({ label: "limit of " + budget.label + " in " + unit.t, unit,
      get: () => whatif.limits.has(budget.name) ? whatif.limits.get(budget.name) : budget.limit,
      set: (value) => { change(whatif.limits, budget.name, value, budget.limit); apply_changes(); } });
    const weight = number_control({ label: "weight of " + budget.label, unit: { t: "1", f: 1 },
      get: () => whatif.weights.has(budget.name) ? whatif.weights.get(budget.name) : budget.weight,
      set: (value) => { change(whatif.weights, budget.name, value, budget.weight); apply_changes(); } });
    return element("tr", {}, element("th", { scope: "row" }, budget.label), element("td", {}, limit, " " + unit.t),
      element("td", {}, weight));
  });
  return element("table", { class: "fields" }, element("caption", {}, "Budgets"),
    element("thead", {}, element("tr", {}, element("th", { scope: "col" }, "figure"),
      element("th", { scope: "col" }, "limit"), element("th", { scope: "col" }, "weight"))),
    element("tbody", {}, ...rows));
}

// Any other input: chosen by name, then set with a slider from a third to three times its value.
function other_input() {
  const places = element("div", {});
  const keys = [...new Set(page.inputs.map((input) => input.k))].sort();
  const chosen = new Set(["duty_cycle", "volume_per_year", "years", ...page.revisions.map((name) => `revision.${name}.chance`)]);
  const list = element("datalist", { id: "all-inputs" });
  for (const key of keys) {
    if (!page.structural.includes(key)) list.append(element("option", { value: key }));
  }
  const field = element("input", { type: "text", list: "all-inputs", id: "other-input", autocomplete: "off" });
  const note = element("span", { class: "note", role: "status" });
  const add = (key) => {
    const input = page.inputs.find((one) => one.k === key);
    if (page.structural.includes(key)) note.textContent = "needs a new run";
    else if (!input) note.textContent = "no such input";
    else if (chosen.has(key)) note.textContent = "is shown already";
    else {
      const typical = input.r[1];
      chosen.add(key);
      note.textContent = "";
      places.append(input_slider(key, typical > 0 ? typical / 3 : 0, typical > 0 ? typical * 3 : 1, typical > 0));
    }
  };
  // Inputs that came with the address get their slider too.
  refreshers.push(() => { for (const key of whatif.inputs.keys()) if (!chosen.has(key)) add(key); });
  return element("div", { class: "control" }, element("label", { for: "other-input" }, "Any other input"), list,
    element("span", { class: "entry" }, field,
      element("button", { type: "button", onclick: () => add(field.value.trim()) }, "Add"), note), places);
}

function structural_note() {
  return element("p", { class: "note" }, "Needs a new covering, schedule or package choice, so run the program again: ",
    ...page.structural.flatMap((key, i) => [i > 0 ? ", " : "", element("code", {}, key)]), ".");
}

function build_controls() {
  const place = document.getElementById("whatif");
  const of = (key) => page.inputs.find((one) => one.k === key);
  const duty = of("duty_cycle"), volume = of("volume_per_year"), years = of("years");
  const sliders = [];
  if (duty) sliders.push(input_slider("duty_cycle", Math.max(1e-6, duty.r[1] / 100), 1, true));
  if (of("clock_rate")) sliders.push(factor_slider("clock", 0.25, 8));
  if (volume) sliders.push(input_slider("volume_per_year", volume.r[0] / 5, volume.r[2] * 5, true));
  if (years) sliders.push(input_slider("years", 1, years.r[2] * 2, false));
  sliders.push(factor_slider("prices", 0.5, 2));
  for (const name of page.revisions) sliders.push(input_slider(`revision.${name}.chance`, 0, 1, false));
  const details = element("details", { open: window.matchMedia("(min-width: 75rem)").matches },
    element("summary", {}, element("h2", { id: "whatif-title" }, "What if")),
    element("p", { class: "note" }, "Everything on this page marked \u201crecorded\u201d stays; the rest follows. The address keeps your values."),
    ...sliders, budget_controls(), other_input(), structural_note(),
    element("p", {}, element("button", { type: "button", onclick: reset_changes }, "Back to the recorded run")));
  place.replaceChildren(details);
  place.hidden = false;
}
