// A message from header to packed 4b5b symbols: preamble, start set, header, objects, CRC-32, end symbol.
// twin: block=framing settings="direction=encode payload_bytes=30" event=message method=nibble-table top=send_message
#include <stdint.h>

#ifdef __AVR__
#include <avr/pgmspace.h>
#else
#define PROGMEM
#define pgm_read_byte(place) (*(place))
#define pgm_read_dword(place) (*(place))
#endif

static const uint8_t nibble_symbols[16] PROGMEM = {0x1E, 0x09, 0x14, 0x15, 0x0A, 0x0B, 0x0E, 0x0F,
                                                   0x12, 0x13, 0x16, 0x17, 0x1A, 0x1B, 0x1C, 0x1D};
static const uint32_t start_patterns[7] PROGMEM = {0x8E318, 0x31B18, 0x360D8, 0xC9CE7, 0x31F07, 0x36738, 0x89B38};
static const uint32_t crc_table[16] PROGMEM = {
    0x00000000, 0x1DB71064, 0x3B6E20C8, 0x26D930AC, 0x76DC4190, 0x6B6B51F4, 0x4DB26158, 0x5005713C,
    0xEDB88320, 0xF00F9344, 0xD6D6A3E8, 0xCB61B38C, 0x9B64C2B0, 0x86D3D2D4, 0xA00AE278, 0xBDBDF21C};

uint8_t payload[30];
uint8_t packed[54];
uint8_t data_role, power_role, revision;
static uint8_t position;
static uint16_t gathered;
static uint8_t filled;

static void put_symbol(uint8_t symbol) {
  gathered |= (uint16_t)symbol << filled;
  filled += 5;
  if (filled >= 8) {
    packed[position++] = (uint8_t)gathered;
    gathered >>= 8;
    filled -= 8;
  }
}

static void put_byte(uint8_t byte) {
  put_symbol(pgm_read_byte(&nibble_symbols[byte & 15]));
  put_symbol(pgm_read_byte(&nibble_symbols[byte >> 4]));
}

uint8_t send_message(uint8_t set, uint8_t type, uint8_t id, uint8_t length) {
  for (position = 0; position < 8; ++position) packed[position] = 0xAA;
  gathered = 0;
  filled = 0;
  uint32_t pattern = pgm_read_dword(&start_patterns[set]);
  for (uint8_t i = 0; i < 4; ++i) {
    put_symbol((uint8_t)pattern & 31);
    pattern >>= 5;
  }
  if (length != 0) {
    uint8_t count = (uint8_t)(length - 2) >> 2 & 7;
    payload[0] = type | data_role << 5 | revision << 6;
    payload[1] = power_role | id << 1 | count << 4;
    uint32_t crc = 0xFFFFFFFFUL;
    for (uint8_t i = 0; i < length; ++i) {
      uint8_t byte = payload[i];
      crc = crc >> 4 ^ pgm_read_dword(&crc_table[((uint8_t)crc ^ byte) & 15]);
      crc = crc >> 4 ^ pgm_read_dword(&crc_table[((uint8_t)crc ^ byte >> 4) & 15]);
      put_byte(byte);
    }
    crc = ~crc;
    for (uint8_t i = 0; i < 4; ++i) {
      put_byte((uint8_t)crc);
      crc >>= 8;
    }
    put_symbol(0x0D);
  }
  if (filled != 0) packed[position++] = (uint8_t)gathered;
  return position;
}
