// One step of four channels of 8-bit pulse-width modulation on a port; duty values change at the period.
// twin: block=pulse-width settings="channels=4 bits=8" event=tick method=software-steps top=pulse_width_step4
#include <stdint.h>

volatile uint8_t level_port;
uint8_t duty[4];
static uint8_t active[4], counter;

void pulse_width_step4(void) {
  uint8_t count = counter;
  uint8_t levels = 0;
  uint8_t channel = 4;
  do {
    --channel;
    levels <<= 1;
    if (count < active[channel]) levels |= 1;
  } while (channel != 0);
  level_port = levels;
  counter = ++count;
  if (count == 0) {
    for (channel = 0; channel < 4; ++channel) active[channel] = duty[channel];
  }
}
