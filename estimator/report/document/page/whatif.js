// What the reader has changed: inputs, factors, limits and weights; kept in the address fragment so that it can be
// mailed: #duty_cycle=0.02&clock=2&prices=1.1&limit.active_power=0.01&weight.unit_cost=3 (values SI).
const whatif = { inputs: new Map(), factors: new Map(), limits: new Map(), weights: new Map() };

// Factors move several inputs together, each in proportion to its own recorded value.
const factor_kinds = {
  clock: { label: "Clock rate, times each option's own", applies: (input) => input.k === "clock_rate" },
  prices: { label: "Prices of all parts, times the recorded", applies: (input) => input.c === "prices" },
};

function current_inputs() {
  return Float64Array.from(page.inputs, (input) => {
    if (whatif.inputs.has(input.k)) return whatif.inputs.get(input.k);
    let value = input.r[1];
    for (const [name, factor] of whatif.factors) if (factor_kinds[name].applies(input)) value *= factor;
    return value;
  });
}

function current_budgets() {
  return page.budgets.map((budget) => ({ ...budget,
    limit: whatif.limits.has(budget.name) ? whatif.limits.get(budget.name) : budget.limit,
    weight: whatif.weights.has(budget.name) ? whatif.weights.get(budget.name) : budget.weight }));
}

function is_moved() {
  return whatif.inputs.size + whatif.factors.size + whatif.limits.size + whatif.weights.size > 0;
}

// Sets or, at the recorded value, clears one change.
function change(map, key, value, recorded) {
  if (value === recorded) map.delete(key);
  else map.set(key, value);
}

function fragment_of_changes() {
  const parts = [];
  const add = (prefix, map) => {
    for (const [key, value] of map) parts.push(encodeURIComponent(prefix + key) + "=" + value);
  };
  add("", whatif.inputs);
  add("", whatif.factors);
  add("limit.", whatif.limits);
  add("weight.", whatif.weights);
  return parts.join("&");
}

// Reads a fragment; returns the entries it can't use. A value must be a finite number that isn't negative.
function read_fragment(fragment) {
  for (const map of Object.values(whatif)) map.clear();
  const refused = [];
  for (const part of fragment.replace(/^#/, "").split("&").filter((text) => text.includes("="))) {
    const at = part.indexOf("=");
    let key = part.slice(0, at);
    try {
      key = decodeURIComponent(key);
    } catch (error) {
      refused.push(part);
      continue;
    }
    const text = part.slice(at + 1), value = Number(text);
    const budget = page.budgets.find((one) => key === "limit." + one.name || key === "weight." + one.name);
    const input = page.inputs.find((one) => one.k === key);
    if (text === "" || !Number.isFinite(value) || value < 0) refused.push(part);
    else if (budget) change(key.startsWith("limit.") ? whatif.limits : whatif.weights, budget.name, value,
      key.startsWith("limit.") ? budget.limit : budget.weight);
    else if (Object.hasOwn(factor_kinds, key)) change(whatif.factors, key, value, 1);
    else if (input && !page.structural.includes(key)) whatif.inputs.set(key, value);
    else refused.push(part);
  }
  return refused;
}

// One line for each change: what, from, to.
function list_changes() {
  const lines = [];
  for (const [key, value] of whatif.inputs) {
    const input = page.inputs.find((one) => one.k === key), unit = page.units[input.u];
    lines.push(input.l + ": " + format_quantity(input.r[1], unit) + " \u2192 " + format_quantity(value, unit, 4));
  }
  for (const [name, factor] of whatif.factors) lines.push(factor_kinds[name].label + ": \u00d7 " + format_number(factor, 3));
  for (const budget of page.budgets) {
    const unit = page.units[budget.unit];
    if (whatif.limits.has(budget.name)) {
      lines.push("limit of " + budget.label + ": " + format_quantity(budget.limit, unit) + " \u2192 " +
        format_quantity(whatif.limits.get(budget.name), unit, 4));
    }
    if (whatif.weights.has(budget.name)) {
      lines.push("weight of " + budget.label + ": " + budget.weight + " \u2192 " + whatif.weights.get(budget.name));
    }
  }
  return lines;
}
