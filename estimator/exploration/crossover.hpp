// Where the leader changes as one input moves, and the smallest change of any input that does it.
//
// The range is sampled at a few hundred points; between neighbours with different leaders the change is
// bracketed by bisection to a relative width of 1e-9, and the halves are searched again, so that several
// changes between two points are found as long as one of the points in between sees them. Between neighbours
// with the same leader the score of the next option is watched: where it comes close, the interval is
// refined. Tested by tests/exploration/crossover_test.cpp, also on functions with several known crossings.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "exploration/axis.hpp"
#include "exploration/field.hpp"

namespace portweigh::exploration {

struct Crossover {
  double below = 0;                // last value found with the earlier leader
  double above = 0;                // first with the later one
  Eigen::Index leader_below = -1;  // -1: no option is feasible
  Eigen::Index leader_above = -1;
};

// What is searched: for sorted values of the input, the leader at each and the gap between the leader's score
// and the next one's (the smaller, the likelier a change nearby).
struct Lead {
  Eigen::Index leader = -1;
  double gap = 0;
};
using LeadAt = std::function<std::vector<Lead>(const std::vector<double>&)>;

std::vector<Crossover> find_crossovers(const Axis& axis, const LeadAt& lead_at);

// Who leads: the option with the largest score among the feasible ones, or the one with the least figure
// (feasible or not), the gap then being the relative difference to the next.
enum class LeadBy { score, least_figure };

std::vector<Lead> leads_of(const FieldValues& values, LeadBy by);

// The leads of a field along one input; by its figure where asked for.
LeadAt lead_along(const Field& field, std::string input, LeadBy by = LeadBy::score);

// The nearest change of the leader when one input leaves its typical value.
struct Flip {
  std::string input;
  double typical = 0;            // SI
  double value = 0;              // where the leader changes
  double relative = 0;           // (value - typical) / base
  bool is_within_range = false;  // inside the input's low..high
  Eigen::Index new_leader = -1;
  double base = 0;              // what the change is a share of
  bool is_temperature = false;  // its change is told in kelvin
};

// For each input of any option (exact counts left out), the change nearest to its typical value within a
// factor of `reach` either way; inputs that never change the leader are left out. Smallest relative change
// first. `base` is the typical value; the ambient, whose zero says nothing, is moved between what studies may
// give, -73 and 177 degC, and its base is its distance to the lowest limit on a temperature (to 177 degC
// without one): from 30 to 41 degC below a limit of 85 degC is a relative change of 11 K / 55 K = 0.2.
std::vector<Flip> find_flips(const std::vector<options::Option>& options, const Field& field,
                             double reach = 10);

}  // namespace portweigh::exploration
