// Evaluates wanted figures over a block of samples, structure of arrays.
//
// Prepared once for (ledger, wanted figures): nodes nobody needs are dropped, what depends on constants only
// is folded, and results share few slots (a slot is free again after its last reader), so that a chunk of
// samples stays in the cache. Each instruction then runs over the whole chunk as vector arithmetic; nothing
// is allocated in the loop. The evaluator copies what it needs and doesn't refer to the ledger afterwards.
// evaluate() is const: any number of threads may share one evaluator, each with its own Scratch. The result
// doesn't depend on how samples are split.
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

namespace portweigh::figures {

class SampleEvaluator {
 public:
  static constexpr Eigen::Index chunk = 256;

  // Caller-owned working memory of one thread; valid for the evaluator that made it.
  class Scratch {
   private:
    friend class SampleEvaluator;
    Eigen::ArrayXXd slots_;  // chunk x slots
  };

  SampleEvaluator(const Ledger& ledger, const std::vector<Figure>& wanted);

  [[nodiscard]] Scratch make_scratch() const;

  // `columns`: one pointer for each ledger input, to `count` values in SI, or null for the typical value.
  // Result: count x wanted figures, SI, columns in the order of `wanted`.
  [[nodiscard]] Eigen::ArrayXXd evaluate(std::span<const double* const> columns, Eigen::Index count,
                                         Scratch& scratch) const;
  // The same into memory the caller owns; `result` must be count x wanted figures.
  void evaluate_into(Eigen::Ref<Eigen::ArrayXXd> result, std::span<const double* const> columns,
                     Scratch& scratch) const;

  [[nodiscard]] const std::vector<std::uint32_t>& used_inputs() const {
    return used_inputs_;
  }  // input numbers
  [[nodiscard]] std::size_t instruction_count() const { return program_.size(); }
  [[nodiscard]] std::size_t slot_count() const { return slot_count_; }

 private:
  // An operand is a constant, an input column, or a slot.
  struct Operand {
    enum class Kind : std::uint8_t { constant, input, slot } kind = Kind::constant;
    std::uint32_t index = 0;  // input number or slot number
    double number = 0.0;
  };
  struct Instruction {
    Operation operation = Operation::same;
    std::uint32_t target = 0;  // slot number
    Operand operands[3];
    double exponent = 0.0;
    std::uint32_t table = 0;
  };
  class Compiler;
  class Block;

  std::vector<Instruction> program_;
  std::vector<Operand> results_;
  std::vector<LookupTable> tables_;
  std::vector<std::vector<double>> slopes_;  // of each table
  std::vector<double> typical_;              // of every input
  std::vector<std::uint32_t> used_inputs_;
  std::size_t input_count_ = 0;
  std::size_t slot_count_ = 0;
};

}  // namespace portweigh::figures
