#!/usr/bin/env python3
"""Every figure of every option of a study, from catalog, study and counts; nothing of portweigh's formulas.

    recompute.py RUN.json STUDY.toml CATALOG_FOLDER      exit code 0: all agree within 0.1 %; 1: some don't (each is printed)

RUN.json is what `portweigh report STUDY --output RUN.json` writes. From it come the choices (clock, operating point,
parts list, packages, which engine carries which block) and what was counted (LUTs, registers, toggles and accesses of an
event, cycles, edges); every other number is read from the TOML files, typical values only. Rates follow from the
protocol's times. Standard library of Python 3.11 only.
"""
import json
import math
import pathlib
import re
import sys
import tomllib

import recompute_money

UNITS = {"V": 1, "mV": 1e-3, "A": 1, "mA": 1e-3, "uA": 1e-6, "nA": 1e-9, "W": 1, "mW": 1e-3, "uW": 1e-6, "J": 1, "mJ": 1e-3,
         "uJ": 1e-6, "nJ": 1e-9, "pJ": 1e-12, "fJ": 1e-15, "F": 1, "nF": 1e-9, "pF": 1e-12, "Hz": 1, "kHz": 1e3, "MHz": 1e6,
         "s": 1, "ms": 1e-3, "us": 1e-6, "ns": 1e-9, "h": 3600, "d": 86400, "years": 365.25 * 86400, "year": 365.25 * 86400, "Ah": 3600, "mm": 1e-3, "mm2": 1e-6, "m2": 1, "K": 1, "K/W": 1,
         "uA/MHz": 1e-12, "B": 8, "KiB": 8192, "USD": 1, "USD/h": 1 / 3600, "USD/m2": 1}


def si(value):
    """The typical value in SI units."""
    if isinstance(value, dict):
        value = value["typical"]
    if not isinstance(value, str):
        return value
    number, unit = value.split()
    return float(number) + 273.15 if unit == "degC" else float(number) * UNITS[unit]


def read(path):
    return tomllib.loads(path.read_text())


class Option:
    def __init__(self, row, ledger, study, function, catalog):
        self.row, self.study, self.function, self.catalog = row, study, function, catalog
        self.told = {node["key"]: node for node in ledger["nodes"] if node.get("key")}
        self.supply_v = si(study["supply_voltage"])
        timing = function["timing"]
        self.bit_hz = si(timing["bit_rate"])
        self.message_hz = 1 / (si(timing["message_bits"]) / self.bit_hz + si(timing["turn_round"]))
        self.chips = [catalog[bill["part"]] | {"outline": bill["what"]} for bill in row["bill"]
                      if catalog[bill["part"]]["role_of_chip"]]
        self.logic = self.chip("programmable-logic")
        self.processor = self.chip("microcontrollers")
        self.fixed = self.chip("fixed-function")
        has_line = any(block["kind"] == "line-code" for block in function["block"])
        # Biphase mark on 4b5b data: the 16 symbols hold 49 ones in 80 bits; half of the messages are this side's.
        self.driven_edges_hz = 0.5 * 129 / 80 * self.bit_hz if has_line else 0.0
        self.contributors = []  # chip's folder or "", busy, quiet, detached
        self.wakes = []  # attached, detached

    def chip(self, role):
        return next((chip for chip in self.chips if chip["role_of_chip"] == role), None)

    def counted(self, key, default=None):
        node = self.told.get(key)
        return default if node is None else node["value"]

    def block(self, name):
        return next((block for block in self.function["block"] if block["name"] == name), None)

    def carrier(self, kind):
        block = next(block for block in self.function["block"] if block["kind"] == kind)
        return {"logic fabric": "programmable-logic", "microcontroller": "microcontrollers",
                "fixed function": "fixed-function"}.get(self.row["assignment"][block["name"]], "")

    # Events a second of a block's network while the line is busy: half of the messages go each way.
    def event_hz(self, name, clock_hz):
        word = self.told[f"counts.{name}.event_toggles"]["label"].rsplit(" of a ", 1)[1]
        block = self.block(name)
        if word == "clock":
            return clock_hz
        if block is None:  # of the link between two chips: what crosses it is counted
            return self.counted(f"rates.{name}")
        one_way = block.get("settings", {}).get("direction") or block.get("direction", "both") != "both"
        share = 0.5 if one_way else 1.0
        if word == "edge":
            return self.driven_edges_hz
        if word == "half-cell":
            return 0.5 * 2 * self.bit_hz
        if word == "bit":
            return share * self.bit_hz
        if word == "message":
            return self.message_hz
        if word == "byte":
            return self.message_hz if block["layer"] == "host" else share * self.bit_hz / 10
        if word == "step":
            return 3 * self.message_hz
        if word == "tick":
            return 1 / si(self.function["timing"]["tick"])
        raise KeyError(word)

    def add(self, chip, busy, quiet=0.0, detached=0.0):
        self.contributors.append((chip, busy, quiet, detached))

    def add_domain(self, names, clock_hz, busy_clock_hz, trunk_j):
        part = self.logic
        ratio = self.supply_v / si(part["core_voltage"])
        count = lambda name, what: self.counted(f"counts.{name}.{what}", 0)
        registers = sum(count(name, "registers") for name in names)
        tree = clock_hz * (trunk_j + registers * si(part["clock_register_energy"])) * ratio
        self.add("programmable-logic", tree, tree)
        for what, energy in (("toggles", "toggle_energy"), ("ram_accesses", "ram_access_energy")):
            quiet = clock_hz * sum(count(name, "quiet_" + what) for name in names)
            events = sum(self.event_hz(name, busy_clock_hz) * count(name, "event_" + what) for name in names)
            self.add("programmable-logic", (quiet + events) * si(part[energy]) * ratio, quiet * si(part[energy]) * ratio)

    def add_logic(self):
        part, volt = self.logic, self.supply_v
        has_standby = "standby_current" in part
        bias = volt * si(part["bias_current"])
        self.add("programmable-logic", bias, bias, 0 if has_standby else bias)
        if "oscillator_frequency" in part:
            oscillator = volt * si(part["oscillator_current"])
            self.add("programmable-logic", oscillator, oscillator)
        blocks = [key.split(".")[1] for key in self.told if re.fullmatch(r"counts\..*\.event_toggles", key)]
        clock = self.counted("clock_rate")
        self.add_domain([name for name in blocks if name != "soft-processor"], clock, clock, si(part["clock_trunk_energy"]))
        if "soft-processor" in blocks:
            self.add_domain(["soft-processor"], self.counted("soft_clock_rate"), self.counted("counts.soft_busy_cycles") + self.counted("counts.soft_attached_cycles"), 0)
        self.add("programmable-logic", 0.5 * si(part["pin_capacitance"]) * volt**2 * self.driven_edges_hz)
        ambient = si(self.study["ambient"])
        growth = lambda kelvin: 2 ** ((kelvin - 298.15) / si(part["leakage_doubling"]))
        other = sum(busy for _, busy, _, _ in self.contributors)
        theta, leak = self.resistance(part), volt * si(part["leakage_current"])
        kelvin = ambient
        for _ in range(100):
            kelvin = ambient + theta * (other + leak * growth(kelvin))
        hot = leak * growth(kelvin)
        asleep = volt * si(part["standby_current"]) if has_standby else leak
        self.add("programmable-logic", hot, hot, asleep * growth(ambient))
        self.stop_clocks()

    # So far only the fabric has contributed: busy, quiet with its clocks running, and stopped.
    def stop_clocks(self):
        part, timing = self.logic, self.function["timing"]
        if "wake_up" not in part:
            return
        running = sum(quiet - stopped for _, _, quiet, stopped in self.contributors)
        wake = running * si(part["wake_up"])
        detached = wake + running * si(timing["response"])
        assigned = [self.block(name)["kind"] for name, carrier in self.row["assignment"].items() if carrier == "logic fabric"]
        stops = high(part["wake_up"]) < 48 / high(timing["bit_rate"]) and "pulse-width" not in assigned
        self.wakes.append((wake if stops else 0.0, detached, running if stops else 0.0))
        if stops:
            self.contributors = [(chip, busy, stopped, stopped) for chip, busy, _, stopped in self.contributors]

    def resistance(self, part):
        return si(next(package for package in part["package"] if package["name"] == part["outline"])["thermal_resistance"])

    def add_processor(self):
        part, volt = self.processor, self.supply_v
        clock = self.counted("processor_clock" if self.logic else "clock_rate")
        chosen = re.compile(rf"parts\.{part['id']}\.operating_point_(\d+)\.")
        point = next((int(found[1]) for key in self.told if (found := chosen.match(key))), 0)
        at, added, ratio = part, 0.0, 1.0
        if point:
            at = part["operating_point"][point - 1]
            if "regulator_efficiency" in at:
                ratio = si(at["voltage"]) / (volt * si(at["regulator_efficiency"]))
            added = si(at["regulator_current"]) if "regulator_current" in at else 0.0
        run = ratio * si(at["run_current_per_clock"]) * clock + si(part["run_base_current"]) + added
        sleep = ratio * si(at["sleep_current_per_clock"]) * clock + si(part["sleep_base_current"]) + added
        stop = si(part["stop_current"]) * 2 ** ((si(self.study["ambient"]) - 298.15) / si(part["stop_doubling"]))
        carried = [self.block(name)["kind"] for name, carrier in self.row["assignment"].items() if carrier == "microcontroller"]
        stops = high(part["wake_up"]) < 48 / high(self.function["timing"]["bit_rate"]) and "pulse-width" not in carried
        handler = volt * run * self.counted("counts.wake_up_cycles") / clock
        wake = handler + volt * run * si(part["wake_up"])
        assert self.study.get("while_line_busy", "awake") == "awake"
        self.add("microcontrollers", volt * run, volt * (stop if stops else sleep), volt * stop)
        tick_s = self.counted("counts.tick_cycles") / clock + (si(part["wake_up"]) if stops else 0.0)
        ticking = volt * run * tick_s / si(self.function["timing"]["tick"]) if self.counted("counts.tick_cycles") else 0.0
        self.wakes.append((wake if stops else handler, wake, ticking))

    def add_rest(self):
        volt = self.supply_v
        if self.fixed:
            self.add("fixed-function", *(volt * si(self.fixed[key])
                                         for key in ("active_current", "attached_current", "detached_current")))
        else:
            inside = sum(chip.get("comparators", chip.get("peripherals", {}).get("comparator", 0)) for chip in self.chips)
            front_ends = [block["settings"] for block in self.function["block"] if block["kind"] == "analogue-front-end"]
            needed = sum(settings.get("comparators", 0) for settings in front_ends)
            watching = sum(settings.get("watching", settings.get("comparators", 0)) for settings in front_ends)
            if min(inside, needed):
                of = self.logic if self.logic and self.logic.get("comparators", 0) else self.processor
                watts = volt * si(of["comparator_current"]) * min(inside, needed)
                slow = volt * si(of.get("comparator_standby_current", of["comparator_current"]))
                self.add(of["role_of_chip"], watts, watts, slow * min(inside, needed, watching))
        timing = self.function["timing"]
        if self.driven_edges_hz:
            rise_j = si(timing["line_capacitance"]) * si(timing["line_swing"]) * volt
            self.add(self.carrier("line-code"), 0.5 * self.driven_edges_hz * rise_j)
        for bill in self.row["bill"]:
            part = self.catalog[bill["part"]]
            if part["role_of_chip"]:
                continue
            active, standby = (bill["count"] * volt * si(part.get(key, 0)) for key in ("active_current", "standby_current"))
            if part["role"] == "configuration-flash":
                active = standby
            self.add("", active, active, standby)
        cycles_hz = self.counted("counts.host_busy_cycles")
        if cycles_hz is not None:
            host = self.study["host"]
            cycle_j, wake_j = si(host["energy_per_cycle"]), si(host["wake_up_energy"])
            tick_cycles = self.counted("counts.host_tick_cycles", 0.0)
            ticking = (tick_cycles * cycle_j + wake_j) / si(self.function["timing"]["tick"]) if tick_cycles else 0.0
            self.add("", cycles_hz * cycle_j + self.message_hz * wake_j + ticking)
            self.wakes.append((0.0, 0.0, ticking))

    def power(self, state):
        busy = si(state["line_activity"])
        others_hz = si(state["wake_ups"])
        if not state.get("attached", True):
            return sum(c[3] for c in self.contributors) + sum(others_hz * wake[1] for wake in self.wakes)
        wakes_hz = (1 - busy) * (busy * self.message_hz + others_hz)
        drawn_w = sum(busy * c[1] + (1 - busy) * c[2] for c in self.contributors)
        timers = (1 - busy) * min(1.0, (busy * self.message_hz + others_hz) * si(self.function["timing"]["response"]))
        return drawn_w + sum(wakes_hz * wake[0] + timers * wake[2] for wake in self.wakes)

    def price(self, part, count):
        """Step prices at the quantity of an order, bought up to the next break where that is cheaper in all."""
        assert part["price"].get("between_breaks", "steps") == "steps" and part["price"].get("lot", 1) == 1
        quantity = count * si(self.study["volume_per_year"]) / si(self.study.get("orders_per_year", 4))
        return min(si(entry["price"]) * max(quantity, entry["quantity"] if i else 0) / quantity
                   for i, entry in enumerate(part["price"]["breaks"]))

    def unit_cost(self):
        money = self.study["money"]
        cost = si(money["test_cost"]) if self.chips else 0.0  # resistors alone need no test
        for bill in self.row["bill"]:
            part, count = self.catalog[bill["part"]], bill["count"]
            cost += count * (self.price(part, count) * (1 + si(money["attrition"])) + si(money["placement_cost"]))
            if part["role_of_chip"]:
                outline = next(package for package in part["package"] if package["name"] == bill["what"])
                area = si(outline["body_length"]) * si(outline["body_width"]) * 1.5
                cost += si(part["programming_time"]) * si(money["programming_rate"])
            else:
                area = count * si(part["board_area"])
            cost += area * si(money["board_area_cost"])
        return cost / si(money.get("test_yield", 1))

    def figures(self, effort):
        if self.logic:
            self.add_logic()
        if self.processor:
            self.add_processor()
        self.add_rest()
        states = self.study["state"]
        ambient = si(self.study["ambient"])
        own_w = lambda chip: sum(c[1] for c in self.contributors if c[0] == chip["role_of_chip"])
        hottest = max([ambient] + [ambient + self.resistance(chip) * own_w(chip) for chip in self.chips])
        cells = sum(node["value"] for key, node in self.told.items() if re.fullmatch(r"counts\..*\.cells", key))
        result = {"active_power": self.power(next(state for state in states if state.get("active"))),
                  "standby_power": self.power(next(state for state in states if not state.get("attached", True))),
                  "average_power": sum(si(state["share"]) * self.power(state) for state in states),
                  "peak_power": max(self.power(state) for state in states),
                  "junction_temperature": hottest - 273.15,
                  "logic_cells": cells,
                  "unit_cost": self.unit_cost()}
        if recompute_money.is_covered(self.study):
            money = recompute_money.Money(self, effort, si)
            result |= money.figures(result["unit_cost"])
            if self.processor:
                result["flash_use"] = money.flash_use()
        result["energy_per_day"] = result["average_power"] * 86400
        if "battery" in self.study:
            result |= self.battery(result["average_power"], result["standby_power"])
        return result

    def battery(self, average_w, standby_w):
        battery = self.study["battery"]
        energy_j = si(battery["capacity"]) * si(battery["voltage"])
        lost_w = energy_j * si(battery["self_discharge"]) / (365.25 * 86400)
        efficiency = si(battery.get("efficiency", 1))
        drain_w = average_w / efficiency + lost_w + si(battery.get("other_power", "0 W"))
        return {"battery_life": energy_j / drain_w,
                "standby_loss_per_day": (standby_w / efficiency + lost_w) * 86400 / energy_j}


def high(value):
    return si(value["high"] if isinstance(value, dict) else value)


def main():
    run, study, folder = json.loads(pathlib.Path(sys.argv[1]).read_text()), read(pathlib.Path(sys.argv[2])), pathlib.Path(sys.argv[3])
    function = read(folder / "functions" / f"{study['function']}.toml")
    catalog = {}
    for role in ("programmable-logic", "microcontrollers", "fixed-function", "external"):
        for path in sorted((folder / role).glob("*.toml")):
            part = read(path)
            catalog[part["id"]] = part | {"role_of_chip": "" if role == "external" else role}
    effort = read(folder / "effort.toml")
    compared = wrong = 0
    left_out = set()
    for row in run["options"]:
        option = Option(row, run["ledgers"][row["id"]], study, function, catalog)
        recomputed = option.figures(effort)
        left_out |= set(row["figures"]) - set(recomputed)
        for name, expected in recomputed.items():
            told = row["figures"][name]["value"]
            compared += 1
            if not math.isclose(told, expected, rel_tol=1e-3):
                wrong += 1
                print(f"{row['id']}: {name} is {told:.6g}, recomputed {expected:.6g}")
    # A clock is a choice, not a result.
    print("not recomputed:", ", ".join(sorted(left_out)))
    print(f"{compared} figures of {len(run['options'])} options recomputed, {wrong} differ by more than 0.1 %")
    sys.exit(1 if wrong or not compared else 0)


if __name__ == "__main__":
    main()
