// The charts. Each is a function of the present results and draws into its figure.
function budget_figures() {
  const seen = new Map();
  for (const budget of page.current.budgets) if (!seen.has(budget.figure)) seen.set(budget.figure, budget);
  return seen;
}

function draw_tradeoff() {
  const figures = budget_figures();
  const choices = [...figures.values()].map((budget) => [budget.figure, budget.label]);
  const money = choices.find(([key]) => page.units[figures.get(key).unit].m) || choices[choices.length - 1];
  const other = choices.find(([key]) => key !== money[0] && figures.get(key).hard) || choices[0];
  const x_key = chart_choice("tradeoff", "Across", choices, other[0]);
  const y_key = chart_choice("tradeoff", "Up", choices, money[0]);
  const axis_of = (key) => {
    const budget = figures.get(key), unit = page.units[budget.unit];
    const highs = page.ordered.map((result) => result.ranges.get(key)[1]);
    const shown = axis_unit([...page.ordered.map((result) => result.values[result.option.node_of.get(key)]), budget.limit], unit);
    const lows = page.ordered.map((result) => result.ranges.get(key)[0]).filter((value) => value > 0);
    const logarithmic = !unit.o && lows.length === page.ordered.length && Math.max(...highs) / Math.min(...lows) > 30;
    return { budget, shown, logarithmic, to: (value) => from_si(value, shown) };
  };
  const x = axis_of(x_key), y = axis_of(y_key);
  const rows = page.ordered.map((result) => {
    const at = (key, axis) => {
      const [low, high] = result.ranges.get(key);
      return [axis.to(low), axis.to(result.values[result.option.node_of.get(key)]), axis.to(high)];
    };
    const [x0, x1, x2] = at(x_key, x), [y0, y1, y2] = at(y_key, y);
    return { id: result.option.id, rank: result.rank, kind: result.option.kind, x0, x1, x2, y0, y1, y2,
      holds: result.meets };
  });
  const kinds = [...new Set(page.options.map((option) => option.kind))];
  const scale = (name, range, axis, values) => ({ name, type: axis.logarithmic ? "log" : "linear", range, nice: true,
    zero: !axis.logarithmic && !axis.shown.o, domain: [Math.min(...values), Math.max(...values)] });
  const bounds = (axis, a, b) => [...rows.map((row) => row[a]), ...rows.map((row) => row[b]), axis.to(axis.budget.limit)];
  const title = (axis) => axis.budget.label + (axis.shown.t === "1" ? "" : ", " + axis.shown.t);
  const limit_rule = (axis, channel, extent) => [
    { type: "rule", encode: { enter: { [channel]: { scale: channel, value: axis.to(axis.budget.limit) },
      ...(channel === "x" ? { y: { value: 0 }, y2: { signal: extent } } : { x: { value: 0 }, x2: { signal: extent } }),
      stroke: { value: alarm }, strokeDash: { value: [6, 4] }, strokeWidth: { value: 1.5 } } } },
    { type: "text", encode: { enter: { [channel]: { scale: channel, value: axis.to(axis.budget.limit), offset: channel === "x" ? 13 : -5 },
      ...(channel === "x" ? { y: { signal: "height", offset: -4 }, angle: { value: -90 }, align: { value: "left" } } :
        { x: { signal: "width" }, align: { value: "right" } }),
      text: { value: (axis.budget.hard ? "limit " : "wish ") + format_quantity(axis.budget.limit, page.units[axis.budget.unit]) },
      fill: { value: alarm } } } }];
  return draw("tradeoff", { height: 380,
    data: [{ name: "options", values: rows }],
    scales: [scale("x", "width", x, bounds(x, "x0", "x2")), scale("y", "height", y, bounds(y, "y0", "y2")),
      { name: "shape", type: "ordinal", domain: kinds, range: ["circle", "square", "triangle", "diamond", "cross"] },
      { name: "fill", type: "ordinal", domain: kinds, range: kinds.map((_, i) => fill_color(i)) }],
    axes: [{ scale: "x", orient: "bottom", title: title(x), grid: true, tickCount: 6 },
      { scale: "y", orient: "left", title: title(y), grid: true, tickCount: 6 }],
    legends: [{ shape: "shape", fill: "fill", symbolSize: 120, columns: is_narrow("tradeoff") ? 1 : 0 }],
    marks: [
      ...limit_rule(x, "x", "height"), ...limit_rule(y, "y", "width"),
      { type: "rule", from: { data: "options" }, encode: { enter: { x: { scale: "x", field: "x0" }, x2: { scale: "x", field: "x2" },
        y: { scale: "y", field: "y1" }, stroke: { value: soft_ink }, strokeOpacity: { value: 0.7 } } } },
      { type: "rule", from: { data: "options" }, encode: { enter: { y: { scale: "y", field: "y0" }, y2: { scale: "y", field: "y2" },
        x: { scale: "x", field: "x1" }, stroke: { value: soft_ink }, strokeOpacity: { value: 0.7 } } } },
      { name: "points", type: "symbol", from: { data: "options" }, encode: { enter: { x: { scale: "x", field: "x1" },
        y: { scale: "y", field: "y1" }, size: { value: 420 }, shape: { scale: "shape", field: "kind" },
        fill: { scale: "fill", field: "kind" }, stroke: { value: ink }, strokeWidth: { value: 1.2 } } } },
      { type: "text", from: { data: "options" }, encode: { enter: { x: { scale: "x", field: "x1" }, y: { scale: "y", field: "y1" },
        text: { field: "rank" }, align: { value: "center" }, baseline: { value: "middle" }, fontSize: { value: 11 }, fill: { value: fill_ink } } } },
      { type: "text", from: { data: "points" }, encode: { enter: { text: { field: "datum.id" }, fill: { value: ink },
        fontSize: { value: 12 } } },
      transform: [{ type: "label", size: { signal: "[width, height]" }, offset: [6], anchor: ["right", "top-right", "bottom-right", "left", "top-left", "bottom-left", "top", "bottom"] }] }] });
}

// Segments of stacked bars: from [{row, parts: [[label, value]]}]; `scale_of` gives the pixels of a row's unit.
function stack_rows(rows, normalise) {
  const segments = [];
  for (const { row, parts } of rows) {
    const sum = parts.reduce((total, [, value]) => total + value, 0);
    let from = 0;
    for (const [label, value, text] of parts) {
      const share = normalise ? (sum > 0 ? value / sum : 0) : value;
      segments.push({ row, label, from, to: from + share, share, text });
      from += share;
    }
  }
  return segments;
}

function stacked_marks(segments, labels, pixels_per_unit) {
  for (const segment of segments) {
    segment.fill = fill_color(labels.indexOf(segment.label));
    segment.shown = text_width(segment.text) <= segment.share * pixels_per_unit ? segment.text : "";
  }
  return [
    { type: "rect", from: { data: "segments" }, encode: { enter: { x: { scale: "x", field: "from" }, x2: { scale: "x", field: "to" },
      y: { scale: "y", field: "row" }, height: { scale: "y", band: 1 }, fill: { field: "fill" }, stroke: { value: paper },
      strokeWidth: { value: 1.5 } } } },
    { type: "text", from: { data: "segments" }, encode: { enter: { x: { scale: "x", signal: "(datum.from + datum.to) / 2" },
      y: { scale: "y", field: "row", band: 0.5 }, text: { field: "shown" }, fill: { value: fill_ink }, align: { value: "center" },
      baseline: { value: "middle" } } } }];
}

function power_parts(result, state) {
  const prefix = "state_power." + state + ".";
  const parts = new Map();
  for (const [index, name] of result.option.name_at) {
    if (!name.key.startsWith(prefix) || result.values[index] === 0) continue;
    const label = name.label.startsWith("wake-ups") ? "wake-ups" : name.label.slice(0, name.label.lastIndexOf(", "));
    parts.set(label, (parts.get(label) || 0) + result.values[index]);
  }
  return [...parts].sort((a, b) => b[1] - a[1]);
}

// One panel for each state, each with its own scale; letters tell contributors apart where fills repeat, the smallest are drawn together.
async function draw_power() {
  const watt = page.units[page.known_units.watt], most = 11;
  const totals = new Map();
  const by_state = page.states.map((state) => page.ordered.map((result) => {
    const parts = power_parts(result, state);
    const sum = parts.reduce((total, [, value]) => total + value, 0);
    for (const [label, value] of parts) totals.set(label, (totals.get(label) || 0) + value / sum);
    return { row: result.option.id, parts };
  }));
  const named = [...totals].sort((a, b) => b[1] - a[1]).slice(0, most).map(([label]) => label);
  const labels = totals.size > most ? [...named, "other"] : named;
  const letter = (label) => String.fromCharCode(65 + labels.indexOf(label));
  const tools = document.querySelector("#chart-power .tools");
  tools.replaceChildren(fill_legend(labels.map((label) => [letter(label), label])));
  const place = document.querySelector("#chart-power .canvas");
  place.classList.add("panels");
  const columns = width_of("power") > 700 ? 2 : 1;
  const drawings = await Promise.all(page.states.map((state, s) => {
    const rows = by_state[s].map(({ row, parts }) => {
      const merged = labels.map((label) => [label, parts.filter(([name]) => (named.includes(name) ? name : "other") === label)
        .reduce((sum, [, value]) => sum + value, 0), letter(label)]);
      return { row, parts: merged };
    });
    const segments = stack_rows(rows, false);
    const unit = axis_unit(segments.map((segment) => segment.to), watt);
    for (const segment of segments) {
      for (const key of ["from", "to", "share"]) segment[key] = from_si(segment[key], unit);
    }
    const largest = Math.max(...segments.map((segment) => segment.to)) || 1;
    const width = place.clientWidth / columns - 24;
    return render({ width, height: 18 * rows.length, title: { text: state, anchor: "start", font: chart_font, fontSize: 13,
      fontWeight: "normal", color: ink, frame: "group" },
    data: [{ name: "segments", values: segments.filter((segment) => segment.share > 0) }],
    scales: [{ name: "x", type: "linear", domain: [0, largest], range: "width", nice: true }, band_scale("y", rows.map(({ row }) => row), "height", 0.12)],
    axes: [{ scale: "x", orient: "bottom", title: unit.t, tickCount: 4, grid: true }, { scale: "y", orient: "left", ticks: false, domain: false }],
    marks: stacked_marks(segments, labels, (width - 160) / largest) });
  }));
  place.replaceChildren(...drawings);
  place.style.minHeight = "";
}

const cost_parts = ["P parts", "M making the unit", "O one-time cost", "C change", "S stock of a last-time buy"];

// What makes up the cost of a unit over its life, as in report/document/document.cpp.
function cost_shares(result) {
  const at = (keys, otherwise) => {
    const key = keys.find((one) => result.option.node_of.has(one));
    return key === undefined ? otherwise : result.values[result.option.node_of.get(key)];
  };
  const parts = at(["parts_cost_by_yield", "parts_cost"], 0) * at(["price_level"], 1);
  return [parts, at(["average_unit_cost", "unit_cost"], 0) - parts, at(["one_time_cost_per_unit"], 0),
    at(["change_cost_per_unit"], 0), at(["last_time_buy_cost_per_unit"], 0)];
}

function draw_cost() {
  const money = page.units[page.known_units.money];
  const shares = page.ordered.map(cost_shares);
  const used = cost_parts.map((_, i) => i).filter((i) => shares.some((of) => of[i] !== 0));
  const rows = page.ordered.map((result, r) => ({ row: result.option.id, parts: used.map((i) => [cost_parts[i], shares[r][i],
    cost_parts[i][0] + " " + format_quantity(shares[r][i], money, 2).replace(" " + money.t, "")]) }));
  const labels = used.map((i) => cost_parts[i]);
  const segments = stack_rows(rows, false);
  const limit = page.current.budgets.find((budget) => budget.figure === "cost_per_unit_over_life");
  const largest = Math.max(...segments.map((segment) => segment.to), limit ? limit.limit : 0) * 1.02;
  const marks = stacked_marks(segments, labels, (width_of("cost") - 130) / largest);
  if (limit) {
    marks.push({ type: "rule", encode: { enter: { x: { scale: "x", value: limit.limit }, y: { value: 0 }, y2: { signal: "height" },
      stroke: { value: alarm }, strokeDash: { value: [6, 4] }, strokeWidth: { value: 1.5 } } } },
    { type: "text", encode: { enter: { x: { scale: "x", value: limit.limit, offset: 4 }, y: { signal: "height", offset: -4 },
      text: { value: (limit.hard ? "limit " : "wish ") + format_quantity(limit.limit, money) }, fill: { value: alarm } } } });
  }
  return draw("cost", { height: 30 * rows.length, data: [{ name: "segments", values: segments }],
    scales: [{ name: "x", type: "linear", domain: [0, largest], range: "width" }, band_scale("y", rows.map(({ row }) => row), "height"),
      { name: "fill", type: "ordinal", domain: labels, range: labels.map((_, i) => fill_color(i)) }],
    axes: [{ scale: "x", orient: "bottom", title: "cost of a unit over its life, " + page.currency, tickCount: 6, grid: true },
      { scale: "y", orient: "left", ticks: false, domain: false }],
    legends: [{ fill: "fill", symbolType: "square", columns: is_narrow("cost") ? 2 : 4 }], marks });
}

function draw_probability() {
  const budgets = page.current.budgets;
  // A band for each budget, named by its number; the axis shows the words, one below the other.
  const columns = budgets.map((_, b) => String(b));
  const titles = budgets.map((budget) => wrap_words(budget.label.split(" "), is_narrow("probability") ? 6 : 14).join("|"));
  const cells = page.ordered.flatMap((result) => result.probabilities.map((share, b) => ({ row: result.option.id,
    column: columns[b], share, text: (100 * share).toFixed(0) })));
  return draw("probability", { height: 26 * page.ordered.length, data: [{ name: "cells", values: cells }],
    signals: [{ name: "titles", value: titles }],
    scales: [band_scale("x", columns, "width", 0.04), band_scale("y", page.ordered.map((result) => result.option.id), "height", 0.08)],
    axes: [{ scale: "x", orient: "top", ticks: false, domain: false, encode: { labels: { update: { text: { signal: "split(titles[round(datum.index * (length(titles) - 1))], '|')" },
      dy: { value: -14 * (Math.max(...titles.map((title) => title.split("|").length)) - 1) } } } } },
      { scale: "y", orient: "left", ticks: false, domain: false }],
    marks: [
      { type: "rect", from: { data: "cells" }, encode: { enter: { x: { scale: "x", field: "column" }, width: { scale: "x", band: 1 },
        y: { scale: "y", field: "row" }, height: { scale: "y", band: 1 }, fill: { value: "var(--sure)" },
        fillOpacity: { signal: "datum.share * datum.share" }, stroke: { value: hairline } } } },
      { type: "text", from: { data: "cells" }, encode: { enter: { x: { scale: "x", field: "column", band: 0.5 },
        y: { scale: "y", field: "row", band: 0.5 }, text: { signal: "datum.text + ' %'" }, align: { value: "center" }, baseline: { value: "middle" },
        fill: { value: ink } } } }] });
}

function draw_shares() {
  const rows = page.shares.map(({ id, shares }) => ({ row: id,
    parts: shares.map((share, i) => ["rank " + (i + 1), share, (i + 1) + ": " + format_percent(share)]) }));
  const labels = page.shares.length > 0 ? page.shares[0].shares.map((_, i) => "rank " + (i + 1)) : [];
  const segments = stack_rows(rows, false);
  const marks = stacked_marks(segments, labels, width_of("shares") - 130);
  return draw("shares", { height: 30 * Math.max(1, rows.length), data: [{ name: "segments", values: segments }],
    scales: [{ name: "x", type: "linear", domain: [0, 1], range: "width" }, band_scale("y", rows.map(({ row }) => row), "height"),
      { name: "fill", type: "ordinal", domain: labels, range: labels.map((_, i) => fill_color(i)) }],
    axes: [{ scale: "x", orient: "bottom", format: "%", title: "share of all weights and samples", tickCount: 5 },
      { scale: "y", orient: "left", ticks: false, domain: false }],
    legends: [{ fill: "fill", symbolType: "square", columns: is_narrow("shares") ? 3 : 5 }], marks });
}

function draw_flips() {
  const most = 10;
  const rows = page.flips.slice(0, most).map((flip) => {
    // A temperature's change is set in relation to its room below the lowest limit.
    const place_of = (value) => Math.min(12, Math.max(0.08, 1 + (value - flip.range[1]) / flip.base));
    const at = place_of(flip.value);
    return { row: flip.label, low: place_of(flip.range[0]), high: place_of(flip.range[2]),
      at, text: format_quantity(flip.value, page.units[flip.unit]) + ": " + (flip.leader === "none" ? "none feasible" : flip.leader),
      shape: flip.inside ? "circle" : "diamond", fill: flip.inside ? alarm : paper,
      side: at > 1.8 ? "right" : "left", dx: at > 1.8 ? -10 : 10 };
  });
  return draw("flips", { height: 34 * Math.max(1, rows.length), data: [{ name: "flips", values: rows }],
    scales: [{ name: "x", type: "log", domain: [0.08, 12], range: "width" }, band_scale("y", rows.map(({ row }) => row), "height", 0.3)],
    axes: [{ scale: "x", orient: "bottom", values: [0.1, 0.2, 0.5, 1, 2, 5, 10], format: "~g", grid: true,
      title: "times its typical value (bar: the input's range; filled mark: inside it; ambient: 2 is the lowest temperature limit)" },
    { scale: "y", orient: "left", ticks: false, domain: false, labelLimit: is_narrow("flips") ? 110 : 260 }],
    marks: [
      { type: "rect", from: { data: "flips" }, encode: { enter: { x: { scale: "x", field: "low" }, x2: { scale: "x", field: "high" },
        yc: { scale: "y", field: "row", band: 0.5 }, height: { value: 10 }, fill: { value: "var(--fill-0)" } } } },
      { type: "rule", encode: { enter: { x: { scale: "x", value: 1 }, y: { value: 0 }, y2: { signal: "height" }, stroke: { value: ink } } } },
      { type: "symbol", from: { data: "flips" }, encode: { enter: { x: { scale: "x", field: "at" }, y: { scale: "y", field: "row", band: 0.5 },
        size: { value: 130 }, shape: { field: "shape" }, fill: { field: "fill" }, stroke: { value: alarm }, strokeWidth: { value: 2 } } } },
      { type: "text", from: { data: "flips" }, encode: { enter: { x: { scale: "x", field: "at" }, dx: { field: "dx" },
        y: { scale: "y", field: "row", band: 0.5 }, align: { signal: "datum.side == 'right' ? 'right' : 'left'" },
        baseline: { value: "middle" }, text: { field: "text" }, fontSize: { value: 11 } } } }] });
}

// Leaders over clock rate x duty cycle: the recorded map of all options, or at moved inputs that of the shown ones.
function winner_leaders() {
  if (!is_moved()) return page.map.leaders;
  const inputs = Float64Array.from(page.current.inputs);
  const places = { clock: [], duty: [] };
  page.inputs.forEach((input, i) => {
    if (input.k === "clock_rate") places.clock.push(i);
    if (input.k === "duty_cycle") places.duty.push(i);
  });
  const leaders = [];
  for (const duty of page.map.duty) {
    for (const clock of page.map.clock) {
      for (const i of places.clock) inputs[i] = clock;
      for (const i of places.duty) inputs[i] = duty;
      const leader = leader_at(page.options, inputs, page.current.budgets);
      leaders.push(leader ? leader.id : "");
    }
  }
  return leaders;
}

function draw_map() {
  const leaders = winner_leaders();
  const ids = [...new Set(leaders.filter((id) => id !== ""))];
  const letter = (id) => id === "" ? "\u2013" : String.fromCharCode(65 + ids.indexOf(id));
  const hertz = page.units[page.known_units.hertz];
  const clocks = page.map.clock.map((value) => format_quantity(value, hertz));
  const duties = page.map.duty.map((value) => format_number(100 * value, 2) + " %");
  const cells = leaders.map((id, i) => ({ column: clocks[i % clocks.length], row: duties[Math.floor(i / clocks.length)],
    letter: letter(id), fill: id === "" ? paper : fill_color(ids.indexOf(id)), ink: id === "" ? ink : fill_ink }));
  const tools = document.querySelector("#chart-map .tools");
  const legend = fill_legend(ids.map((id) => [letter(id), id]));
  legend.append(element("li", {}, element("span", { class: "swatch" }, "\u2013"), " no option keeps every hard budget"));
  tools.replaceChildren(legend);
  const step = is_narrow("map") ? 4 : 2;
  return draw("map", { height: 26 * duties.length, data: [{ name: "cells", values: cells }],
    scales: [band_scale("x", clocks, "width", 0.03), band_scale("y", [...duties].reverse(), "height", 0.03)],
    axes: [{ scale: "x", orient: "bottom", title: "clock rate (for options that have a clock of their own)", ticks: false, domain: false,
      values: clocks.filter((_, i) => i % step === 0) },
    { scale: "y", orient: "left", title: "duty cycle: share of time active", ticks: false, domain: false }],
    marks: [
      { type: "rect", from: { data: "cells" }, encode: { enter: { x: { scale: "x", field: "column" }, width: { scale: "x", band: 1 },
        y: { scale: "y", field: "row" }, height: { scale: "y", band: 1 }, fill: { field: "fill" }, stroke: { value: hairline } } } },
      { type: "text", from: { data: "cells" }, encode: { enter: { x: { scale: "x", field: "column", band: 0.5 },
        y: { scale: "y", field: "row", band: 0.5 }, text: { field: "letter" }, fill: { field: "ink" }, align: { value: "center" },
        baseline: { value: "middle" } } } }] });
}

function draw_drivers() {
  const rows = page.drivers.flatMap(({ label, drivers }) => drivers.slice(0, 3).filter(([, , total]) => total > 0.02)
    .map(([coordinate, alone, total]) => ({ row: label + ": " + coordinate, alone: Math.max(0, alone), total,
      text: format_percent(Math.max(0, total)) })));
  return draw("drivers", { height: 24 * Math.max(1, rows.length), data: [{ name: "drivers", values: rows }],
    scales: [{ name: "x", type: "linear", domain: [0, 1], range: "width", clamp: true },
      band_scale("y", rows.map(({ row }) => row), "height", 0.25)],
    axes: [{ scale: "x", orient: "bottom", format: "%", title: "share of the variance (inner bar: alone; whole bar: with others)", tickCount: 5 },
      { scale: "y", orient: "left", ticks: false, domain: false, labelLimit: is_narrow("drivers") ? 150 : 360 }],
    marks: [
      { type: "rect", from: { data: "drivers" }, encode: { enter: { x: { scale: "x", value: 0 }, x2: { scale: "x", field: "total" },
        y: { scale: "y", field: "row" }, height: { scale: "y", band: 1 }, fill: { value: "var(--fill-0)" } } } },
      { type: "rect", from: { data: "drivers" }, encode: { enter: { x: { scale: "x", value: 0 }, x2: { scale: "x", field: "alone" },
        yc: { scale: "y", field: "row", band: 0.5 }, height: { value: 6 }, fill: { value: accent } } } },
      { type: "text", from: { data: "drivers" }, encode: { enter: { x: { scale: "x", field: "total", offset: 5 },
        y: { scale: "y", field: "row", band: 0.5 }, baseline: { value: "middle" }, text: { field: "text" } } } }] });
}

function draw_charts() {
  const all = [["tradeoff", draw_tradeoff], ["power", draw_power], ["cost", draw_cost], ["probability", draw_probability],
    ["shares", draw_shares], ["flips", draw_flips], ["map", draw_map], ["drivers", draw_drivers]];
  return Promise.all(all.filter(([id]) => document.getElementById("chart-" + id)).map(([, draw_one]) => draw_one()));
}
