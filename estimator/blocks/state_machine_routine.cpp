// The firmware twins of a state table: nested switch, and table in flash.
//
// Commands are writes to ports: a real program stores a deadline for a timer or calls a driver, at about the
// cost of a store. Both forms write them in the order of the table: leave, reaction, enter.
#include <algorithm>
#include <bit>
#include <map>
#include <utility>

#include "blocks/state_machine.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Array;
using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr std::uint32_t byte_values = 256;
constexpr std::uint32_t half_word_values = 65536;
constexpr std::uint32_t no_target = 0xFF;

// What both forms declare: the event's parameters, the state, the ports.
class MachineRoutine {
 protected:
  explicit MachineRoutine(const StateTable& table)
      : table_(table), routine_("state-machine"), event_(routine_.parameter_u8("event")) {
    if (table_.external_conditions() > 0) {
      conditions_ = word_for(table_.external_conditions(), "conditions", &Routine::parameter_u8,
                             &Routine::parameter_u16, &Routine::parameter_u32);
    }
    state_ = routine_.state_u8("state");
    if (!table_.actions.empty()) action_ = routine_.port_u8("action");
    if (!table_.timers.empty()) {
      start_ = routine_.port_u8("timer_start");
      stop_ = routine_.port_u8("timer_stop");
    }
    if (!table_.outputs.empty()) {
      outputs_ = word_for(table_.outputs.size(), "outputs", &Routine::port_u8, &Routine::port_u16,
                          &Routine::port_u32);
      levels_ = table_of("output_levels", output_levels());
    }
  }

  using Declare = Place (Routine::*)(const std::string&);
  Place word_for(std::size_t bits, const std::string& name, Declare byte, Declare half, Declare word) {
    const Declare declare = bits <= 8 ? byte : bits <= 16 ? half : word;
    return (routine_.*declare)(name);
  }

  // A table in flash of the narrowest type that holds the values.
  Array table_of(const std::string& name, std::vector<std::uint32_t> values) {
    const std::uint32_t largest = *std::max_element(values.begin(), values.end());
    if (largest < byte_values) return routine_.table_u8(name, std::move(values));
    if (largest < half_word_values) return routine_.table_u16(name, std::move(values));
    return routine_.table_u32(name, std::move(values));
  }

  std::vector<std::uint32_t> output_levels() const {
    std::vector<std::uint32_t> levels;
    for (const State& state : table_.states) {
      std::uint32_t bits = 0;
      for (const std::size_t output : state.outputs) bits |= 1U << output;
      levels.push_back(bits);
    }
    return levels;
  }

  void enter_number(const Expression& target) {
    routine_.set(*state_, target);
    if (outputs_) routine_.set(*outputs_, (*levels_)[target]);
  }

  bool any_state_has(std::vector<Command> State::*commands) const {
    return std::any_of(table_.states.begin(), table_.states.end(),
                       [&](const State& state) { return !(state.*commands).empty(); });
  }

  const StateTable& table_;
  Routine routine_;
  Place event_;
  std::optional<Place> conditions_, state_, action_, start_, stop_, outputs_;
  std::optional<Array> levels_;
};

bool are_same(const std::vector<Reaction>& a, const std::vector<Reaction>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Reaction& x, const Reaction& y) {
    return x.guard == y.guard && x.target == y.target && x.commands == y.commands;
  });
}

// Only what does something: a last "nothing" without a guard is what happens anyway.
std::vector<Reaction> effective(std::vector<Reaction> reactions) {
  while (!reactions.empty() && reactions.back().is_nothing()) reactions.pop_back();
  return reactions;
}

class SwitchRoutine : private MachineRoutine {
 public:
  explicit SwitchRoutine(const StateTable& table) : MachineRoutine(table) {}

  Routine build() {
    for (const StateCounter& counter : table_.counters) {
      counters_.push_back(routine_.state_u8("counter_" + counter.name));
    }
    find_common();
    declare_subroutines();
    std::vector<Routine::SwitchCase> states;
    for (std::size_t s = 0; s < table_.states.size(); ++s) {
      auto events = cases_of(s);
      if (events.empty()) continue;
      states.push_back({static_cast<std::uint32_t>(s), [this, events] { routine_.switch_(event_, events); }});
    }
    routine_.switch_(*state_, states);
    const auto common = common_cases();
    if (!common.empty()) routine_.switch_(event_, common);
    return std::move(routine_);
  }

 private:
  // For each event what at least half of the states do, if that is anything.
  void find_common() {
    common_.resize(table_.events.size());
    for (std::size_t event = 0; event < table_.events.size(); ++event) {
      for (const State& candidate : table_.states) {
        const auto reactions = effective(candidate.reactions[event]);
        const auto alike = std::count_if(table_.states.begin(), table_.states.end(), [&](const State& other) {
          return are_same(effective(other.reactions[event]), reactions);
        });
        if (!reactions.empty() && 2 * static_cast<std::size_t>(alike) >= table_.states.size() && alike > 1) {
          common_[event] = reactions;
        }
      }
    }
  }

  void declare_subroutines() {
    if (any_state_has(&State::leave)) {
      leave_ = routine_.subroutine("leave_state", {}, [this](const std::vector<Place>&) {
        routine_.switch_(*state_, command_cases(&State::leave));
      });
    }
    enter_ = routine_.subroutine("enter_state", {firmware::Type::u8}, [this](const std::vector<Place>& p) {
      enter_number(p[0]);
      if (any_state_has(&State::enter)) routine_.switch_(p[0], command_cases(&State::enter));
    });
  }

  std::vector<Routine::SwitchCase> command_cases(std::vector<Command> State::*commands) {
    std::vector<Routine::SwitchCase> cases;
    for (std::size_t s = 0; s < table_.states.size(); ++s) {
      const std::vector<Command>& list = table_.states[s].*commands;
      if (list.empty()) continue;
      cases.push_back({static_cast<std::uint32_t>(s), [this, &list] { write(list); }});
    }
    return cases;
  }

  std::vector<Routine::SwitchCase> cases_of(std::size_t s) {
    std::vector<Routine::SwitchCase> cases;
    for (std::size_t event = 0; event < table_.events.size(); ++event) {
      const auto reactions = effective(table_.states[s].reactions[event]);
      if (are_same(reactions, common_[event])) continue;
      cases.push_back({static_cast<std::uint32_t>(event), [this, reactions, s, event] {
                         write_reactions(reactions, !table_.states[s].leave.empty());
                         if (!common_[event].empty()) routine_.return_();
                       }});
    }
    return cases;
  }

  std::vector<Routine::SwitchCase> common_cases() {
    std::vector<Routine::SwitchCase> cases;
    for (std::size_t event = 0; event < table_.events.size(); ++event) {
      if (common_[event].empty()) continue;
      cases.push_back({static_cast<std::uint32_t>(event),
                       [this, event] { write_reactions(common_[event], leave_.has_value()); }});
    }
    return cases;
  }

  // if (guard) ... else if (guard) ... else ...
  void write_reactions(const std::vector<Reaction>& reactions, const bool leaves, std::size_t from = 0) {
    if (from == reactions.size()) return;
    const Reaction& reaction = reactions[from];
    if (reaction.guard.empty()) {
      write_reaction(reaction, leaves);
    } else if (from + 1 == reactions.size()) {
      routine_.if_(guard_of(reaction.guard), [&] { write_reaction(reaction, leaves); });
    } else {
      routine_.if_else(
          guard_of(reaction.guard), [&] { write_reaction(reaction, leaves); },
          [&] { write_reactions(reactions, leaves, from + 1); });
    }
  }

  void write_reaction(const Reaction& reaction, const bool leaves) {
    if (reaction.target && leaves) routine_.call(*leave_);
    write(reaction.commands);
    if (reaction.target) routine_.call(*enter_, {*reaction.target});
  }

  Expression guard_of(const Guard& guard) {
    std::optional<Expression> all;
    for (const GuardTerm& term : guard) {
      const Expression one = term_of(term);
      all = all ? *all && one : one;
    }
    return *all;
  }

  Expression term_of(const GuardTerm& term) {
    if (term.condition >= table_.external_conditions()) {
      const std::size_t counter = term.condition - table_.external_conditions();
      const std::uint32_t limit = table_.counters[counter].limit;
      return term.expected ? counters_[counter] == limit : counters_[counter] != limit;
    }
    const Expression bit = *conditions_ & (std::uint32_t{1} << term.condition);
    return term.expected ? bit != 0 : bit == 0;
  }

  void write(const std::vector<Command>& commands) {
    for (const Command& command : commands) {
      switch (command.kind) {
        case CommandKind::act:
          routine_.set(*action_, command.index);
          break;
        case CommandKind::start:
          routine_.set(*start_, command.index);
          break;
        case CommandKind::stop:
          routine_.set(*stop_, command.index);
          break;
        case CommandKind::clear:
          routine_.set(counters_[command.index], 0);
          break;
        case CommandKind::count: {
          const Place& counter = counters_[command.index];
          routine_.if_(counter < table_.counters[command.index].limit,
                       [&] { routine_.set(counter, counter + 1); });
          break;
        }
      }
    }
  }

  std::vector<Place> counters_;
  std::vector<std::vector<Reaction>> common_;
  std::optional<firmware::Subroutine> leave_, enter_;
};

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

Routine state_machine_routine(const StateTable& table, StateMachineMethod method) {
  return method == StateMachineMethod::nested_switch ? SwitchRoutine(table).build()
                                                     : TableRoutine(table).build();
}

}  // namespace portweigh::blocks
