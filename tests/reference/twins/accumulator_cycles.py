#!/usr/bin/env python3
"""Runs a C twin compiled to assembly text for an 8-bit accumulator core and counts machine cycles.

usage: accumulator_cycles.py BASE ASSEMBLY OBJECT     prints: mean machine cycles of an event, code bytes

Machine cycles [M]: 1 for most instructions; 2 for jumps, calls, returns, external memory, tables, the data
pointer, push and pop, and moves between two directly addressed bytes; 4 for multiply and divide. The library's
pointer and multiply helpers are charged with the cycles of their usual code [M]. Static variables lie in external memory
(large model). Every result is compared with the routine's.
"""
import re
import sys

BRANCHES = {'sjmp', 'ljmp', 'ajmp', 'jz', 'jnz', 'jc', 'jnc', 'jb', 'jnb', 'jbc', 'cjne', 'djnz'}
NAMED = {'dpl': 0x82, 'dph': 0x83, 'b': 0xF0, 'acc': 0xE0, 'sp': 0x81, 'psw': 0xD0}
HELPERS = {'__gptrget': 8, '__gptrput': 8, '__mulint': 38, '__mullong': 130}


class Program:
    def __init__(self, path):
        self.code, self.labels, self.symbols = [], {}, {}
        self.external, self.direct, self.constants = bytearray(65536), bytearray(256), {}
        at = {'x': 0x100, 'd': 0x08, 'c': 0x1000}
        area = 'code'
        scope = ''
        for line in open(path):
            line = line.split(';')[0].rstrip()
            label = re.match(r'^([\w$.]+)::?$', line.strip())
            if label:
                name = label.group(1)
                if area == 'code':
                    if not name[0].isdigit():
                        scope = name
                    self.labels[scope + name if name[0].isdigit() else name] = len(self.code)
                else:
                    self.symbols[name] = at[area]
                continue
            words = line.split(None, 1)
            if not words:
                continue
            name, rest = words[0], words[1] if len(words) > 1 else ''
            if name == '.area':
                kind = rest.split()[0]
                area = {'XSEG': 'x', 'XISEG': 'x', 'DSEG': 'd', 'OSEG': 'd', 'CONST': 'c'}.get(kind, 'code')
                if kind == 'BSEG' or kind == 'ISEG':
                    area = 'd'
            elif name == '.ds':
                if area != 'code':
                    at[area] += int(rest.strip(), 0)
            elif name in ('.db', '.byte') or name == '.dw':
                if area != 'c':
                    continue
                for item in rest.split(','):
                    number = re.search(r'#?(0x[0-9A-Fa-f]+|\d+)', item)
                    value = int(number.group(1), 0)
                    size = 1 if name != '.dw' else 2
                    for k in range(size):
                        self.constants[at[area]] = value >> (8 * k) & 0xFF
                        at[area] += 1
            elif name.startswith('.') or '=' in line:
                continue
            elif area == 'code':
                self.code.append((name, [part.strip() for part in split_operands(rest)], scope))


def split_operands(text):
    parts, depth, current = [], 0, ''
    for c in text:
        depth += (c == '(') - (c == ')')
        if c == ',' and depth == 0:
            parts.append(current)
            current = ''
        else:
            current += c
    if current.strip():
        parts.append(current)
    return parts


class Machine:
    def __init__(self, program):
        self.p, self.x, self.d = program, program.external, program.direct
        self.carry = self.cycles = 0

    def number(self, text):
        body = text
        def replace(found):
            name = found.group(0)
            if name in self.p.symbols:
                return str(self.p.symbols[name])
            if name in self.p.labels:
                return str(self.p.labels[name])
            raise ValueError('symbol ' + name)
        body = re.sub(r'(?<![\w$])[A-Za-z_][\w$]*', replace, body)
        return int(eval(body, {}, {}))

    def address(self, text):
        """address of a directly addressed byte, or None"""
        if re.match(r'^r[0-7]$', text):
            return int(text[1])
        if re.match(r'^ar[0-7]$', text):
            return int(text[2])
        if text == 'a':
            return 0xE0
        if text in NAMED:
            return NAMED[text]
        return self.number(text) & 0xFF

    def get(self, text):
        if text.startswith('#'):
            return self.number(text[1:]) & 0xFF
        if text.startswith('@r'):
            return self.d[self.d[int(text[2])]]
        return self.d[self.address(text)]

    def put(self, text, value):
        if text.startswith('@r'):
            self.d[self.d[int(text[2])]] = value & 0xFF
        else:
            self.d[self.address(text)] = value & 0xFF

    def bit(self, text):
        if text == 'c':
            return None, 0
        found = re.match(r'^(.+?)[.\[](\d)\]?$', text)
        return self.address(found.group(1)), int(found.group(2))

    def get_bit(self, text):
        at, k = self.bit(text)
        return self.carry if at is None else self.d[at] >> k & 1

    def put_bit(self, text, value):
        at, k = self.bit(text)
        if at is None:
            self.carry = value
        else:
            self.d[at] = (self.d[at] & ~(1 << k) & 0xFF) | value << k

    @property
    def dptr(self):
        return self.d[0x82] | self.d[0x83] << 8

    def set_dptr(self, value):
        self.d[0x82], self.d[0x83] = value & 0xFF, value >> 8 & 0xFF

    def move_cost(self, target, source):
        is_memory = lambda t: not (t == 'a' or t.startswith('#') or t.startswith('@') or re.match(r'^r[0-7]$', t))
        if is_memory(target):
            return 1 if source == 'a' else 2
        return 2 if is_memory(source) and target != 'a' else 1

    def helper(self, name):
        self.cycles += HELPERS[name]
        d = self.d
        if name == '__gptrget':
            at = self.dptr
            d[0xE0] = self.p.constants.get(at, 0) if d[0xF0] & 0x80 else self.x[at]
        elif name == '__gptrput':
            self.x[self.dptr] = d[0xE0]
        else:
            size = 2 if name == '__mulint' else 4
            left = int.from_bytes(bytes([d[0x82], d[0x83], d[0xF0], d[0xE0]])[:size], 'little')
            place = self.p.symbols.get(name + '_PARM_2', 0x40)
            right = int.from_bytes(self.x[place:place + size], 'little')
            product = (left * right & (1 << 8 * size) - 1).to_bytes(size, 'little')
            for where, value in zip((0x82, 0x83, 0xF0, 0xE0), product):
                d[where] = value

    def step(self, at, stack):
        name, args, scope = self.p.code[at]
        target = lambda label: self.p.labels[scope + label if label[0].isdigit() else label]
        d = self.d
        if name in BRANCHES:
            self.cycles += 2
            go = self.branch(name, args)
            return target(args[-1]) if go and not (args[-1] in HELPERS) else self.tail(name, args, at, stack, go)
        if name in ('lcall', 'acall'):
            self.cycles += 2
            if args[0] in HELPERS:
                self.helper(args[0])
                return at + 1
            stack.append(at + 1)
            return target(args[0])
        if name == 'ret':
            if not stack:
                return None
            self.cycles += 2
            return stack.pop()
        if name == 'jmp':  # @a+dptr into a table of three-byte jumps
            self.cycles += 2
            return self.dptr + d[0xE0] // 3
        local = re.match(r'^#(\d+\$)$', args[1]) if name == 'mov' and args[0] == 'dptr' else None
        if local:
            self.cycles += 2
            self.set_dptr(target(local.group(1)))
            return at + 1
        self.compute(name, args)
        return at + 1

    def tail(self, name, args, at, stack, go):
        if not go:
            return at + 1
        self.helper(args[-1])
        if not stack:
            return None
        return stack.pop()

    def branch(self, name, args):
        if name in ('sjmp', 'ljmp', 'ajmp'):
            return True
        if name == 'jz':
            return self.d[0xE0] == 0
        if name == 'jnz':
            return self.d[0xE0] != 0
        if name in ('jc', 'jnc'):
            return bool(self.carry) == (name == 'jc')
        if name in ('jb', 'jnb', 'jbc'):
            value = self.get_bit(args[0])
            if name == 'jbc' and value:
                self.put_bit(args[0], 0)
            return bool(value) == (name != 'jnb')
        if name == 'cjne':
            left, right = self.get(args[0]), self.get(args[1])
            self.carry = int(left < right)
            return left != right
        value = (self.get(args[0]) - 1) & 0xFF
        self.put(args[0], value)
        return value != 0

    def compute(self, name, args):
        d = self.d
        if name == 'mov':
            if args[0] == 'dptr':
                self.cycles += 2
                self.set_dptr(self.number(args[1][1:]))
            elif args[0] == 'c' or args[1] == 'c':
                self.cycles += 1 if args[0] == 'c' else 2
                self.put_bit(args[0], self.get_bit(args[1]))
            else:
                self.cycles += self.move_cost(args[0], args[1])
                self.put(args[0], self.get(args[1]))
        elif name == 'movx':
            self.cycles += 2
            far = args[1] if args[0] == 'a' else args[0]
            at = self.dptr if far == '@dptr' else d[int(far[2])]
            if args[0] == 'a':
                d[0xE0] = self.x[at]
            else:
                self.x[at] = d[0xE0]
        elif name == 'movc':
            self.cycles += 2
            d[0xE0] = self.p.constants.get((self.dptr + d[0xE0]) & 0xFFFF, 0)
        elif name in ('inc', 'dec'):
            if args[0] == 'dptr':
                self.cycles += 2
                self.set_dptr(self.dptr + 1)
            else:
                self.cycles += 1
                self.put(args[0], self.get(args[0]) + (1 if name == 'inc' else -1))
        elif name in ('add', 'addc'):
            self.cycles += 1
            total = d[0xE0] + self.get(args[1]) + (self.carry if name == 'addc' else 0)
            self.carry = total >> 8
            d[0xE0] = total & 0xFF
        elif name == 'subb':
            self.cycles += 1
            total = d[0xE0] - self.get(args[1]) - self.carry
            self.carry = int(total < 0)
            d[0xE0] = total & 0xFF
        elif name in ('anl', 'orl', 'xrl'):
            self.logic(name, args)
        elif name in ('rl', 'rr', 'rlc', 'rrc', 'swap'):
            self.rotate(name)
        elif name in ('clr', 'setb', 'cpl'):
            self.cycles += 1
            if args[0] == 'a':
                d[0xE0] = 0 if name == 'clr' else ~d[0xE0] & 0xFF
            else:
                self.put_bit(args[0], {'clr': 0, 'setb': 1, 'cpl': 1 - self.get_bit(args[0])}[name])
        elif name == 'xch':
            self.cycles += 1
            left, right = self.get(args[0]), self.get(args[1])
            self.put(args[0], right)
            self.put(args[1], left)
        elif name in ('mul', 'div'):
            self.cycles += 4
            a, b = d[0xE0], d[0xF0]
            if name == 'mul':
                d[0xE0], d[0xF0], self.carry = a * b & 0xFF, a * b >> 8, 0
            else:
                d[0xE0], d[0xF0], self.carry = a // b, a % b, 0
        elif name == 'push':
            self.cycles += 2
            d[0x81] += 1
            d[d[0x81]] = self.get(args[0])
        elif name == 'pop':
            self.cycles += 2
            value = d[d[0x81]]
            d[0x81] -= 1
            self.put(args[0], value)
        elif name == 'nop':
            self.cycles += 1
        else:
            raise ValueError('instruction ' + name)

    def logic(self, name, args):
        combine = {'anl': lambda a, b: a & b, 'orl': lambda a, b: a | b, 'xrl': lambda a, b: a ^ b}[name]
        if args[0] == 'c':
            self.cycles += 2
            inverted = args[1].startswith('/')
            value = self.get_bit(args[1].lstrip('/'))
            self.carry = combine(self.carry, 1 - value if inverted else value)
            return
        self.cycles += 2 if args[0] != 'a' and args[1].startswith('#') else 1
        self.put(args[0], combine(self.get(args[0]), self.get(args[1])))

    def rotate(self, name):
        self.cycles += 1
        a = self.d[0xE0]
        if name == 'swap':
            a = a >> 4 | a << 4
        elif name == 'rl':
            a = a << 1 | a >> 7
        elif name == 'rr':
            a = a >> 1 | a << 7
        elif name == 'rlc':
            a, self.carry = a << 1 | self.carry, a >> 7
        else:
            a, self.carry = a >> 1 | self.carry << 7, a & 1
        self.d[0xE0] = a & 0xFF

    def run(self):
        at, stack = self.p.labels['_event_function'], []
        self.cycles = 0
        self.d[0x81] = 0x60
        while at is not None:
            at = self.step(at, stack)
            if self.cycles > 5_000_000:
                raise ValueError('event does not end')


WIDTH = {'uint8_t': 1, 'uint16_t': 2, 'uint32_t': 4}


def signature(path):
    for line in open(path):
        found = re.match(r'^(\w+) event_function\((.*)\) \{', line)
        if found:
            kinds = [part.split()[0] for part in found.group(2).split(',') if part.strip() != 'void']
            return WIDTH.get(found.group(1), 0), [3 if kind == 'struct' else WIDTH[kind] for kind in kinds]
    raise ValueError('no function in ' + path)


def pass_arguments(machine, sizes, values):
    for position, (size, value) in enumerate(zip(sizes, values)):
        data = value.to_bytes(size, 'little')
        if position == 0:
            for where, byte in zip((0x82, 0x83, 0xF0, 0xE0), data):
                machine.d[where] = byte
            continue
        place = machine.p.symbols[f'_event_function_PARM_{position + 1}']
        machine.x[place:place + size] = data


def main():
    base, assembly, relocatable = sys.argv[1:]
    program = Program(assembly)
    for name in ('__mulint', '__mullong'):
        program.symbols.setdefault(name + '_PARM_2', 0xF000)
    machine = Machine(program)
    result_size, sizes = signature(base + '.c')
    where, filled, order = {}, {}, []
    for line in open(base + '.c'):
        found = re.match(r'^struct (\w+) memory_\1;', line)
        if found:
            order.append(program.symbols['_memory_' + found.group(1)])
    for line in open(base + '.symbols'):
        name, owner, size, length = line.split()
        size, length = int(size), int(length)
        if owner == '-':
            where[name] = (program.symbols['_' + name], size)
            continue
        used = filled.get(owner, 0)
        where[name] = (program.symbols['_memory_' + owner] + used, size)
        filled[owner] = used + size * length
    total = events = 0
    pending = None
    for line in list(open(base + '.events')) + ['end']:
        words = line.split()
        if words[0] in ('result', 'expect', 'event', 'end') and pending is not None:
            pass_arguments(machine, sizes, order + pending)
            machine.run()
            total += machine.cycles
            events += 1
            pending = None
        if words[0] == 'event':
            pending = [int(word) for word in words[1:]]
        elif words[0] == 'poke':
            at, size = where[words[1]]
            at += int(words[2]) * size
            machine.x[at:at + size] = int(words[3]).to_bytes(size, 'little')
        elif words[0] == 'expect':
            at, size = where[words[1]]
            at += int(words[2]) * size
            if int.from_bytes(machine.x[at:at + size], 'little') != int(words[3]):
                sys.exit(f'{base}: wrong {words[1]}')
        elif words[0] == 'result':
            got = int.from_bytes(bytes(machine.d[k] for k in (0x82, 0x83, 0xF0, 0xE0)[:result_size]), 'little')
            if got != int(words[1]):
                sys.exit(f'{base}: wrong result {got}, expected {words[1]}')
    found = re.search(r'^A CSEG size ([0-9A-Fa-f]+)', open(relocatable).read(), re.M)
    print(f'{total / events:.2f} {int(found.group(1), 16)}')


main()
