#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>
#include <vector>

#include "logic/files/logic_file.hpp"

namespace portweigh::logic {
namespace {

constexpr std::uint64_t largest_variable = 100'000'000;
constexpr std::uint32_t undefined = 0xFFFFFFFFU;

// Counts of the header line: variables, inputs, latches, outputs, ANDs, and those of version 1.9.
struct Header {
  bool is_binary = false;
  std::uint64_t variables = 0;
  std::uint64_t inputs = 0;
  std::uint64_t latches = 0;
  std::uint64_t outputs = 0;
  std::uint64_t ands = 0;
  std::array<std::uint64_t, 4> properties{};  // bad states, constraints, justice, fairness
};

struct Latch {
  std::uint32_t literal = 0;
  std::uint32_t next = 0;
  bool starts_set = false;
  std::string name;
};

struct NamedNumber {
  std::uint32_t literal = 0;
  std::string name;
};

struct And {
  std::uint32_t output = 0;  // literals of the file
  std::uint32_t fanin0 = 0;
  std::uint32_t fanin1 = 0;
};

struct Contents {
  Header header;
  std::vector<NamedNumber> inputs;
  std::vector<Latch> latches;
  std::vector<NamedNumber> outputs;  // then the properties
  std::vector<And> ands;
};

class Parser {
 public:
  Parser(std::string_view text, std::string_view file) : text_(text), file_(file) {}

  Contents parse() {
    read_header();
    const Header& header = contents_.header;
    for (std::uint64_t i = 0; i < header.inputs; ++i) read_input(i);
    for (std::uint64_t i = 0; i < header.latches; ++i) read_latch(i);
    for (std::uint64_t i = 0; i < header.outputs; ++i) {
      contents_.outputs.push_back({line_literal("an output literal"), fmt::format("o{}", i)});
    }
    read_properties();
    is_past_lines_ = header.is_binary;
    for (std::uint64_t i = 0; i < header.ands; ++i) read_and(i);
    line_start_ = at_;
    read_symbols();
    return std::move(contents_);
  }

 private:
  [[noreturn]] void fail(std::string_view what) const {
    if (is_past_lines_) throw LogicFileError(file_, {.byte = at_}, what);
    throw LogicFileError(file_, {line_, static_cast<int>(at_ - line_start_) + 1}, what);
  }

  bool is_at_end() const { return at_ >= text_.size(); }
  char peek() const { return is_at_end() ? '\n' : text_[at_]; }

  std::uint64_t number(std::string_view expected) {
    if (is_at_end() || peek() < '0' || peek() > '9') fail(fmt::format("expected {}", expected));
    std::uint64_t value = 0;
    while (!is_at_end() && peek() >= '0' && peek() <= '9') {
      value = value * 10 + static_cast<std::uint64_t>(peek() - '0');
      if (value > 0xFFFFFFFFU) fail(fmt::format("expected {}, found a number above 4294967295", expected));
      ++at_;
    }
    return value;
  }

  void space() {
    if (is_at_end() || peek() != ' ') fail("expected a space and another number");
    ++at_;
  }

  void end_line() {
    if (!is_at_end() && peek() == '\r') ++at_;
    if (is_at_end()) fail("the file ends inside a line");
    if (peek() != '\n') fail("expected the end of the line");
    start_line(at_ + 1);
  }

  void start_line(std::size_t at) {
    at_ = line_start_ = at;
    ++line_;
  }

  std::uint32_t literal(std::string_view expected) {
    const std::size_t start = at_;
    const std::uint64_t value = number(expected);
    if (value > 2 * contents_.header.variables + 1) {
      at_ = start;
      fail(fmt::format("literal {} is above the largest, {}", value, 2 * contents_.header.variables + 1));
    }
    return static_cast<std::uint32_t>(value);
  }

  std::uint32_t line_literal(std::string_view expected) {
    const std::uint32_t value = literal(expected);
    end_line();
    return value;
  }

  void read_header() {
    Header& header = contents_.header;
    const std::string_view magic = text_.substr(0, 4);
    if (magic != "aag " && magic != "aig ") fail("expected an AIGER header, aag or aig");
    header.is_binary = magic == "aig ";
    at_ = 3;
    for (std::uint64_t* count :
         {&header.variables, &header.inputs, &header.latches, &header.outputs, &header.ands}) {
      space();
      *count = number("a count in the header");
    }
    for (std::uint64_t& count : header.properties) {
      if (peek() != ' ') break;
      space();
      count = number("a count in the header");
    }
    check_header();
    end_line();
  }

  // Nothing is allocated for more than the file can hold: each latch, output and AND takes two bytes or more.
  void check_header() const {
    const Header& header = contents_.header;
    const std::uint64_t parts = header.inputs + header.latches + header.ands;
    if (header.is_binary ? header.variables != parts : header.variables < parts) {
      fail(fmt::format("{} variables don't match {} inputs, {} latches and {} ANDs", header.variables,
                       header.inputs, header.latches, header.ands));
    }
    std::uint64_t lines = header.latches + header.outputs + header.ands;
    for (const std::uint64_t count : header.properties) lines += count;
    if (!header.is_binary) lines += header.inputs;
    const std::uint64_t most_inputs = std::max<std::uint64_t>(text_.size(), 65536);
    const std::uint64_t most_variables = std::max<std::uint64_t>(16 * text_.size(), 65536);
    if (2 * lines > text_.size() || header.inputs > most_inputs || header.variables > largest_variable ||
        header.variables > most_variables) {
      fail(fmt::format("the header claims {} variables, more than a file of {} bytes can hold",
                       header.variables, text_.size()));
    }
  }

  void read_input(std::uint64_t index) {
    const auto expected = static_cast<std::uint32_t>(2 * (index + 1));
    const std::uint32_t value = contents_.header.is_binary ? expected : line_literal("an input literal");
    contents_.inputs.push_back({value, fmt::format("i{}", index)});
  }

  void read_latch(std::uint64_t index) {
    Latch latch;
    latch.name = fmt::format("l{}", index);
    latch.literal = static_cast<std::uint32_t>(2 * (contents_.header.inputs + index + 1));
    if (!contents_.header.is_binary) {
      latch.literal = literal("a latch literal");
      space();
    }
    latch.next = literal("the latch's next literal");
    if (peek() == ' ') {
      space();
      const std::uint32_t reset = literal("the latch's initial value");
      if (reset > 1 && reset != latch.literal) fail("a latch starts at 0, 1 or its own literal");
      latch.starts_set = reset == 1;
    }
    end_line();
    contents_.latches.push_back(std::move(latch));
  }

  void read_properties() {
    const auto& counts = contents_.header.properties;
    const auto read = [this](std::uint64_t count, std::string_view letter) {
      for (std::uint64_t i = 0; i < count; ++i) {
        contents_.outputs.push_back({line_literal("a property literal"), fmt::format("{}{}", letter, i)});
      }
    };
    read(counts[0], "b");
    read(counts[1], "c");
    std::uint64_t justice_literals = 0;
    for (std::uint64_t i = 0; i < counts[2]; ++i) {
      justice_literals += number("the size of a justice property");
      end_line();
    }
    if (2 * justice_literals > text_.size()) fail("more justice literals than the file can hold");
    read(justice_literals, "j");
    read(counts[3], "f");
  }

  std::uint32_t delta(std::uint32_t from) {
    std::uint64_t value = 0;
    for (unsigned shift = 0;; shift += 7) {
      if (is_at_end()) fail("the file ends inside the ANDs");
      const auto byte = static_cast<unsigned char>(text_[at_]);
      if (shift > 28) fail("a difference of more than 32 bits");
      value |= static_cast<std::uint64_t>(byte & 0x7FU) << shift;
      if (value > from) fail(fmt::format("difference {} from literal {}", value, from));
      ++at_;
      if ((byte & 0x80U) == 0) return static_cast<std::uint32_t>(value);
    }
  }

  void read_and(std::uint64_t index) {
    const Header& header = contents_.header;
    if (!header.is_binary) {
      And gate;
      gate.output = literal("the literal of an AND");
      space();
      gate.fanin0 = literal("an operand of an AND");
      space();
      gate.fanin1 = line_literal("an operand of an AND");
      contents_.ands.push_back(gate);
      return;
    }
    const auto output = static_cast<std::uint32_t>(2 * (header.inputs + header.latches + index + 1));
    const std::uint32_t first = delta(output);
    if (first == 0) fail(fmt::format("AND {} reads itself", output));
    const std::uint32_t fanin0 = output - first;
    contents_.ands.push_back({output, fanin0, fanin0 - delta(fanin0)});
  }

  // Lines `i0 name` and so on until the end or the comment section.
  void read_symbols() {
    while (!is_at_end()) {
      const char kind = peek();
      ++at_;
      if (kind == 'c' && (is_at_end() || peek() == '\n' || peek() == '\r')) return;
      const std::uint64_t index = number("a symbol, i, l or o and a number");
      space();
      const std::size_t end = text_.find('\n', at_);
      if (end == std::string_view::npos) fail("the file ends inside a symbol");
      std::string_view name = text_.substr(at_, end - at_);
      if (name.ends_with('\r')) name.remove_suffix(1);
      at_ = line_start_;
      set_name(kind, index, name);
      start_line(end + 1);
    }
  }

  void set_name(char kind, std::uint64_t index, std::string_view name) {
    const auto assign = [&](auto& list, std::uint64_t count) {
      if (index >= count) fail(fmt::format("symbol {}{} of {}", kind, index, count));
      list[index].name = name;
    };
    const Header& header = contents_.header;
    if (kind == 'i') return assign(contents_.inputs, header.inputs);
    if (kind == 'l') return assign(contents_.latches, header.latches);
    if (kind == 'o') return assign(contents_.outputs, header.outputs);
    // The names of properties are not kept.
    if (std::string_view("bcjf").find(kind) != std::string_view::npos) return;
    fail(fmt::format("a symbol starts with i, l or o, not with {}", kind));
  }

  std::string_view text_;
  std::string_view file_;
  std::size_t at_ = 0;
  std::size_t line_start_ = 0;
  int line_ = 1;
  bool is_past_lines_ = false;  // in the binary ANDs or the symbols behind them
  Contents contents_;
};

class NetworkBuilder {
 public:
  NetworkBuilder(const Contents& contents, std::string_view file)
      : contents_(contents),
        file_(file),
        image_(contents.header.variables + 1, Literal::from_raw(undefined)),
        and_of_(contents.header.variables + 1, undefined),
        is_open_(and_of_.size(), false) {}

  Network build() {
    image_[0] = constant_false;
    for (const NamedNumber& input : contents_.inputs) {
      define(input.literal, "input");
      image_[input.literal / 2] = network_.add_input(input.name);
    }
    for (const Latch& latch : contents_.latches) {
      define(latch.literal, "latch");
      image_[latch.literal / 2] = network_.add_register(latch.name);
    }
    build_ands();
    for (const Latch& latch : contents_.latches) {
      network_.connect(mapped(latch.literal), mapped(latch.next), constant_true, constant_false,
                       latch.starts_set);
    }
    for (const NamedNumber& output : contents_.outputs) {
      network_.add_output(output.name, mapped(output.literal));
    }
    return std::move(network_);
  }

 private:
  [[noreturn]] void fail(std::string_view what) const { throw LogicFileError(file_, {1, 1}, what); }

  bool is_defined(std::uint32_t literal) const { return image_[literal / 2].raw() != undefined; }

  void define(std::uint32_t literal, std::string_view what) const {
    if (literal % 2 != 0 || literal == 0) fail(fmt::format("{} literal {} must be even", what, literal));
    if (is_defined(literal)) fail(fmt::format("literal {} is defined twice", literal));
  }

  Literal mapped(std::uint32_t literal) const {
    if (!is_defined(literal)) fail(fmt::format("literal {} is used but never defined", literal));
    return image_[literal / 2].complement_if(literal % 2 != 0);
  }

  void build_ands() {
    for (std::uint32_t i = 0; i < contents_.ands.size(); ++i) {
      const And& gate = contents_.ands[i];
      define(gate.output, "AND");
      if (and_of_[gate.output / 2] != undefined) {
        fail(fmt::format("literal {} is defined twice", gate.output));
      }
      and_of_[gate.output / 2] = i;
    }
    for (const And& gate : contents_.ands) build_in_order(gate);
  }

  // The ascii form may list ANDs in any order; operands are built first.
  void build_in_order(const And& root) {
    std::vector<const And*> stack{&root};
    while (!stack.empty()) {
      const And& gate = *stack.back();
      if (is_defined(gate.output)) {
        stack.pop_back();
        continue;
      }
      const std::size_t depth = stack.size();
      for (const std::uint32_t operand : {gate.fanin0, gate.fanin1}) {
        if (!is_defined(operand)) stack.push_back(&opened_operand(operand, gate));
      }
      if (stack.size() != depth) {
        is_open_[gate.output / 2] = true;
        continue;
      }
      image_[gate.output / 2] = network_.make_and(mapped(gate.fanin0), mapped(gate.fanin1));
      stack.pop_back();
    }
  }

  const And& opened_operand(std::uint32_t operand, const And& reader) const {
    const std::uint32_t index = and_of_[operand / 2];
    if (index == undefined) fail(fmt::format("literal {} is used but never defined", operand));
    if (is_open_[operand / 2] || operand / 2 == reader.output / 2) {
      fail(fmt::format("the AND {} depends on itself", operand & ~1U));
    }
    return contents_.ands[index];
  }

  const Contents& contents_;
  std::string_view file_;
  Network network_;
  std::vector<Literal> image_;
  std::vector<std::uint32_t> and_of_;
  std::vector<bool> is_open_;  // ANDs whose operands are being built
};

}  // namespace

Network parse_aiger(std::string_view text, std::string_view file) {
  const Contents contents = Parser(text, file).parse();
  return NetworkBuilder(contents, file).build();
}

}  // namespace portweigh::logic
