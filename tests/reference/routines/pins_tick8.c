// Tick of eight debounced inputs with four-bit vertical counters; returns the lines that have just changed.
// twin: block=pins settings="lines=8 debounce_bits=4" event=tick method=vertical-counters top=pins_tick8
#include <stdint.h>

volatile uint8_t pin_port;
uint8_t value, changed;
static uint8_t plane0, plane1, plane2, plane3;

uint8_t pins_tick8(void) {
  uint8_t differs = pin_port ^ value;
  uint8_t carry = differs;
  uint8_t now = plane0;
  plane0 = (now ^ carry) & differs;
  carry &= now;
  now = plane1;
  plane1 = (now ^ carry) & differs;
  carry &= now;
  now = plane2;
  plane2 = (now ^ carry) & differs;
  carry &= now;
  now = plane3;
  plane3 = (now ^ carry) & differs;
  carry &= now;
  if (carry) {
    value ^= carry;
    changed |= carry;
  }
  return carry;
}
