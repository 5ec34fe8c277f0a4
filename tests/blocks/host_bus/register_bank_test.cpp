// Network and routine of the register bank against a plain model of a register file.
#include "blocks/host_bus/register_bank.hpp"

#include <fmt/core.h>

#include <catch2/catch.hpp>
#include <random>
#include <vector>

namespace portweigh::blocks {
namespace {

// The model: what a host may expect, written without regard to how the twins are built.
struct RegisterFile {
  std::vector<std::uint64_t> words;
  unsigned writable = 0;

  void write(std::uint64_t address, std::uint64_t data) {
    if (address < writable) words.at(address) = data;
  }
  std::uint64_t read(std::uint64_t address) const { return address < words.size() ? words[address] : 0; }
};

struct Corner {
  unsigned registers, bits, writable;
};

Settings settings_of(const Corner& corner) {
  auto settings = Settings::standard(register_bank_kind().settings);
  settings.set("registers", std::uint64_t{corner.registers});
  settings.set("bits", std::uint64_t{corner.bits});
  settings.set("writable", std::uint64_t{corner.writable});
  return settings;
}

const std::vector<Corner> corners{{16, 8, 8}, {1, 1, 1}, {1, 32, 0}, {5, 12, 3}, {256, 8, 256}, {33, 16, 0}};

struct Access {
  bool is_write;
  std::uint64_t address, data;
};

std::vector<Access> random_accesses(const RegisterBankShape& shape, std::size_t count) {
  std::mt19937_64 random(shape.registers * 1000U + shape.bits);
  std::vector<Access> accesses;
  for (std::size_t i = 0; i < count; ++i) {
    const auto draw = random();
    accesses.push_back({(draw & 1U) != 0, (draw >> 1U) % (1U << shape.address_bits()),
                        (draw >> 20U) & ((std::uint64_t{1} << shape.bits) - 1)});
  }
  return accesses;
}

}  // namespace

TEST_CASE("network and routine of a register bank agree with a register file") {
  const Kind kind = register_bank_kind();
  for (const Corner& corner : corners) {
    CAPTURE(corner.registers, corner.bits, corner.writable);
    const auto settings = settings_of(corner);
    const auto shape = register_bank_shape(settings);
    const auto network = kind.network(settings);
    logic::Simulator simulator(network);
    const auto routine = register_bank_routine(shape);
    firmware::Machine machine(routine);
    RegisterFile model{std::vector<std::uint64_t>(shape.registers, 0), shape.writable};
    for (unsigned i = shape.writable; i < shape.registers; ++i) {
      model.words[i] = (i * 37U + 11U) & ((std::uint64_t{1} << shape.bits) - 1);
      simulator.set(fmt::format("status_{}", i), model.words[i]);
      machine.set_element("file", i, static_cast<std::uint32_t>(model.words[i]));
    }
    for (const Access& access : random_accesses(shape, 600)) {
      simulator.set("address", access.address);
      simulator.set("write", access.is_write ? 1 : 0);
      simulator.set("read", access.is_write ? 0 : 1);
      simulator.set("write_data", access.data);
      simulator.clock();
      const auto answer = machine.run({access.is_write ? 1U : 0U, static_cast<std::uint32_t>(access.address),
                                       static_cast<std::uint32_t>(access.data)});
      if (access.is_write) {
        model.write(access.address, access.data);
        REQUIRE(simulator.value("read_valid") == 0);
      } else {
        REQUIRE(simulator.value("read_valid") == 1);
        REQUIRE(simulator.value("read_data") == model.read(access.address));
        REQUIRE(answer == model.read(access.address));
      }
    }
    for (unsigned i = 0; i < shape.writable; ++i) {
      REQUIRE(simulator.value(fmt::format("register_{}", i)) == model.read(i));
    }
  }
}

TEST_CASE("reset clears a register bank") {
  const Kind kind = register_bank_kind();
  const auto network = kind.network(Settings::standard(kind.settings));
  logic::Simulator simulator(network);
  simulator.set("write", 1);
  simulator.set("address", 3);
  simulator.set("write_data", 0xA5);
  simulator.clock();
  CHECK(simulator.value("register_3") == 0xA5);
  simulator.set("reset", 1);
  simulator.clock();
  CHECK(simulator.value("register_3") == 0);
}

TEST_CASE("a register bank has a register for each writable bit, and the read side") {
  const Kind kind = register_bank_kind();
  const auto network = kind.network(settings_of({12, 10, 7}));
  CHECK(network.registers().size() == 7 * 10 + 10 + 1);
}

TEST_CASE("more writable registers than registers are refused only where they were asked for") {
  const Kind kind = register_bank_kind();
  auto settings = Settings::standard(kind.settings);
  settings.set("registers", "4");
  CHECK(register_bank_shape(settings).writable == 4);
  settings.set("writable", "5");
  CHECK_THROWS_AS(kind.network(settings), SettingError);
}

}  // namespace portweigh::blocks
