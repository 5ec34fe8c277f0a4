"""Effort, money over life, change, supply and board of an option, for recompute.py; nothing of portweigh's formulas.

Counted, so taken from the run: LUTs and cells of each block, bytes of code, and the hours of rework where firmware is
touched (what each routine has of the code is not in the run). All else is read from catalog and study, typical values.
Studies with a volume ramp, price erosion, learning, last-time buys, reuse or a dated revision are not covered.
"""
import itertools
import math

YEAR_S = 365.25 * 86400
HOUR_S = 3600.0
COCOMO_EMBEDDED = 2.8, 1.20, 2.5, 0.32  # B. W. Boehm, Software Engineering Economics, 1981: intermediate model


def is_covered(study):
    return not study.get("life") and not study.get("reuse") and all("chance_per_year" in r for r in study["revision"])


class Money:
    def __init__(self, option, effort, si):
        self.option, self.effort, self.si = option, effort, si
        self.study, self.function, self.money = option.study, option.function, option.study["money"]
        self.volume, self.years = si(self.study["volume_per_year"]), si(self.study["years"])
        self.carried_by = {block["name"]: option.row["assignment"][block["name"]] for block in self.function["block"]}
        self.group = {block["name"]: block["revision_group"] for block in self.function["block"]}
        carriers = set(self.carried_by.values())
        self.engines = carriers & {"logic fabric", "microcontroller", "fixed function", "host processor", "soft processor"}

    def hours(self, key):
        return self.si(self.effort[key]) / HOUR_S

    def firmware_hours(self, code_bytes):
        a, b, _, _ = COCOMO_EMBEDDED
        drivers = math.prod(self.si(driver) for driver in self.effort["cost_drivers"].values())
        thousand_lines = code_bytes / self.si(self.effort["bytes_per_line"]) / 1000
        return a * thousand_lines**b * drivers * self.si(self.effort["firmware_accuracy"]) * self.hours("person_month")

    def hours_per_lut(self):
        return self.hours("logic_design_time_per_lut") / (1 - self.si(self.effort["verification_share"]))

    def luts(self):
        return {key.split(".")[1]: node["value"] for key, node in self.option.told.items()
                if key.startswith("counts.") and key.endswith(".luts") and "soft-processor" not in key}

    def chip_of(self, carrier):
        role = {"logic fabric": "programmable-logic", "soft processor": "programmable-logic",
                "microcontroller": "microcontrollers", "fixed function": "fixed-function"}.get(carrier)
        return self.option.chip(role) if role else None

    def touched(self, revision):
        return [name for name, group in self.group.items() if group in revision["touches"]]

    def is_updated_in_field(self, chip):
        return chip["upgrade"] == "field" and any(self.chip_of(self.carried_by[name]) is chip
                                                  for revision in self.study["revision"] for name in self.touched(revision))

    def flash_use(self):
        """Boot loader and images in whole erase pages where products in use are updated; sizes in bits."""
        part, image = self.option.processor, self.option.counted("counts.flash")
        if self.is_updated_in_field(part):
            page = self.si(part["erase_page"])
            pages = lambda size: math.ceil(size / page) * page
            image = pages(8 * self.si(self.effort["boot_loader_bytes"])) + \
                (2 if self.study.get("second_image") else 1) * pages(image)
        return image / (self.si(part["flash"]) * (1 - self.si(self.study["capacity_reserve"])))

    def effort_hours(self):
        total = 0.0
        if self.option.logic:
            total += sum(self.luts().values()) * self.hours_per_lut()
        for engine in ("microcontroller", "host", "soft_processor"):
            code_bytes = self.option.counted(f"counts.{engine}_code_bytes")
            total += self.firmware_hours(code_bytes) if code_bytes else 0.0
        if self.option.fixed:
            total += self.hours("fixed_function_time")
        for chip in self.option.chips:
            processor = chip["role_of_chip"] == "microcontrollers"
            if processor or chip["role_of_chip"] == "programmable-logic":
                total += self.hours("power_management_time") + (self.hours("driver_time") if processor else 0)
                if self.is_updated_in_field(chip):
                    total += self.hours("update_path_time")
                    total += self.firmware_hours(self.si(self.effort["boot_loader_bytes"])) if processor else 0
        total += self.hours("production_test_time") if self.option.chips else 0
        total += len({chip["id"] for chip in self.option.chips}) * self.hours("qualification_time")
        if self.engines:
            total += self.hours("integration_time") + (len(self.engines) - 1) * self.hours("second_engine_time")
        return total

    def certification(self):
        kind = ("certification_of_logic" if "logic fabric" in self.engines else
                "certification_of_firmware" if self.engines - {"fixed function"} else "certification_of_controller")
        return self.si(self.money.get(kind, self.money["certification_cost"]))

    def labour(self):
        return self.si(self.money["labour_rate"]) * HOUR_S

    def one_time(self, effort_hours):
        families = {chip["family"] for chip in self.option.chips if chip["role_of_chip"] != "fixed-function"}
        return (effort_hours * self.labour() + self.certification() + len(families) * self.si(self.money["tools_cost"])
                + self.si(self.money.get("prototype_cost", 0)))

    def route(self, revision):
        """0 touches nothing, 1 field, 2 factory, 3 new board or part: the worst of the blocks touched."""
        worst = 0
        for name in self.touched(revision):
            carrier = self.carried_by[name]
            if carrier in self.engines:
                chip = self.chip_of(carrier)
                worst = max(worst, 1 if chip is None else {"field": 1, "factory": 2}.get(chip["upgrade"], 3))
        return worst

    def rework_hours(self, revision, route):
        if self.engines & {"microcontroller", "host processor", "soft processor"}:
            return self.option.counted(f"change.{revision['name']}.rework") / HOUR_S
        touched = self.touched(revision)
        made = sum(luts for name, luts in self.luts().items() if name in touched) * self.hours_per_lut()
        hours = made * self.si(self.effort["rework_share"])
        if route == 3:
            hours += self.hours("integration_time") + (self.hours("fixed_function_time") if self.option.fixed else 0)
        return hours

    def event(self, revision, route, rework_hours, unit_cost, in_use):
        cost = rework_hours * self.labour()
        cost += self.certification() if revision.get("needs_certification", True) else 0
        recalled = in_use * self.si(self.money["recall_share"])
        if route < 3:
            cost += self.si(self.money["field_update_cost"])
        if route == 2:
            cost += recalled * self.si(self.money["factory_update_cost"])
        if route == 3:
            cost += self.si(self.money["board_turn_cost"])
            cost += recalled * (unit_cost + self.si(self.money["factory_update_cost"]))
        return cost

    def reaction_s(self, route, rework_hours, lead_s):
        months = rework_hours / self.hours("person_month") / self.si(self.effort["team_size"])
        time_s = months * YEAR_S / 12 + self.si(self.effort["field_update_time" if route == 1 else "factory_update_time"])
        return time_s + (self.si(self.effort["board_turn_time"]) + lead_s if route == 3 else 0)

    def worst_five_percent(self, events):
        """Mean of the worst 5 %; each event, a revision in one year, comes or not."""
        outcomes = sorted(((sum(cost for comes, (_, cost) in zip(which, events) if comes),
                            math.prod(chance if comes else 1 - chance for comes, (chance, _) in zip(which, events)))
                           for which in itertools.product((False, True), repeat=len(events))), reverse=True)
        left, total = 0.05, 0.0
        for cost, chance in outcomes:
            taken = min(left, chance)
            left, total = left - taken, total + taken * cost
        return total / 0.05

    def board_m2(self):
        area = 0.0
        for bill in self.option.row["bill"]:
            part = self.option.catalog[bill["part"]]
            if part["role_of_chip"]:
                outline = next(package for package in part["package"] if package["name"] == bill["what"])
                area += self.si(outline["body_length"]) * self.si(outline["body_width"]) * 1.5
            else:
                area += bill["count"] * self.si(part["board_area"])
        return area

    def figures(self, unit_cost):
        hours = self.effort_hours()
        once = self.one_time(hours)
        lead_s = max([0.0] + [self.si(chip["lead_time"]) for chip in self.option.chips])
        expected = reaction_s = 0.0
        yearly, events = [0.0] * round(self.years), []
        for revision in self.study["revision"]:
            route = self.route(revision)
            if not route:
                continue
            chance, rework = self.si(revision["chance_per_year"]), self.rework_hours(revision, route)
            cost = lambda in_use: self.event(revision, route, rework, unit_cost, in_use)
            average = cost(self.volume * self.years / 2)
            expected += chance * self.years * average
            reaction_s = max(reaction_s, self.reaction_s(route, rework, lead_s))
            for year in range(len(yearly)):
                in_year = cost(self.volume * (year + 0.5))
                yearly[year] += chance * in_year
                events.append((chance, in_year))
        units = self.volume * self.years
        rate = 1 + self.si(self.money["discount_rate"])
        _, _, c, d = COCOMO_EMBEDDED
        months = hours / self.hours("person_month")
        available_s = min([math.inf] + [self.si(chip["availability"]) for chip in self.option.chips])
        return {"effort": hours * HOUR_S, "one_time_cost": once, "change_cost": expected,
                "change_cost_worst": self.worst_five_percent(events),
                "cost_per_unit_over_life": unit_cost + (once + expected) / units,
                "net_present_cost": once + sum((self.volume * unit_cost + change) / rate ** (year + 1)
                                               for year, change in enumerate(yearly)),
                "development_time": max(c * months**d, months / self.si(self.effort["team_size"])) * YEAR_S / 12,
                "reaction_time": reaction_s, "lead_time": lead_s,
                "availability_shortfall": max(0.0, self.years * YEAR_S - available_s) if self.option.chips else 0.0,
                "single_sourced_parts": sum(not chip.get("second_source") for chip in self.option.chips),
                "board_area": self.board_m2()}
