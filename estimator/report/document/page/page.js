// Start: reads the data, builds the controls, draws the charts, and keeps table and charts in step with the state.
let page = null;
let pending = 0;

function prepare(data) {
  page = data;
  const counts = new Map();
  for (const budget of page.budgets) {
    // Two budgets on one figure are told apart by a number.
    const count = (counts.get(budget.figure) || 0) + 1;
    counts.set(budget.figure, count);
    budget.name = count === 1 ? budget.figure : budget.figure + "." + count;
  }
  page.options.forEach((option, i) => {
    option.index = i;
    option.nodes = option.ledger.nodes;
    option.name_at = new Map();
    option.node_of = new Map();
    option.nodes.forEach((node, n) => { if (node[0] === op.input) option.node_of.set(page.inputs[node[1]].k, n); });
    for (const [node, name] of option.ledger.names) {
      const [key, label, unit] = page.names[name];
      option.name_at.set(node, { key, label, unit: page.units[unit] });
      option.node_of.set(key, node);
    }
  });
  page.recorded_inputs = Float64Array.from(page.inputs, (input) => input.r[1]);
  page.ambient_place = page.inputs.findIndex((input) => input.k === "study.ambient");
  page.results = new Map();
}

function update_row(row, result) {
  for (const button of row.querySelectorAll("button.figure")) {
    const node = result.option.node_of.get(button.dataset.figure);
    const value = result.values[node];
    if (String(value) === button.dataset.value) continue;
    button.dataset.value = value;
    button.textContent = format_quantity(value, unit_at(result.option, node));
  }
  for (const cell of row.querySelectorAll("td[data-budget]")) {
    const of = result.budgets[Number(cell.dataset.budget)];
    cell.classList.toggle("holds", of.meets);
    cell.classList.toggle("misses", !of.meets);
    cell.querySelector(".bar i").style.width = (50 * Math.abs(of.margin)).toFixed(0) + "%";
    cell.querySelector(".margin").replaceChildren(element("span", { class: "spoken" }, of.meets ? "" : "misses "),
      format_margin(of.margin));
  }
  row.classList.toggle("holds", result.meets);
  row.classList.toggle("misses", !result.meets);
  row.querySelector(".rank").textContent = result.rank;
  row.querySelector(".sure").textContent = format_percent(result.probability).replace(" ", "\u00a0");
}

function update_table(ordered, budgets) {
  const body = document.querySelector("#budgets-table tbody");
  const rows = new Map([...body.children].map((row) => [row.dataset.option, row]));
  for (const result of ordered) {
    const row = rows.get(result.option.id);
    update_row(row, result);
    body.append(row);
  }
  for (const head of document.querySelectorAll("#budgets-table th[data-budget]")) {
    const budget = budgets[Number(head.dataset.budget)];
    head.querySelector(".limit").textContent = format_quantity(budget.limit, page.units[budget.unit]);
  }
}

function update_notice(ordered, refused) {
  const notice = document.getElementById("moved");
  const lines = list_changes();
  notice.hidden = lines.length + refused.length === 0;
  document.documentElement.classList.toggle("is-moved", lines.length > 0);
  if (notice.hidden) return notice.replaceChildren();
  const recorded = page.options[0], first = ordered[0];
  const outside = new Set(ordered.flatMap((result) => lookups_outside(result.option.nodes, result.values, page.tables)));
  const parts = [];
  if (lines.length > 0) {
    parts.push(element("p", {}, element("strong", {}, "What if: these are not the recorded values. "),
      first.option.id === recorded.id ? `${first.option.id} still comes first` :
        `${first.option.id} comes first instead of ${recorded.id}`,
      first.meets ? "." : ", though it misses a hard budget or limit" +
        (first.broken.length > 0 ? ` (${first.broken.join(", ")}).` : "."), " ",
      element("button", { type: "button", onclick: reset_changes }, "Back to the recorded run")),
    element("ul", {}, ...lines.map((line) => element("li", {}, line))));
    const broken = ordered.filter((result) => result.broken.length > 0);
    if (broken.length > 0) {
      parts.push(element("p", {}, "Outside what stays valid: " +
        broken.map((result) => `${result.option.id} (${result.broken.join(", ")})`).join("; ") + "."));
    }
  }
  if (outside.size > 0) parts.push(element("p", {}, "Beyond the points of: " + [...outside].join(", ") + "; the end value is taken."));
  if (refused.length > 0) parts.push(element("p", {}, "Not used from the address: " + refused.join(", ")));
  return notice.replaceChildren(...parts);
}

function refresh(refused) {
  const inputs = current_inputs(), budgets = current_budgets();
  const results = page.options.map((option) => judge(option, inputs, budgets));
  if (is_moved()) {
    add_probabilities(results, inputs, budgets);
  } else {
    for (const result of results) {
      result.probability = result.option.probability;
      result.probabilities = page.budgets.map((budget) => budget.probabilities[result.option.index]);
      result.ranges = new Map(Object.entries(result.option.figures).map(([key, of]) => [key, [of[1], of[2]]]));
    }
  }
  for (const result of results) page.results.set(result.option.id, result);
  page.ordered = order_results([...results]);
  // Recorded ranks count all options that can be built; moved ones those of this page.
  if (!is_moved()) for (const result of results) result.rank = result.option.rank;
  page.current = { inputs, budgets };
  update_table(page.ordered, budgets);
  update_notice(page.ordered, refused);
  for (const refresher of refreshers) refresher();
  draw_charts().then(() => { document.documentElement.dataset.state = "ready"; });
}

// Slider moves come faster than charts are drawn: the last one counts.
function apply_changes() {
  const fragment = fragment_of_changes();
  history.replaceState(null, "", fragment === "" ? location.pathname + location.search : "#" + fragment);
  schedule([]);
}

function schedule(refused) {
  document.documentElement.dataset.state = "busy";
  clearTimeout(pending);
  pending = setTimeout(() => refresh(refused), 60);
}

function reset_changes() {
  for (const map of Object.values(whatif)) map.clear();
  apply_changes();
}

function start() {
  prepare(JSON.parse(document.getElementById("data").textContent));
  document.documentElement.classList.add("js");
  const refused = read_fragment(location.hash);
  build_controls();
  document.addEventListener("click", (event) => {
    const button = event.target.closest("button.figure");
    if (button) show_derivation(button.dataset.option, button.dataset.figure);
    const link = event.target.closest("a[data-place]");
    if (!link) return;
    // Following a link must not overwrite the state in the address.
    event.preventDefault();
    const target = document.querySelector(link.getAttribute("href"));
    target.setAttribute("tabindex", "-1");
    target.focus({ preventScroll: true });
    target.scrollIntoView();
  });
  addEventListener("hashchange", () => schedule(read_fragment(location.hash)));
  let width = document.documentElement.clientWidth;
  addEventListener("resize", () => {
    if (document.documentElement.clientWidth === width) return;
    width = document.documentElement.clientWidth;
    schedule([]);
  });
  schedule(refused);
}

// After the first paint: the text is there already.
requestAnimationFrame(() => setTimeout(start, 0));
