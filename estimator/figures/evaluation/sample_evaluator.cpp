#include "figures/evaluation/sample_evaluator.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <limits>
#include <map>

#include "figures/evaluation/operations.hpp"

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
    for (std::uint32_t i = 0; i < nodes_.size(); ++i) place_known(i);
    for (std::uint32_t i = 0; i < nodes_.size(); ++i) {
      if (vectors_[i] == none) emit(i);
    }
    place_results(formulas.wanted);
  }

 private:
  static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

  void place_known(std::uint32_t index) {
    const Node& node = nodes_[index];
    if (node.operation == Operation::input) {
      vectors_[index] = node.detail;
      result_.is_used_[node.detail] = true;
    } else if (node.operation == Operation::constant) {
      vectors_[index] = first_slot();
      result_.constants_.push_back(node.number);
    }
  }

  void emit(std::uint32_t index) {
    const Node& node = nodes_[index];
    Call call{node, none};
    // The function reads three vectors, whatever it makes of them.
    for (std::size_t k = 0; k < std::size(call.node.arguments); ++k) {
      call.node.arguments[k] = vectors_[node.arguments[k < node.argument_count ? k : 0]];
    }
    // The target is taken before arguments are released: a loop never writes where it reads.
    call.target = take_slot();
    vectors_[index] = first_slot() + call.target;
    release_arguments(node);
    result_.calls_.push_back(call);
  }

  [[nodiscard]] std::uint32_t first_slot() const {
    return static_cast<std::uint32_t>(result_.inputs_.size() + result_.constants_.size());
  }

  std::uint32_t take_slot() {
    if (free_slots_.empty()) return static_cast<std::uint32_t>(result_.slot_count_++);
    const auto slot = free_slots_.back();
    free_slots_.pop_back();
    return slot;
  }

  void release_arguments(const Node& node) {
    for (std::size_t k = 0; k < node.argument_count; ++k) {
      const std::uint32_t index = node.arguments[k];
      const Operation operation = nodes_[index].operation;
      if (operation == Operation::constant || operation == Operation::input) continue;
      if (--readers_[index] == 0) free_slots_.push_back(vectors_[index] - first_slot());
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

// What calls read and write for one chunk of samples.
class SampleEvaluator::Vectors {
 public:
  // One value for each sample, or one for all.
  struct Vector {
    const double* values = nullptr;
    Eigen::Index step = 1;  // 0: one for all
  };

  Vectors(const SampleEvaluator& of, std::span<const double* const> columns)
      : first_slot_(of.inputs_.size() + of.constants_.size()),
        slots_(chunk, static_cast<Eigen::Index>(of.slot_count_)) {
    for (std::size_t i = 0; i < columns.size(); ++i) {
      if (columns[i] != nullptr) {
        vectors_.push_back({columns[i], 1});
      } else {
        vectors_.push_back({&of.inputs_[i].range.typical, 0});
      }
    }
    for (const double& constant : of.constants_) vectors_.push_back({&constant, 0});
    for (Eigen::Index i = 0; i < slots_.cols(); ++i) vectors_.push_back({slots_.col(i).data(), 1});
  }

  [[nodiscard]] const Vector& at(std::uint32_t number) const { return vectors_[number]; }
  [[nodiscard]] double* slot(std::uint32_t number) { return slots_.col(number).data(); }
  void advance(Eigen::Index samples) {
    for (std::size_t i = 0; i < first_slot_; ++i) vectors_[i].values += vectors_[i].step * samples;
  }

 private:
  std::size_t first_slot_;
  Eigen::ArrayXXd slots_;
  std::vector<Vector> vectors_;  // inputs, constants, slots
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
  double* const target = vectors.slot(call.target);
  const auto [a, a_step] = vectors.at(call.node.arguments[0]);
  const auto [b, b_step] = vectors.at(call.node.arguments[1]);
  const auto [c, c_step] = vectors.at(call.node.arguments[2]);
  const std::uint32_t table = call.node.detail;
  const auto read_table = [&](double x) { return value_at(tables_[table], slopes_[table], x); };
  with_function(call.node, read_table, [&](auto function) {
    // The first three are vector code; numbers among the arguments are not read again and again.
    if (a_step * b_step * c_step != 0) {
      for (Eigen::Index i = 0; i < length; ++i) target[i] = function(a[i], b[i], c[i]);
    } else if (a_step != 0 && call.node.argument_count == 2) {
      const double number = *b;
      for (Eigen::Index i = 0; i < length; ++i) target[i] = function(a[i], number, number);
    } else if (b_step != 0 && call.node.argument_count == 2) {
      const double number = *a;
      for (Eigen::Index i = 0; i < length; ++i) target[i] = function(number, b[i], number);
    } else {
      for (Eigen::Index i = 0; i < length; ++i) {
        target[i] = function(a[i * a_step], b[i * b_step], c[i * c_step]);
      }
    }
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
      const auto& [values, step] = vectors.at(distinct_[static_cast<std::size_t>(i)]);
      for (Eigen::Index k = 0; k < length; ++k) result(first + k, i) = values[k * step];
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
