// CRC-16 with polynomial 0x1021, most significant bit first, by a table of 16.
// twin: block=crc settings="width=16 polynomial=0x1021 reflected=false" event=byte method=nibble-table top=crc16_nibble_table
#include <stdint.h>

#ifdef __AVR__
#include <avr/pgmspace.h>
#else
#define PROGMEM
#define pgm_read_word(place) (*(place))
#endif

static const uint16_t table[16] PROGMEM = {0x0000, 0x1021, 0x2042, 0x3063, 0x4084, 0x50A5, 0x60C6, 0x70E7,
                                           0x8108, 0x9129, 0xA14A, 0xB16B, 0xC18C, 0xD1AD, 0xE1CE, 0xF1EF};

uint16_t crc16_nibble_table(uint16_t crc, const uint8_t *data, uint8_t length) {
  do {
    uint8_t byte = *data++;
    crc = crc << 4 ^ pgm_read_word(&table[(uint8_t)(crc >> 12) ^ (byte >> 4)]);
    crc = crc << 4 ^ pgm_read_word(&table[(uint8_t)(crc >> 12) ^ (byte & 15)]);
  } while (--length);
  return crc;
}
