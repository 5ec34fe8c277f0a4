// The code generator model: walks a program and notes the operations a usual compiler emits for it. It does
// what the core's registers and instructions force on any compiler, and the few optimisations every one
// makes:
//   - values are split into words; words known to be zero and words nobody needs cost nothing;
//   - shifts by whole words only rename registers; the rest is by barrel, by bits, by a swap of halves, or in
//   a
//     loop where that is shorter and code is built for size;
//   - a result that overwrites a live variable needs a move first (two-address cores);
//   - comparisons set flags for the branch that follows, single-bit tests branch directly;
//   - static variables are loaded once and kept until they may have changed; in loops without calls
//     they are loaded before and stored after; array addresses and large constants are kept likewise;
//   - counters that step through an array become pointers.
//   - loops of few constant turns are unrolled for speed where the class's compiler does so; switches and
//     multiplications by constants differ between code for size and for speed;
//   - the accumulator's compiler keeps in external memory what several assignments reach (reaching.hpp).
// Beyond that it moves no code and merges no common subexpressions (locals are written for those).
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "firmware/listing.hpp"
#include "firmware/placement.hpp"

namespace portweigh::firmware {

class Generator {
 public:
  Generator(const Program& program, const Core& core);
  Listing run();

 private:
  static constexpr std::size_t no_target = static_cast<std::size_t>(-1);
  enum class Kind : std::uint8_t { constant, variable, temporary, memory };
  enum class Masking : std::uint8_t { needed, later };  // whether bits shifted around must be cleared here
  enum class TakenWhen : std::uint8_t { true_, false_ };
  struct Value {
    Kind kind = Kind::temporary;
    unsigned words = 0;       // mask of the words that may be non-zero and are needed
    bool sets_flags = false;  // the last instruction left the zero flag of this value
    std::uint32_t constant = 0;
  };
  struct Known {
    std::set<std::size_t> variables;  // static variables whose value is in a register
    std::set<std::size_t> addresses;  // arrays whose address is in a register
    std::set<std::uint32_t> constants;
    bool base = false;
    bool port_base = false;
    void keep_common(const Known& other);
  };

  struct Far {  // static data out of reach from their base
    std::set<std::size_t> variables;
    std::set<std::size_t> arrays;
  };

  // emission
  void emit(Operation operation, double amount);
  void emit(Operation operation, double amount, double copies, const Frequency& frequency);
  bool emit_before_loops(Operation operation, double amount);
  void emit_branch(const Frequency& evaluated, const Frequency& held, TakenWhen taken);

  // widths
  const Node& node(NodeId id) const { return program_.nodes[id]; }
  unsigned words(Type type) const;
  unsigned all_words(Type type) const { return (1U << words(type)) - 1U; }
  std::uint32_t word_of(std::uint32_t value, unsigned word) const;
  bool fits_instruction(std::uint32_t word) const;
  bool is_full_word(std::uint32_t word) const;
  bool is_free_constant(std::uint32_t word) const;
  bool is_accumulator() const { return core_.operands == Operands::accumulator; }
  bool is_memory() const { return core_.operands == Operands::memory; }
  bool is_for_size() const { return core_.goal == Goal::size; }

  // values (generate_values.cpp)
  Value value(NodeId id, unsigned demand, std::size_t target = no_target);
  Value variable_value(const Node& n, unsigned demand);
  Value element_value(const Node& n, unsigned demand);
  Value binary_value(NodeId id, unsigned demand, std::size_t target);
  Value constant_operand(const Node& n, Value left, std::uint32_t constant, unsigned demand);
  Value register_operand(const Node& n, Value left, Value right, unsigned demand, bool is_commutative);
  Value multiply_value(const Node& n, unsigned demand, std::size_t target);
  Value select_value(const Node& n, unsigned demand, std::size_t target);
  Value truth_value(NodeId id);
  Value cast_signed_value(const Node& n, unsigned demand, std::size_t target);
  void load_constant(std::uint32_t constant, unsigned mask);
  Value in_register(Value v);
  void own_copy(Value& left, bool is_target, Operator op);
  void clean(NodeId id);
  bool is_variable(NodeId id, std::size_t variable) const;
  void need_base();
  void need_port_base();
  bool is_known_index(NodeId id) const;
  void emit_access(Operation operation, std::size_t variable, double count);
  void emit_foreign(double count);
  void emit_reach(std::size_t variable);
  Far find_far() const;
  bool walks(const Node& element) const;
  void element_address(const Node& n);
  bool is_bounded_counter(std::size_t variable) const;
  bool keeps_counter() const;

  // shifts (generate_shifts.cpp)
  Value shift_value(NodeId id, unsigned demand, std::size_t target);
  Value shift_by_constant(NodeId id, unsigned demand, std::size_t target);
  Value shift_by_variable(const Node& n, unsigned demand, std::size_t target);
  double shift_steps(unsigned count) const;
  void shift_whole_value(unsigned count, unsigned word_count);
  void shift_bits(unsigned count, unsigned word_count, Masking masking);
  void carry_bits_over(unsigned count, unsigned word_count);

  // conditions (generate_conditions.cpp)
  void branch(NodeId id, const Frequency& evaluated, const Frequency& held, TakenWhen taken);
  bool test_by_index(NodeId id);
  void compare(NodeId id);
  void compare_word_by_word(const Node& variable);
  void compare_with_constant(NodeId id, NodeId left, std::uint32_t constant);
  std::optional<NodeId> single_bit_tested(NodeId id, unsigned& bit) const;
  bool branch_on_bit(NodeId id, const Frequency& evaluated, const Frequency& held, TakenWhen taken);

  // statements (generate_statements.cpp)
  void function(std::size_t index);
  void take_parameters(const Function& function);
  void block(const Block& statements);
  void statement(StatementId id);
  void forget_statics();
  void cut_result(NodeId id);
  std::size_t shared_end(const Block& block, const std::vector<const Block*>& others) const;
  bool is_same_code(const Statement& a, const Statement& b) const;
  bool is_same_value(NodeId a, NodeId b) const;
  void assign(NodeId target, NodeId source);
  void assign_variable(const Node& target, NodeId source);
  bool update_in_memory(const Node& target, NodeId source);
  bool update_port_bit(const Node& target, NodeId source);
  void store_in_register(const Node& target, const Value& v, NodeId source);
  void store_static(const Node& target, Value v);
  void branch_statement(StatementId id);
  void choose_between(const Statement& s, const Frequency& reached, const Frequency& held);
  void loop_statement(StatementId id);
  void count_statement(StatementId id);
  void switch_statement(StatementId id);
  Frequency select_case(const Statement& s, const Frequency& reached);
  std::size_t case_ranges(const Statement& s) const;
  void emit_dispatch();
  bool uses_dispatch(const Statement& s, std::size_t ranges) const;
  bool goes_on_by_itself(const Block& statements) const;
  void jump_on();
  void jump_back(bool is_endless);
  void call_statement(StatementId id);
  void enter_loop(const Block& body, const Statement& loop);
  void leave_loop();
  void count_turn(const Statement& s, const Frequency& bodies, const Frequency& entered);
  bool leaves_function(const Block& statements) const;
  bool ends_with_jump(const Block& statements) const;
  Frequency exits_of(const Block& body, bool is_nested_loop) const;
  bool unrolls(const Statement& s) const;
  double repeats_of_element(const Node& element) const;
  double operations_in(const Block& body) const;
  double operations_in(NodeId id) const;
  bool is_unrolled_constant(std::size_t variable) const;
  std::set<std::size_t> stepped_each_turn(const Statement& loop) const;
  std::set<std::size_t> written_each_turn(const Block& body) const;
  bool contains_call(const Block& body) const;
  void collect(const Block& body, std::set<std::size_t>& read, std::set<std::size_t>& written) const;
  void collect_node(NodeId id, std::set<std::size_t>& read) const;
  bool uses_counter_beyond_indexing(const Block& body, std::size_t counter) const;
  bool node_uses_counter(NodeId id, std::size_t counter) const;

  struct OpenLoop {
    Frequency entry;
    std::size_t counter = no_target;  // of a for_count loop
    bool is_fixed = false;            // a constant number of turns
    double turns = 1;                 // of an unrolled loop
    bool is_unrolled = false;
    std::set<std::size_t> constants;  // variables that are constants in each unrolled turn
    std::set<std::size_t> stored;     // static variables kept in a register, yet stored at each change
    std::set<std::size_t> promoted;   // static variables kept in a register during the loop ...
    std::set<std::size_t> dirty;      // ... and stored after it
  };

  const Program& program_;
  const Core core_;
  const Placement placement_;
  const Far far_;
  const unsigned word_bits_;
  Listing listing_;
  Frequency now_ = Frequency::runs();
  Known known_;
  std::vector<OpenLoop> loops_;
  // Blocks already emitted, by where control goes after them.
  static constexpr std::size_t function_end = 0;
  std::map<std::size_t, std::vector<const Block*>> tails_;
  std::size_t continuation_ = function_end;
  std::size_t next_continuation_ = 1;
  bool is_shared_code_ = false;
  std::size_t function_ = 0;
  double spare_registers_ = 0;
  double turns_ = 1;  // copies of the code being emitted, of loops unrolled
  bool uses_multiply_helper_ = false;
  Frequency entries_ = Frequency::runs();  // of the function
  bool saves_return_address_ = false;
  std::size_t pointed_at_ = no_target;  // variable the accumulator's data pointer points at
  std::uint32_t next_mask_ = 0;  // the shifted value being made is masked by the operation that uses it
};

}  // namespace portweigh::firmware
