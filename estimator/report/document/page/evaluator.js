// Evaluates ledgers in the page: the same operations, in the same order, as figures/evaluate.cpp.
const op = { input: 0, constant: 1, same: 2, add: 3, subtract: 4, multiply: 5, divide: 6, minimum: 7, maximum: 8,
  power: 9, raise: 10, log: 11, exp: 12, round_up: 13, round_down: 14, lookup: 15, at_least: 16, select: 17 };

function table_value(table, x) {
  const last = table.x.length - 1;
  if (!(x > table.x[0] && x < table.x[last])) {
    if (Number.isNaN(x)) return x;
    return x <= table.x[0] ? table.y[0] : table.y[last];
  }
  let left = 0;
  while (left + 2 <= last && table.x[left + 1] <= x) ++left;
  const [x0, x1, y0, y1] = [table.x[left], table.x[left + 1], table.y[left], table.y[left + 1]];
  if (table.log) return y0 * Math.pow(x / x0, Math.log(y1 / y0) / Math.log(x1 / x0));
  return y0 + (y1 - y0) / (x1 - x0) * (x - x0);
}

function to_power(base, exponent) {
  if (exponent === 2) return base * base;
  if (exponent === -1) return 1 / base;
  if (exponent === 0.5) return Math.sqrt(base);
  return Math.pow(base, exponent);
}

// One node from the values of earlier nodes. `inputs` gives an input's value by its number.
function node_value(node, values, inputs, tables) {
  const a = values[node[1]], b = values[node[2]];
  switch (node[0]) {
    case op.input: return inputs[node[1]];
    case op.constant: return node[1];
    case op.same: return a;
    case op.add: return a + b;
    case op.subtract: return a - b;
    case op.multiply: return a * b;
    case op.divide: return a / b;
    case op.minimum: return a < b ? a : b;
    case op.maximum: return a > b ? a : b;
    case op.power: return to_power(a, node[2]);
    case op.raise: return Math.pow(a, b);
    case op.log: return Math.log(a);
    case op.exp: return Math.exp(a);
    case op.round_up: return Math.ceil(a);
    case op.round_down: return Math.floor(a);
    case op.lookup: return table_value(tables[node[2]], a);
    case op.at_least: return a >= b ? 1 : 0;
    case op.select: return a !== 0 ? b : values[node[3]];
    default: throw new Error("unknown operation " + node[0]);
  }
}

function evaluate(nodes, inputs, tables) {
  const values = new Float64Array(nodes.length);
  for (let i = 0; i < nodes.length; ++i) values[i] = node_value(nodes[i], values, inputs, tables);
  return values;
}

const argument_counts = [0, 0, 1, 2, 2, 2, 2, 2, 2, 1, 2, 1, 1, 1, 1, 1, 2, 3];

function node_arguments(node) {
  return node.slice(1, 1 + argument_counts[node[0]]);
}

// Which nodes the wanted ones depend on, in order.
function needed_nodes(nodes, wanted) {
  const needed = new Uint8Array(nodes.length);
  for (const node of wanted) needed[node] = 1;
  for (let i = nodes.length; i-- > 0;) {
    if (!needed[i]) continue;
    for (const argument of node_arguments(nodes[i])) needed[argument] = 1;
  }
  const order = [];
  for (let i = 0; i < nodes.length; ++i) if (needed[i]) order.push(i);
  return order;
}

// Lookups outside their points, for which the end value was taken: labels of the tables.
function lookups_outside(nodes, values, tables) {
  const labels = [];
  for (const node of nodes) {
    if (node[0] !== op.lookup) continue;
    const table = tables[node[2]], x = values[node[1]];
    if (x < table.x[0] || x > table.x[table.x.length - 1]) labels.push(table.l);
  }
  return labels;
}
