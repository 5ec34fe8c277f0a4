#!/usr/bin/env python3
"""Checks docs/worked-example.md line by line: inputs against the files, steps by arithmetic, results against portweigh.

    worked_example.py RUN.json SOURCE_FOLDER      exit code 0: every line holds; 1: some don't (each is printed)

RUN.json is what `portweigh report studies/flow-meter.toml --output RUN.json` writes. A line in a code block is
    name = FILE.toml KEY = VALUE              an input's typical value; KEY like package[qfn-40].height
    name = counted KEY = VALUE                what portweigh counted in a network or routine
    name = counted registers of all blocks = VALUE
    name = EXPRESSION = VALUE                 of names above
    BLOCK: a * CLOCKS + b * RATE = VALUE      toggles a second; a without events, b for each event
    figure FIGURE = EXPRESSION = VALUE        must also be what portweigh prints for the option of the chapter
Values agree when they differ by less than 0.6 %: they are printed with three digits. Standard library of Python 3.11 only.
"""
import json
import math
import pathlib
import re
import sys
import tomllib

import recompute

LINE = re.compile(r"(?P<name>[\w ]+?) += (?P<what>.+?) += (?P<value>\S+( [^\s=]+)?)")
BLOCK = re.compile(r"(?P<block>[\w-]+): (?P<quiet>\S+) \* clock \+ (?P<event>\S+) \* (?P<rate>\w+) += (?P<value>\S+ \S+)")


def entry_of(table, key):
    for step in key.split("."):
        name, _, chosen = step.rstrip("]").partition("[")
        table = table[name]
        if chosen:
            table = next(row for row in table if str(row.get("name", row.get("quantity"))) == chosen)
    return recompute.si(table)


class Page:
    def __init__(self, run, folder):
        self.run, self.folder, self.names, self.option, self.checked, self.wrong = run, folder, {}, None, 0, []

    def told(self, key):
        return next(node["value"] for node in self.run["ledgers"][self.option["id"]]["nodes"] if node.get("key") == key)

    def agree(self, line, *values):
        self.checked += 1
        if not all(math.isclose(values[0], value, rel_tol=6e-3, abs_tol=1e-15) for value in values[1:]):
            self.wrong.append(f"{line.strip()}: {', '.join(f'{value:.6g}' for value in values)}")

    def value_of(self, what):
        if found := re.fullmatch(r"(\S+\.toml) (\S+)", what):
            return entry_of(tomllib.loads((self.folder / found[1]).read_text()), found[2])
        if what == "counted registers of all blocks":
            return sum(node["value"] for node in self.run["ledgers"][self.option["id"]]["nodes"]
                       if re.fullmatch(r"counts\..*\.registers", node.get("key") or ""))
        if found := re.fullmatch(r"counted (\S+)", what):
            return self.told(found[1])
        return eval(what, {"__builtins__": {}}, self.names)

    def check(self, line):
        if found := BLOCK.fullmatch(line):
            quiet, event = float(found["quiet"]), float(found["event"])
            prefix = f"counts.{found['block']}."
            self.agree(line, quiet, self.told(prefix + "quiet_toggles"))
            self.agree(line, event, self.told(prefix + "event_toggles"))
            value = quiet * self.names["clock"] + event * self.names[found["rate"]]
            self.agree(line, recompute.si(found["value"]), value)
            self.names["toggles"] = self.names.get("toggles", 0) + value
            return
        found = LINE.fullmatch(line)
        if not found:
            raise SystemExit(f"not a line of the kinds told in worked_example.py: {line}")
        value, printed = self.value_of(found["what"]), found["value"]
        expected = recompute.si(printed) if " " in printed else float(printed)
        if found["name"].startswith("figure "):
            self.agree(line, expected, value, self.option["figures"][found["name"].split()[1]]["value"])
        else:
            self.agree(line, expected, value)
            self.names[found["name"].strip()] = value

    def read(self, text):
        inside = False
        for line in text.splitlines():
            if line.startswith("## ") and (found := re.search(r"`(\S+)`", line)):
                self.option = next(row for row in self.run["options"] if row["id"] == found[1])
                self.names.pop("toggles", None)
            elif line.startswith("```"):
                inside = not inside
            elif inside and line.strip():
                self.check(line.strip())


if __name__ == "__main__":
    source = pathlib.Path(sys.argv[2])
    page = Page(json.loads(pathlib.Path(sys.argv[1]).read_text()), source)
    page.read((source / "docs/worked-example.md").read_text())
    print(*page.wrong, f"{page.checked} values checked, {len(page.wrong)} wrong", sep="\n")
    sys.exit(1 if page.wrong or page.checked < 100 else 0)
