// A registry for the modules of the chart library, which expects a `require` function.
"use strict";
const module_sources = new Map();
const loaded_modules = new Map();

function define_module(name, source) {
  module_sources.set(name, source);
}

function load_module(name) {
  // One module asks for another by a name in the plural.
  const known = name === "vega-selections" ? "vega-selection" : name;
  if (!loaded_modules.has(known)) {
    const module = { exports: {} };
    loaded_modules.set(known, module.exports);
    if (!module_sources.has(known)) throw new Error("module " + name + " is not in this page");
    module_sources.get(known)(module.exports, load_module, module);
  }
  return loaded_modules.get(known);
}
