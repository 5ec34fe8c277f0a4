// Numbers for people, by the rules of figures/format_quantity.hpp, so that a recomputed figure reads like a recorded
// one. Units: {t text, f factor, o offset, b base symbol, p factor of the base, m money, d time, n dimensionless}.
const prefixes = [["f", 1e-15], ["p", 1e-12], ["n", 1e-9], ["u", 1e-6], ["m", 1e-3], ["", 1], ["k", 1e3], ["M", 1e6],
  ["G", 1e9], ["T", 1e12]];
const day_s = 86400;
const time_steps = [["year", 365.242198781 * day_s, 2 * 365.242198781 * day_s], ["d", day_s, 2 * day_s],
  ["h", 3600, 7200], ["min", 60, 120]];

function from_si(value, unit) {
  return (value - (unit.o || 0)) / unit.f;
}

function to_si(value, unit) {
  return value * unit.f + (unit.o || 0);
}

function format_number(value, digits) {
  if (Number.isNaN(value)) return "undefined";
  if (!Number.isFinite(value)) return value > 0 ? "infinite" : "-infinite";
  if (value === 0) return "0";
  const exponent = Math.floor(Math.log10(Math.abs(value)));
  if (exponent >= 15 || exponent < -6) return value.toPrecision(digits);
  let text = value.toFixed(Math.max(0, digits - 1 - exponent));
  if (text.includes(".")) text = text.replace(/0+$/, "").replace(/\.$/, "");
  return text === "-0" ? "0" : text;
}

function rounded(value, digits) {
  if (value === 0 || !Number.isFinite(value)) return value;
  const exponent = Math.floor(Math.log10(Math.abs(value)));
  return Number(value.toFixed(Math.min(100, Math.max(0, digits - 1 - exponent))));
}

function with_prefix(value_si, base, base_factor, dimensionless, digits) {
  const make = ([text, factor]) => ({ t: text + base, f: base_factor * factor });
  if (value_si === 0 || !Number.isFinite(value_si)) return make(["", 1]);
  for (let i = dimensionless ? 5 : 0; i + 1 < prefixes.length; ++i) {
    const candidate = make(prefixes[i]);
    if (Math.abs(rounded(value_si / candidate.f, digits)) < 1000) return candidate;
  }
  return make(prefixes[prefixes.length - 1]);
}

function display_unit(value_si, unit, digits) {
  if (unit.t === "h") return unit;
  if (unit.d) {
    for (const [text, factor, from] of time_steps) if (Math.abs(value_si) >= from) return { t: text, f: factor };
    return with_prefix(value_si, "s", 1, false, digits);
  }
  return unit.b ? with_prefix(value_si, unit.b, unit.p, unit.n === 1, digits) : unit;
}

function format_quantity(value_si, unit, digits = 3) {
  const shown = display_unit(value_si, unit, digits);
  const text = format_number(from_si(value_si, shown), unit.m ? digits + 1 : digits);
  return shown.t === "1" ? text : text + " " + shown.t;
}

function format_percent(share) {
  return (100 * share).toFixed(0) + " %";
}

// "-0 %" is "0 %"; a margin always has its sign.
function format_margin(share) {
  const text = (100 * share).toFixed(0);
  return (share >= 0 || text === "-0" ? "+" + text.replace("-", "") : "\u2212" + text.slice(1)) + "\u00a0%";
}
