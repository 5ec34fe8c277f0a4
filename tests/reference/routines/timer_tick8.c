// Tick of eight software timers of 16 bits; returns the mask of those that have just expired.
// twin: block=timer-bank settings="timers=8 bits=16" event=tick method=software-timers top=timer_tick8
#include <stdint.h>

uint16_t timers[8];

uint8_t timer_tick8(void) {
  uint8_t expired = 0;
  for (uint8_t timer = 0; timer < 8; ++timer) {
    uint16_t left = timers[timer];
    if (left != 0) {
      timers[timer] = --left;
      if (left == 0) expired |= 1 << timer;
    }
  }
  return expired;
}
