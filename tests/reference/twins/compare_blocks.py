#!/usr/bin/env python3
"""Block routines: what the model says (FOLDER/model.csv, written by record_blocks.sh) beside compiled code.

Prints the tables of docs/validation-firmware.md, or with --write puts them between the marks there.
usage, from the source folder: compare_blocks.py FOLDER [--write]
"""
import csv
import statistics
import sys
from collections import defaultdict

CORES = ['8-bit-two-stage', '8-bit-accumulator', '16-bit-register', '32-bit-two-stage', '32-bit-sequential']
FRAME = 45  # 8-bit two-stage: interrupt_frame_cycles and bytes of the core file
FRAME_BYTES = 60
PAGE = 'docs/validation-firmware.md'


def read_model(folder):
    with open(folder + '/model.csv') as table:
        return {(r['name'], r['core'], r['goal']): {k: float(v) for k, v in r.items() if k not in ('name', 'core', 'goal')}
                for r in csv.DictReader(table)}


def figures(model, name, core):
    return {goal: model[name, core, goal] for goal in ('middle', 'size', 'speed')}


def read_blocks():
    """name -> (what it is, events of the block in each event of the twin)"""
    blocks = {}
    for line in open('tests/reference/twins/blocks.list'):
        if line.startswith('#'):
            continue
        name, kind, method, settings, _, share = line.strip().split('|')
        blocks[name] = (f'{kind} {settings}, {method}', float(share))
    return blocks


def read_measured(path, cycles):
    with open(path) as table:
        return {(r['routine'], r['core'].split(' with')[0], r['optimised_for']):
                (float(r[cycles]), float(r['code_bytes'])) for r in csv.DictReader(table)}


class Summary:
    def __init__(self):
        self.errors, self.inside, self.byte_errors, self.byte_inside = [], [], [], []

    def add(self, ours, measured):
        cycles, size = measured
        self.errors.append(ours['typical'] / cycles - 1)
        self.inside.append(ours['low'] <= cycles <= ours['high'])
        self.byte_errors.append(ours['typical_bytes'] / size - 1)
        self.byte_inside.append(ours['low_bytes'] <= size <= ours['high_bytes'])

    def line(self, core):
        absolute = sorted(abs(e) for e in self.errors)
        return (f'| {core} | {len(absolute)} | {100 * statistics.median(absolute):.1f} % | '
                f'{100 * statistics.median(self.errors):+.1f} % | {sum(e > 0.4 for e in absolute)} | '
                f'{100 * absolute[-1]:.0f} % | {100 * sum(self.inside) / len(absolute):.0f} % | '
                f'{100 * statistics.median(abs(e) for e in self.byte_errors):.1f} % | '
                f'{100 * sum(self.byte_inside) / len(absolute):.0f} % |')


def cell(ours, size, speed):
    if size is None:
        return ''
    middle = ours['middle']
    inside = ''.join('.' if ours[goal]['low'] <= m[0] <= ours[goal]['high'] else '!' for goal, m in (('size', size), ('speed', speed)))
    return (f"{middle['low']:.0f} **{middle['typical']:.0f}** {middle['high']:.0f} : {ours['size']['typical']:.0f} {ours['speed']['typical']:.0f} : {size[0]:.0f} {speed[0]:.0f} "
            f"{inside.replace('..', '').replace('.!', 'speed outside').replace('!.', 'size outside').replace('!!', 'both outside')}").strip()


def table(rows, first):
    summaries = defaultdict(Summary)
    lines = [f'| {first} | ' + ' | '.join(CORES) + ' |', '|---' * (1 + len(CORES)) + '|']
    for label, cells in rows:
        texts = []
        for core in CORES:
            ours, size, speed = cells.get(core, (None, None, None))
            texts.append(cell(ours, size, speed))
            for goal, measured in (('size', size), ('speed', speed)):
                if measured:
                    summaries[core].add(ours[goal], measured)
        lines.append(f'| {label} | ' + ' | '.join(texts) + ' |')
    lines += ['', '| core | rows | median error | bias | above 40 % | worst | inside low..high | bytes: median error | inside |',
              '|---' * 9 + '|']
    lines += [summaries[core].line(core) for core in CORES if core in summaries]
    return lines


def twin_rows(model, blocks):
    measured = read_measured('tests/reference/twins/blocks.csv', 'cycles')
    for name, (text, share) in blocks.items():
        cells = {}
        for core in CORES:
            pair = [measured.get((name, core, goal)) for goal in ('size', 'speed')]
            if None not in pair:
                cells[core] = (figures(model, name, core), *((m[0] / share, m[1]) for m in pair))
        yield text, cells


def independent_rows(model):
    measured = read_measured('tests/reference/measured/firmware.csv', 'cycles_mean')
    for line in list(open('tests/reference/measured/firmware_mapping.csv'))[1:]:
        routine, block, frame, differs = line.strip().split('|')
        parts = routine.split('+') if '+ring' in routine else [routine]
        cells = {}
        for core in CORES:
            pair = []
            for goal in ('size', 'speed'):
                found = [measured.get((part, core, goal)) for part in parts]
                if None in found:
                    break
                less = (FRAME, FRAME_BYTES) if frame == 'yes' else (0, 0)
                pair.append(tuple(sum(f[k] for f in found) - less[k] for k in range(2)))
            if len(pair) == 2:
                cells[core] = (figures(model, block, core), *pair)
        yield f'{routine} ({differs})', cells


def main():
    folder = sys.argv[1]
    model, blocks = read_model(folder), read_blocks()
    parts = {'blocks': table(twin_rows(model, blocks), 'block'),
             'independent': table(independent_rows(model), 'measured routine (what differs)')}
    if '--write' not in sys.argv:
        for lines in parts.values():
            print('\n'.join(lines) + '\n')
        return
    text = open(PAGE).read()
    for name, lines in parts.items():
        begin, end = f'<!-- {name} -->', f'<!-- end of {name} -->'
        text = text[:text.index(begin) + len(begin)] + '\n' + '\n'.join(lines) + '\n' + text[text.index(end):]
    open(PAGE, 'w').write(text)


main()
