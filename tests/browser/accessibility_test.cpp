// Own checks of accessibility, after the success criteria of WCAG 2.1 that a program can judge: 1.1.1
// (alternatives), 1.3.1 (structure), 1.4.3 (contrast), 1.4.10 (reflow), 2.1.1 (keyboard), 2.4.1 (skip
// link), 2.4.2 (title), 3.1.1 (language), 4.1.2 (names).
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "web_driver_fixture.hpp"

using nlohmann::json;
using portweigh::tests::WebDriver;

namespace {

// Elements whose text has too little contrast: 4.5 to 1, or 3 to 1 for large text (24 px, or 18.66 px and
// bold).
constexpr const char* find_low_contrast = R"(
  const luminance = ([r, g, b]) => {
    const part = (v) => { v /= 255; return v <= 0.03928 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4); };
    return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
  };
  const parse = (text) => (text.match(/[\d.]+/g) || []).map(Number);
  const over = (top, below) => {
    const alpha = top.length > 3 ? top[3] : 1;
    return [0, 1, 2].map((i) => top[i] * alpha + below[i] * (1 - alpha));
  };
  const background = (start) => {
    const layers = [];
    for (let at = start; at; at = at.parentElement) layers.push(parse(getComputedStyle(at).backgroundColor));
    return layers.reverse().reduce((below, top) => top.length < 3 ? below : over(top, below), [255, 255, 255]);
  };
  const low = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const holder = walker.currentNode.parentElement;
    if (!walker.currentNode.textContent.trim() || !holder.getClientRects().length) continue;
    if (holder.closest("svg, script, style, .spoken, .skip")) continue;
    const style = getComputedStyle(holder);
    const below = background(holder), front = over(parse(style.color), below);
    const [a, b] = [luminance(front), luminance(below)].sort((x, y) => y - x);
    const size = parseFloat(style.fontSize);
    const needed = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700) ? 3 : 4.5;
    if ((a + 0.05) / (b + 0.05) < needed) low.push(walker.currentNode.textContent.trim().slice(0, 40) + " " + (a + 0.05) / (b + 0.05));
  }
  // Text in charts stands on fills of the style sheet's palette: each must go with the ink used on it.
  const root = getComputedStyle(document.documentElement);
  const hex = (name) => {
    const text = root.getPropertyValue(name).trim().slice(1);
    const full = text.length === 3 ? [...text].map((c) => c + c).join("") : text;
    return [0, 2, 4].map((i) => parseInt(full.slice(i, i + 2), 16));
  };
  const ratio = (one, other) => {
    const [a, b] = [luminance(hex(one)), luminance(hex(other))].sort((x, y) => y - x);
    return (a + 0.05) / (b + 0.05);
  };
  for (let i = 0; i < 8; ++i) if (ratio("--fill-" + i, "--fill-ink") < 4.5) low.push("fill " + i + " " + ratio("--fill-" + i, "--fill-ink"));
  for (const name of ["--ink", "--soft-ink", "--alarm", "--accent"]) if (ratio(name, "--paper") < 4.5) low.push(name);
  if (ratio("--ink", "--sure") < 4.5) low.push("--sure");
  return low;)";

constexpr const char* find_structure_faults = R"(
  const faults = [];
  const say = (what) => faults.push(what);
  const all = (selector) => [...document.querySelectorAll(selector)];
  const one = (selector) => { if (all(selector).length !== 1) say(all(selector).length + " of " + selector); };
  if (document.documentElement.lang !== "en") say("language");
  if (!document.title.trim()) say("title");
  for (const selector of ["main", "h1", "body > header", "body > footer", "nav[aria-label]", "a.skip"]) one(selector);
  if (document.body.firstElementChild.className !== "skip") say("the skip link is not first");
  const ids = all("[id]").map((at) => at.id);
  for (const id of ids) if (ids.filter((other) => other === id).length > 1) say("repeated id " + id);
  for (const at of all("[aria-labelledby]")) {
    for (const id of at.getAttribute("aria-labelledby").split(" ")) {
      if (at.tagName !== "DIALOG" && !document.getElementById(id)) say("no label " + id);
    }
  }
  let level = 1;
  for (const at of all("h1, h2, h3, h4")) {
    const next = Number(at.tagName[1]);
    if (next > level + 1) say("heading jumps to " + at.textContent);
    level = next;
  }
  const named = (at) => at.getAttribute("aria-label") || at.labels?.length || at.closest("label") || at.textContent.trim();
  for (const at of all("input, select, button")) if (!named(at)) say("no name: " + at.outerHTML.slice(0, 80));
  for (const table of all("table")) {
    if (!table.caption?.textContent.trim()) say("no caption: " + table.id);
    if (!table.querySelector("thead th[scope=col]")) say("no column heads: " + table.id);
    for (const row of table.tBodies[0].rows) if (!row.querySelector("th[scope=row]")) { say("no row head: " + table.id); break; }
    for (const head of table.querySelectorAll("thead th")) if (!head.textContent.trim()) say("empty head: " + table.id);
  }
  for (const at of all(".canvas")) {
    if (at.getAttribute("role") !== "img" || !at.getAttribute("aria-label")) say("chart without a name");
    if (!at.closest("figure").querySelector("figcaption").textContent.trim()) say("chart without a caption");
    if (!at.closest("figure").querySelector("details table")) say("chart without a table");
  }
  for (const at of all("[tabindex]")) if (Number(at.getAttribute("tabindex")) > 0) say("positive tabindex");
  for (const at of all(".scroll")) if (at.tabIndex !== 0 || !at.getAttribute("aria-label")) say("scrolled part not reachable");
  for (const at of all("[onclick]")) if (!["BUTTON", "A", "INPUT"].includes(at.tagName)) say("click without key");
  return faults;)";

}  // namespace

TEST_CASE("The page has landmarks, names, heads, and contrast in dark and light, moved or not") {
  WebDriver driver;
  for (const char* scheme : {"light", "dark"}) {
    for (const char* fragment : {"", "duty_cycle=0.3&limit.active_power=0.004"}) {
      INFO(scheme << " " << fragment);
      driver.resize(1280, 900);
      driver.prefer_color_scheme(scheme);
      driver.open(portweigh::tests::demo_page(), fragment);
      driver.run("for (const at of document.querySelectorAll('details')) at.open = true;");
      CHECK(driver.run(find_structure_faults) == json::array());
      CHECK(driver.run(find_low_contrast) == json::array());
    }
  }
}

TEST_CASE("The first stop of the keyboard is the skip link, and it leads to the recommendation") {
  WebDriver driver;
  driver.open(portweigh::tests::demo_page(), "duty_cycle=0.02");
  driver.press("a.skip", "\xEE\x80\x87");  // enter
  CHECK(driver.run("return document.activeElement.id") == "recommendation");
  CHECK(driver.run("return location.hash") == "#duty_cycle=0.02");
}

TEST_CASE("At the width of a phone nothing but tables scrolls sideways") {
  WebDriver driver;
  driver.resize(390, 844);
  for (const char* fragment : {"", "duty_cycle=0.3&limit.active_power=0.004"}) {
    driver.open(portweigh::tests::demo_page(), fragment);
    driver.run("for (const at of document.querySelectorAll('#whatif details')) at.open = true;");
    CHECK(driver.run("return document.documentElement.scrollWidth") <= 390);
  }
}
