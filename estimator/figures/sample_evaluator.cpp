#include "figures/sample_evaluator.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>

#include "figures/operations.hpp"

namespace portweigh::figures {
namespace {

constexpr Eigen::Index chunk = 256;

}  // namespace

// Turns shared formulas into calls over vectors.
class SampleEvaluator::Compiler {
 public:
  Compiler(const SharedFormulas& formulas, SampleEvaluator& result)
      : nodes_(formulas.nodes), readers_(nodes_.size(), 0), vectors_(nodes_.size(), none), result_(result) {
    // A wanted figure keeps its slot to the end.
    for (const std::uint32_t node : formulas.wanted) ++readers_[node];
    for (const Node& node : nodes_) {
      for (std::size_t k = 0; k < node.argument_count; ++k) ++readers_[node.arguments[k]];
    }
    for (std::uint32_t i = 0; i < nodes_.size(); ++i) compile(i);
    place_results(formulas.wanted);
  }

 private:
  static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

  void compile(std::uint32_t index) {
    const Node& node = nodes_[index];
    if (node.operation == Operation::constant) return;
    if (node.operation == Operation::input) {
      vectors_[index] = node.detail;
      result_.is_used_[node.detail] = true;
      return;
    }
    Call call{node, none};
    for (std::size_t k = 0; k < node.argument_count; ++k) {
      call.node.arguments[k] = vector_of(node.arguments[k]);
    }
    // The function reads three vectors, whatever it makes of them.
    for (std::size_t k = node.argument_count; k < std::size(call.node.arguments); ++k) {
      call.node.arguments[k] = call.node.arguments[0];
    }
    // The target is taken before arguments are released: a loop never writes where it reads.
    call.target = vectors_[index] = take_slot();
    release_arguments(node);
    result_.calls_.push_back(call);
  }

  // A number where a vector is expected is written once into a slot that stays.
  std::uint32_t vector_of(std::uint32_t index) {
    if (vectors_[index] != none) return vectors_[index];
    vectors_[index] = new_slot();
    result_.constants_.push_back({vectors_[index], nodes_[index].number});
    return vectors_[index];
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
      if (--readers_[index] == 0) free_slots_.push_back(vectors_[index]);
    }
  }

  void place_results(const std::vector<std::uint32_t>& wanted) {
    std::map<std::uint32_t, Eigen::Index> columns;
    for (const std::uint32_t node : wanted) {
      if (nodes_[node].operation == Operation::constant) {
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
  std::vector<std::uint32_t> vectors_;
  std::vector<std::uint32_t> free_slots_;
  SampleEvaluator& result_;
};

// The vectors of one chunk of samples: columns of inputs, or their typical values, then slots.
class SampleEvaluator::Vectors {
 public:
  Vectors(const SampleEvaluator& of, std::span<const double* const> columns)
      : columns_(columns.begin(), columns.end()),
        steps_(columns.size(), 1),
        slots_(chunk, static_cast<Eigen::Index>(of.slot_count_)) {
    std::vector<std::size_t> missing;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      if (columns[i] == nullptr && of.is_used_[i]) missing.push_back(i);
    }
    typical_.resize(chunk, static_cast<Eigen::Index>(missing.size()));
    for (std::size_t k = 0; k < missing.size(); ++k) {
      auto values = typical_.col(static_cast<Eigen::Index>(k));
      values = of.inputs_[missing[k]].range.typical;
      columns_[missing[k]] = values.data();
      steps_[missing[k]] = 0;
    }
    for (const FilledSlot& constant : of.constants_) std::fill_n(slot(constant.slot), chunk, constant.value);
  }

  [[nodiscard]] const double* at(std::uint32_t number) const {
    return number < columns_.size() ? columns_[number] : &slots_(0, slot_of(number));
  }
  [[nodiscard]] double* slot(std::uint32_t number) { return &slots_(0, slot_of(number)); }
  void advance(Eigen::Index samples) {
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      if (columns_[i] != nullptr) columns_[i] += steps_[i] * samples;
    }
  }

 private:
  [[nodiscard]] Eigen::Index slot_of(std::uint32_t number) const {
    return static_cast<Eigen::Index>(number - columns_.size());
  }

  std::vector<const double*> columns_;
  std::vector<Eigen::Index> steps_;  // 0 for typical values, which stay
  Eigen::ArrayXXd typical_;
  Eigen::ArrayXXd slots_;
};

SampleEvaluator::SampleEvaluator(const Ledger& ledger, const std::vector<Figure>& wanted)
    : SampleEvaluator(std::vector{WantedFigures{&ledger, wanted}}, ExactInputs::may_move) {}

SampleEvaluator::SampleEvaluator(std::span<const WantedFigures> wanted, ExactInputs exact_inputs) {
  SharedFormulas formulas = share_formulas(wanted, exact_inputs);
  inputs_ = std::move(formulas.inputs);
  is_used_.resize(inputs_.size());
  tables_ = std::move(formulas.tables);
  for (const LookupTable& table : tables_) slopes_.push_back(segment_slopes(table));
  const Compiler compiler(formulas, *this);
}

std::vector<std::uint32_t> SampleEvaluator::used_inputs() const {
  std::vector<std::uint32_t> used;
  for (std::uint32_t i = 0; i < is_used_.size(); ++i) {
    if (is_used_[i]) used.push_back(i);
  }
  return used;
}

void SampleEvaluator::run(const Call& call, Vectors& vectors, Eigen::Index length) const {
  double* __restrict const target = vectors.slot(call.target);
  const double* __restrict const a = vectors.at(call.node.arguments[0]);
  const double* __restrict const b = vectors.at(call.node.arguments[1]);
  const double* __restrict const c = vectors.at(call.node.arguments[2]);
  const std::uint32_t table = call.node.detail;
  const auto read_table = [&](double x) { return value_at(tables_[table], slopes_[table], x); };
  with_function(call.node, read_table, [=](auto function) {
    for (Eigen::Index i = 0; i < length; ++i) target[i] = function(a[i], b[i], c[i]);
  });
}

Eigen::ArrayXXd SampleEvaluator::evaluate_distinct(std::span<const double* const> columns,
                                                   Eigen::Index count) const {
  if (columns.size() != inputs_.size()) {
    throw LedgerError(
        fmt::format("{} input columns given, the ledger has {} inputs", columns.size(), inputs_.size()));
  }
  Eigen::ArrayXXd result(count, distinct_count());
  Vectors vectors(*this, columns);
  for (Eigen::Index first = 0; first < count; first += chunk) {
    const Eigen::Index length = std::min(chunk, count - first);
    for (const Call& call : calls_) run(call, vectors, length);
    for (Eigen::Index i = 0; i < result.cols(); ++i) {
      std::copy_n(vectors.at(distinct_[static_cast<std::size_t>(i)]), length, &result(first, i));
    }
    vectors.advance(length);
  }
  return result;
}

Eigen::ArrayXXd SampleEvaluator::evaluate(std::span<const double* const> columns, Eigen::Index count) const {
  const Eigen::ArrayXXd distinct = evaluate_distinct(columns, count);
  Eigen::ArrayXXd result(count, static_cast<Eigen::Index>(places_.size()));
  for (Eigen::Index i = 0; i < result.cols(); ++i) {
    const Place& place = places_[static_cast<std::size_t>(i)];
    if (place.is_fixed) {
      result.col(i) = place.value;
    } else {
      result.col(i) = distinct.col(place.column);
    }
  }
  return result;
}

}  // namespace portweigh::figures
