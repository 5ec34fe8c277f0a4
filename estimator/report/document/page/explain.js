// Where a figure comes from: its formula with names and with numbers, each part in turn, down to file and line.
function derivation_item(writer, result, index, expanded) {
  const option = writer.option, node = option.nodes[index];
  const shown = (leaf) => {
    const of = option.nodes[leaf];
    if (of[0] === op.constant) return format_quantity(of[1], page.units[of[2]], 4);
    return format_quantity(result.values[leaf], unit_at(option, leaf));
  };
  const item = element("li");
  const label = label_at(option, index);
  const line = element("p", {}, element("b", {}, label), " = ");
  item.append(line);
  if (node[0] === op.input) {
    const input = page.inputs[node[1]], unit = page.units[input.u];
    line.append(element("span", { class: "value" }, shown(index)));
    if (input.r[0] < input.r[2]) {
      line.append(" (recorded " + format_quantity(input.r[0], unit) + " .. " + format_quantity(input.r[2], unit) + ")");
    }
    if (result.values[index] !== input.r[1]) line.append(" moved from " + format_quantity(input.r[1], unit));
    item.append(element("p", { class: "source" }, input.s[0] || "no source given",
      input.s[1] ? element("code", {}, input.s[1]) : ""));
    return item;
  }
  const names = new FormulaWriter(option, (leaf) => option.nodes[leaf][0] === op.constant ? shown(leaf) : label_at(option, leaf));
  const numbers = new FormulaWriter(option, shown);
  line.append(element("span", { class: "value" }, shown(index)));
  if (expanded.has(index)) {
    line.append(" (derived above)");
    return item;
  }
  expanded.add(index);
  item.append(element("p", { class: "formula" }, "= " + names.write(index)),
    element("p", { class: "formula" }, "= " + numbers.write(index)));
  const parts = writer.leaves(index).filter((leaf) => option.nodes[leaf][0] !== op.constant);
  if (parts.length > 0) {
    item.append(element("ul", {}, ...parts.map((leaf) => derivation_item(writer, result, leaf, expanded))));
  }
  return item;
}

function label_at(option, index) {
  const node = option.nodes[index];
  if (node[0] === op.input) return page.inputs[node[1]].l;
  const name = option.name_at.get(index);
  return name ? name.label : "";
}

function unit_at(option, index) {
  const node = option.nodes[index];
  if (node[0] === op.input) return page.units[page.inputs[node[1]].u];
  if (node[0] === op.constant) return page.units[node[2]];
  return option.name_at.get(index).unit;
}

function show_derivation(option_id, figure) {
  const option = page.options.find((one) => one.id === option_id);
  const result = page.results.get(option_id);
  const index = option.node_of.get(figure);
  const dialog = document.getElementById("derivation");
  const writer = new FormulaWriter(option, () => "");
  dialog.replaceChildren(
    element("form", { method: "dialog" }, element("button", { "aria-label": "Close" }, "Close")),
    element("h2", { id: "derivation-title" }, label_at(option, index) + " of " + option.id),
    element("p", { class: "note" }, is_moved() ? "With your values, not the recorded ones." : "With the recorded, typical values."),
    element("ul", { class: "derivation" }, derivation_item(writer, result, index, new Set())),
    ...option.notes.map((note) => element("p", { class: "note" }, note)));
  dialog.showModal();
}
