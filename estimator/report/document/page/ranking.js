// Margins, feasibility and order, by the rules of options/limits.cpp and decision/ranking.cpp.
const least_room_k = 1, endless_excess = 1e9;

// Temperatures count from the ambient of `inputs`, as for a study that says so.
function with_zeros(limits, inputs) {
  const ambient = page.ambient_place < 0 ? page.ambient : inputs[page.ambient_place];
  return limits.map((limit) => ({ ...limit,
    zero: limit.is_temperature ? Math.min(ambient, limit.limit - least_room_k) : 0 }));
}

function allowed_of(limit) {
  return limit.zero + (limit.limit - limit.zero) * (1 - (limit.margin || 0));
}

function excess_of(limit, value) {
  const room = allowed_of(limit) - limit.zero;
  if (room === 0) return value <= limit.zero ? 0 : endless_excess;
  return (value - limit.zero) / room;
}

function margin_of(limit, value) {
  const allowed = allowed_of(limit), room = allowed - limit.zero;
  if (room === 0) return value <= limit.zero ? 0 : -1;
  return Math.min(1, Math.max(-1, (allowed - value) / room));
}

function meets(limit, value) {
  return value <= allowed_of(limit) * (1 + 1e-12);
}

// {values, budgets [{value, margin, meets}], broken [meanings], meets, score, worst_excess over a hard limit} of an
// option at the given inputs.
function judge(option, inputs, budgets) {
  const values = evaluate(option.nodes, inputs, page.tables);
  const result = { option, values, budgets: [], broken: [], meets: true, score: 0, worst_excess: 0 };
  let weights = 0;
  for (const budget of with_zeros(budgets, inputs)) {
    const node = option.node_of.get(budget.figure);
    if (node === undefined) {
      result.budgets.push(null);
      continue;
    }
    const value = values[node], margin = margin_of(budget, value), holds = meets(budget, value);
    result.budgets.push({ value, margin, meets: holds });
    if (budget.hard && !holds) result.meets = false;
    if (budget.hard) result.worst_excess = Math.max(result.worst_excess, excess_of(budget, value));
    result.score += budget.weight * margin;
    weights += budget.weight;
  }
  if (weights > 0) result.score /= weights;
  for (const limit of with_zeros(option.limits, inputs)) {
    const value = values[option.node_of.get(limit.figure)];
    result.worst_excess = Math.max(result.worst_excess, excess_of(limit, value));
    if (meets(limit, value)) continue;
    result.meets = false;
    result.broken.push(limit.meaning);
  }
  return result;
}

// By the values of the budgets' figures, in the study's order.
function compare_values(a, b) {
  for (let i = 0; i < a.budgets.length; ++i) {
    const difference = (a.budgets[i] ? a.budgets[i].value : Infinity) - (b.budgets[i] ? b.budgets[i].value : Infinity);
    if (difference < 0 || difference > 0) return difference;
  }
  return 0;
}

// Best first: feasible ones, then probability in whole percents, then, among the others, the worst excess, then the
// weighted margin, the values, the id.
function order_results(results) {
  const percent = (result) => Math.round(100 * result.probability);
  results.sort((a, b) => (b.meets - a.meets) || (percent(b) - percent(a)) ||
    (a.meets ? 0 : a.worst_excess - b.worst_excess) || (b.score - a.score) || compare_values(a, b) ||
    (a.option.id < b.option.id ? -1 : 1));
  results.forEach((result, i) => { result.rank = i + 1; });
  return results;
}

// The option that leads where all that matters is the weighted margin of feasible ones; null: none is feasible.
function leader_at(options, inputs, budgets) {
  let best = null;
  for (const option of options) {
    const result = judge(option, inputs, budgets);
    if (result.meets && (best === null || result.score > best.score)) best = result;
  }
  return best === null ? null : best.option;
}
