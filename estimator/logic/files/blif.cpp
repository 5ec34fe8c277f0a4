#include <fmt/core.h>

#include <algorithm>
#include <cstdint>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

#include "logic/files/logic_file.hpp"
#include "logic/network/word.hpp"

namespace portweigh::logic {
namespace {

// Words are views of the file's text, which tell the place of a mistake.
struct Names {
  std::vector<std::string_view> inputs;
  std::string_view output;
  std::vector<std::string_view> cubes;  // input parts
  bool covers_ones = true;
};

struct Latch {
  std::string_view input;
  std::string_view output;
  bool starts_set = false;
};

struct Model {
  std::vector<std::string_view> inputs;
  std::vector<std::string_view> outputs;
  std::vector<Names> names;
  std::vector<Latch> latches;
};

struct File {
  std::string_view text;
  std::string_view name;
};

// A mistake at a word of the file's text, or at its end.
[[noreturn]] void fail(const File& file, std::string_view word, std::string_view what) {
  const std::string_view before =
      file.text.substr(0, static_cast<std::size_t>(word.data() - file.text.data()));
  const std::size_t line_start = before.rfind('\n') + 1;  // 0 in the first line
  throw LogicFileError(file.name,
                       {static_cast<int>(std::count(before.begin(), before.end(), '\n')) + 1,
                        static_cast<int>(before.size() - line_start) + 1},
                       what);
}

// The words of one logical line: continued lines joined, comments cut, split at blanks.
using Line = std::vector<std::string_view>;

class LineReader {
 public:
  explicit LineReader(std::string_view text) : text_(text) {}

  bool next(Line& line) {
    line.clear();
    while (line.empty() && at_ < text_.size()) {
      bool is_continued = true;
      while (is_continued && at_ < text_.size()) is_continued = add_physical_line(line);
    }
    return !line.empty();
  }

 private:
  bool add_physical_line(Line& line) {
    const std::size_t end = std::min(text_.find('\n', at_), text_.size());
    std::string_view part = text_.substr(at_, end - at_);
    at_ = end + 1;
    part = part.substr(0, part.find('#'));
    while (!part.empty() && is_blank(part.back())) part.remove_suffix(1);
    const bool is_continued = part.ends_with('\\');
    if (is_continued) part.remove_suffix(1);
    std::size_t at = 0;
    while (at < part.size()) {
      if (is_blank(part[at])) {
        ++at;
        continue;
      }
      const std::size_t start = at;
      while (at < part.size() && !is_blank(part[at])) ++at;
      line.push_back(part.substr(start, at - start));
    }
    return is_continued;
  }
  static bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }

  std::string_view text_;
  std::size_t at_ = 0;
};

class Parser {
 public:
  explicit Parser(const File& file) : lines_(file.text), file_(file) {}

  Model parse() {
    Line line;
    while (!has_ended_ && lines_.next(line)) {
      if (line.front().front() == '.') {
        read_command(line);
      } else {
        read_cube(line);
      }
    }
    if (!has_model_)
      fail(file_, file_.text.substr(file_.text.size()),
           "expected .model, .inputs, .outputs, .names or .latch");
    if (lines_.next(line)) {
      fail(file_, line.front(), "one flat model is read; flatten the hierarchy before writing the file");
    }
    return std::move(model_);
  }

 private:
  void read_command(const Line& line) {
    const std::string_view command = line.front();
    in_names_ = false;
    has_model_ = true;
    if (command == ".model") {
      if (std::exchange(has_name_, true)) {
        fail(file_, line.front(), "a second model; flatten the hierarchy before writing the file");
      }
    } else if (command == ".inputs" || command == ".outputs") {
      auto& list = command == ".inputs" ? model_.inputs : model_.outputs;
      list.insert(list.end(), line.begin() + 1, line.end());
    } else if (command == ".names") {
      read_names(line);
    } else if (command == ".latch") {
      read_latch(line);
    } else if (command == ".end") {
      has_ended_ = true;
    } else if (command == ".subckt") {
      fail(file_, line.front(),
           ".subckt: one flat model is read; flatten the hierarchy before writing the file");
    } else if (command == ".gate" || command == ".mlatch") {
      fail(file_, line.front(), fmt::format("{} needs a cell library; write .names and .latch", command));
    } else if (command != ".clock" && command != ".default_input_arrival" && command != ".attr" &&
               command != ".cname" && command != ".param" && command != ".exdc") {
      fail(file_, line.front(),
           fmt::format("{} is unknown; expected .inputs, .outputs, .names, .latch or .end", command));
    }
  }

  void read_names(const Line& line) {
    if (line.size() < 2) fail(file_, line.front(), ".names without an output");
    Names names;
    names.inputs.assign(line.begin() + 1, line.end() - 1);
    names.output = line.back();
    model_.names.push_back(std::move(names));
    in_names_ = true;
  }

  void read_cube(const Line& line) {
    if (!in_names_) fail(file_, line.front(), "a line that follows no .names and starts with no dot");
    Names& names = model_.names.back();
    const bool is_constant = names.inputs.empty();
    if (line.size() != (is_constant ? 1U : 2U)) {
      fail(file_, line.front(), is_constant ? "expected 0 or 1" : "expected the inputs of a cube and 0 or 1");
    }
    const std::string_view inputs = is_constant ? std::string_view() : line.front();
    if (inputs.size() != names.inputs.size()) {
      fail(file_, line.front(),
           fmt::format("a cube of {} inputs for .names of {}", inputs.size(), names.inputs.size()));
    }
    if (inputs.find_first_not_of("01-") != std::string_view::npos) {
      fail(file_, line.front(), fmt::format("cube {}: expected 0, 1 or -", inputs));
    }
    const std::string_view value = line.back();
    if (value != "0" && value != "1") fail(file_, value, fmt::format("output {}: expected 0 or 1", value));
    if (!names.cubes.empty() && names.covers_ones != (value == "1")) {
      fail(file_, line.front(), "one .names lists both its ones and its zeros");
    }
    names.covers_ones = value == "1";
    names.cubes.push_back(inputs);
  }

  // .latch input output [type control] [initial]
  void read_latch(const Line& line) {
    const std::size_t count = line.size();
    if (count < 3 || count > 6)
      fail(file_, line.front(), "expected .latch input output [type control] [initial]");
    Latch latch{line[1], line[2], false};
    if (count == 4 || count == 6) {
      const std::string_view initial = line.back();
      if (initial.size() != 1 || initial.front() < '0' || initial.front() > '3') {
        fail(file_, initial, fmt::format("initial value {}: expected 0, 1, 2 or 3", initial));
      }
      latch.starts_set = initial == "1";
    }
    model_.latches.push_back(latch);
  }

  LineReader lines_;
  const File& file_;
  Model model_;
  bool has_model_ = false;
  bool has_name_ = false;
  bool in_names_ = false;
  bool has_ended_ = false;
};

class NetworkBuilder {
 public:
  NetworkBuilder(const Model& model, const File& file) : model_(model), file_(file) {}

  Network build() {
    for (const std::string_view name : model_.inputs) define(name, network_.add_input(name));
    for (const Latch& latch : model_.latches) {
      define(latch.output, network_.add_register(latch.output));
    }
    for (std::uint32_t i = 0; i < model_.names.size(); ++i) {
      const Names& names = model_.names[i];
      if (signals_.contains(names.output) || !names_of_.emplace(names.output, i).second) {
        fail(file_, names.output, fmt::format("{} is defined twice", names.output));
      }
    }
    for (const Names& names : model_.names) build_in_order(names);
    for (const Latch& latch : model_.latches) {
      network_.connect(signals_.at(latch.output), find(latch.input), constant_true, constant_false,
                       latch.starts_set);
    }
    for (const std::string_view name : model_.outputs) network_.add_output(name, find(name));
    return std::move(network_);
  }

 private:
  void define(std::string_view name, Literal literal) {
    if (!signals_.emplace(name, literal).second) fail(file_, name, fmt::format("{} is defined twice", name));
  }

  Literal find(std::string_view name) const {
    const auto found = signals_.find(name);
    if (found == signals_.end()) fail(file_, name, fmt::format("{} is used but never defined", name));
    return found->second;
  }

  void build_in_order(const Names& root) {
    std::vector<const Names*> stack{&root};
    while (!stack.empty()) {
      const Names& names = *stack.back();
      if (signals_.contains(names.output)) {
        stack.pop_back();
        continue;
      }
      const std::size_t depth = stack.size();
      for (const std::string_view input : names.inputs) {
        if (!signals_.contains(input)) stack.push_back(&opened_input(input, names));
      }
      if (stack.size() != depth) {
        open_.insert(names.output);
        continue;
      }
      signals_.emplace(names.output, build_function(names));
      stack.pop_back();
    }
  }

  const Names& opened_input(std::string_view input, const Names& reader) const {
    const auto found = names_of_.find(input);
    if (found == names_of_.end()) fail(file_, input, fmt::format("{} is used but never defined", input));
    const Names& names = model_.names[found->second];
    if (open_.contains(input) || input == reader.output) {
      fail(file_, names.output, fmt::format("{} depends on itself", input));
    }
    return names;
  }

  // Sum of the cubes; cubes of parities and multiplexers are put back together by the covering.
  Literal build_function(const Names& names) {
    Word terms(network_);
    for (const std::string_view cube : names.cubes) {
      Word factors(network_);
      for (std::size_t i = 0; i < cube.size(); ++i) {
        if (cube[i] == '-') continue;
        factors.append({network_, find(names.inputs[i]).complement_if(cube[i] == '0')});
      }
      terms.append(all(factors));
    }
    return any(terms).literal().complement_if(!names.covers_ones);
  }

  const Model& model_;
  const File& file_;
  Network network_;
  std::unordered_map<std::string_view, Literal> signals_;
  std::unordered_map<std::string_view, std::uint32_t> names_of_;
  std::unordered_set<std::string_view> open_;  // outputs whose inputs are being built
};

}  // namespace

Network parse_blif(std::string_view text, std::string_view file) {
  const File source{text, file};
  const Model model = Parser(source).parse();
  return NetworkBuilder(model, source).build();
}

}  // namespace portweigh::logic
