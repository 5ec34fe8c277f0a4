// Evaluates wanted figures over a block of samples, structure of arrays.
//
// Prepared once for the wanted figures of one ledger or of several: what they share is computed once
// (shared_formulas.hpp), what depends on constants only is folded, and results share few slots (a slot is
// free again after its last reader), so that a chunk of samples stays in the cache. Each call then runs over
// the whole chunk as vector arithmetic (sample_kernels.hpp); nothing is allocated in the loop. The evaluator
// copies what it needs and doesn't refer to the ledgers afterwards. evaluate() is const: any number of
// threads may share one evaluator, each with its own Scratch. The result doesn't depend on how samples are
// split.
//
// Worked example:
//     const SampleEvaluator evaluator(ledger, {unit_cost, active_power});
//     auto scratch = evaluator.make_scratch();
//     std::vector<const double*> columns(ledger.inputs().size(), nullptr);   // nullptr: typical value
//     columns[3] = volume_samples.data();
//     Eigen::ArrayXXd result = evaluator.evaluate(columns, 10000, scratch);  // 10000 x 2, SI
// Tested by tests/figures/sample_evaluator_test.cpp.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <span>
#include <vector>

#include "figures/ledger.hpp"
#include "figures/sample_kernels.hpp"
#include "figures/shared_formulas.hpp"

namespace portweigh::figures {

class SampleEvaluator {
 public:
  static constexpr Eigen::Index chunk = 256;

  // Caller-owned working memory of one thread; valid for the evaluator that made it.
  class Scratch {
   private:
    friend class SampleEvaluator;
    Eigen::ArrayXXd slots_;               // chunk x slots
    Eigen::ArrayXXd typical_;             // chunk x inputs without a column
    std::vector<const double*> columns_;  // of the chunk that is being evaluated
  };

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

  [[nodiscard]] Scratch make_scratch() const;

  // `columns`: one pointer for each input, to `count` values in SI, or null for the typical value.
  // Result: count x wanted figures, SI, columns in the order wanted.
  [[nodiscard]] Eigen::ArrayXXd evaluate(std::span<const double* const> columns, Eigen::Index count,
                                         Scratch& scratch) const;
  // The same into memory the caller owns; `result` must be count x wanted figures.
  void evaluate_into(Eigen::Ref<Eigen::ArrayXXd> result, std::span<const double* const> columns,
                     Scratch& scratch) const;
  // Each figure that isn't fixed, once: count x distinct_count(), columns as places() says.
  [[nodiscard]] Eigen::ArrayXXd evaluate_distinct(std::span<const double* const> columns, Eigen::Index count,
                                                  Scratch& scratch) const;

  [[nodiscard]] const std::vector<Place>& places() const { return places_; }  // of each wanted figure
  [[nodiscard]] Eigen::Index distinct_count() const { return static_cast<Eigen::Index>(distinct_.size()); }
  [[nodiscard]] const std::vector<SharedInput>& inputs() const { return inputs_; }
  [[nodiscard]] const std::vector<std::uint32_t>& used_inputs() const {
    return used_inputs_;
  }                                                                               // input numbers
  [[nodiscard]] std::size_t operation_count() const { return operation_count_; }  // of each sample
  [[nodiscard]] std::size_t slot_count() const { return slot_count_; }

 private:
  class Compiler;

  void compile(const SharedFormulas& formulas);
  template <class Sink>
  void run(std::span<const double* const> columns, Eigen::Index count, Scratch& scratch, Sink sink) const;
  void fill_columns(std::span<const double* const> columns, Scratch& scratch) const;

  std::vector<KernelCall> constants_;  // filled once, when scratch memory is made
  std::vector<KernelCall> calls_;
  std::vector<Place> places_;
  std::vector<std::uint32_t> distinct_;  // vector of each distinct figure
  std::vector<LookupTable> tables_;
  std::vector<std::vector<double>> slopes_;  // of each table
  std::vector<SharedInput> inputs_;
  std::vector<std::uint32_t> used_inputs_;
  std::size_t operation_count_ = 0;
  std::size_t slot_count_ = 0;
};

}  // namespace portweigh::figures
