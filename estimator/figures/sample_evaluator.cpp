#include "figures/sample_evaluator.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>

namespace portweigh::figures {

// Turns shared formulas into calls over vectors: the inputs' columns, then slots.
class SampleEvaluator::Compiler {
 public:
  Compiler(const SharedFormulas& formulas, SampleEvaluator& result)
      : nodes_(formulas.nodes),
        readers_(nodes_.size(), 0),
        last_reader_(nodes_.size(), none),
        joined_product_(nodes_.size(), none),
        is_joined_(nodes_.size(), false),
        vectors_(nodes_.size(), none),
        result_(result) {
    count_readers(formulas.wanted);
    join_products();
    for (std::uint32_t i = 0; i < nodes_.size(); ++i) compile(i);
    place_results(formulas.wanted);
  }

 private:
  static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

  void count_readers(const std::vector<std::uint32_t>& wanted) {
    // A wanted figure keeps its slot to the end.
    for (const std::uint32_t node : wanted) ++readers_[node];
    for (std::uint32_t i = 0; i < nodes_.size(); ++i) {
      for (std::size_t k = 0; k < nodes_[i].argument_count; ++k) {
        ++readers_[nodes_[i].arguments[k]];
        last_reader_[nodes_[i].arguments[k]] = i;
      }
    }
  }

  void compile(std::uint32_t index) {
    const Node& node = nodes_[index];
    switch (node.operation) {
      case Operation::constant:
      case Operation::same:
        return;
      case Operation::input:
        vectors_[index] = node.detail;
        result_.used_inputs_.push_back(node.detail);
        return;
      default:
        ++result_.operation_count_;
        if (!is_joined_[index]) emit(index, node);
    }
  }

  // A product that only one sum reads is computed together with it, without a slot of its own.
  void join_products() {
    const auto could_join = [this](std::uint32_t index, std::uint32_t sum) {
      return nodes_[index].operation == Operation::multiply && readers_[index] == 1 &&
             last_reader_[index] == sum;
    };
    for (std::uint32_t i = 0; i < nodes_.size(); ++i) {
      if (nodes_[i].operation != Operation::add) continue;
      const auto& arguments = nodes_[i].arguments;
      if (could_join(arguments[0], i)) {
        joined_product_[i] = arguments[0];
      } else if (could_join(arguments[1], i)) {
        joined_product_[i] = arguments[1];
      }
      if (joined_product_[i] != none) is_joined_[joined_product_[i]] = true;
    }
  }

  void emit(std::uint32_t index, const Node& node) {
    const std::uint32_t product = joined_product_[index];
    KernelCall call = product == none ? call_of(node) : sum_of(node, product);
    // The target is taken before arguments are released: a loop never writes where it reads.
    call.target = take_slot();
    release_arguments(node);
    if (product != none) release_arguments(nodes_[product]);
    vectors_[index] = call.target;
    result_.calls_.push_back(call);
  }

  [[nodiscard]] bool is_number(std::uint32_t index) const {
    return nodes_[index].operation == Operation::constant;
  }

  KernelCall sum_of(const Node& sum, std::uint32_t product) {
    const std::uint32_t other = sum.arguments[0] == product ? sum.arguments[1] : sum.arguments[0];
    const std::uint32_t a = nodes_[product].arguments[0];
    const std::uint32_t b = nodes_[product].arguments[1];
    KernelCall call;
    if (is_number(a) || is_number(b)) {
      call.kernel = Kernel::scale_add;
      call.number = nodes_[is_number(a) ? a : b].number;
      call.arguments[0] = vector_of(is_number(a) ? b : a);
    } else {
      call.kernel = Kernel::multiply_add;
      call.arguments[0] = vector_of(a);
      call.arguments[1] = vector_of(b);
    }
    call.arguments[2] = vector_of(other);
    return call;
  }

  KernelCall call_of(const Node& node) {
    switch (node.operation) {
      case Operation::add:
        return with_number(node, Kernel::add, Kernel::add_number, Kernel::add_number);
      case Operation::subtract:
        return with_number(node, Kernel::subtract, Kernel::subtract_number, Kernel::from_number);
      case Operation::multiply:
        return with_number(node, Kernel::multiply, Kernel::multiply_number, Kernel::multiply_number);
      case Operation::divide:
        return with_number(node, Kernel::divide, Kernel::divide, Kernel::divide_number);
      case Operation::power:
        return power_call(node);
      case Operation::minimum:
        return plain_call(node, Kernel::minimum);
      case Operation::maximum:
        return plain_call(node, Kernel::maximum);
      case Operation::raise:
        return plain_call(node, Kernel::raise);
      case Operation::log:
        return plain_call(node, Kernel::log);
      case Operation::exp:
        return plain_call(node, Kernel::exp);
      case Operation::round_up:
        return plain_call(node, Kernel::round_up);
      case Operation::round_down:
        return plain_call(node, Kernel::round_down);
      case Operation::lookup:
        return plain_call(node, Kernel::lookup);
      case Operation::at_least:
        return plain_call(node, Kernel::at_least);
      case Operation::select:
        return plain_call(node, Kernel::select);
      case Operation::input:
      case Operation::constant:
      case Operation::same:
        break;  // these are operands, never calls
    }
    return {};
  }

  // Of two operands, at most one is a number; where the kernel for it is the plain one, it gets a vector.
  KernelCall with_number(const Node& node, Kernel plain, Kernel second_is_number, Kernel first_is_number) {
    const std::uint32_t a = node.arguments[0];
    const std::uint32_t b = node.arguments[1];
    KernelCall call;
    if (is_number(b) && second_is_number != plain) {
      call.kernel = second_is_number;
      call.arguments[0] = vector_of(a);
      call.number = nodes_[b].number;
    } else if (is_number(a)) {
      call.kernel = first_is_number;
      call.arguments[0] = vector_of(b);
      call.number = nodes_[a].number;
    } else {
      return plain_call(node, plain);
    }
    return call;
  }

  // The same cases as to_power in arithmetic.hpp.
  KernelCall power_call(const Node& node) {
    KernelCall call = plain_call(node, Kernel::power);
    call.number = node.number;
    if (node.number == 2.0) call.kernel = Kernel::square;
    if (node.number == 0.5) call.kernel = Kernel::root;
    if (node.number == -1.0) {
      call.kernel = Kernel::divide_number;
      call.number = 1.0;
    }
    return call;
  }

  KernelCall plain_call(const Node& node, Kernel kernel) {
    KernelCall call;
    call.kernel = kernel;
    call.table = node.detail;
    for (std::size_t k = 0; k < node.argument_count; ++k) call.arguments[k] = vector_of(node.arguments[k]);
    return call;
  }

  // A number where a vector is expected is written once into a slot that stays.
  std::uint32_t vector_of(std::uint32_t index) {
    if (vectors_[index] != none) return vectors_[index];
    KernelCall call;
    call.kernel = Kernel::fill;
    call.target = new_slot();
    call.number = nodes_[index].number;
    result_.constants_.push_back(call);
    return vectors_[index] = call.target;
  }

  std::uint32_t new_slot() {
    return static_cast<std::uint32_t>(result_.inputs_.size() + result_.slot_count_++);
  }

  std::uint32_t take_slot() {
    if (free_slots_.empty()) return new_slot();
    const auto slot = free_slots_.back();
    free_slots_.pop_back();
    return slot;
  }

  void release_arguments(const Node& node) {
    for (std::size_t k = 0; k < node.argument_count; ++k) {
      const std::uint32_t index = node.arguments[k];
      const Operation operation = nodes_[index].operation;
      if (operation == Operation::constant || operation == Operation::input) continue;
      if (--readers_[index] == 0 && vectors_[index] != none) free_slots_.push_back(vectors_[index]);
    }
  }

  void place_results(const std::vector<std::uint32_t>& wanted) {
    std::map<std::uint32_t, Eigen::Index> columns;
    for (const std::uint32_t node : wanted) {
      if (is_number(node)) {
        result_.places_.push_back({true, nodes_[node].number, 0});
        continue;
      }
      const auto [entry, is_new] = columns.try_emplace(node, static_cast<Eigen::Index>(columns.size()));
      if (is_new) result_.distinct_.push_back(vectors_[node]);
      result_.places_.push_back({false, 0.0, entry->second});
    }
  }

  const std::vector<Node>& nodes_;
  std::vector<std::uint32_t> readers_;
  std::vector<std::uint32_t> last_reader_;
  std::vector<std::uint32_t> joined_product_;  // of each sum
  std::vector<bool> is_joined_;                // of each product
  std::vector<std::uint32_t> vectors_;
  std::vector<std::uint32_t> free_slots_;
  SampleEvaluator& result_;
};

void SampleEvaluator::compile(const SharedFormulas& formulas) {
  inputs_ = formulas.inputs;
  tables_ = formulas.tables;
  for (const LookupTable& table : tables_) slopes_.push_back(segment_slopes(table));
  const Compiler compiler(formulas, *this);
}

SampleEvaluator::SampleEvaluator(const Ledger& ledger, const std::vector<Figure>& wanted) {
  const WantedFigures of_one{&ledger, wanted};
  compile(share_formulas({&of_one, 1}, ExactInputs::may_move));
}

SampleEvaluator::SampleEvaluator(std::span<const WantedFigures> wanted, ExactInputs exact_inputs) {
  compile(share_formulas(wanted, exact_inputs));
}

SampleEvaluator::Scratch SampleEvaluator::make_scratch() const {
  Scratch scratch;
  scratch.slots_.resize(chunk, static_cast<Eigen::Index>(slot_count_));
  scratch.columns_.resize(inputs_.size());
  KernelWork work;
  work.calls = constants_.data();
  work.call_count = constants_.size();
  work.inputs = scratch.columns_.data();
  work.input_count = inputs_.size();
  work.slots = scratch.slots_.data();
  work.stride = work.length = static_cast<std::size_t>(chunk);
  best_kernels()(work);
  return scratch;
}

// Pointers to the first sample of each column; where there is none, to the typical value over a whole chunk.
void SampleEvaluator::fill_columns(std::span<const double* const> columns, Scratch& scratch) const {
  std::vector<std::uint32_t> missing;
  for (const std::uint32_t number : used_inputs_) {
    scratch.columns_[number] = columns[number];
    if (columns[number] == nullptr) missing.push_back(number);
  }
  scratch.typical_.resize(chunk, static_cast<Eigen::Index>(missing.size()));
  for (std::size_t i = 0; i < missing.size(); ++i) {
    auto column = scratch.typical_.col(static_cast<Eigen::Index>(i));
    column = inputs_[missing[i]].range.typical;
    scratch.columns_[missing[i]] = column.data();
  }
}

template <class Sink>
void SampleEvaluator::run(std::span<const double* const> columns, Eigen::Index count, Scratch& scratch,
                          Sink sink) const {
  if (columns.size() != inputs_.size()) {
    throw LedgerError(
        fmt::format("{} input columns given, the ledger has {} inputs", columns.size(), inputs_.size()));
  }
  if (scratch.slots_.rows() != chunk || scratch.slots_.cols() != static_cast<Eigen::Index>(slot_count_)) {
    throw LedgerError("the scratch memory was made by another evaluator");
  }
  fill_columns(columns, scratch);
  std::vector<KernelTable> tables;
  for (std::size_t i = 0; i < tables_.size(); ++i) {
    tables.push_back({&tables_[i], tables_[i].x.data(), tables_[i].y.data(), slopes_[i].data(),
                      tables_[i].x.size(), tables_[i].scale == Scale::log_log});
  }
  KernelWork work;
  work.calls = calls_.data();
  work.call_count = calls_.size();
  work.inputs = scratch.columns_.data();
  work.input_count = inputs_.size();
  work.slots = scratch.slots_.data();
  work.stride = static_cast<std::size_t>(chunk);
  work.tables = tables.data();
  const auto vector = [&work](std::uint32_t number) {
    return number < work.input_count ? work.inputs[number]
                                     : work.slots + (number - work.input_count) * work.stride;
  };
  for (Eigen::Index first = 0; first < count; first += chunk) {
    const Eigen::Index length = std::min(chunk, count - first);
    work.length = static_cast<std::size_t>(length);
    best_kernels()(work);
    sink(first, length, vector);
    for (const std::uint32_t number : used_inputs_) {
      if (columns[number] != nullptr) scratch.columns_[number] += length;
    }
  }
}

Eigen::ArrayXXd SampleEvaluator::evaluate(std::span<const double* const> columns, Eigen::Index count,
                                          Scratch& scratch) const {
  Eigen::ArrayXXd result(count, static_cast<Eigen::Index>(places_.size()));
  evaluate_into(result, columns, scratch);
  return result;
}

void SampleEvaluator::evaluate_into(Eigen::Ref<Eigen::ArrayXXd> result,
                                    std::span<const double* const> columns, Scratch& scratch) const {
  if (result.cols() != static_cast<Eigen::Index>(places_.size())) {
    throw LedgerError(
        fmt::format("result has {} columns, {} figures are wanted", result.cols(), places_.size()));
  }
  run(columns, result.rows(), scratch, [&](Eigen::Index first, Eigen::Index length, auto vector) {
    for (Eigen::Index i = 0; i < result.cols(); ++i) {
      const Place& place = places_[static_cast<std::size_t>(i)];
      double* const target = &result(first, i);
      if (place.is_fixed) {
        std::fill_n(target, length, place.value);
      } else {
        std::copy_n(vector(distinct_[static_cast<std::size_t>(place.column)]), length, target);
      }
    }
  });
}

Eigen::ArrayXXd SampleEvaluator::evaluate_distinct(std::span<const double* const> columns, Eigen::Index count,
                                                   Scratch& scratch) const {
  Eigen::ArrayXXd result(count, distinct_count());
  run(columns, count, scratch, [&](Eigen::Index first, Eigen::Index length, auto vector) {
    for (Eigen::Index i = 0; i < result.cols(); ++i) {
      std::copy_n(vector(distinct_[static_cast<std::size_t>(i)]), length, &result(first, i));
    }
  });
  return result;
}

}  // namespace portweigh::figures
