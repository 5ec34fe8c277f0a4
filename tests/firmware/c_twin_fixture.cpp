#include "c_twin.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include <fmt/core.h>

namespace portweigh::firmware {

namespace {

std::string identifier(std::string name) {
  for (char& c : name) {
    if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
  }
  return "v_" + name;
}

std::string type_name(Type type) {
  return fmt::format("uint{}_t", bits_of(type));
}

class Writer {
 public:
  explicit Writer(const Program& program) : program_(program) {}

  std::string source() {
    out_ =
        "#include <stdint.h>\n#ifdef __AVR__\n#include <avr/pgmspace.h>\n#endif\n"
        "#ifdef __SDCC\n#define __attribute__(x)\n#endif\n";
    for (std::size_t i = 0; i < program_.structures.size(); ++i) structure(i);
    for (const auto& variable : program_.variables) global(variable);
    for (const auto& array : program_.arrays) global(array);
    for (std::size_t i = 1; i < program_.functions.size(); ++i) function(i);
    function(0);
    return out_;
  }

 private:
  void structure(std::size_t index) {
    const auto name = identifier(program_.structures[index]);
    out_ += fmt::format("struct {} {{\n", name);
    for (const auto& variable : program_.variables) {
      if (variable.storage != Storage::field || variable.structure != index) continue;
      out_ += fmt::format("  {} {};\n", type_name(variable.type), identifier(variable.name));
    }
    for (const auto& array : program_.arrays) {
      if (array.storage != Storage::field || array.structure != index) continue;
      out_ += fmt::format("  {} {}[{}];\n", type_name(array.type), identifier(array.name), array.length);
    }
    out_ += fmt::format("}};\nstruct {0} memory_{0};\n", name);
  }

  void global(const VariableInfo& variable) {
    const bool is_port = variable.storage == Storage::port;
    if (variable.storage != Storage::state && !is_port) return;
    out_ += fmt::format("{}{} {};\n", is_port ? "volatile " : "", type_name(variable.type),
                        identifier(variable.name));
  }

  void global(const ArrayInfo& array) {
    if (array.storage == Storage::state) {
      out_ += fmt::format("{} {}[{}];\n", type_name(array.type), identifier(array.name), array.length);
    }
    if (array.storage != Storage::flash) return;
    out_ += fmt::format("const {} {}[{}]\n#ifdef __AVR__\nPROGMEM\n#endif\n= {{", type_name(array.type),
                        identifier(array.name), array.length);
    for (const auto value : array.values) out_ += fmt::format("{}u,", value);
    out_ += "};\n";
    out_ += fmt::format(
        "#ifdef __AVR__\n#define read_{0}(i) (({1})pgm_read_{2}(&{0}[i]))\n#else\n#define read_{0}(i) "
        "({0}[i])\n#endif\n",
        identifier(array.name), type_name(array.type),
        array.type == Type::u8    ? "byte"
        : array.type == Type::u16 ? "word"
                                  : "dword");
  }

  void function(std::size_t index) {
    const auto& f = program_.functions[index];
    const std::string result = f.result ? type_name(*f.result) : "void";
    std::string parameters;
    const auto add = [&](const std::string& text) { parameters += (parameters.empty() ? "" : ", ") + text; };
    if (index == 0) {
      for (const auto& s : program_.structures) add(fmt::format("struct {0} *p_{0}", identifier(s)));
    }
    for (const auto p : f.parameters) {
      add(type_name(program_.variables[p].type) + " " + identifier(program_.variables[p].name));
    }
    if (parameters.empty()) parameters = "void";
    out_ += index == 0 ? fmt::format("{} event_function({}) {{\n", result, parameters)
                       : fmt::format("static __attribute__((noinline)) {} {}({}) {{\n", result,
                                     identifier(f.name), parameters);
    // A local may be declared outside the subroutine that uses it: declared where it is used.
    const std::string before = std::exchange(out_, {});
    used_.clear();
    block(f.body);
    const std::string body = std::exchange(out_, before);
    for (const auto variable : used_) {
      const auto& info = program_.variables[variable];
      if (info.storage == Storage::local) {
        out_ += fmt::format("  {} {};\n", type_name(info.type), identifier(info.name));
      }
    }
    out_ += body;
    out_ += "}\n";
  }

  void block(const Block& statements) {
    for (const auto id : statements) statement(program_.statements[id]);
  }

  void statement(const Statement& s) {
    switch (s.kind) {
      case StatementKind::assign:
        out_ += fmt::format("{} = {};\n", place(s.target), value(s.value));
        break;
      case StatementKind::branch:
        out_ += fmt::format("if ({}) {{\n", value(s.value));
        block(s.first);
        if (!s.second.empty()) {
          out_ += "} else {\n";
          block(s.second);
        }
        out_ += "}\n";
        break;
      case StatementKind::loop:
        out_ += fmt::format("while ({}) {{\n", value(s.value));
        block(s.first);
        out_ += "}\n";
        break;
      case StatementKind::loop_post:
        out_ += "do {\n";
        block(s.first);
        out_ += fmt::format("}} while ({});\n", value(s.value));
        break;
      case StatementKind::count:
        out_ += fmt::format("for ({0} = 0; {0} < {1}; ++{0}) {{\n", place(s.target), value(s.value));
        block(s.first);
        out_ += "}\n";
        break;
      case StatementKind::choose:
        choose(s);
        break;
      case StatementKind::call:
        call(s);
        break;
      case StatementKind::leave:
        out_ += s.value == none ? "return;\n" : fmt::format("return {};\n", value(s.value));
        break;
      case StatementKind::stop:
        out_ += "break;\n";
        break;
      case StatementKind::next:
        out_ += "continue;\n";
        break;
    }
  }

  void choose(const Statement& s) {
    out_ += fmt::format("switch ({}) {{\n", value(s.value));
    for (const auto& one : s.cases) {
      out_ += fmt::format("case {}u:\n", one.value);
      block(one.body);
      out_ += "break;\n";
    }
    out_ += "default:\n";
    block(s.second);
    out_ += "break;\n}\n";
  }

  void call(const Statement& s) {
    std::string arguments;
    for (const auto a : s.arguments) arguments += (arguments.empty() ? "" : ", ") + value(a);
    if (s.target != none) out_ += place(s.target) + " = ";
    out_ += fmt::format("{}({});\n", identifier(program_.functions[s.function].name), arguments);
  }

  std::string place(NodeId id) {
    const Node& n = program_.nodes[id];
    if (n.op == Operator::variable) {
      used_.insert(n.index);
      const auto& v = program_.variables[n.index];
      if (v.storage == Storage::field) {
        return fmt::format("p_{}->{}", identifier(program_.structures[v.structure]), identifier(v.name));
      }
      return identifier(v.name);
    }
    const auto& a = program_.arrays[n.index];
    if (a.storage == Storage::flash) return fmt::format("read_{}({})", identifier(a.name), value(n.left));
    const std::string owner = a.storage == Storage::field
                                  ? fmt::format("p_{}->", identifier(program_.structures[a.structure]))
                                  : "";
    return fmt::format("{}{}[{}]", owner, identifier(a.name), value(n.left));
  }

  std::string binary(const Node& n, const char* sign) {
    const auto t = type_name(n.type);
    return fmt::format("({0})(({0}){1} {2} ({0}){3})", t, value(n.left), sign, value(n.right));
  }

  std::string compare(const Node& n, const char* sign) {
    return fmt::format("({} {} {})", value(n.left), sign, value(n.right));
  }

  std::string compare_signed(const Node& n, const char* sign) {
    const auto wider = std::max(program_.nodes[n.left].type, program_.nodes[n.right].type);
    return fmt::format("((int{0}_t){1} {2} (int{0}_t){3})", bits_of(wider), value(n.left), sign,
                       value(n.right));
  }

  std::string value(NodeId id) {
    const Node& n = program_.nodes[id];
    const auto t = type_name(n.type);
    switch (n.op) {
      case Operator::constant:
        return fmt::format("{}u{}", n.value, n.value > 0xFFFF ? "l" : "");
      case Operator::variable:
      case Operator::element:
        return place(id);
      case Operator::cast:
        return fmt::format("({}){}", t, value(n.left));
      case Operator::cast_signed:
        return fmt::format("({})(int{}_t){}", t, bits_of(program_.nodes[n.left].type), value(n.left));
      case Operator::complement:
        return fmt::format("({})~{}", t, value(n.left));
      case Operator::add:
        return binary(n, "+");
      case Operator::subtract:
        return binary(n, "-");
      case Operator::multiply:
        return n.type == Type::u16 ? fmt::format("(uint16_t)((unsigned)(uint16_t){} * (uint16_t){})",
                                                 value(n.left), value(n.right))
                                   : binary(n, "*");
      case Operator::bit_and:
        return binary(n, "&");
      case Operator::bit_or:
        return binary(n, "|");
      case Operator::bit_xor:
        return binary(n, "^");
      case Operator::shift_left:
        return fmt::format("({0})(({0}){1} << {2})", t, value(n.left), value(n.right));
      case Operator::shift_right:
        return fmt::format("({0})(({0}){1} >> {2})", t, value(n.left), value(n.right));
      case Operator::shift_right_signed:
        return fmt::format("({0})((int{1}_t){2} >> {3})", t, bits_of(n.type), value(n.left), value(n.right));
      case Operator::equal:
        return compare(n, "==");
      case Operator::not_equal:
        return compare(n, "!=");
      case Operator::less:
        return compare(n, "<");
      case Operator::less_equal:
        return compare(n, "<=");
      case Operator::less_signed:
        return compare_signed(n, "<");
      case Operator::less_equal_signed:
        return compare_signed(n, "<=");
      case Operator::logical_and:
        return compare(n, "&&");
      case Operator::logical_or:
        return compare(n, "||");
      case Operator::select:
        return fmt::format("({} ? {} : {})", value(n.choice), value(n.left), value(n.right));
    }
    return {};
  }

  const Program& program_;
  std::string out_;
  std::set<std::size_t> used_;  // variables named by the function being written
};

}  // namespace

std::string c_source(const Routine& routine) {
  return Writer(routine.program()).source();
}

std::string symbol_list(const Routine& routine) {
  const auto& program = routine.program();
  std::string text;
  const auto add = [&](const std::string& name, Storage storage, std::size_t structure, Type type,
                       std::size_t length) {
    const bool is_field = storage == Storage::field;
    if (!is_field && storage != Storage::state && storage != Storage::port) return;
    text += fmt::format("{} {} {} {}\n", identifier(name),
                        is_field ? identifier(program.structures[structure]) : "-", bytes_of(type), length);
  };
  for (const auto& v : program.variables) add(v.name, v.storage, v.structure, v.type, 1);
  for (const auto& a : program.arrays) add(a.name, a.storage, a.structure, a.type, a.length);
  return text;
}

std::string state_lines(const Machine& machine, const std::string& word) {
  const auto is_memory = [](Storage storage) {
    return storage == Storage::state || storage == Storage::field || storage == Storage::port;
  };
  std::string text;
  for (const auto& v : machine.program().variables) {
    if (!is_memory(v.storage)) continue;
    text += fmt::format("{} {} 0 {}\n", word, identifier(v.name), machine.get(v.name));
  }
  for (const auto& a : machine.program().arrays) {
    if (!is_memory(a.storage)) continue;
    for (std::size_t i = 0; i < a.length; ++i) {
      text += fmt::format("{} {} {} {}\n", word, identifier(a.name), i, machine.element(a.name, i));
    }
  }
  return text;
}

std::string input_lines(const Machine& machine) {
  std::string text;
  for (const auto& v : machine.program().variables) {
    if (v.storage != Storage::port || !machine.is_input(v.name)) continue;
    text += fmt::format("poke {} 0 {}\n", identifier(v.name), machine.get(v.name));
  }
  return text;
}

std::uint32_t RecordingMachine::run(std::initializer_list<std::uint32_t> arguments) {
  if (left_ == 0) return Machine::run(arguments);
  --left_;
  text_ += "event";
  for (const auto argument : arguments) text_ += fmt::format(" {}", argument);
  text_ += "\n";
  text_ += state_lines(*this, "poke");
  const auto result = Machine::run(arguments);
  // A connected input port now holds what was read during the event.
  text_ += input_lines(*this);
  if (routine_.program().functions[0].result) text_ += fmt::format("result {}\n", result);
  text_ += state_lines(*this, "expect");
  if (left_ == 0) recorded_counts_ = counts();
  return result;
}

}  // namespace portweigh::firmware
