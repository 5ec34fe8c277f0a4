// The firmware twin of a state table as table in flash: state and event give the first of some rows; the
// first row whose guard fits the conditions says what to do. A small interpreter carries out lists of
// commands.
//
// Equal row lists and equal command lists are stored once. Tested by tests/blocks/state_machine/state_machine_test.cpp.
#include <algorithm>
#include <map>
#include <utility>

#include "blocks/state_machine/state_machine_routine.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Array;
using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr std::uint32_t no_target = 0xFF;
constexpr std::size_t byte_values = 256;

class TableRoutine : private MachineRoutine {
 public:
  explicit TableRoutine(const StateTable& table) : MachineRoutine(table) { lay_out(); }

  Routine build() {
    declare_data();
    const auto execute = declare_interpreter();
    const Place row =
        starts_->type() == firmware::Type::u8 ? routine_.local_u8("row") : routine_.local_u16("row");
    const auto events = static_cast<std::uint32_t>(table_.events.size());
    routine_.set(row, (*starts_)[firmware::cast_u16(*state_) * events + event_]);
    if (has_guards()) find_row(row);
    write_row(row, execute);
    return std::move(routine_);
  }

 private:
  struct Row {
    std::uint32_t mask = 0, value = 0, target = no_target, commands = 0;
    auto operator<=>(const Row&) const = default;
  };

  // Rows of one reaction list stand in a row and end with one that always fits; equal lists are stored once.
  void lay_out() {
    for (const State& state : table_.states) {
      for (const auto& reactions : state.reactions) {
        std::vector<Row> list;
        for (const Reaction& reaction : reactions) list.push_back(row_of(reaction));
        if (list.empty() || list.back().mask != 0) list.emplace_back();
        const auto [known, is_new] = lists_.emplace(list, rows_.size());
        if (is_new) rows_.insert(rows_.end(), list.begin(), list.end());
        row_starts_.push_back(static_cast<std::uint32_t>(known->second));
      }
      enter_starts_.push_back(place_commands(state.enter));
      leave_starts_.push_back(place_commands(state.leave));
    }
  }

  Row row_of(const Reaction& reaction) {
    Row row;
    for (const GuardTerm& term : reaction.guard) {
      row.mask |= 1U << term.condition;
      if (term.expected) row.value |= 1U << term.condition;
    }
    if (reaction.target) row.target = static_cast<std::uint32_t>(*reaction.target);
    row.commands = place_commands(reaction.commands);
    return row;
  }

  // Command lists end with 0; list 0 is empty.
  std::uint32_t place_commands(const std::vector<Command>& commands) {
    if (commands.empty()) return 0;
    const auto [known, is_new] = command_lists_.emplace(commands, codes_.size());
    if (is_new) {
      for (const Command& command : commands)
        codes_.push_back(base_of(command.kind) + static_cast<std::uint32_t>(command.index));
      codes_.push_back(0);
    }
    return static_cast<std::uint32_t>(known->second);
  }

  // Codes: actions from 1, then starts, stops, counts, clears.
  std::uint32_t base_of(CommandKind kind) const {
    const std::size_t timers = table_.timers.size();
    std::size_t base = 1;
    if (kind > CommandKind::act) base += table_.actions.size();
    if (kind > CommandKind::start) base += timers;
    if (kind > CommandKind::stop) base += timers;
    if (kind > CommandKind::count) base += table_.counters.size();
    return static_cast<std::uint32_t>(base);
  }

  bool has_guards() const {
    return std::any_of(rows_.begin(), rows_.end(), [](const Row& row) { return row.mask != 0; });
  }

  void declare_data() {
    starts_ = table_of("row_of_state_and_event", row_starts_);
    const auto column = [&](std::uint32_t Row::*member) {
      std::vector<std::uint32_t> values;
      for (const Row& row : rows_) values.push_back(row.*member);
      return values;
    };
    if (has_guards()) {
      masks_ = table_of("guard_mask", column(&Row::mask));
      values_ = table_of("guard_value", column(&Row::value));
    }
    targets_ = table_of("target_of_row", column(&Row::target));
    commands_ = table_of("commands_of_row", column(&Row::commands));
    codes_table_ = table_of("commands", codes_);
    if (outputs_) levels_ = table_of("output_levels", output_levels());
    enters_ = table_of("commands_on_entering", enter_starts_);
    leaves_ = table_of("commands_on_leaving", leave_starts_);
    if (table_.counters.empty()) return;
    counters_ = routine_.array_u8("counters", table_.counters.size());
    std::vector<std::uint32_t> limits;
    for (const StateCounter& counter : table_.counters) limits.push_back(counter.limit);
    limits_ = table_of("limits", limits);
  }

  // while (code = *list++) do what it says
  firmware::Subroutine declare_interpreter() {
    const auto index_type = codes_.size() > byte_values ? firmware::Type::u16 : firmware::Type::u8;
    return routine_.subroutine("execute", {index_type}, [this](const std::vector<Place>& parameters) {
      const Place& at = parameters[0];
      const Place code =
          codes_table_->type() == firmware::Type::u8 ? routine_.local_u8("code") : routine_.local_u16("code");
      routine_.set(code, (*codes_table_)[at]);
      routine_.while_(code != 0, [&] {
        write_kind(code, CommandKind::act);
        routine_.set(at, at + 1);
        routine_.set(code, (*codes_table_)[at]);
      });
    });
  }

  std::size_t count_of(CommandKind kind) const {
    switch (kind) {
      case CommandKind::act:
        return table_.actions.size();
      case CommandKind::start:
      case CommandKind::stop:
        return table_.timers.size();
      default:
        return table_.counters.size();
    }
  }

  // if (code < first code of the next kind) ... else ...
  void write_kind(const Place& code, CommandKind kind) {
    const auto next = static_cast<CommandKind>(static_cast<unsigned>(kind) + 1);
    const bool is_last = kind == CommandKind::clear ||
                         (kind == CommandKind::stop && table_.counters.empty()) ||
                         (kind == CommandKind::act && table_.timers.empty() && table_.counters.empty());
    if (is_last) {
      if (count_of(kind) > 0) write_command(kind, code - base_of(kind));
    } else if (count_of(kind) == 0) {
      write_kind(code, next);
    } else {
      routine_.if_else(
          code < base_of(next), [&] { write_command(kind, code - base_of(kind)); },
          [&] { write_kind(code, next); });
    }
  }

  void write_command(CommandKind kind, const Expression& index) {
    switch (kind) {
      case CommandKind::act:
        routine_.set(*action_, firmware::cast_u8(index));
        break;
      case CommandKind::start:
        routine_.set(*start_, firmware::cast_u8(index));
        break;
      case CommandKind::stop:
        routine_.set(*stop_, firmware::cast_u8(index));
        break;
      case CommandKind::clear:
        routine_.set((*counters_)[index], 0);
        break;
      case CommandKind::count: {
        const Place counter = routine_.local_u8("counter");
        routine_.set(counter, firmware::cast_u8(index));
        routine_.if_((*counters_)[counter] < (*limits_)[counter],
                     [&] { routine_.set((*counters_)[counter], (*counters_)[counter] + 1); });
        break;
      }
    }
  }

  void find_row(const Place& row) {
    const Place levels = table_.conditions.size() <= 8    ? routine_.local_u8("levels")
                         : table_.conditions.size() <= 16 ? routine_.local_u16("levels")
                                                          : routine_.local_u32("levels");
    routine_.set(levels, conditions_ ? Expression(*conditions_) : Expression(0));
    for (std::size_t i = 0; i < table_.counters.size(); ++i) {
      routine_.if_((*counters_)[i] == table_.counters[i].limit, [&] {
        routine_.set(levels, levels | (std::uint32_t{1} << table_.counters[i].condition));
      });
    }
    routine_.while_((levels & (*masks_)[row]) != (*values_)[row], [&] { routine_.set(row, row + 1); });
  }

  void write_row(const Place& row, const firmware::Subroutine& execute) {
    const Place target = routine_.local_u8("target");
    routine_.set(target, (*targets_)[row]);
    const bool leaves = any_state_has(&State::leave);
    if (leaves) {
      routine_.if_(target != no_target, [&] { routine_.call(execute, {(*leaves_)[*state_]}); });
    }
    routine_.call(execute, {(*commands_)[row]});
    routine_.if_(target != no_target, [&] {
      enter_number(target);
      if (any_state_has(&State::enter)) routine_.call(execute, {(*enters_)[target]});
    });
  }

  std::vector<Row> rows_;
  std::map<std::vector<Row>, std::size_t> lists_;
  std::map<std::vector<Command>, std::size_t> command_lists_;
  std::vector<std::uint32_t> codes_ = {0};
  std::vector<std::uint32_t> row_starts_, enter_starts_, leave_starts_;
  std::optional<Array> starts_, masks_, values_, targets_, commands_, codes_table_, enters_, leaves_,
      counters_, limits_;
};

}  // namespace

Routine state_machine_by_table(const StateTable& table) {
  return TableRoutine(table).build();
}

}  // namespace portweigh::blocks
