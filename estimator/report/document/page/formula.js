// A formula as text, down to the figures that have a name; the rules of figures/formula_text.cpp.
const sum_level = 1, product_level = 2, power_level = 3, atom_level = 4;

function precedence_of(operation) {
  if (operation === op.add || operation === op.subtract || operation === op.at_least) return sum_level;
  if (operation === op.multiply || operation === op.divide) return product_level;
  if (operation === op.power || operation === op.raise) return power_level;
  return atom_level;
}

class FormulaWriter {
  constructor(option, leaf_text) {
    this.option = option;
    this.leaf_text = leaf_text;
  }
  is_leaf(index) {
    return this.option.nodes[index][0] <= op.constant || this.option.name_at.has(index);
  }
  write(index) {
    const node = this.option.nodes[index];
    const infix = (sign, left, right) => this.operand(node[1], left) + sign + this.operand(node[2], right);
    switch (node[0]) {
      case op.input: case op.constant: return this.leaf_text(index);
      case op.same: return this.operand(node[1], 0);
      case op.add: return infix(" + ", sum_level, sum_level);
      case op.subtract: return infix(" \u2212 ", sum_level, product_level);
      case op.multiply: return infix(" \u00d7 ", product_level, product_level);
      case op.divide: return infix(" / ", product_level, power_level);
      case op.at_least: return infix(" \u2265 ", product_level, product_level);
      case op.power: return this.operand(node[1], atom_level) + "^" + format_number(node[2], 4);
      case op.raise: return this.operand(node[1], atom_level) + "^" + this.operand(node[2], atom_level);
      case op.lookup: return (page.tables[node[2]].l || "lookup") + "(" + this.operand(node[1], 0) + ")";
      case op.select: return "if(" + [1, 2, 3].map((k) => this.operand(node[k], 0)).join(", ") + ")";
      default: {
        const name = Object.keys(op).find((key) => op[key] === node[0]);
        const count = node[0] === op.minimum || node[0] === op.maximum ? 2 : 1;
        return name + "(" + node.slice(1, 1 + count).map((argument) => this.operand(argument, 0)).join(", ") + ")";
      }
    }
  }
  operand(index, least) {
    const leaf = this.is_leaf(index);
    const text = leaf ? this.leaf_text(index) : this.write(index);
    const loose = leaf ? least === atom_level && /[ -]/.test(text) : precedence_of(this.operation_of(index)) < least;
    return loose ? "(" + text + ")" : text;
  }
  operation_of(index) {
    const nodes = this.option.nodes;
    while (nodes[index][0] === op.same && !this.is_leaf(nodes[index][1])) index = nodes[index][1];
    return nodes[index][0];
  }
  // The leaves of a node's formula in the order they are written, each once.
  leaves(root) {
    const seen = new Set(), found = [];
    const visit = (index) => {
      if (seen.has(index)) return;
      seen.add(index);
      if (this.is_leaf(index)) found.push(index);
      else for (const argument of node_arguments(this.option.nodes[index])) visit(argument);
    };
    for (const argument of node_arguments(this.option.nodes[root])) visit(argument);
    return found;
  }
}
