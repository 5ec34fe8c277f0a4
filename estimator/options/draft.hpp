// An option while it is being realised: what every step of realise.cpp works on, and how it writes figures.
//
// What a step finds out for later ones it returns; the ledger is written, never asked. Tested by
// tests/options/draft_test.cpp.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "firmware/cost.hpp"
#include "options/option.hpp"

namespace portweigh::options {

struct Draft {
  Draft(const Context& of, const Candidate& proposed) : context(of), candidate(proposed) {}

  const Context& context;
  const Candidate& candidate;
  Option option;

  // Blocks by engine.
  std::vector<const study::FunctionBlock*> on(EngineKind engine) const;

  figures::Ledger& ledger() { return option.ledger; }
  // An input of the ledger, under the name that the value's reader gave it; std::logic_error without one.
  figures::Figure input(const reading::SourcedRange& range);
  figures::Figure input(const reading::SourcedQuantity& quantity);
  // Any other input. `unit` is a symbol; inputs of one correlation move together.
  figures::Figure input(std::string key, std::string label, const figures::Range& range,
                        figures::Source source, std::string_view unit = "1", std::string correlation = "");
  // A result of covering, simulation or execution; `source_text` says which run. With a spread only where the
  // range is the same in every option.
  figures::Figure counted(std::string_view key, std::string_view label, figures::Range range,
                          std::string_view source_text, std::string_view unit = "1");
  // A result of executed routines, named `key`: its input belongs to this option alone, since another
  // option's has another range, and moves together with all code of the same core class.
  figures::Figure executed(std::string_view key, std::string_view label, const firmware::CostRange& range,
                           const std::string& core, std::string_view source_text, std::string_view unit);
  figures::Figure zero(const figures::Dimension& dimension);
  figures::Figure name(figures::Figure figure, std::string_view key, std::string_view label,
                       std::string_view unit);
};

}  // namespace portweigh::options
