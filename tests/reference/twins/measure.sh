#!/bin/sh
# Compiles C twins with real compilers, runs them on cycle-counting simulators and writes a table:
# routine,core,optimised_for,cycles,code_bytes
# Needs gcc-avr avr-libc libsimavr-dev libelf-dev gcc-arm-none-eabi gcc-riscv64-unknown-elf clang sdcc
# python3
# usage: measure.sh TWINS_FOLDER DEVICE TABLE; DEVICE names, for gcc-avr and simavr, any 8-bit device with
# multiplier, 16 KiB of RAM and 128 KiB of flash
set -eu
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
twins=$1

g++ -std=c++20 -O2 "$here/simulated_8bit_cycles.cpp" -lsimavr -o "$work/simulated_8bit_cycles"
g++ -std=c++20 -O2 "$here/two_stage_cycles.cpp" -o "$work/two_stage_cycles"
g++ -std=c++20 -O2 "$here/sequential_cycles.cpp" -o "$work/sequential_cycles"
printf 'void stop_here(void) { for (;;) {} }\nint main(void) { stop_here(); return 0; }\n' > "$work/main.c"

text_bytes() { "$1" -A "$2" | awk '$1 ~ /^\.text/ { sum += $2 } END { print sum + 0 }'; }

echo "routine,core,optimised_for,cycles,code_bytes" > "$work/table.csv"
for source in "$twins"/*.c; do
  case $source in *isr+isrframe.c) continue ;; esac # the same text under a second name
  base=${source%.c}
  name=$(basename "$base")
  for goal in size:-Os speed:-O2; do
    built=${goal%%:*}
    flag=${goal##*:}
    avr-gcc -std=c99 -mmcu="$2" "$flag" -c "$source" -o "$work/t.o"
    avr-gcc -mmcu="$2" -Os "$work/main.c" "$work/t.o" -o "$work/t.elf"
    avr-nm "$work/t.elf" | grep -E '^[0-9a-f]+ . ' > "$work/t.nm"
    bytes=$(text_bytes avr-size "$work/t.o")
    cycles=$("$work/simulated_8bit_cycles" "$base" "$work/t.elf" "$work/t.nm" "$2" | tail -n 1)
    echo "$name,8-bit-two-stage,$built,$cycles,$bytes" >> "$work/table.csv"

    arm-none-eabi-gcc -std=c99 -ffreestanding -march=armv6s-m -mthumb "$flag" -c "$source" -o "$work/t.o"
    arm-none-eabi-gcc -march=armv6s-m -mthumb -nostdlib -Wl,-Ttext=0x1000,-Tdata=0x20000000 \
      -Wl,-Tbss=0x20000000 -Wl,-e,event_function "$work/t.o" -lgcc -o "$work/t.elf"
    arm-none-eabi-nm "$work/t.elf" | grep -E '^[0-9a-f]+ . ' > "$work/t.nm"
    arm-none-eabi-objcopy -O binary -j .text -j .rodata "$work/t.elf" "$work/t.bin"
    bytes=$(text_bytes arm-none-eabi-size "$work/t.o")
    cycles=$("$work/two_stage_cycles" "$base" "$work/t.bin" "$work/t.nm")
    echo "$name,32-bit-two-stage,$built,$cycles,$bytes" >> "$work/table.csv"

    rv="riscv64-unknown-elf-gcc -march=rv32i -mabi=ilp32 -ffreestanding -msmall-data-limit=0"
    $rv -std=gnu99 "$flag" -c "$source" -o "$work/t.o"
    $rv -nostdlib -Wl,-Ttext=0x1000,-Tdata=0x20000000,-Tbss=0x20000000,-e,event_function,--no-relax "$work/t.o" \
      -lgcc -o "$work/t.elf"
    riscv64-unknown-elf-nm "$work/t.elf" | grep -E '^[0-9a-f]+ . ' > "$work/t.nm"
    riscv64-unknown-elf-objcopy -O binary -j .text -j .rodata -j .srodata "$work/t.elf" "$work/t.bin"
    bytes=$(text_bytes riscv64-unknown-elf-size "$work/t.o")
    cycles=$("$work/sequential_cycles" "$base" "$work/t.bin" "$work/t.nm")
    echo "$name,32-bit-sequential,$built,$cycles,$bytes" >> "$work/table.csv"

    clang --target=msp430 -w -fcommon -std=gnu99 "$flag" -S -o "$work/t.s" "$source"
    python3 "$here/register16_cycles.py" "$base" "$work/t.s" > "$work/result"
    echo "$name,16-bit-register,$built,$(tr ' ' ',' < "$work/result")" >> "$work/table.csv"

    sdcc -mmcs51 --model-large --std-c99 --opt-code-"$built" -c "$source" -o "$work/t.rel" > "$work/log" 2>&1
    # Long switches compute their target in a way that the runner doesn't know: no row.
    if python3 "$here/accumulator_cycles.py" "$base" "$work/t.asm" "$work/t.rel" > "$work/result" 2> "$work/log"; then
      echo "$name,8-bit-accumulator,$built,$(tr ' ' ',' < "$work/result")" >> "$work/table.csv"
    else
      echo "$name: not run on the accumulator class" >&2
    fi
  done
done
cp "$work/table.csv" "$3"
