#include "udunits_fixture.hpp"

#include <udunits2.h>

#include <memory>
#include <string_view>

namespace portweigh::figures::test {
namespace {

struct FreeSystem {
  void operator()(ut_system* system) const { ut_free_system(system); }
};
struct FreeUnit {
  void operator()(ut_unit* unit) const { ut_free(unit); }
};

ut_system* shared_system() {
  static const std::unique_ptr<ut_system, FreeSystem> system = [] {
    ut_set_error_message_handler(ut_ignore);
    return std::unique_ptr<ut_system, FreeSystem>(ut_read_xml(nullptr));
  }();
  return system.get();
}

// What the visitor collects: the unit is value * factor + offset of the product of base units.
struct Visit {
  ScaledDimension result;
};

// Exponent of one base unit; false for bases that portweigh has no dimension for. The radian is one of them:
// the library takes rpm as 2 pi / 60 s, which a reader of frequencies would not expect.
bool add_base(const ut_unit* basic, int power, std::array<int, 6>& exponents) {
  const char* const symbol_text = ut_get_symbol(basic, UT_ASCII);
  const std::string_view symbol = symbol_text != nullptr ? symbol_text : "";
  constexpr std::string_view symbols[] = {"m", "kg", "s", "A", "K"};
  for (std::size_t i = 0; i < std::size(symbols); ++i) {
    if (symbols[i] == symbol) {
      exponents[i] += power;
      return true;
    }
  }
  return false;
}

ut_status visit_product(const ut_unit*, int count, const ut_unit* const* basics, const int* powers,
                        void* argument) {
  std::array<int, 6> exponents{};
  for (int i = 0; i < count; ++i) {
    if (powers[i] < -100 || powers[i] > 100 || !add_base(basics[i], powers[i], exponents))
      return UT_MEANINGLESS;
  }
  static_cast<Visit*>(argument)->result.dimension = from_exponents(exponents);
  return UT_SUCCESS;
}

ut_status visit_basic(const ut_unit* unit, void* argument) {
  constexpr int one = 1;
  return visit_product(unit, 1, &unit, &one, argument);
}

extern const ut_visitor visitor;

// The library's galilean unit: value in the underlying unit = scale * value + offset * scale.
ut_status visit_galilean(const ut_unit*, double scale, const ut_unit* underlying, double offset,
                         void* argument) {
  const ut_status status = ut_accept_visitor(underlying, &visitor, argument);
  auto& result = static_cast<Visit*>(argument)->result;
  result.offset += result.factor * scale * offset;
  result.factor *= scale;
  return status;
}

ut_status visit_timestamp(const ut_unit*, const ut_unit*, double, void*) {
  return UT_MEANINGLESS;
}
ut_status visit_logarithmic(const ut_unit*, double, const ut_unit*, void*) {
  return UT_MEANINGLESS;
}

const ut_visitor visitor = {visit_basic, visit_product, visit_galilean, visit_timestamp, visit_logarithmic};

}  // namespace

std::optional<ScaledDimension> look_up_in_udunits(const std::string& text) {
  if (shared_system() == nullptr) return std::nullopt;
  const std::unique_ptr<ut_unit, FreeUnit> unit(ut_parse(shared_system(), text.c_str(), UT_UTF8));
  if (!unit) return std::nullopt;
  Visit visit;
  if (ut_accept_visitor(unit.get(), &visitor, &visit) != UT_SUCCESS) return std::nullopt;
  return visit.result;
}

}  // namespace portweigh::figures::test
