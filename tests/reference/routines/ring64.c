// One byte into and one byte out of a ring of 64, with indices that run freely.
// twin: block=buffer settings="words=64 bits=8" event=byte method=ring top=ring64
#include <stdint.h>

static uint8_t ring[64];
volatile uint8_t head, tail;

uint8_t ring64(uint8_t byte) {
  uint8_t taken = 0;
  uint8_t position = head;
  if ((uint8_t)(position - tail) != 64) {
    ring[position & 63] = byte;
    head = position + 1;
  }
  position = tail;
  if (position != head) {
    taken = ring[position & 63];
    tail = position + 1;
  }
  return taken;
}
