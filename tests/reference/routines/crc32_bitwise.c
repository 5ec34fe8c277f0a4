// CRC-32, reflected, bit by bit; one turn of the loop over a message for each byte.
// twin: block=crc settings="width=32 polynomial=0x04C11DB7" event=byte method=bitwise top=crc32_bitwise
#include <stdint.h>

uint32_t crc32_bitwise(uint32_t crc, const uint8_t *data, uint8_t length) {
  do {
    crc ^= *data++;
    for (uint8_t turn = 0; turn < 8; ++turn) {
      if (crc & 1) {
        crc = crc >> 1 ^ 0xEDB88320UL;
      } else {
        crc >>= 1;
      }
    }
  } while (--length);
  return crc;
}
