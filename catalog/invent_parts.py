#!/usr/bin/env python3
"""Writes the invented parts of the demo catalog: every value follows from a part's class, its process and its place in a series.

    python3 catalog/invent_parts.py FOLDER     # writes FOLDER/{programmable-logic,microcontrollers,fixed-function}/*.toml

README.md beside this file says the rule in words. The numbers at the head of each function are chosen so that the classes
have the orders of magnitude that are common practice; none is the figure of a part.
"""
import math
import pathlib
import sys

HEAD = "# Invented by catalog/invent_parts.py, whose rule README.md tells; no part on sale. Replace it with data sheets before deciding.\n"
PRICE_STEPS = {1000: 1.22, 10000: 1.0, 100000: 0.81, 1000000: 0.69}


def digits(value, count=2):
    """The value with so many significant digits, as people write it."""
    if value == 0:
        return "0"
    places = max(0, count - 1 - math.floor(math.log10(abs(value))))
    text = f"{round(value, count - 1 - math.floor(math.log10(abs(value)))):.{places}f}"
    return text


def spread(value, unit, low, high, source=None, count=2):
    parts = [f'{name} = "{digits(value * factor, count)} {unit}"'
             for name, factor in (("low", low), ("typical", 1), ("high", high))]
    if source:
        parts.append(f'source = "{source}"')
    return "{ " + ", ".join(parts) + " }"


def line(key, value):
    if isinstance(value, bool):
        value = "true" if value else "false"
    elif isinstance(value, str) and not value.startswith(("{", "[", '"')):
        value = f'"{value}"'
    return f"{key} = {value}\n"


def general(identity, summary, family, source, supply, junction, upgrade, second, lead, years, programming):
    seconds = spread(programming, "s", 0.5, 2.2, "fixture with one socket for each unit, common practice") \
        if programming else '{ low = "0 s", typical = "0 s", high = "0 s" }'
    return (line("id", identity) + line("summary", summary) + line("invented", True) + line("family", family) +
            line("source", source) + line("upgrade", upgrade) +
            line("supply_voltage", '{ low = "%s V", typical = "3.3 V", high = "%s V" }' % supply) +
            line("highest_junction", f"{junction} degC") + line("lead_time", f"{lead} d") + line("second_source", second) +
            line("availability", f"{years} years") + line("programming_time", seconds) + "\n")


def package(outline, overhead):
    """One package. Leads round four sides at 0.5 mm pitch, or a square array; `overhead` leads in a hundred carry supplies."""
    style, count = outline.split("-")
    leads = int(count)
    rows = round(math.sqrt(leads))
    if style == "csp":
        body, height, pitch = rows * 0.4 + 0.25, 0.55, 0.4
    elif style == "bga":
        body, height, pitch = rows * 0.5 + 0.5, 1.05, 0.5
    elif style == "qfn":
        body, height, pitch = leads / 8 + 1, 0.85, 0.5
    else:  # qfp
        body, height, pitch = leads / 8 + 2, 1.5, 0.5
    array = style in ("csp", "bga")
    resistance = 96 / body**0.55 * (1.25 if array else 1.45 if style == "qfp" else 1.0)
    text = "\n[[package]]\n" + line("name", outline) + line("leads", "array" if array else "peripheral")
    text += line("body_length", f"{body:.2f} mm") + line("body_width", f"{body:.2f} mm")
    text += line("height", f"{height} mm") + line("pitch", f"{pitch} mm")
    if array:
        text += line("rows", rows)
    text += line("usable_pins", leads - 2 - math.ceil(leads * overhead / 100))
    text += line("thermal_resistance", spread(resistance, "K/W", 0.8, 1.35))
    return text + line("source", "grows as the outline shrinks; four-layer board without a heat sink, common practice")


def slow_comparator(microamperes):
    """With nothing attached: a delay of 5 to 30 us is enough to see a cable."""
    return line("comparator_standby_current", spread(microamperes * 0.03, "uA", 0.4, 2.5, "bias lowered to 3 percent, 5 to "
                                                                                          "30 us delay"))


def price(at_ten_thousand):
    steps = "".join(f'  {{ quantity = {quantity}, price = "{digits(at_ten_thousand * factor, 3)} USD" }},\n'
                    for quantity, factor in PRICE_STEPS.items())
    return ("\n[price]\n" + line("source", "invented list, all steps in one proportion") + line("low_factor", 0.86) +
            line("high_factor", 1.22) + "breaks = [\n" + steps + "]\n")


# Programmable logic --------------------------------------------------------------------------------------------------
# class: process in nm, core volts, LUT inputs, smallest series member and growth, RAM block bits, RAM bits a cell
FABRICS = {
    "flash": dict(nm=90, volts=1.2, inputs=4, first=540, growth=1.9, block=2560, ram=22, leak=0.029, bias=520,
                  smallest=160, supply=("2.5", "3.5"), base_price=0.46, cell_price=0.00072, clock=14.4,
                  text="low-power fabric, configuration in flash on the die"),
    "sram": dict(nm=55, volts=1.1, inputs=4, first=1640, growth=2.05, block=3328, ram=20, leak=0.021, bias=400,
                 smallest=80, supply=("1.75", "3.5"), base_price=0.52, cell_price=0.00058, clock=36,
                 text="low-power fabric, configuration in static RAM"),
    "wide": dict(nm=32, volts=0.95, inputs=6, first=4700, growth=2, block=5120, ram=30, leak=0.16, bias=1300,
                 smallest=96, supply=("1.75", "3.5"), base_price=1.6, cell_price=0.00092, clock=None,
                 text="fabric of six-input LUTs for larger designs"),
}
# class, letter, packages, extras
LOGIC = [
    ("flash", "a", ["csp-25", "qfn-24", "qfn-32"], {}),
    ("flash", "b", ["csp-25", "qfn-32", "qfn-40"], {}),
    ("flash", "c", ["csp-49", "qfn-32", "qfn-40", "qfp-64"], dict(comparators=2)),
    ("flash", "d", ["qfn-40", "qfp-64", "bga-100"], dict(comparators=4)),
    ("sram", "a", ["csp-25", "qfn-32", "bga-64"], dict(configuration="non-volatile", upgrade="none")),
    ("sram", "b", ["csp-49", "qfn-40", "bga-100"], {}),
    ("sram", "c", ["csp-49", "qfn-40", "bga-100"], dict(oscillator=True)),
    ("sram", "d", ["bga-64", "bga-144"], {}),
    ("wide", "a", ["bga-144", "bga-196"], {}),
]


def programmable_logic(kind, letter, outlines, extras):
    fabric = FABRICS[kind]
    cells = round(fabric["first"] * fabric["growth"] ** "abcd".index(letter) / 10) * 10
    nm, volts = fabric["nm"], fabric["volts"]
    charge = nm * volts**2  # what a node of this process takes to switch goes with length and the square of the voltage
    what = f"{nm} nm {fabric['text']}"
    inside = kind == "flash" or extras.get("configuration") == "non-volatile"
    lut = nm * 0.0082
    text = HEAD + "#\n# " + what[0].upper() + what[1:] + ".\n"
    text += general(f"pl-{kind}-{letter}", f"{cells:,} {'six' if fabric['inputs'] == 6 else 'four'}-input cells, "
                    f"configuration {'inside' if inside else 'in an external memory'}", f"pl-{kind}",
                    f"rule for a {what}", fabric["supply"], 100, extras.get("upgrade", "field"), False, 112, 10,
                    2.5 if kind == "flash" else 4)
    text += line("cells", cells) + line("lut_inputs", fabric["inputs"]) + line("carry_chain", True)
    text += line("register_control", True) + line("ram_blocks", math.ceil(cells * fabric["ram"] / fabric["block"]))
    text += line("ram_block_bits", fabric["block"]) + line("smallest_ram_bits", fabric["smallest"])
    text += line("fill_limit", '{ low = 0.7, typical = 0.85, high = 0.93, source = "routing gives out before the cells do, '
                 'common practice" }') + "\n"
    for key, factor in (("clock_to_output", 1.4), ("lut_delay", 1), ("routing_delay", 2.0), ("setup", 0.5),
                        ("carry_delay", 0.15)):
        text += line(key, spread(lut * factor, "ns", 0.62, 2.1))
    text += "\n" + line("core_voltage", spread(volts, "V", 0.95, 1.05, count=3))
    text += line("core_supply", "internal-linear" if kind == "flash" else "external-rail")
    leakage = 10 + fabric["leak"] * cells
    text += line("leakage_current", spread(leakage, "uA", 0.48, 2.6, f"{what}: whole core, grows with the cells"))
    text += line("leakage_doubling", '{ low = "17 K", typical = "23 K", high = "32 K", source = "subthreshold leakage of '
                 'low-power processes, common practice" }')
    text += line("toggle_energy", spread(0.0146 * charge * (1.25 if fabric["inputs"] == 6 else 1), "pJ", 0.6, 1.55,
                                         "LUT output and its routing: process length times voltage squared"))
    text += line("clock_trunk_energy", spread(0.0034 * charge * math.sqrt(cells), "pJ", 0.5, 2.0,
                                              "one global clock, grows as the edge of the die"))
    text += line("clock_register_energy", spread(0.55 * charge, "fJ", 0.45, 2.0, "clock pin with its share of the branch"))
    text += line("ram_access_energy", spread(0.0009 * charge * math.sqrt(fabric["block"]), "pJ", 0.5, 2.0,
                                             f"block of {fabric['block']} bits, grows as its edge"))
    text += line("bias_current", spread(fabric["bias"], "uA", 0.5, 2.0, "references, input and output banks, power monitor"))
    text += line("pin_capacitance", '{ low = "5 pF", typical = "8.5 pF", high = "17 pF", source = "pad, package and a trace '
                 'of 2 to 5 cm, common practice" }')
    if kind == "flash" or extras.get("oscillator"):
        tolerance = 0.05 if kind == "flash" else 0.1
        text += line("oscillator_frequency", spread(fabric["clock"], "MHz", 1 - tolerance, 1 + tolerance,
                                                    "ring oscillator, trimmed", count=3))
        text += line("oscillator_current", spread(190 + 18 * fabric["clock"] if kind == "flash" else 380, "uA", 0.55, 2.0,
                                                  "ring oscillator"))
    if kind == "flash":
        text += line("standby_current", spread(leakage * 0.65, "uA", 0.5, 2.5, "clocks, oscillator and bank references off, "
                                                                               "state kept"))
    if kind == "flash" or extras.get("oscillator"):
        starts = "oscillator and bank references start" if kind == "flash" else "oscillator starts, banks stay on"
        text += line("wake_up", spread(18 if kind == "flash" else 9, "us", 0.5, 2.2, starts))
    seconds, joules = {"flash": (0.0016, 42), "sram": (0.012, 140) if inside else (0.066, 1150 * cells / 3360),
                       "wide": (0.11, 5000)}[kind]
    text += "\n" + line("configuration", "non-volatile" if inside else "external-flash")
    bits = cells * (2 ** fabric["inputs"] + 190 + fabric["ram"])  # tables, routing, contents of the RAM blocks
    text += line("configuration_size", f"{math.ceil(bits / 8192)} KiB")
    text += line("configuration_time", spread(seconds * 1000, "ms", 0.5, 2.2))
    text += line("configuration_energy", spread(joules, "uJ", 0.35, 2.7))
    if "comparators" in extras:
        text += line("comparators", extras["comparators"])
        text += line("comparator_current", spread(32, "uA", 0.5, 2.2, "on-chip comparators with 200 ns delay"))
        text += slow_comparator(32)
    text += "".join(package(outline, 20) for outline in outlines)
    return f"programmable-logic/pl-{kind}-{letter}.toml", text + price(fabric["base_price"] + fabric["cell_price"] * cells)


# Microcontrollers ----------------------------------------------------------------------------------------------------
CLOCKS = [1.1, 2.2, 4.4, 8.8, 13.2, 17.6, 22, 26.4, 35.2, 52.8, 70.4, 79.2, 88]
# name: core, current for each MHz and nm of process, process in nm, place in the memory series, highest clock, packages
PROCESSORS = {
    "mcu-8b-basic": dict(core="8-bit-two-stage", k=1.5, nm=180, place=0, top=17.6, packages=["qfn-16", "qfn-20"],
                         supply=("2.2", "5.3"), base_price=0.25, has={"compare-output": 2, "edge-interrupt": 5,
                         "i2c-target": 1, "uart": 1, "pulse-width": 2}, text="edge interrupts only"),
    "mcu-8b-timer": dict(core="8-bit-two-stage", k=1.5, nm=170, place=1, top=22, packages=["qfn-20", "qfn-24", "qfn-32"],
                         supply=("2.2", "5.3"), base_price=0.34, has={"capture": 1, "compare-output": 3,
                         "edge-interrupt": 9, "comparator": 1, "reference": 1, "i2c-target": 1, "i2c-controller": 1,
                         "spi-controller": 1, "uart": 1, "pulse-width": 3}, text="capture timer and comparator"),
    "mcu-8b-acc": dict(core="8-bit-accumulator", k=0.9, nm=180, place=1, top=52.8, step=2, packages=["qfn-20", "qfn-32"],
                       supply=("2.3", "5.3"), base_price=0.38, has={"capture": 3, "compare-output": 3,
                       "edge-interrupt": 5, "comparator": 2, "reference": 1, "i2c-target": 1, "spi-controller": 1,
                       "uart": 2, "pulse-width": 3}, text="accumulator machine with a fast clock"),
    "mcu-16b-lp": dict(core="16-bit-register", k=1.1, nm=130, place=2, top=26.4, packages=["qfn-32", "qfn-40"],
                       supply=("1.85", "3.5"), base_price=1.08, points=[(8.8, 0.78), (17.6, 0.89)],
                       has={"capture": 4, "compare-output": 4, "edge-interrupt": 14, "dma": 3, "crc-unit": 1,
                            "comparator": 1, "reference": 1, "i2c-target": 1, "i2c-controller": 1, "spi-target": 1,
                            "spi-controller": 2, "uart": 2, "pulse-width": 4}, text="low power"),
    "mcu-32b-small": dict(core="32-bit-two-stage", k=1.9, nm=140, place=2, top=52.8,
                          packages=["qfn-24", "qfn-32", "qfp-40"], supply=("2.1", "3.55"), base_price=0.42,
                          has={"capture": 3, "compare-output": 3, "edge-interrupt": 14, "dma": 5, "crc-unit": 1,
                               "bit-serial-port": 1, "i2c-target": 1, "i2c-controller": 1, "spi-target": 1,
                               "spi-controller": 1, "uart": 2, "pulse-width": 3},
                          text="capture timer, data mover, CRC unit"),
    "mcu-32b-mid": dict(core="32-bit-two-stage", k=1.65, nm=60, place=3, top=70.4, packages=["csp-25", "qfn-32", "qfn-40"],
                        supply=("1.75", "3.5"), base_price=0.66, points=[(26.4, 0.83)], switching=True,
                        has={"capture": 3, "compare-output": 3, "edge-interrupt": 14, "dma": 5, "crc-unit": 1,
                             "bit-serial-port": 1, "comparator": 2, "reference": 1, "i2c-target": 1, "i2c-controller": 1,
                             "spi-target": 1, "spi-controller": 2, "uart": 2, "pulse-width": 3},
                        text="newer process; data mover, CRC unit, comparators"),
    "mcu-32b-large": dict(core="32-bit-two-stage", k=1.9, nm=140, place=4, top=52.8, packages=["qfn-40", "qfp-48", "qfp-64"],
                          supply=("2.1", "3.55"), base_price=0.95, has={"capture": 7, "compare-output": 7,
                          "edge-interrupt": 14, "dma": 6, "crc-unit": 1, "bit-serial-port": 2, "comparator": 2,
                          "reference": 2, "i2c-target": 2, "i2c-controller": 2, "spi-target": 2, "spi-controller": 2,
                          "uart": 4, "pulse-width": 7}, text="data mover, CRC unit, comparators"),
    "mcu-32b-turbo": dict(core="32-bit-two-stage", k=1.9, nm=115, place=3, top=79.2, packages=["qfn-40", "qfp-48"],
                          supply=("2.1", "3.55"), base_price=1.06, points=[(26.4, 0.8)], has={"capture": 7,
                          "compare-output": 7, "edge-interrupt": 14, "dma": 6, "crc-unit": 1, "bit-serial-port": 2,
                          "comparator": 2, "reference": 2, "i2c-target": 2, "i2c-controller": 2, "spi-target": 2,
                          "spi-controller": 2, "uart": 4, "pulse-width": 7}, text="fast clock, data mover, CRC unit"),
    "mcu-32b-fast": dict(core="32-bit-three-stage", k=2.2, nm=150, place=4, top=70.4, packages=["qfn-40", "qfp-64"],
                         supply=("2.1", "3.55"), base_price=1.1, has={"capture": 7, "compare-output": 7,
                         "edge-interrupt": 14, "dma": 11, "crc-unit": 1, "bit-serial-port": 2, "comparator": 2,
                         "reference": 2, "i2c-target": 2, "i2c-controller": 2, "spi-target": 2, "spi-controller": 3,
                         "uart": 4, "pulse-width": 7}, text="older process"),
    "mcu-32b-three": dict(core="32-bit-three-stage", k=2.2, nm=115, place=5, top=88, packages=["csp-36", "qfn-40", "qfp-64"],
                          supply=("1.85", "3.55"), base_price=1.15, has={"capture": 7, "compare-output": 7,
                          "edge-interrupt": 14, "dma": 11, "crc-unit": 1, "bit-serial-port": 2, "comparator": 2,
                          "reference": 2, "i2c-target": 2, "i2c-controller": 2, "spi-target": 2, "spi-controller": 3,
                          "uart": 4, "pulse-width": 7}, text="much memory"),
}


def microcontroller(identity, of):
    flash = 12 * 2 ** of["place"]  # KiB; RAM is a tenth of it, to the quarter of a KiB below
    ram = math.floor(flash * 0.4) / 4
    page = flash * 1024 // 48  # bytes erased at once
    step = of.get("step", 1)
    clocks = [clock for clock in CLOCKS if clock <= of["top"] and (step == 1 or clock >= 2.2)]
    run = of["k"] * of["nm"]
    wide = of["core"].startswith("32")
    base = of["nm"] * (4.6 if wide else 1.7) + 1.2 * flash
    what = f"{of['nm']} nm embedded-flash process"
    text = HEAD + f"#\n# {of['core'].replace('-', ' ', 1)} core: {of['text']}.\n"
    text += general(identity, f"{of['core'].split('-')[0]}-bit, {flash} KiB: {of['text']}",
                    identity.split("-")[0] + "-" + of["core"] + ("-new" if of.get("switching") else ""), f"rule for a {what}", of["supply"],
                    105, "field", False, 98, 10, 1 + flash / 60)
    text += line("core", of["core"]) + line("flash", f"{flash} KiB") + line("erase_page", f"{page} B") + line("ram", f"{ram:g} KiB")
    text += line("clocks", "[" + ", ".join(f'"{clock:g} MHz"' for clock in clocks) + "]")
    text += line("clocks_per_cycle", step)
    text += line("run_current_per_clock", spread(run, "uA/MHz", 0.74, 1.3, f"{what}: goes with its length"))
    text += line("run_base_current", spread(base, "uA", 0.5, 2.0, "regulator, references, oscillator and flash"))
    text += line("sleep_current_per_clock", spread(run * 0.38, "uA/MHz", 0.7, 1.4, "core stopped, bus and peripherals "
                                                                                   "clocked: 38 percent of running"))
    text += line("sleep_base_current", spread(base * 0.72, "uA", 0.46, 2.0, "regulator, references and oscillator"))
    text += line("stop_current", spread(0.35 + ram * (0.1 if of["nm"] > 60 else 0.16), "uA", 0.45, 2.9,
                                        "clocks stopped, RAM kept, at 25 degC"))
    text += line("stop_doubling", '{ low = "11 K", typical = "15 K", high = "22 K", source = "leakage of embedded-flash '
                 'processes, common practice" }')
    text += line("wake_up", spread(6.5 if wide else 5, "us", 0.5, 2.0, "from stop, internal oscillator"))
    if "comparator" in of["has"]:
        text += line("comparator_current", spread(14 if wide else 22, "uA", 0.45, 2.6, "on-chip comparators, medium speed"))
        text += slow_comparator(14 if wide else 22)
    for clock, share in of.get("points", []):
        text += "\n[[operating_point]]\n"
        if of.get("switching"):
            text += line("source", "switching regulator on the die; currents go with the core voltage, common practice")
        else:
            text += line("source", "currents go with the core voltage, common practice")
        text += line("voltage", spread(1.2 * share, "V", 0.95, 1.05, count=3))
        text += line("highest_clock", f"{clock:g} MHz")
        text += line("run_current_per_clock", spread(run * share, "uA/MHz", 0.74, 1.3))
        text += line("sleep_current_per_clock", spread(run * 0.38 * share, "uA/MHz", 0.7, 1.4))
        if of.get("switching"):
            text += line("regulator_efficiency", "{ low = 0.72, typical = 0.8, high = 0.87 }")
            text += line("regulator_current", '{ low = "8 uA", typical = "19 uA", high = "45 uA" }')
    text += "\n[peripherals]\n" + "".join(line(key, count) for key, count in of["has"].items())
    text += "".join(package(outline, 12) for outline in of["packages"])
    return f"microcontrollers/{identity}.toml", text + price(of["base_price"] + 0.0048 * flash)


# Fixed function ------------------------------------------------------------------------------------------------------
LINE = ["analogue-front-end", "line-code", "symbol-code", "crc", "framing", "packet-buffer", "timers", "message-layer",
        "host-interface", "general-purpose-pins"]
# name: further features, general-purpose pins, way of change, packages, whether a second maker is offered
CONTROLLERS = {
    "ff-line": dict(more=["attachment-sink", "attachment-source", "attachment-dual-role", "message-passing"], pins=2, packages=["csp-16", "qfn-16", "qfn-24"],
                    text="line handling and acknowledgement; messages and policy elsewhere"),
    "ff-sink": dict(more=["attachment-sink", "policy-sink", "capability-match"], pins=4,
                    packages=["csp-16", "qfn-16", "qfn-24"], text="complete sink; what it does is in its masks"),
    "ff-source": dict(more=["attachment-source", "policy-source", "voltage-control"], pins=3,
                      packages=["qfn-16", "qfn-24"], text="complete source; what it does is in its masks"),
    "ff-dual-role": dict(more=["attachment-sink", "attachment-source", "attachment-dual-role", "policy-sink",
                               "policy-source", "dual-role", "capability-match", "voltage-control"], pins=6,
                         upgrade="factory", packages=["csp-36", "qfn-24", "qfn-32"],
                         text="source and sink in turn; its settings are written at the factory"),
    "ff-lanes": dict(more=["attachment-sink", "attachment-source", "attachment-dual-role", "policy-sink", "policy-source",
                           "dual-role", "capability-match", "voltage-control", "alternate-mode", "video-switch"],
                     pins=14, upgrade="field", packages=["qfn-48", "bga-64"],
                     text="both roles, alternate modes and lane switching; firmware that the product can renew"),
}
# Feature: what its analogue part and its logic add to the active current, in mA; the line handling is in the base.
FEATURE_CURRENT = {"policy-sink": 0.1, "capability-match": 0.03, "policy-source": 0.2, "voltage-control": 0.9,
                   "attachment-source": 0.14, "attachment-dual-role": 0.05, "dual-role": 0.04, "alternate-mode": 0.5,
                   "video-switch": 1.1, "message-passing": 0.02, "attachment-sink": 0.02}


def fixed_function(identity, of):
    active = 0.72 + sum(FEATURE_CURRENT[feature] for feature in of["more"])
    price_base = 0.42 + 0.045 * len(of["more"]) + 0.022 * of["pins"]
    upgrade = of.get("upgrade", "none")
    if upgrade != "none":
        price_base += {"factory": 0.45, "field": 1.2}[upgrade]
    text = HEAD + f"#\n# Controller: {of['text']}.\n"
    text += general(identity, of["text"], "ff-port", "rule for mixed-signal port controllers", ("2.8", "5.3"), 125, upgrade,
                    upgrade == "none", 84, 7, 0 if upgrade == "none" else 1.5)
    text += "features = [\n" + "".join(f'  "{feature}",\n' for feature in of["more"] + LINE) + "]\n"
    text += line("general_purpose_pins", of["pins"])
    text += line("active_current", spread(active, "mA", 0.55, 1.9, "transceiver and oscillator, and a share for each "
                                                                   "feature"))
    text += line("attached_current", spread(active * 0.2 + 0.06, "mA", 0.5, 2.0, "attached, receiver waiting"))
    text += line("detached_current", spread(5 + 1.1 * len(of["more"]), "uA", 0.4, 2.6, "comparators watching the lines"))
    text += "".join(package(outline, 8) for outline in of["packages"])
    return f"fixed-function/{identity}.toml", text + price(price_base)


def main():
    folder = pathlib.Path(sys.argv[1])
    files = [programmable_logic(*row) for row in LOGIC]
    files += [microcontroller(*row) for row in PROCESSORS.items()]
    files += [fixed_function(*row) for row in CONTROLLERS.items()]
    for name, text in files:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)


main()
