#include "parts/effort.hpp"

#include "reading/document.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {
namespace {

using namespace reading;
namespace dims = figures::dimensions;

QuantityRule plain(double lower, double upper) {
  return QuantityRule(dims::dimensionless).between(lower, upper);
}

QuantityRule working_time() {
  constexpr double ten_years_s = 3.2e8;
  return QuantityRule(dims::time).between(0, ten_years_s);
}

}  // namespace

Effort read_effort(const std::filesystem::path& file) {
  static const Fields<Effort> fields = {
      range("cocomo_a", &Effort::cocomo_a, plain(0.1, 20), "1", "person-months for a thousand source lines"),
      range("cocomo_b", &Effort::cocomo_b, plain(0.8, 1.5), "1", "exponent of the size"),
      range("person_month", &Effort::person_month, working_time(), "h", "working time of a person-month"),
      range("bytes_per_line", &Effort::bytes_per_line, plain(1, 100), "1", "code bytes of a source line"),
      range("logic_time_per_lut", &Effort::logic_time_per_lut, working_time(), "h",
            "design and verification of one LUT of new logic"),
      range("fixed_function_time", &Effort::fixed_function_time, working_time(), "h",
            "configuration and bring-up of a fixed-function part"),
      range("integration_time", &Effort::integration_time, working_time(), "h",
            "board bring-up and system test of any option"),
      range("second_engine_time", &Effort::second_engine_time, working_time(), "h",
            "making a further engine work with the first"),
      range("rework_share", &Effort::rework_share, plain(0, 1), "1",
            "share of a block's effort that a revision touching it costs")};
  auto document = Document::load(file);
  auto root = document.root();
  root.optional_string("source");
  root.optional_string("summary");
  Effort effort;
  read_record(root, fields, effort);
  root.finish();
  document.throw_if_errors();
  return effort;
}

}  // namespace portweigh::parts
