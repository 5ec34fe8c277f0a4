"""Figures of an exported ledger, evaluated by NumPy and by OpenTURNS instead of portweigh.

  ledger_figures.py check FILE   compares mean, variance and Sobol indices; exit code 0 they agree, 1 they don't
  ledger_figures.py bench FILE   prints the times of NumPy and of OpenTURNS

FILE of check is JSON: {"ledger": as estimator/figures/ledger/export.hpp writes it, "figures": [key, ...], "results":
[{"figure", "mean", "variance", "drivers": [{"coordinate", "first", "total"}, ...]}, ...]}. The ledger's inputs are
sampled by OpenTURNS' own triangular distributions, its formulas are read from the file. FILE of bench is {"figures":
[key, ...], "ledgers": [...], "seconds": time that portweigh takes for 10,000 samples of all ledgers on one thread}.
"""

import json
import sys
import time

try:
    import numpy as np
    import openturns as ot
except ImportError as missing:
    sys.exit(f"ledger_figures.py: {missing} (Debian: python3-numpy, python3-openturns)")


def lookup(table, x):
    xs, ys = np.array(table["x"]), np.array(table["y"])
    if table["scale"] == "log_log":
        return np.exp(np.interp(np.log(x), np.log(xs), np.log(ys)))
    return np.interp(x, xs, ys)


OPERATIONS = {
    "same": lambda a: a,
    "add": np.add,
    "subtract": np.subtract,
    "multiply": np.multiply,
    "divide": np.divide,
    "minimum": np.minimum,
    "maximum": np.maximum,
    "raise": np.power,
    "log": np.log,
    "exp": np.exp,
    "round_up": np.ceil,
    "round_down": np.floor,
    "at_least": lambda a, b: np.where(np.greater_equal(a, b), 1.0, 0.0),
    "select": lambda c, a, b: np.where(np.not_equal(c, 0.0), a, b),
}


class Ledger:
    """The nodes that some figures need, in order, and the coordinates of their uncertain inputs."""

    def __init__(self, ledger, keys):
        self.nodes, self.tables = ledger["nodes"], ledger["tables"]
        by_key = {node.get("key"): i for i, node in enumerate(self.nodes)}
        self.wanted = [by_key[key] for key in keys]
        needed, todo = set(), list(self.wanted)
        while todo:
            index = todo.pop()
            if index not in needed:
                needed.add(index)
                todo += self.nodes[index].get("args", [])
        self.needed = sorted(needed)
        self.coordinates = {}
        for index in self.needed:
            node = self.nodes[index]
            if node["op"] == "input" and node["low"] < node["high"]:
                name = node.get("correlation") or node["key"]
                self.coordinates.setdefault(name, []).append(index)

        moving = set(self.uncertain())
        for index in self.needed:
            if any(i in moving for i in self.nodes[index].get("args", [])):
                moving.add(index)
        self.varying = [i for i in self.needed if i in moving and self.nodes[i]["op"] != "input"]
        self.fixed = {i: self.nodes[i]["value"] for i in self.needed if i not in moving}

    def uncertain(self):
        return [index for members in self.coordinates.values() for index in members]

    def operations(self):
        """How many values are computed for each sample."""
        return sum(self.nodes[i]["op"] != "same" for i in self.varying)

    def evaluate(self, inputs):
        """Wanted figures for columns of the uncertain inputs, by NumPy, one node after the other."""
        values = self.fixed | inputs
        for index in self.varying:
            node = self.nodes[index]
            arguments = [values[i] for i in node["args"]]
            if node["op"] == "power":
                values[index] = np.power(arguments[0], node["exponent"])
            elif node["op"] == "lookup":
                values[index] = lookup(self.tables[node["table"]], arguments[0])
            else:
                values[index] = OPERATIONS[node["op"]](*arguments)
        return [values[index] for index in self.wanted]

    def formula(self):
        """The same as a program of OpenTURNS' symbolic functions."""
        binary = {"add": "+", "subtract": "-", "multiply": "*", "divide": "/"}
        calls = {"minimum": "min", "maximum": "max", "log": "log", "exp": "exp", "round_up": "ceil",
                 "round_down": "floor"}
        moving = set(self.uncertain())
        lines = []

        def term(index):
            return f"n{index}" if index in moving else repr(float(self.nodes[index]["value"]))

        for index in self.needed:
            node = self.nodes[index]
            if index in moving or not any(i in moving for i in node.get("args", [])):
                continue
            arguments = [term(i) for i in node["args"]]
            operation = node["op"]
            if operation in binary:
                text = f"{arguments[0]} {binary[operation]} ({arguments[1]})"
            elif operation in calls:
                text = f"{calls[operation]}({', '.join(arguments)})"
            elif operation == "same":
                text = arguments[0]
            elif operation == "power":
                text = f"({arguments[0]})^({node['exponent']!r})"
            elif operation == "raise":
                text = f"({arguments[0]})^({arguments[1]})"
            elif operation == "at_least":
                text = f"if({arguments[0]} >= {arguments[1]}, 1, 0)"
            elif operation == "select":
                text = f"if({arguments[0]} != 0, {arguments[1]}, {arguments[2]})"
            else:
                text = self.lookup_formula(self.tables[node["table"]], arguments[0])
            lines.append(f"var n{index} := {text};")
            moving.add(index)
        outputs = [f"y{k} := {term(index)};" for k, index in enumerate(self.wanted)]
        return "".join(lines + outputs)

    @staticmethod
    def lookup_formula(table, x):
        xs, ys = table["x"], table["y"]
        text = repr(float(ys[-1]))
        for k in range(len(xs) - 2, -1, -1):
            if table["scale"] == "log_log":
                slope = float(np.log(ys[k + 1] / ys[k]) / np.log(xs[k + 1] / xs[k]))
                segment = f"{ys[k]!r} * ({x} / {xs[k]!r})^({slope!r})"
            else:
                slope = (ys[k + 1] - ys[k]) / (xs[k + 1] - xs[k])
                segment = f"{ys[k]!r} + ({slope!r}) * ({x} - {xs[k]!r})"
            text = f"if({x} < {xs[k + 1]!r}, {segment}, {text})"
        return f"if({x} <= {xs[0]!r}, {ys[0]!r}, {text})"


def triangular_quantile(node, u):
    low, typical, high = node["low"], node["typical"], node["high"]
    left = (typical - low) / (high - low)
    rising = low + np.sqrt(u * (high - low) * (typical - low))
    falling = high - np.sqrt((1 - u) * (high - low) * (high - typical))
    return np.where(u < left, rising, falling)


def distribution_of(ledger):
    marginals = []
    for members in ledger.coordinates.values():
        node = ledger.nodes[members[0]]
        alone = len(members) == 1
        marginals.append(ot.Triangular(node["low"], node["typical"], node["high"]) if alone else ot.Uniform(0, 1))
    return ot.ComposedDistribution(marginals)


def columns_of(ledger, sample):
    """Columns of the inputs from a sample of the coordinates."""
    inputs = {}
    for column, members in enumerate(ledger.coordinates.values()):
        for index in members:
            alone = len(members) == 1
            inputs[index] = sample[:, column] if alone else triangular_quantile(ledger.nodes[index], sample[:, column])
    return inputs


def check_figure(data, result):
    ledger = Ledger(data["ledger"], [result["figure"]])
    names = list(ledger.coordinates)
    mistakes = []

    def compare(what, ours, theirs, allowed):
        if abs(ours - theirs) > allowed:
            mistakes.append(f"{result['figure']}: {what} {ours:.6g}, OpenTURNS {theirs:.6g}")

    if sorted(names) != sorted(driver["coordinate"] for driver in result["drivers"]):
        return [f"{result['figure']}: other inputs: {names}"]

    def run(sample):
        return np.asarray(ledger.evaluate(columns_of(ledger, np.asarray(sample)))[0]).reshape(-1, 1)

    function = ot.PythonFunction(len(names), 1, func_sample=run)
    size = 1 << 13
    ot.RandomGenerator.SetSeed(1)
    design = ot.SobolIndicesExperiment(distribution_of(ledger), size).generate()
    values = function(design)
    plain = np.asarray(values)[: 2 * size, 0]
    deviation = np.sqrt(plain.var())
    # Four standard errors of a mean of so many random samples; as much again is allowed for the variance.
    compare("mean", result["mean"], plain.mean(), 4 * deviation / np.sqrt(2 * size))
    compare("variance", result["variance"], plain.var(), 0.06 * plain.var())
    saltelli = ot.SaltelliSensitivityAlgorithm(design, values, size)
    jansen = ot.JansenSensitivityAlgorithm(design, values, size)
    drivers = {driver["coordinate"]: driver for driver in result["drivers"]}
    for name, first, total in zip(names, saltelli.getFirstOrderIndices(), jansen.getTotalOrderIndices()):
        compare(f"first index of {name}", drivers[name]["first"], first, 0.04)
        compare(f"total index of {name}", drivers[name]["total"], total, 0.03)
    return mistakes


def check(data):
    mistakes = [mistake for result in data["results"] for mistake in check_figure(data, result)]
    print("\n".join(mistakes))
    return 1 if mistakes else 0


def best_time(run, repeats=5):
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        run()
        times.append(time.perf_counter() - start)
    return min(times)


def bench(data, samples=10000):
    """All options one after the other, each with all its formulas; only what depends on uncertain inputs is timed."""
    ledgers = [Ledger(ledger, data["figures"]) for ledger in data["ledgers"]]
    nodes = sum(ledger.operations() for ledger in ledgers)
    columns = {}
    random = np.random.default_rng(1)
    for ledger in ledgers:
        for index in ledger.uncertain():
            node = ledger.nodes[index]
            if node["key"] not in columns:
                columns[node["key"]] = triangular_quantile(node, random.random(samples))
    inputs = [{i: columns[ledger.nodes[i]["key"]] for i in ledger.uncertain()} for ledger in ledgers]

    def report(name, seconds):
        print(f"  {name:<34}{1e3 * seconds:10.1f} ms {1e9 * seconds / (nodes * samples):10.3f} ns "
              f"{seconds / data['seconds']:8.1f}")

    print(f"{len(data['figures'])} figures of {len(ledgers)} options, {samples} samples, one thread: {nodes} nodes that "
          "depend on uncertain inputs")
    print(f"  {'':<34}{'all options':>13} {'a node':>13} {'times ours':>8}")
    report("portweigh", data["seconds"])
    expected = [ledger.evaluate(columns_of_one) for ledger, columns_of_one in zip(ledgers, inputs)]
    report("NumPy", best_time(lambda: [ledger.evaluate(of_one) for ledger, of_one in zip(ledgers, inputs)]))
    seconds = 0.0
    for ledger, of_one, figures in zip(ledgers, inputs, expected):
        names = ledger.uncertain()
        function = ot.SymbolicFunction([f"n{i}" for i in names], [f"y{k}" for k in range(len(data["figures"]))],
                                       ledger.formula())
        sample = ot.Sample(np.column_stack([of_one[i] for i in names]))
        values = np.asarray(function(sample))
        for k, figure in enumerate(figures):
            if not np.allclose(values[:, k], figure, rtol=1e-9):
                print(f"  OpenTURNS and NumPy disagree on {data['figures'][k]}")
                return 1
        seconds += best_time(lambda: function(sample), 2)
    report("OpenTURNS, symbolic functions", seconds)
    return 0


if __name__ == "__main__":
    with open(sys.argv[2], encoding="utf-8") as file:
        content = json.load(file)
    sys.exit(check(content) if sys.argv[1] == "check" else bench(content))
