// Probabilities and ranges at moved inputs.
//
// The recorded run used many quasi-random samples. The page draws a thousand of its own, once at the recorded inputs
// and once at the moved ones, with the same random numbers, and adds the difference to the recorded probability: at the
// recorded inputs the answer is exactly the recorded one, and the sampling error of a move is small.
const sample_count = 1024;

// Mulberry32: a small generator is enough for stratified samples.
function random_numbers(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6D2B79F5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

function triangular_quantile(low, typical, high, u) {
  const width = high - low;
  if (width <= 0) return typical;
  if (u < (typical - low) / width) return low + Math.sqrt(u * width * (typical - low));
  return high - Math.sqrt((1 - u) * width * (high - typical));
}

// One stratified column of unit samples for each coordinate: an input, or a group of inputs that move together.
function make_coordinates() {
  const names = new Set();
  for (const input of page.inputs) if (input.r[0] < input.r[2]) names.add(input.c ? "0 " + input.c : "1 " + input.k);
  const random = random_numbers(20240607);
  const coordinates = new Map();
  for (const name of [...names].sort()) {
    const column = new Float64Array(sample_count);
    for (let i = 0; i < sample_count; ++i) column[i] = (i + random()) / sample_count;
    for (let i = sample_count - 1; i > 0; --i) {
      const j = Math.floor(random() * (i + 1));
      [column[i], column[j]] = [column[j], column[i]];
    }
    coordinates.set(name, column);
  }
  return coordinates;
}

let coordinates = null;

// The samples of an input whose typical value was moved: low and high keep their proportion to it.
function input_column(input, value) {
  if (input.r[0] >= input.r[2]) return null;
  const factor = input.r[1] === 0 ? 0 : value / input.r[1];
  const [low, high] = input.r[1] === 0 && value !== 0 ? [value, value] : [input.r[0] * factor, input.r[2] * factor];
  if (input.r[1] === 0 && value === 0) return scaled_column(input, input.r[0], 0, input.r[2]);
  return scaled_column(input, low, value, high);
}

function scaled_column(input, low, typical, high) {
  const u = coordinates.get(input.c ? "0 " + input.c : "1 " + input.k);
  const column = new Float64Array(sample_count);
  for (let i = 0; i < sample_count; ++i) column[i] = triangular_quantile(low, typical, high, u[i]);
  return column;
}

// One operation over all samples; operands are columns or numbers. The loops stand inside the cases, since a slider
// waits for them; operations that are rare go through node_value.
function column_value(node, operands) {
  const column = new Float64Array(sample_count);
  const [a, b] = operands.map((operand) => typeof operand === "number" ? column.slice().fill(operand) : operand);
  switch (node[0]) {
    case op.same: return operands[0];
    case op.add: for (let i = 0; i < sample_count; ++i) column[i] = a[i] + b[i]; return column;
    case op.subtract: for (let i = 0; i < sample_count; ++i) column[i] = a[i] - b[i]; return column;
    case op.multiply: for (let i = 0; i < sample_count; ++i) column[i] = a[i] * b[i]; return column;
    case op.divide: for (let i = 0; i < sample_count; ++i) column[i] = a[i] / b[i]; return column;
    default: break;
  }
  const places = node_arguments(node), row = [];
  for (let i = 0; i < sample_count; ++i) {
    operands.forEach((operand, k) => { row[places[k]] = typeof operand === "number" ? operand : operand[i]; });
    column[i] = node_value(node, row, null, page.tables);
  }
  return column;
}

// Columns of the wanted nodes of one option, node by node over all samples.
function sample_nodes(option, columns, inputs, wanted) {
  const results = new Array(option.nodes.length);
  for (const index of needed_nodes(option.nodes, wanted)) {
    const node = option.nodes[index];
    if (node[0] === op.input) {
      results[index] = columns[node[1]] || inputs[node[1]];
      continue;
    }
    const arguments_of = node_arguments(node);
    if (arguments_of.every((argument) => typeof results[argument] === "number")) {
      const scalars = [];
      for (const argument of arguments_of) scalars[argument] = results[argument];
      results[index] = node_value(node, scalars, inputs, page.tables);
      continue;
    }
    results[index] = column_value(node, arguments_of.map((argument) => results[argument]));
  }
  return wanted.map((node) => results[node]);
}

function share_below(column, limit) {
  if (typeof column === "number") return meets(limit, column) ? 1 : 0;
  let count = 0;
  for (let i = 0; i < sample_count; ++i) if (meets(limit, column[i])) ++count;
  return count / sample_count;
}

// {all, budgets, ranges}: share of samples that keep all hard limits, that keep each budget, and the 5 % and 95 %
// points of the budgeted figures.
function sample_option(option, columns, inputs, budgets) {
  const own = budgets.map((budget) => ({ ...budget, counts: budget.hard }));
  const implied = option.limits.map((limit) => ({ ...limit, counts: true }));
  const limits = with_zeros([...own, ...implied], inputs).filter((limit) => option.node_of.has(limit.figure));
  const sampled = sample_nodes(option, columns, inputs, limits.map((limit) => option.node_of.get(limit.figure)));
  const kept = new Uint8Array(sample_count).fill(1);
  limits.forEach((limit, l) => {
    if (!limit.counts) return;
    const column = sampled[l];
    for (let i = 0; i < sample_count; ++i) {
      if (!meets(limit, typeof column === "number" ? column : column[i])) kept[i] = 0;
    }
  });
  let all = 0;
  for (let i = 0; i < sample_count; ++i) all += kept[i];
  const ranges = new Map();
  limits.forEach((limit, l) => {
    const column = sampled[l];
    if (typeof column === "number") return ranges.set(limit.figure, [column, column]);
    const sorted = Float64Array.from(column).sort();
    return ranges.set(limit.figure, [sorted[Math.round(0.05 * (sample_count - 1))],
      sorted[Math.round(0.95 * (sample_count - 1))]]);
  });
  return { all: all / sample_count, ranges,
    budgets: budgets.map((budget) => {
      const l = limits.findIndex((limit) => limit.figure === budget.figure && limit.limit === budget.limit);
      return l < 0 ? 0 : share_below(sampled[l], { ...budget, zero: limits[l].zero });
    }) };
}

function sample_columns(inputs) {
  return page.inputs.map((input, i) => input_column(input, inputs[i]));
}

// Adds probability, probabilities and ranges to results, by the difference to the recorded inputs.
function add_probabilities(results, inputs, budgets) {
  if (coordinates === null) coordinates = make_coordinates();
  if (!page.recorded_samples) {
    const columns = sample_columns(page.recorded_inputs);
    page.recorded_samples = new Map(page.options.map((option) =>
      [option.id, sample_option(option, columns, page.recorded_inputs, page.budgets)]));
  }
  const columns = sample_columns(inputs);
  const clamp = (share) => Math.min(1, Math.max(0, share));
  for (const result of results) {
    const before = page.recorded_samples.get(result.option.id);
    const after = sample_option(result.option, columns, inputs, budgets);
    result.probability = clamp(result.option.probability + after.all - before.all);
    result.probabilities = budgets.map((budget, b) =>
      clamp(page.budgets[b].probabilities[result.option.index] + after.budgets[b] - before.budgets[b]));
    result.ranges = new Map();
    for (const [figure, [low, high]] of after.ranges) {
      const recorded = result.option.figures[figure];
      if (!recorded) continue;
      const [old_low, old_high] = before.ranges.get(figure);
      result.ranges.set(figure, [recorded[1] + low - old_low, recorded[2] + high - old_high]);
    }
  }
}
