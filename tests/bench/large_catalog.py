#!/usr/bin/env python3
"""Makes a catalog of many parts and a function of fewer blocks from the project's own, to measure growth.

    large_catalog.py FOLDER PARTS BLOCKS

writes FOLDER/catalog with PARTS main parts (a third each of programmable logic and microcontrollers, the rest
fixed function, in the shares 20 : 25 : 15 of 60), each a variant of a part of the demo with other currents and
prices, and FOLDER/study.toml, the demo's study with the first BLOCKS blocks that remain when buffers, pins and the
host's part are left out.
"""
import pathlib
import re
import shutil
import sys

root = pathlib.Path(__file__).resolve().parents[2]
folder, parts, blocks = pathlib.Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
catalog = folder / "catalog"
shutil.rmtree(folder, ignore_errors=True)
shutil.copytree(root / "catalog", catalog)

shares = {"programmable-logic": 20, "microcontrollers": 25, "fixed-function": 15}
energies = re.compile(r"^((?:toggle_energy|run_current_per_clock|active_current) = .*)$", re.M)
for kind, share in shares.items():
    originals = sorted((catalog / kind).glob("*.toml"))
    wanted = max(1, round(parts * share / 60))
    for surplus in originals[wanted:]:
        surplus.unlink()
    for i in range(len(originals), wanted):
        original = originals[i % len(originals)]
        step = i // len(originals)
        name = f"{original.stem}-{step}"

        def grown(match):
            return re.sub(r'"([\d.]+) ', lambda number: f'"{float(number[1]) * (1 + 0.07 * step):.6g} ', match[1])

        text = energies.sub(grown, original.read_text())
        (catalog / kind / f"{name}.toml").write_text(text.replace(f'id = "{original.stem}"', f'id = "{name}"'))

head, *tables = re.split(r"^(?=\[\[block\]\])", (root / "catalog/functions/sink.toml").read_text(), flags=re.M)
left_out = re.compile(r'kind = "buffer"|layer = "(host|pins)"')
kept = [table for table in tables if not left_out.search(table)] + [t for t in tables if left_out.search(t)]
(catalog / "functions/sink.toml").write_text(head + "".join(kept[:blocks]))

study = (root / "studies/flow-meter.toml").read_text()
(folder / "study.toml").write_text(re.sub(r"(?m)^excluded_parts.*\n", "", study))
print(catalog, sum(len(list((catalog / kind).glob("*.toml"))) for kind in shares), "parts,", len(kept[:blocks]), "blocks")
