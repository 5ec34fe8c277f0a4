// Evaluates wanted figures over many samples, structure of arrays.
//
// Prepared once for the wanted figures of one ledger or of several: what they share is computed once
// (shared_formulas.hpp), what depends on constants only is folded, and results share few slots (a slot is
// free again after its last reader), so that a chunk of samples stays in the cache. Samples are then computed
// chunk by chunk, each operation (operations.hpp) as a loop over the chunk. The evaluator copies what it
// needs and doesn't refer to the ledgers afterwards; any number of threads may share one. The result doesn't
// depend on how samples are split.
//
// Worked example:
//     const SampleEvaluator evaluator(ledger, {unit_cost, active_power});
//     std::vector<const double*> columns(ledger.inputs().size(), nullptr);   // nullptr: typical value
//     columns[3] = volume_samples.data();
//     Eigen::ArrayXXd result = evaluator.evaluate(columns, 10000);           // 10000 x 2, SI
// Tested by tests/figures/evaluation/sample_evaluator_test.cpp.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <span>
#include <vector>

#include "figures/evaluation/shared_formulas.hpp"
#include "figures/ledger/ledger.hpp"

namespace portweigh::figures {

class SampleEvaluator {
 public:
  // Where a wanted figure is found: a fixed value, or a column of evaluate_distinct.
  struct Place {
    bool is_fixed = false;
    double value = 0.0;
    Eigen::Index column = 0;
  };

  // Inputs are those of the ledger, in its order; any of them may be given a column.
  SampleEvaluator(const Ledger& ledger, const std::vector<Figure>& wanted);
  // Inputs are listed by inputs().
  SampleEvaluator(std::span<const WantedFigures> wanted, ExactInputs exact_inputs);

  // `columns`: one pointer for each input, to `count` values in SI, or null for the typical value.
  // Result: count x wanted figures, SI, columns in the order wanted.
  [[nodiscard]] Eigen::ArrayXXd evaluate(std::span<const double* const> columns, Eigen::Index count) const;
  // Each figure that isn't fixed, once: count x distinct_count(), columns as places() says.
  [[nodiscard]] Eigen::ArrayXXd evaluate_distinct(std::span<const double* const> columns,
                                                  Eigen::Index count) const;

  [[nodiscard]] const std::vector<Place>& places() const { return places_; }  // of each wanted figure
  [[nodiscard]] Eigen::Index distinct_count() const { return static_cast<Eigen::Index>(distinct_.size()); }
  [[nodiscard]] const std::vector<SharedInput>& inputs() const { return inputs_; }
  // Numbers of the inputs that the figures depend on.
  [[nodiscard]] std::vector<std::uint32_t> used_inputs() const;
  [[nodiscard]] std::size_t operation_count() const { return calls_.size(); }  // of each sample
  [[nodiscard]] std::size_t slot_count() const { return slot_count_; }

 private:
  class Compiler;
  class Vectors;

  // An operation whose arguments are numbers of vectors: inputs, constants, slots.
  struct Call {
    Node node;
    std::uint32_t target = 0;  // number of a slot
  };

  void run(const Call& call, Vectors& vectors, Eigen::Index length) const;

  std::vector<double> constants_;
  std::vector<Call> calls_;
  std::vector<Place> places_;
  std::vector<std::uint32_t> distinct_;  // vector of each distinct figure
  std::vector<LookupTable> tables_;
  std::vector<std::vector<double>> slopes_;  // of each table
  std::vector<SharedInput> inputs_;
  std::vector<bool> is_used_;  // of each input
  std::size_t slot_count_ = 0;
};

}  // namespace portweigh::figures
