// Runs a routine on real data and counts what ran. One Machine holds the static state, arrays and port
// connections of one routine; run() is one event. Names are those given at declaration.
//
// Bounds of arrays are checked, reading a flash table beyond its end or writing one throws, and an event that
// executes more than `statement_limit` statements throws (an endless loop is a defect of the routine).
// Speed: some 30 million operations a second. Tested by execute_test.cpp.
#pragma once

#include <cstdint>
#include <functional>
#include <initializer_list>
#include <map>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "firmware/routine.hpp"

namespace portweigh::firmware {

class ExecutionError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

class Machine {
 public:
  // Keeps a reference: the routine must outlive the machine. State starts at zero, ports read as zero.
  explicit Machine(const Routine& routine);
  explicit Machine(Routine&&) = delete;

  // One event; arguments in the order of declaration. Gives the value returned, 0 if none.
  std::uint32_t run(std::initializer_list<std::uint32_t> arguments = {});
  std::uint32_t run(std::span<const std::uint32_t> arguments);

  // State variables, fields of structures, and (after an event) locals.
  void set(std::string_view variable, std::uint32_t value);
  std::uint32_t get(std::string_view variable) const;

  // Arrays; `fill` writes from element 0 and leaves the rest.
  void fill(std::string_view array, std::span<const std::uint32_t> values);
  void set_element(std::string_view array, std::size_t index, std::uint32_t value);
  std::uint32_t element(std::string_view array, std::size_t index) const;
  const std::vector<std::uint32_t>& elements(std::string_view array) const;

  // Ports. An unconnected port reads back what was last written.
  void on_read(std::string_view port, std::function<std::uint32_t()> source);
  void on_write(std::string_view port, std::function<void(std::uint32_t)> sink);

  // Whether on_read has connected the port.
  bool is_input(std::string_view port) const { return static_cast<bool>(readers_[variable_index(port)]); }

  const Program& program() const { return *program_; }

  // What ran since construction or clear_counts(); several events add up.
  const Counts& counts() const { return counts_; }
  void clear_counts();

  static constexpr std::uint64_t statement_limit = 50'000'000;

 private:
  enum class Flow : std::uint8_t { normal, stop, next, leave };

  std::size_t variable_index(std::string_view name) const;
  std::size_t array_index(std::string_view name) const;
  std::uint32_t evaluate(NodeId id);
  std::uint32_t evaluate_binary(const Node& node);
  std::size_t checked_index(const Node& node);
  void assign(const Node& target, std::uint32_t value);
  Flow run_block(const Block& block);
  Flow run_statement(StatementId id);
  Flow run_loop(const Statement& statement);
  Flow run_count(const Statement& statement);
  Flow run_switch(const Statement& statement);
  void run_call(const Statement& statement);

  const Program* program_;
  std::vector<std::uint32_t> variables_;
  std::vector<std::vector<std::uint32_t>> arrays_;
  std::vector<std::function<std::uint32_t()>> readers_;
  std::vector<std::function<void(std::uint32_t)>> writers_;
  std::map<std::string, std::size_t, std::less<>> variable_names_;
  std::map<std::string, std::size_t, std::less<>> array_names_;
  std::uint32_t result_ = 0;
  std::uint64_t budget_ = 0;
  Counts counts_;
};

}  // namespace portweigh::firmware
