#include "figures/sample_evaluator.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "figures/arithmetic.hpp"
#include "figures/evaluate.hpp"

namespace portweigh::figures {

// Turns the needed part of a ledger into instructions over slots.
class SampleEvaluator::Compiler {
 public:
  Compiler(const Ledger& ledger, const std::vector<Figure>& wanted, SampleEvaluator& result)
      : nodes_(ledger.nodes()),
        needed_(needed_nodes(ledger, wanted)),
        typical_(evaluate_all(ledger)),
        is_fixed_(nodes_.size(), false),
        readers_(nodes_.size(), 0),
        operands_(nodes_.size()),
        result_(result) {
    find_fixed_nodes();
    count_readers(wanted);
    for (std::uint32_t i = 0; i < nodes_.size(); ++i) {
      if (needed_[i]) compile(i);
    }
    for (const Figure figure : wanted) result_.results_.push_back(operands_[figure.index()]);
    result_.slot_count_ = slot_count_;
  }

 private:
  void find_fixed_nodes() {
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      const Node& node = nodes_[i];
      if (node.operation == Operation::input) continue;
      bool is_fixed = true;
      for (std::size_t k = 0; k < node.argument_count; ++k)
        is_fixed = is_fixed && is_fixed_[node.arguments[k]];
      is_fixed_[i] = is_fixed;
    }
  }

  void count_readers(const std::vector<Figure>& wanted) {
    // A wanted figure keeps its slot to the end.
    for (const Figure figure : wanted) ++readers_[figure.index()];
    for (std::size_t i = nodes_.size(); i-- > 0;) {
      if (!needed_[i] || is_fixed_[i]) continue;
      const Node& node = nodes_[i];
      // A second name reads on behalf of its own readers.
      const std::uint32_t weight = node.operation == Operation::same ? readers_[i] : 1;
      for (std::size_t k = 0; k < node.argument_count; ++k) readers_[node.arguments[k]] += weight;
    }
  }

  void compile(std::uint32_t index) {
    const Node& node = nodes_[index];
    if (is_fixed_[index]) {
      operands_[index] = {Operand::Kind::constant, 0, typical_[index]};
    } else if (node.operation == Operation::input) {
      operands_[index] = {Operand::Kind::input, node.detail, 0.0};
      result_.used_inputs_.push_back(node.detail);
    } else if (node.operation == Operation::same) {
      operands_[index] = operands_[node.arguments[0]];
    } else {
      emit(index, node);
    }
  }

  void emit(std::uint32_t index, const Node& node) {
    Instruction instruction;
    instruction.operation = node.operation;
    instruction.exponent = node.number;
    instruction.table = node.detail;
    // The target is taken before arguments are released: a loop never writes where it reads.
    instruction.target = take_slot();
    for (std::size_t k = 0; k < node.argument_count; ++k)
      instruction.operands[k] = operands_[node.arguments[k]];
    for (std::size_t k = 0; k < node.argument_count; ++k) release(owner_of(node.arguments[k]));
    operands_[index] = {Operand::Kind::slot, instruction.target, 0.0};
    result_.program_.push_back(instruction);
  }

  // The node whose instruction fills the slot that `index` is read from.
  [[nodiscard]] std::uint32_t owner_of(std::uint32_t index) const {
    while (nodes_[index].operation == Operation::same) index = nodes_[index].arguments[0];
    return index;
  }

  std::uint32_t take_slot() {
    if (free_slots_.empty()) return slot_count_++;
    const auto slot = free_slots_.back();
    free_slots_.pop_back();
    return slot;
  }

  void release(std::uint32_t owner) {
    if (operands_[owner].kind != Operand::Kind::slot) return;
    if (--readers_[owner] == 0) free_slots_.push_back(operands_[owner].index);
  }

  std::span<const Node> nodes_;
  std::vector<bool> needed_;
  std::vector<double> typical_;
  std::vector<bool> is_fixed_;
  std::vector<std::uint32_t> readers_;
  std::vector<Operand> operands_;
  std::vector<std::uint32_t> free_slots_;
  std::uint32_t slot_count_ = 0;
  SampleEvaluator& result_;
};

// One chunk of samples: runs instructions over its slots.
class SampleEvaluator::Block {
 public:
  struct View {
    const double* data = nullptr;  // null: the same number for all samples
    double number = 0.0;
  };

  Block(const SampleEvaluator& evaluator, std::span<const double* const> columns, Eigen::Index first,
        Eigen::Index length, double* slots)
      : evaluator_(evaluator), columns_(columns), first_(first), length_(length), slots_(slots) {}

  [[nodiscard]] View view(const Operand& operand) const {
    switch (operand.kind) {
      case Operand::Kind::constant:
        return {nullptr, operand.number};
      case Operand::Kind::input:
        if (columns_[operand.index] == nullptr) return {nullptr, evaluator_.typical_[operand.index]};
        return {columns_[operand.index] + first_, 0.0};
      case Operand::Kind::slot:
        return {slot(operand.index), 0.0};
    }
    return {};
  }

  void run(const Instruction& instruction) const {
    const View a = view(instruction.operands[0]);
    const View b = view(instruction.operands[1]);
    double* const target = slot(instruction.target);
    switch (instruction.operation) {
      case Operation::add:
        return binary(target, a, b, [](double x, double y) { return x + y; });
      case Operation::subtract:
        return binary(target, a, b, [](double x, double y) { return x - y; });
      case Operation::multiply:
        return binary(target, a, b, [](double x, double y) { return x * y; });
      case Operation::divide:
        return binary(target, a, b, [](double x, double y) { return x / y; });
      case Operation::minimum:
        return binary(target, a, b, [](double x, double y) { return smaller(x, y); });
      case Operation::maximum:
        return binary(target, a, b, [](double x, double y) { return larger(x, y); });
      case Operation::at_least:
        return binary(target, a, b, [](double x, double y) { return test_at_least(x, y); });
      case Operation::raise:
        return binary(target, a, b, [](double x, double y) { return std::pow(x, y); });
      case Operation::power:
        return run_power(target, a, instruction.exponent);
      case Operation::log:
        return unary(target, a, [](double x) { return std::log(x); });
      case Operation::exp:
        return unary(target, a, [](double x) { return std::exp(x); });
      case Operation::round_up:
        return unary(target, a, [](double x) { return std::ceil(x); });
      case Operation::round_down:
        return unary(target, a, [](double x) { return std::floor(x); });
      case Operation::lookup:
        return run_lookup(target, a, instruction.table);
      case Operation::select:
        return run_select(target, a, b, view(instruction.operands[2]));
      case Operation::input:
      case Operation::constant:
      case Operation::same:
        return;  // these are operands, never instructions
    }
  }

 private:
  [[nodiscard]] double* slot(std::uint32_t index) const {
    return slots_ + static_cast<Eigen::Index>(index) * SampleEvaluator::chunk;
  }

  template <class Function>
  void binary(double* __restrict target, View a, View b, Function function) const {
    const double* __restrict x = a.data;
    const double* __restrict y = b.data;
    const Eigen::Index n = length_;
    if (x != nullptr && y != nullptr) {
      for (Eigen::Index i = 0; i < n; ++i) target[i] = function(x[i], y[i]);
    } else if (x != nullptr) {
      for (Eigen::Index i = 0; i < n; ++i) target[i] = function(x[i], b.number);
    } else if (y != nullptr) {
      for (Eigen::Index i = 0; i < n; ++i) target[i] = function(a.number, y[i]);
    } else {
      std::fill_n(target, n, function(a.number, b.number));
    }
  }

  template <class Function>
  void unary(double* __restrict target, View a, Function function) const {
    if (a.data == nullptr) {
      std::fill_n(target, length_, function(a.number));
      return;
    }
    const double* __restrict x = a.data;
    for (Eigen::Index i = 0; i < length_; ++i) target[i] = function(x[i]);
  }

  void run_power(double* target, View a, double exponent) const {
    if (exponent == 2.0) return unary(target, a, [](double x) { return to_power(x, 2.0); });
    unary(target, a, [exponent](double x) { return to_power(x, exponent); });
  }

  void run_lookup(double* target, View a, std::uint32_t number) const {
    const LookupTable& table = evaluator_.tables_[number];
    const auto& slopes = evaluator_.slopes_[number];
    unary(target, a, [&table, &slopes](double x) { return value_at(table, slopes, x); });
  }

  void run_select(double* __restrict target, View condition, View a, View b) const {
    const auto at = [](const View& view, Eigen::Index i) {
      return view.data == nullptr ? view.number : view.data[i];
    };
    for (Eigen::Index i = 0; i < length_; ++i) target[i] = at(condition, i) != 0.0 ? at(a, i) : at(b, i);
  }

  const SampleEvaluator& evaluator_;
  std::span<const double* const> columns_;
  Eigen::Index first_;
  Eigen::Index length_;
  double* slots_;
};

SampleEvaluator::SampleEvaluator(const Ledger& ledger, const std::vector<Figure>& wanted)
    : tables_(ledger.tables().begin(), ledger.tables().end()),
      typical_(input_values(ledger)),
      input_count_(ledger.inputs().size()) {
  for (const auto& table : tables_) slopes_.push_back(segment_slopes(table));
  const Compiler compiler(ledger, wanted, *this);
}

SampleEvaluator::Scratch SampleEvaluator::make_scratch() const {
  Scratch scratch;
  scratch.slots_.resize(chunk, static_cast<Eigen::Index>(slot_count_));
  return scratch;
}

Eigen::ArrayXXd SampleEvaluator::evaluate(std::span<const double* const> columns, Eigen::Index count,
                                          Scratch& scratch) const {
  Eigen::ArrayXXd result(count, static_cast<Eigen::Index>(results_.size()));
  evaluate_into(result, columns, scratch);
  return result;
}

void SampleEvaluator::evaluate_into(Eigen::Ref<Eigen::ArrayXXd> result,
                                    std::span<const double* const> columns, Scratch& scratch) const {
  if (columns.size() != input_count_) {
    throw LedgerError(
        fmt::format("{} input columns given, the ledger has {} inputs", columns.size(), input_count_));
  }
  if (result.cols() != static_cast<Eigen::Index>(results_.size())) {
    throw LedgerError(
        fmt::format("result has {} columns, {} figures are wanted", result.cols(), results_.size()));
  }
  if (scratch.slots_.rows() != chunk || scratch.slots_.cols() != static_cast<Eigen::Index>(slot_count_)) {
    throw LedgerError("the scratch memory was made by another evaluator");
  }
  for (Eigen::Index first = 0; first < result.rows(); first += chunk) {
    const Eigen::Index length = std::min(chunk, result.rows() - first);
    const Block block(*this, columns, first, length, scratch.slots_.data());
    for (const auto& instruction : program_) block.run(instruction);
    for (std::size_t i = 0; i < results_.size(); ++i) {
      const auto view = block.view(results_[i]);
      double* const target = &result(first, static_cast<Eigen::Index>(i));
      if (view.data != nullptr) {
        std::copy_n(view.data, length, target);
      } else {
        std::fill_n(target, length, view.number);
      }
    }
  }
}

}  // namespace portweigh::figures
