// Speed of evaluating figures over samples: by node and sample, and its growth with samples, options, inputs
// and threads. Prints, never asserts.
//
//   sampling_bench STUDY CATALOG             prints the tables
//   sampling_bench --export STUDY CATALOG    prints all options' ledgers and our time for them as JSON, for
//                                            ledger_figures.py bench
// Times are the best of several runs of the evaluation alone, inputs already sampled, unless said otherwise.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

#include "decision/ranking.hpp"
#include "figures/evaluation/sample_evaluator.hpp"
#include "figures/ledger/export.hpp"
#include "options/search/consider.hpp"

namespace {

using namespace portweigh;

constexpr unsigned usual_samples = 10000;
const std::vector<std::string> budget_figures = {
    "active_power", "average_power",           "standby_power",
    "unit_cost",    "cost_per_unit_over_life", "junction_temperature"};

template <class Work>
double best_seconds(const Work& work, int runs = 7) {
  double best = 1e9;
  for (int run = 0; run < runs; ++run) {
    const auto start = std::chrono::steady_clock::now();
    work();
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
  }
  return best;
}

std::vector<figures::Figure> wanted_of(const options::Option& option) {
  std::vector<figures::Figure> wanted;
  for (const std::string& key : budget_figures) wanted.push_back(option.ledger.at(key));
  return wanted;
}

// One thread, all options, in groups of neighbours as a ranking takes them; inputs sampled already.
double evaluation_seconds(const std::vector<options::Option>& all) {
  std::vector<const figures::Ledger*> ledgers;
  for (const options::Option& option : all) ledgers.push_back(&option.ledger);
  const figures::SampleTable table(ledgers, usual_samples, 1);
  std::vector<figures::SampleEvaluator> evaluators;
  for (std::size_t first = 0; first < all.size(); first += decision::group_size) {
    std::vector<figures::WantedFigures> wanted;
    for (std::size_t i = first; i < std::min(first + decision::group_size, all.size()); ++i) {
      wanted.push_back({&all[i].ledger, wanted_of(all[i])});
    }
    evaluators.emplace_back(wanted, figures::ExactInputs::stay);
  }
  return best_seconds(
      [&] {
        for (const figures::SampleEvaluator& evaluator : evaluators) {
          std::vector<const double*> columns;
          for (const figures::SharedInput& input : evaluator.inputs()) {
            columns.push_back(table.column(input.key));
          }
          (void)evaluator.evaluate_distinct(columns, usual_samples);
        }
      },
      10);
}

std::vector<options::Option> first_options(const options::Context& context, std::size_t count) {
  auto all = options::consider(context, 2).options;
  if (all.size() > count) all.erase(all.begin() + static_cast<std::ptrdiff_t>(count), all.end());
  return all;
}

void print_line(const std::string& what, double seconds, double samples) {
  fmt::print("  {:<34}{:10.1f} ms {:12.0f} samples/s\n", what, 1e3 * seconds, samples / seconds);
}

// From options to ranking: sampling of inputs, evaluation, acceptability.
double rank_seconds(const std::vector<options::Option>& all, const study::Study& study, unsigned samples,
                    unsigned threads) {
  return best_seconds([&] { decision::rank(all, study, {samples, 1, threads}); }, 3);
}

void print_growth(const options::Context& context) {
  const auto all = first_options(context, 1000);
  const unsigned threads = std::max(1U, std::thread::hardware_concurrency());
  fmt::print("\nrank of the demo's {} options, samples of all options together\n", all.size());
  for (const unsigned samples : {1000U, 4000U, 16000U, 64000U}) {
    print_line(fmt::format("{} samples, {} threads", samples, threads),
               rank_seconds(all, context.study, samples, threads), static_cast<double>(samples * all.size()));
  }
  for (unsigned used = 1; used <= 2 * threads; used *= 2) {
    print_line(fmt::format("{} samples, {} threads", usual_samples, used),
               rank_seconds(all, context.study, usual_samples, used),
               static_cast<double>(usual_samples * all.size()));
  }
  for (const std::size_t count : {1UL, 4UL, 16UL, 48UL}) {
    const auto some = first_options(context, count);
    print_line(fmt::format("{} options, {} samples", some.size(), usual_samples),
               rank_seconds(some, context.study, usual_samples, threads),
               static_cast<double>(usual_samples * some.size()));
  }
}

void print_inputs() {
  fmt::print("\nsampling of inputs alone, {} samples, one thread\n", usual_samples);
  for (const int count : {16, 64, 256, 1024}) {
    figures::Ledger ledger;
    for (int i = 0; i < count; ++i) {
      figures::Input input;
      input.key = fmt::format("input {}", i);
      input.range = {1, 2, 4};
      input.unit = figures::parse_unit("1");
      ledger.input(input);
    }
    const figures::Ledger* ledgers[] = {&ledger};
    const double seconds = best_seconds([&] { figures::SampleTable(ledgers, usual_samples, 1); }, 5);
    fmt::print("  {:<34}{:10.1f} ms {:12.2f} ns for each input and sample\n", fmt::format("{} inputs", count),
               1e3 * seconds, 1e9 * seconds / (count * usual_samples));
  }
}

}  // namespace

int main(int argument_count, char** arguments) {
  const bool exports = argument_count == 4 && std::string(arguments[1]) == "--export";
  if (argument_count != 3 && !exports) {
    fmt::print(stderr, "usage: sampling_bench [--export] STUDY CATALOG\n");
    return 2;
  }
  const std::filesystem::path study_file = arguments[argument_count - 2];
  const std::filesystem::path catalog_folder = arguments[argument_count - 1];
  const parts::Catalog catalog = parts::read_catalog(catalog_folder);
  const parts::Effort effort = parts::read_effort(catalog_folder / "effort.toml");
  const study::Study study = study::read_study(study_file, catalog_folder);
  options::BlockLibrary library(catalog.cores);
  const options::Context context{catalog, effort, study, library};
  const auto all = first_options(context, 1000);
  if (exports) {
    nlohmann::json data = {{"figures", budget_figures}, {"seconds", evaluation_seconds(all)}};
    for (const options::Option& option : all) data["ledgers"].push_back(figures::to_json(option.ledger));
    fmt::print("{}\n", data.dump());
    return 0;
  }
  print_growth(context);
  print_inputs();
  return 0;
}
