// The loops themselves, included once by each file that compiles them for an instruction set.
//
// All is local to the including file, and no inline function of the standard library is called in the loops:
// the linker must not take a copy made for newer processors for the rest of the program.
#pragma once

#include "figures/elementary.hpp"
#include "figures/sample_kernels.hpp"

namespace portweigh::figures {
namespace {

class Loops {
 public:
  explicit Loops(const KernelWork& work) : work_(work), n_(work.length) {}

  void run(const KernelCall& call) const {
    double* const target = slot(call.target);
    const double* const a = vector(call.arguments[0]);
    const double* const b = vector(call.arguments[1]);
    const double* const c = vector(call.arguments[2]);
    const double number = call.number;
    switch (call.kernel) {
      case Kernel::add:
        return binary(target, a, b, [](double x, double y) { return x + y; });
      case Kernel::add_number:
        return unary(target, a, [number](double x) { return x + number; });
      case Kernel::subtract:
        return binary(target, a, b, [](double x, double y) { return x - y; });
      case Kernel::subtract_number:
        return unary(target, a, [number](double x) { return x - number; });
      case Kernel::from_number:
        return unary(target, a, [number](double x) { return number - x; });
      case Kernel::multiply:
        return binary(target, a, b, [](double x, double y) { return x * y; });
      case Kernel::multiply_number:
        return unary(target, a, [number](double x) { return x * number; });
      case Kernel::divide:
        return binary(target, a, b, [](double x, double y) { return x / y; });
      case Kernel::divide_number:
        return unary(target, a, [number](double x) { return number / x; });
      case Kernel::multiply_add:
        return ternary(target, a, b, c, [](double x, double y, double z) { return x * y + z; });
      case Kernel::scale_add:
        return binary(target, a, c, [number](double x, double z) { return x * number + z; });
      case Kernel::minimum:
        return binary(target, a, b, [](double x, double y) { return x < y ? x : y; });
      case Kernel::maximum:
        return binary(target, a, b, [](double x, double y) { return x > y ? x : y; });
      case Kernel::at_least:
        return binary(target, a, b, [](double x, double y) { return x >= y ? 1.0 : 0.0; });
      case Kernel::square:
        return unary(target, a, [](double x) { return x * x; });
      case Kernel::root:
        return unary(target, a, [](double x) { return __builtin_sqrt(x); });
      case Kernel::power:
        return power(target, a, number);
      case Kernel::raise:
        return raise(target, a, b);
      case Kernel::log:
        return logarithm(target, a);
      case Kernel::exp:
        return exponential(target, a);
      case Kernel::round_up:
        return unary(target, a, [](double x) { return __builtin_ceil(x); });
      case Kernel::round_down:
        return unary(target, a, [](double x) { return __builtin_floor(x); });
      case Kernel::lookup:
        return lookup(target, a, work_.tables[call.table]);
      case Kernel::select:
        return ternary(target, a, b, c, [](double x, double y, double z) { return x != 0.0 ? y : z; });
      case Kernel::fill:
        for (std::size_t i = 0; i < n_; ++i) target[i] = number;
        return;
    }
  }

 private:
  [[nodiscard]] double* slot(std::uint32_t number) const {
    return work_.slots + (number - work_.input_count) * work_.stride;
  }
  [[nodiscard]] const double* vector(std::uint32_t number) const {
    return number < work_.input_count ? work_.inputs[number] : slot(number);
  }

  template <class Function>
  void unary(double* __restrict target, const double* __restrict x, Function function) const {
    for (std::size_t i = 0; i < n_; ++i) target[i] = function(x[i]);
  }
  template <class Function>
  void binary(double* __restrict target, const double* __restrict x, const double* __restrict y,
              Function function) const {
    for (std::size_t i = 0; i < n_; ++i) target[i] = function(x[i], y[i]);
  }
  template <class Function>
  void ternary(double* __restrict target, const double* __restrict x, const double* __restrict y,
               const double* __restrict z, Function function) const {
    for (std::size_t i = 0; i < n_; ++i) target[i] = function(x[i], y[i], z[i]);
  }

  // How many of the values are out of the ordinary; a sum, since loops that leave early aren't vector code.
  template <class Test>
  [[nodiscard]] std::uint64_t count_special(const double* x, Test is_ordinary) const {
    std::uint64_t count = 0;
    for (std::size_t i = 0; i < n_; ++i) count += is_ordinary(x[i]) ? 0 : 1;
    return count;
  }

  void exponential(double* __restrict target, const double* __restrict x) const {
    if (count_special(x, [](double value) { return has_ordinary_exp(value); }) == 0)
      return unary(target, x, [](double value) { return ordinary_exp(value); });
    unary(target, x, [](double value) { return exp_of(value); });
  }

  void logarithm(double* __restrict target, const double* __restrict x) const {
    if (count_special(x, [](double value) { return has_ordinary_log(value); }) == 0)
      return unary(target, x, [](double value) { return ordinary_log(value); });
    unary(target, x, [](double value) { return log_of(value); });
  }

  // target = base^exponent(i); false where a value is out of the ordinary, then target holds nothing of use.
  template <class Exponent>
  [[nodiscard]] bool ordinary_power(double* __restrict target, const double* __restrict base,
                                    Exponent exponent) const {
    if (count_special(base, [](double value) { return has_ordinary_log(value); }) != 0) return false;
    double logarithms[longest_chunk];
    for (std::size_t i = 0; i < n_; ++i) logarithms[i] = exponent(i) * ordinary_log(base[i]);
    if (count_special(logarithms, [](double value) { return has_ordinary_exp(value); }) != 0) return false;
    unary(target, logarithms, [](double value) { return ordinary_exp(value); });
    return true;
  }

  void power(double* target, const double* base, double exponent) const {
    if (ordinary_power(target, base, [exponent](std::size_t) { return exponent; })) return;
    unary(target, base, [exponent](double x) { return power_of(x, exponent); });
  }

  void raise(double* target, const double* base, const double* exponent) const {
    if (ordinary_power(target, base, [exponent](std::size_t i) { return exponent[i]; })) return;
    binary(target, base, exponent, [](double x, double y) { return power_of(x, y); });
  }

  void lookup(double* __restrict target, const double* __restrict x, const KernelTable& table) const {
    if (table.points < 2) return lookup_each(target, x, table);
    const std::size_t last = table.points - 1;
    const double first_x = table.x[0];
    const double last_x = table.x[last];
    double left_x[longest_chunk];
    double left_y[longest_chunk];
    double slope[longest_chunk];
    for (std::size_t i = 0; i < n_; ++i) {
      left_x[i] = first_x;
      left_y[i] = table.y[0];
      slope[i] = table.slopes[0];
    }
    for (std::size_t point = 1; point < last; ++point) {
      const double point_x = table.x[point];
      const double point_y = table.y[point];
      const double point_slope = table.slopes[point];
      for (std::size_t i = 0; i < n_; ++i) {
        const bool is_past = x[i] >= point_x;
        left_x[i] = is_past ? point_x : left_x[i];
        left_y[i] = is_past ? point_y : left_y[i];
        slope[i] = is_past ? point_slope : slope[i];
      }
    }
    if (table.is_log_log) {
      double ratio[longest_chunk];
      for (std::size_t i = 0; i < n_; ++i) ratio[i] = x[i] / left_x[i];
      if (!ordinary_power(target, ratio, [&slope](std::size_t i) { return slope[i]; })) {
        return lookup_each(target, x, table);
      }
      for (std::size_t i = 0; i < n_; ++i) target[i] = left_y[i] * target[i];
    } else {
      for (std::size_t i = 0; i < n_; ++i) target[i] = left_y[i] + slope[i] * (x[i] - left_x[i]);
    }
    const double first_y = table.y[0];
    const double last_y = table.y[last];
    for (std::size_t i = 0; i < n_; ++i) {
      target[i] = x[i] <= first_x ? first_y : target[i];
      target[i] = x[i] >= last_x ? last_y : target[i];
    }
  }

  void lookup_each(double* target, const double* x, const KernelTable& table) const {
    for (std::size_t i = 0; i < n_; ++i) target[i] = value_at(*table.table, x[i]);
  }

  const KernelWork& work_;
  std::size_t n_;
};

void run_all(const KernelWork& work) {
  const Loops loops(work);
  for (std::size_t i = 0; i < work.call_count; ++i) loops.run(work.calls[i]);
}

}  // namespace
}  // namespace portweigh::figures
