// Margins, feasibility and order, by the rules of options/limits.cpp and decision/ranking.cpp.
function margin_of(limit, value) {
  const allowed = limit.limit * (1 - (limit.margin || 0));
  if (allowed === 0) return value <= 0 ? 0 : -1;
  return Math.min(1, Math.max(-1, (allowed - value) / allowed));
}

function meets(limit, value) {
  return value <= limit.limit * (1 - (limit.margin || 0)) * (1 + 1e-12);
}

// {values, budgets [{value, margin, meets}], broken [meanings], meets, score} of an option at the given inputs.
function judge(option, inputs, budgets) {
  const values = evaluate(option.nodes, inputs, page.tables);
  const result = { option, values, budgets: [], broken: [], meets: true, score: 0 };
  let weights = 0;
  for (const budget of budgets) {
    const node = option.node_of.get(budget.figure);
    if (node === undefined) {
      result.budgets.push(null);
      continue;
    }
    const value = values[node], margin = margin_of(budget, value), holds = meets(budget, value);
    result.budgets.push({ value, margin, meets: holds });
    if (budget.hard && !holds) result.meets = false;
    result.score += budget.weight * margin;
    weights += budget.weight;
  }
  if (weights > 0) result.score /= weights;
  for (const limit of option.limits) {
    if (meets(limit, values[option.node_of.get(limit.figure)])) continue;
    result.meets = false;
    result.broken.push(limit.meaning);
  }
  return result;
}

// Best first: feasible ones, then probability in whole percents, then the weighted margin, then the id.
function order_results(results) {
  const percent = (result) => Math.round(100 * result.probability);
  results.sort((a, b) => (b.meets - a.meets) || (percent(b) - percent(a)) || (b.score - a.score) ||
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
