#include "options/family/family_search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>

namespace portweigh::options {
namespace {

// The same choices with items as numbers.
struct NumberedChoice {
  double own_cost = 0;
  std::vector<std::pair<std::size_t, double>> shared;
};

class Search {
 public:
  explicit Search(const FamilyProducts& products) {
    std::map<std::string, std::size_t> numbers;
    for (const auto& options : products) {
      auto& numbered = products_.emplace_back();
      for (const FamilyChoice& option : options) {
        NumberedChoice choice{option.own_cost, {}};
        for (const auto& [item, cost] : option.shared) {
          choice.shared.emplace_back(numbers.try_emplace(item, numbers.size()).first->second, cost);
        }
        numbered.push_back(std::move(choice));
      }
    }
    paid_.assign(numbers.size(), 0);
    count_takers(numbers.size());
    chosen_.assign(products.size(), 0);
    best_.chosen = best_alone(products);
    best_.cost = family_cost(products, best_.chosen);
  }

  FamilyOptimum run() {
    visit(0, 0);
    return best_;
  }

 private:
  // takers_[p][item]: products from p on with an option that takes the item.
  void count_takers(std::size_t items) {
    takers_.assign(products_.size() + 1, std::vector<double>(items, 0));
    for (std::size_t p = products_.size(); p-- > 0;) {
      takers_[p] = takers_[p + 1];
      std::vector<bool> takes(items, false);
      for (const auto& option : products_[p]) {
        for (const auto& [item, cost] : option.shared) takes[item] = true;
      }
      for (std::size_t item = 0; item < items; ++item) takers_[p][item] += takes[item] ? 1 : 0;
    }
  }

  double addition(const NumberedChoice& option) const {
    double cost = option.own_cost;
    for (const auto& [item, of_item] : option.shared) cost += std::max(0.0, of_item - paid_[item]);
    return cost;
  }

  double bound_from(std::size_t product) const {
    double bound = 0;
    for (std::size_t p = product; p < products_.size(); ++p) {
      double least = std::numeric_limits<double>::infinity();
      for (const auto& option : products_[p]) {
        double cost = option.own_cost;
        for (const auto& [item, of_item] : option.shared) {
          cost += std::max(0.0, of_item - paid_[item]) / takers_[product][item];
        }
        least = std::min(least, cost);
      }
      bound += least;
    }
    return bound;
  }

  void visit(std::size_t product, double cost) {
    ++best_.visited;
    if (product == products_.size()) {
      if (cost < best_.cost) {
        best_.cost = cost;
        best_.chosen = chosen_;
      }
      return;
    }
    if (cost + bound_from(product) >= best_.cost) return;
    std::vector<std::pair<double, std::size_t>> order;
    for (std::size_t i = 0; i < products_[product].size(); ++i) {
      order.emplace_back(addition(products_[product][i]), i);
    }
    std::sort(order.begin(), order.end());
    for (const auto& [added, option] : order) {
      if (cost + added >= best_.cost) break;
      const auto& shared = products_[product][option].shared;
      std::vector<double> before;
      for (const auto& [item, of_item] : shared) {
        before.push_back(paid_[item]);
        paid_[item] = std::max(paid_[item], of_item);
      }
      chosen_[product] = option;
      visit(product + 1, cost + added);
      for (std::size_t i = 0; i < shared.size(); ++i) paid_[shared[i].first] = before[i];
    }
  }

  std::vector<std::vector<NumberedChoice>> products_;
  std::vector<std::vector<double>> takers_;
  std::vector<double> paid_;
  std::vector<std::size_t> chosen_;
  FamilyOptimum best_;
};

double cost_alone(const FamilyChoice& choice) {
  double cost = choice.own_cost;
  for (const auto& [item, of_item] : choice.shared) cost += of_item;
  return cost;
}

void require_valid(const FamilyProducts& products) {
  const auto is_cost = [](double cost) { return std::isfinite(cost) && cost >= 0; };
  for (const auto& options : products) {
    if (options.empty()) throw std::invalid_argument("a product of the family has no option");
    for (const FamilyChoice& option : options) {
      bool is_right = is_cost(option.own_cost);
      for (const auto& [item, cost] : option.shared) is_right = is_right && is_cost(cost);
      if (!is_right) throw std::invalid_argument("a cost of the family is negative or not finite");
    }
  }
}

}  // namespace

double family_cost(const FamilyProducts& products, const std::vector<std::size_t>& chosen) {
  double cost = 0;
  std::map<std::string, double> paid;
  for (std::size_t p = 0; p < products.size(); ++p) {
    const FamilyChoice& option = products[p][chosen[p]];
    cost += option.own_cost;
    for (const auto& [item, of_item] : option.shared) paid[item] = std::max(paid[item], of_item);
  }
  for (const auto& [item, of_item] : paid) cost += of_item;
  return cost;
}

std::vector<std::size_t> best_alone(const FamilyProducts& products) {
  std::vector<std::size_t> chosen;
  for (const auto& options : products) {
    const auto least = std::min_element(options.begin(), options.end(), [](const auto& a, const auto& b) {
      return cost_alone(a) < cost_alone(b);
    });
    chosen.push_back(static_cast<std::size_t>(least - options.begin()));
  }
  return chosen;
}

FamilyOptimum best_family(const FamilyProducts& products) {
  require_valid(products);
  return Search(products).run();
}

}  // namespace portweigh::options
