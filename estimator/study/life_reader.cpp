// The years of production: ramp, falling prices, learning, stock; and what the company has already.
#include "study/study_reader.hpp"

namespace portweigh::study {

using namespace reading;
namespace dims = figures::dimensions;

const Fields<Life>& life_fields() {
  using L = Life;
  const auto share = QuantityRule(dims::dimensionless).between(0, 1);
  static const Fields<Life> fields = {
      quantities("volume_ramp", &L::volume_ramp, QuantityRule(dims::dimensionless).between(0, 10), "1",
                 "share of volume_per_year made in the first, second, ... year; the last holds on",
                 Presence::optional),
      range("price_erosion", &L::price_erosion, QuantityRule(dims::dimensionless).between(0, 0.5), "1",
            "share by which part prices fall a year")
          .as_input("share by which part prices fall a year"),
      range("learning_rate", &L::learning_rate, QuantityRule(dims::dimensionless).between(0.5, 1), "1",
            "cost of production after twice the units, as a share")
          .as_input("cost after twice the units"),
      choice("learning_curve", &L::learning_curve,
             {{"wright", LearningCurve::wright}, {"crawford", LearningCurve::crawford}},
             "what the rate is about: the mean of all units so far, or the latest unit", Presence::optional),
      range("learning_reference", &L::learning_reference, QuantityRule(dims::dimensionless).between(1, 1e9),
            "1", "units made when the study's production costs hold")
          .as_input("units made when production costs hold"),
      range("carrying_cost", &L::carrying_cost, share, "1",
            "share of a stock's value that a year of storage costs; absent: discount_rate")
          .as_input("yearly cost of a stock by its value")};
  return fields;
}

const Fields<Reuse>& reuse_fields() {
  using R = Reuse;
  static const Fields<Reuse> fields = {
      words("logic_blocks", &R::logic_blocks, "blocks that exist as verified logic", Presence::optional),
      words("firmware_blocks", &R::firmware_blocks, "blocks that exist as tested firmware",
            Presence::optional),
      words("parts", &R::parts, "parts that are approved, with the tools of their family",
            Presence::optional)};
  return fields;
}

}  // namespace portweigh::study
