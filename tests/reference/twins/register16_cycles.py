#!/usr/bin/env python3
"""Runs a C twin compiled to assembly text for a 16-bit register machine and counts cycles by addressing mode.

usage: register16_cycles.py BASE ASSEMBLY     prints: mean cycles of an event, code bytes

Cycles [M]: two operands: register or small constant source 1, @Rn 2, #n 2, indexed or absolute 3; destination in memory
adds 3. One operand: register 1, @Rn 3, indexed 4; push 3, call 5, return 3, jumps 2. The constants 0, 1, 2, 4, 8
and -1 cost what a register costs. Library helpers (multiply, shift by a variable) are charged as the usual
shift-and-add loops. Every result is compared with the routine's.
"""
import re
import sys

WORD = 0xFFFF
FREE = {0, 1, 2, 4, 8, WORD, 0xFF}
JUMPS = {'jmp', 'jeq', 'jz', 'jne', 'jnz', 'jlo', 'jnc', 'jhs', 'jc', 'jl', 'jge', 'jn'}
EMULATED = {'clr': ('mov', '#0'), 'inc': ('add', '#1'), 'incd': ('add', '#2'), 'dec': ('sub', '#1'),
            'decd': ('sub', '#2'), 'tst': ('cmp', '#0'), 'inv': ('xor', '#-1'), 'adc': ('addc', '#0'),
            'sbc': ('subc', '#0')}


def split(text):
    return [part.strip() for part in text.split(',')] if text else []


ESCAPES = {'n': 10, 't': 9, 'r': 13, 'b': 8, 'f': 12, '"': 34, '\\': 92}


def text_bytes(quoted):
    out, body, at = bytearray(), quoted.strip()[1:-1], 0
    while at < len(body):
        if body[at] != '\\':
            out.append(ord(body[at]))
            at += 1
            continue
        octal = re.match(r'[0-7]{1,3}', body[at + 1:])
        if octal:
            out.append(int(octal.group(0), 8))
            at += 1 + len(octal.group(0))
        else:
            out.append(ESCAPES[body[at + 1]])
            at += 2
    return bytes(out)


class Program:
    def __init__(self, path):
        self.code, self.labels, self.symbols, self.memory = [], {}, {}, bytearray(65536)
        self.data_at = 0x2000
        waiting = []
        in_text = True
        for line in open(path):
            if '"' not in line:
                line = line.split(';')[0]
            line = line.rstrip()
            if not line.strip():
                continue
            label = re.match(r'^([\w.$]+):', line)
            words = line.split(None, 1)
            if label:
                waiting.append(label.group(1))
                if not in_text:
                    self.place(waiting)
                continue
            name, rest = words[0], words[1] if len(words) > 1 else ''
            if name == '.comm':
                symbol, size = split(rest)[:2]
                self.data_at = (self.data_at + 3) & ~3
                self.symbols[symbol] = self.data_at
                self.data_at += int(size)
            elif name in ('.section', '.text', '.bss', '.data'):
                in_text = '.text' in line
            elif name in ('.byte', '.short', '.long'):
                size = {'.byte': 1, '.short': 2, '.long': 4}[name]
                self.place(waiting)
                value = int(rest, 0) if re.match(r'^-?\w+$', rest) and rest.lstrip('-')[0].isdigit() else 0
                if not rest.lstrip('-')[0].isdigit():
                    self.fixups = getattr(self, 'fixups', []) + [(self.data_at, rest)]
                self.memory[self.data_at:self.data_at + size] = (value % (1 << 8 * size)).to_bytes(size, 'little')
                self.data_at += size
            elif name in ('.ascii', '.asciz'):
                self.place(waiting)
                raw = text_bytes(rest) + (b'\0' if name == '.asciz' else b'')
                self.memory[self.data_at:self.data_at + len(raw)] = raw
                self.data_at += len(raw)
            elif name in ('.zero', '.skip', '.space'):
                self.place(waiting)
                self.data_at += int(split(rest)[0])
            elif name == '.p2align' and not in_text:
                step = 1 << int(split(rest)[0])
                self.data_at = (self.data_at + step - 1) // step * step
                for symbol in waiting:
                    self.symbols[symbol] = self.data_at
            elif name.startswith('.'):
                continue
            elif in_text:
                for symbol in waiting:
                    self.labels[symbol] = len(self.code)
                waiting = []
                byte = name.endswith('.b')
                self.code.append((name[:-2] if byte else name, byte, split(rest)))
        for at, label in getattr(self, 'fixups', []):
            self.memory[at:at + 2] = self.code_address(label).to_bytes(2, 'little')

    def place(self, waiting):
        for symbol in waiting:
            self.symbols[symbol] = self.data_at
        waiting.clear()

    def code_address(self, label):
        return 0x8000 + self.labels[label]


class Machine:
    def __init__(self, program):
        self.p, self.m, self.r = program, program.memory, [0] * 16
        self.c = self.z = self.n = self.v = 0
        self.cycles = 0

    def number(self, text):
        match = re.match(r'^([A-Za-z_.$][\w.$]*)?([+-]?\d+)?$', text)
        if not match:
            raise ValueError('operand ' + text)
        symbol, offset = match.groups()
        base = 0
        if symbol:
            base = self.p.symbols[symbol] if symbol in self.p.symbols else self.p.code_address(symbol)
        return (base + int(offset or 0)) & WORD

    def register(self, text):
        return {'pc': 0, 'sp': 1, 'sr': 2}.get(text, int(text[1:]) if text[0] == 'r' and text[1:].isdigit() else None)

    def operand(self, text):
        """kind, register or address, extra words"""
        if text.startswith('#'):
            value = self.number(text[1:])
            return ('constant', value, 0 if value in FREE else 1)
        if text.startswith('&'):
            return ('memory', self.number(text[1:]), 1)
        if text.startswith('@'):
            plus = text.endswith('+')
            return ('pop' if plus else 'at', self.register(text[1:].rstrip('+')), 0)
        indexed = re.match(r'^(.+)\((\w+)\)$', text)
        if indexed:
            at = (self.number(indexed.group(1)) + self.r[self.register(indexed.group(2))]) & WORD
            return ('memory', at, 1)
        return ('register', self.register(text), 0)

    def flags(self):
        return self.c | self.z << 1 | self.n << 2 | self.v << 8

    def load(self, op, byte):
        kind, where, _ = op
        if kind == 'constant':
            value = where
        elif kind == 'register':
            value = self.flags() if where == 2 else self.r[where]
        else:
            at = self.r[where] if kind in ('at', 'pop') else where
            value = self.m[at] if byte else self.m[at] | self.m[at + 1] << 8
            if kind == 'pop':
                self.r[where] = (self.r[where] + (1 if byte and where != 1 else 2)) & WORD
        return value & (0xFF if byte else WORD)

    def store(self, op, value, byte):
        kind, where, _ = op
        if kind == 'register':
            self.r[where] = value & (0xFF if byte else WORD)
        else:
            self.m[where] = value & 0xFF
            if not byte:
                self.m[where + 1] = value >> 8 & 0xFF

    def set_nz(self, value, byte):
        self.z = int(value == 0)
        self.n = value >> (7 if byte else 15) & 1

    def add(self, a, b, carry, byte):
        mask = 0xFF if byte else WORD
        total = (a & mask) + (b & mask) + carry
        result = total & mask
        self.c = int(total > mask)
        top = (mask >> 1) + 1
        self.v = int(bool(~(a ^ b) & (a ^ result) & top))
        self.set_nz(result, byte)
        return result

    def two(self, name, byte, source, target):
        src, dst = self.operand(source), self.operand(target)
        in_memory = dst[0] != 'register'
        cost = {'constant': 1 + src[2], 'register': 1, 'at': 2, 'pop': 2, 'memory': 3}[src[0]]
        self.cycles += cost + (3 if in_memory else 0) + (1 if target in ('pc', 'r0') else 0)
        a = self.load(src, byte)
        if name == 'mov':
            self.store(dst, a, byte)
            return
        b = self.load(dst, byte)
        mask = 0xFF if byte else WORD
        if name in ('add', 'addc'):
            result = self.add(b, a, self.c if name == 'addc' else 0, byte)
        elif name in ('sub', 'cmp', 'subc'):
            result = self.add(b, ~a & mask, self.c if name == 'subc' else 1, byte)
        elif name in ('and', 'bit'):
            result = a & b
            self.set_nz(result, byte)
            self.c, self.v = 1 - self.z, 0
        elif name == 'xor':
            result = a ^ b
            self.set_nz(result, byte)
            self.c = 1 - self.z
        elif name == 'bis':
            result = a | b
        elif name == 'bic':
            result = b & ~a & mask
        else:
            raise ValueError(name)
        if name not in ('cmp', 'bit'):
            self.store(dst, result, byte)

    def one(self, name, byte, target):
        dst = self.operand(target)
        self.cycles += {'register': 1, 'at': 3, 'pop': 3, 'memory': 4}[dst[0]]
        value = self.load(dst, byte)
        top = 7 if byte else 15
        if name == 'rra':
            self.c = value & 1
            value = value >> 1 | (value & 1 << top)
        elif name == 'rrc':
            carry, self.c = self.c, value & 1
            value = value >> 1 | carry << top
        elif name == 'swpb':
            value = (value >> 8 | value << 8) & WORD
            self.store(dst, value, False)
            return
        else:
            value = (value & 0xFF) | (0xFF00 if value & 0x80 else 0)
        if name != 'swpb':
            self.set_nz(value, byte)
        self.store(dst, value, byte)

    def holds(self, name):
        return {'jmp': True, 'jeq': self.z, 'jz': self.z, 'jne': not self.z, 'jnz': not self.z,
                'jlo': not self.c, 'jnc': not self.c, 'jhs': self.c, 'jc': self.c, 'jn': self.n,
                'jl': self.n ^ self.v, 'jge': not self.n ^ self.v}[name]

    def helper(self, name):
        r = self.r
        wide = lambda k: r[k] | r[k + 1] << 16
        def put(value):
            r[12], r[13] = value & WORD, value >> 16 & WORD
        if name == '__mspabi_mpyi':
            self.cycles += 8 + 9 * r[13].bit_length()
            r[12] = r[12] * r[13] & WORD
        elif name == '__mspabi_mpyl':
            self.cycles += 14 + 14 * min(wide(12).bit_length(), wide(14).bit_length())
            put(wide(12) * wide(14) & 0xFFFFFFFF)
        elif name in ('__mspabi_slli', '__mspabi_srli'):
            self.cycles += 8 + 5 * r[13]
            r[12] = (r[12] << r[13] if 'sl' in name[9:11] else r[12] >> r[13]) & WORD
        elif name in ('__mspabi_slll', '__mspabi_srll'):
            self.cycles += 8 + 6 * r[14]
            put((wide(12) << r[14] if name[9:11] == 'sl' else wide(12) >> r[14]) & 0xFFFFFFFF)
        else:
            raise ValueError('helper ' + name)

    def run(self):
        at = self.p.labels['event_function']
        stack = []
        self.r[1] = 0x7F00
        self.cycles = 0
        while True:
            name, byte, args = self.p.code[at]
            at += 1
            if self.cycles > 5_000_000:
                raise ValueError('event does not end')
            if name in JUMPS:
                self.cycles += 2
                if self.holds(name):
                    at = self.p.labels[args[0]]
            elif name == 'ret':
                if not stack:
                    return
                self.cycles += 3
                at = stack.pop()
            elif name == 'call':
                self.cycles += 5
                target = args[0].lstrip('#')
                if target in self.p.labels:
                    stack.append(at)
                    at = self.p.labels[target]
                else:
                    self.helper(target)
            elif name == 'br':
                op = self.operand(args[0])
                self.cycles += 3
                at = self.load(op, False) - 0x8000
            elif name == 'push':
                self.cycles += 3
                self.r[1] -= 2
                value = self.r[self.register(args[0])]
                self.m[self.r[1]], self.m[self.r[1] + 1] = value & 0xFF, value >> 8
            elif name == 'pop':
                self.two('mov', False, '@sp+', args[0])
            elif name in ('clrc', 'setc'):
                self.cycles += 1
                self.c = int(name == 'setc')
            elif name == 'nop':
                self.cycles += 1
            elif name in ('rla', 'rlc'):
                self.two('add' if name == 'rla' else 'addc', byte, args[0], args[0])
            elif name in EMULATED:
                base, source = EMULATED[name]
                self.two(base, byte, source, args[0])
            elif name in ('rra', 'rrc', 'swpb', 'sxt'):
                self.one(name, byte, args[0])
            else:
                self.two(name, byte, args[0], args[1])

    def bytes(self):
        total = 0
        for name, _, args in self.p.code:
            total += 2
            if name in JUMPS or name in ('ret', 'pop', 'nop', 'clrc', 'setc'):
                continue
            if name == 'call':
                total += 2
                continue
            for arg in args if name not in ('rla', 'rlc') else args * 2:
                total += 2 * self.operand(arg)[2]
        return total


def main():
    base, assembly = sys.argv[1:]
    program = Program(assembly)
    machine = Machine(program)
    where, filled, order = {}, {}, []
    for line in open(base + '.c'):
        found = re.match(r'^struct (\w+) memory_\1;', line)
        if found:
            order.append(program.symbols['memory_' + found.group(1)])
    for line in open(base + '.symbols'):
        name, owner, size, length = line.split()
        size, length = int(size), int(length)
        if owner == '-':
            where[name] = (program.symbols[name], size)
            continue
        align = min(size, 2)
        used = (filled.get(owner, 0) + align - 1) // align * align
        where[name] = (program.symbols['memory_' + owner] + used, size)
        filled[owner] = used + size * length
    total, events, checks, result = 0, 0, [], None
    signature = next(l for l in open(base + '.c') if ' event_function(' in l)
    long_arguments = [kind == 'uint32_t' for kind in re.findall(r'(uint\d+_t) v_', signature)]

    def in_registers(arguments):  # 32 bits take two
        for value, is_long in zip(arguments, long_arguments):
            yield value & WORD
            if is_long:
                yield value >> 16

    def finish():
        nonlocal total, events
        machine.run()
        total += machine.cycles
        events += 1

    pending = None
    for line in list(open(base + '.events')) + ['end']:
        words = line.split()
        if words[0] in ('result', 'expect', 'event', 'end') and pending is not None:
            machine.r[12:16] = (order + list(in_registers(pending)) + [0] * 4)[:4]
            finish()
            pending = None
        if words[0] == 'event':
            pending = [int(word) for word in words[1:]]
        elif words[0] == 'poke':
            at, size = where[words[1]]
            at += int(words[2]) * size
            machine.m[at:at + size] = int(words[3]).to_bytes(size, 'little')
        elif words[0] == 'expect':
            at, size = where[words[1]]
            at += int(words[2]) * size
            if int.from_bytes(machine.m[at:at + size], 'little') != int(words[3]):
                sys.exit(f'{base}: wrong {words[1]}')
        elif words[0] == 'result':
            width = {'uint8_t': 8, 'uint16_t': 16, 'uint32_t': 32}
            kind = next(l.split()[0] for l in open(base + '.c') if ' event_function(' in l)
            value = (machine.r[12] | machine.r[13] << 16) & ((1 << width[kind]) - 1)
            if value != int(words[1]):
                sys.exit(f'{base}: wrong result {value}, expected {words[1]}')
    print(f'{total / events:.2f} {machine.bytes()}')


main()
