// Core classes: every field of the declared list is read from its place, and mistakes are told there.
#include "parts/core_reader.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "part_texts_fixture.hpp"

namespace portweigh::parts {
namespace {

using Lines = std::vector<std::string>;

const std::string core_folder = PORTWEIGH_CATALOG_DIR "/cores";

std::string core_text() {
  std::ifstream file(core_folder + "/32-bit-two-stage.toml");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

Lines mistakes_of(const std::string& text) {
  return texts::mistakes(text,
                         [](reading::TableReader& reader) { (void)read_core(reader, "32-bit-two-stage"); });
}

TEST_CASE("a core class reads back what its file says") {
  auto document = reading::Document::parse(core_text(), "part.toml");
  auto root = document.root();
  const auto core = read_core(root, "32-bit-two-stage");
  document.throw_if_errors();
  CHECK(core.word_bits == 32);
  CHECK(core.shifter == firmware::Shifter::barrel);
  // Interface contract: 1-cycle logic, 2-cycle load and store, 2-cycle taken branch.
  CHECK(core[firmware::Operation::logic].cycles == 1);
  CHECK(core[firmware::Operation::load_indirect].cycles == 2);
  CHECK(core[firmware::Operation::branch_taken].cycles == 2);
}

// Looked up in the file without the list of fields; two members confused would have to be equal in all files.
TEST_CASE("every number of a core file reaches its own member") {
  using firmware::Core;
  const std::vector<std::pair<std::string, double Core::*>> numbers = {
      {"processor.word_bits", &Core::word_bits},
      {"processor.registers", &Core::registers},
      {"processor.free_registers", &Core::free_registers},
      {"processor.pointer_bits", &Core::pointer_bits},
      {"processor.shift_straight", &Core::shift_straight},
      {"processor.shift_group", &Core::shift_group},
      {"processor.constant_bits", &Core::constant_bits},
      {"processor.dispatch_cases", &Core::dispatch_cases},
      {"processor.dispatch_span", &Core::dispatch_span},
      {"processor.static_reach", &Core::static_reach},
      {"processor.unroll_operations", &Core::unroll_operations},
      {"helper.multiply_bytes", &Core::multiply_helper_bytes},
      {"helper.shift_bytes", &Core::shift_helper_bytes},
      {"interrupt.entry_cycles", &Core::interrupt_entry_cycles},
      {"interrupt.exit_cycles", &Core::interrupt_exit_cycles},
      {"interrupt.frame_cycles", &Core::interrupt_frame_cycles},
      {"interrupt.frame_bytes", &Core::interrupt_frame_bytes},
      {"interrupt.stack_bytes", &Core::interrupt_stack_bytes},
      {"flash.wait_penalty", &Core::wait_penalty}};
  for (const auto& entry : std::filesystem::directory_iterator(core_folder)) {
    INFO(entry.path());
    auto document = reading::Document::load(entry.path());
    auto root = document.root();
    const auto core = read_core(root, entry.path().stem().string());
    document.throw_if_errors();
    const auto in_file = [&](const std::string& path) {
      INFO(path);
      const auto value = document.table().at_path(path).value<double>();
      REQUIRE(value.has_value());
      return *value;
    };
    for (const auto& [path, member] : numbers) CHECK(core.*member == in_file(path));
    for (std::size_t i = 0; i < firmware::operation_count; ++i) {
      const auto operation = static_cast<firmware::Operation>(i);
      const std::string path = "operation." + std::string(name_of(operation));
      CHECK(core[operation].cycles == in_file(path + ".cycles"));
      CHECK(core[operation].bytes == in_file(path + ".bytes"));
    }
    for (const auto& [path, range] : {std::pair{"compiler.cycles", core.compiler_cycles},
                                      std::pair{"compiler.bytes", core.compiler_bytes}}) {
      CHECK(range.low == in_file(path + std::string(".low")));
      CHECK(range.typical == in_file(path + std::string(".typical")));
      CHECK(range.high == in_file(path + std::string(".high")));
    }
  }
}

TEST_CASE("every table of the catalog's core classes has a source, its own or the file's") {
  for (const auto& entry : std::filesystem::directory_iterator(core_folder)) {
    INFO(entry.path());
    auto document = reading::Document::load(entry.path());
    auto root = document.root();
    for (const auto& field : core_fields()) {
      if (!std::holds_alternative<reading::TableShape>(field.info.shape)) continue;
      INFO(field.info.key);
      CHECK_FALSE(root.required_table(field.info.key).source().text.empty());
    }
  }
}

TEST_CASE("the class is named like its file") {
  CHECK(mistakes_of(texts::changed(core_text(), "name = \"32-bit-two-stage\"", "name = \"32-bit\"")) ==
        Lines{"part.toml:1:8: name \"32-bit\" differs from the file's name, expected \"32-bit-two-stage\""});
}

TEST_CASE("every declared number is asked for") {
  const auto mistakes = mistakes_of("name = \"32-bit-two-stage\"\ntext = \"empty\"\n");
  for (const std::string table : {"processor", "operation", "helper", "interrupt", "flash", "compiler"}) {
    INFO(table);
    CHECK(std::count(mistakes.begin(), mistakes.end(),
                     "part.toml:1:1: missing key \"" + table + "\", expected a table") == 1);
  }
}

}  // namespace
}  // namespace portweigh::parts
