// Runs a C twin compiled for the 8-bit two-stage class on simavr: simulated_8bit_cycles BASE ELF NM DEVICE
// Prints the mean cycles of an event without call and return. Every result is compared with the routine's.
#include <cstring>
#include <stdexcept>

#include "events.hpp"
extern "C" {
#include <simavr/sim_avr.h>
#include <simavr/sim_elf.h>
}

namespace {

constexpr unsigned return_cycles = 4;

struct Runner {
  avr_t* avr;
  std::uint32_t stop;

  std::uint64_t run(const twins::Twin& twin, const twins::Event& event) {
    for (const auto& poke : event.pokes) {
      const auto& s = twin.symbols.at(poke.name);
      for (unsigned k = 0; k < s.bytes; ++k) {
        avr->data[s.address + poke.index * s.bytes + k] = static_cast<std::uint8_t>(poke.value >> (8 * k));
      }
    }
    pass_arguments(twin, event);
    unsigned sp = avr->ramend - 8U;
    avr->data[sp--] = static_cast<std::uint8_t>(stop >> 1);
    avr->data[sp--] = static_cast<std::uint8_t>(stop >> 9);
    avr->data[0x5D] = static_cast<std::uint8_t>(sp);
    avr->data[0x5E] = static_cast<std::uint8_t>(sp >> 8);
    avr->data[1] = 0;  // the compiler keeps zero here
    avr->pc = twin.entry;
    const auto start = avr->cycle;
    while (avr->pc != stop) {
      if (avr_run(avr) >= cpu_Done) throw std::runtime_error("core stopped");
      if (avr->cycle - start > 10'000'000) throw std::runtime_error("event does not end");
    }
    return avr->cycle - start - return_cycles;
  }

  // Arguments go from register 25 downwards, each in an even number of bytes.
  void pass_arguments(const twins::Twin& twin, const twins::Event& event) {
    unsigned next = 26;
    for (const auto address : twin.structures) {
      next -= 2;
      avr->data[next] = static_cast<std::uint8_t>(address);
      avr->data[next + 1] = static_cast<std::uint8_t>(address >> 8);
    }
    for (std::size_t i = 0; i < event.arguments.size(); ++i) {
      const unsigned bytes = argument_bytes.at(i);
      next -= (bytes + 1) / 2 * 2;
      for (unsigned k = 0; k < bytes; ++k) {
        avr->data[next + k] = static_cast<std::uint8_t>(event.arguments[i] >> (8 * k));
      }
    }
  }

  void check(const twins::Twin& twin, const twins::Event& event) const {
    for (const auto& expected : event.expected) {
      const auto& s = twin.symbols.at(expected.name);
      std::uint32_t value = 0;
      for (unsigned k = 0; k < s.bytes; ++k) {
        value |= std::uint32_t{avr->data[s.address + expected.index * s.bytes + k]} << (8 * k);
      }
      if (value != expected.value) throw std::runtime_error("wrong " + expected.name);
    }
    if (!event.has_result) return;
    std::uint32_t value = 0;
    const unsigned first = result_bytes == 4 ? 22 : 24;
    for (unsigned k = 0; k < result_bytes; ++k) value |= std::uint32_t{avr->data[first + k]} << (8 * k);
    if (value != event.result) throw std::runtime_error("wrong result");
  }

  std::vector<unsigned> argument_bytes;
  unsigned result_bytes = 0;
};

// Widths from "uint16_t event_function(struct v_s *p_v_s, uint8_t v_byte) {".
void read_widths(const std::string& source, Runner& runner) {
  std::ifstream file(source);
  std::string line;
  while (std::getline(file, line)) {
    const auto name = line.find(" event_function(");
    if (name == std::string::npos) continue;
    const auto width = [](const std::string& text) {
      return text.find("uint8_t") != std::string::npos    ? 1U
             : text.find("uint16_t") != std::string::npos ? 2U
             : text.find("uint32_t") != std::string::npos ? 4U
                                                          : 0U;
    };
    runner.result_bytes = width(line.substr(0, name));
    std::istringstream list(line.substr(line.find('(') + 1));
    std::string parameter;
    while (std::getline(list, parameter, ',')) {
      if (parameter.find("struct") == std::string::npos && width(parameter) > 0) {
        runner.argument_bytes.push_back(width(parameter));
      }
    }
  }
}

}  // namespace

int main(int, char** argv) {
  const auto twin = twins::read_twin(argv[1], argv[3], 1, 0xFFFF);
  elf_firmware_t firmware = {};
  if (elf_read_firmware(argv[2], &firmware) != 0) return 1;
  avr_t* avr = avr_make_mcu_by_name(argv[4]);
  avr_init(avr);
  avr->log = 0;
  avr_load_firmware(avr, &firmware);
  std::ifstream addresses(argv[3]);
  Runner runner{avr, 0, {}, 0};
  std::string hex, kind, name;
  while (addresses >> hex >> kind >> name) {
    if (name == "stop_here") runner.stop = static_cast<std::uint32_t>(std::stoul(hex, nullptr, 16));
  }
  read_widths(std::string(argv[1]) + ".c", runner);
  double sum = 0;
  try {
    for (const auto& event : twin.events) {
      sum += static_cast<double>(runner.run(twin, event));
      runner.check(twin, event);
    }
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s: %s\n", argv[1], error.what());
    return 1;
  }
  std::printf("%.2f\n", sum / static_cast<double>(twin.events.size()));
  return 0;
}
