// The keys of a record, each declared once: name, shape, bounds, meaning, and the member it fills.
//
//     const Fields<Package>& package_fields() {
//       static const Fields<Package> fields = {
//           text("name", &Package::name, "generic outline name"),
//           range("thermal_resistance", &Package::thermal_resistance,
//                 QuantityRule(dimensions::thermal_resistance).between(1, 1000), "K/W", "junction to
//                 ambient")};
//       return fields;
//     }
//     read_record(reader, package_fields(), package);
// The reader, the JSON Schema (schema.hpp) and the reference page come from the same list. `.as_input(...)`
// says how a value is called in a ledger; name_inputs() tells the value so, once its record is read. A member
// of type std::optional makes its key optional; for other members `Presence::optional` keeps the member's
// default where the key is absent. Tested by tests/parts/part_reader_test.cpp, tests/parts/schema_test.cpp
// and tests/parts/microcontroller_reader_test.cpp.
#pragma once

#include <fmt/core.h>

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "reading/table_reader.hpp"

namespace portweigh::reading {

enum class Presence : std::uint8_t { required, optional };

enum class Multiplicity : std::uint8_t {
  one,
  list,   // an array
  named,  // a table whose keys are names chosen by the writer
  named_lists,
};

struct FieldInfo;

struct TextShape {
  Pattern pattern = Pattern::any;
};
struct ChoiceShape {
  std::vector<std::string> names;
};
struct IntegerShape {
  std::int64_t lower = 0;
  std::int64_t upper = 0;
};
struct NumberShape {
  double lower = 0;
  double upper = 0;
};
struct FlagShape {};
struct QuantityShape {
  QuantityRule rule;
  std::string unit;  // the usual unit, for examples
};
struct RangeShape {
  QuantityRule rule;
  std::string unit;
};
struct TableShape {
  std::vector<FieldInfo> fields;
};
struct AnyScalarShape {};  // text, whole number or true/false: what it must be depends on another key

using Shape = std::variant<TextShape, ChoiceShape, IntegerShape, NumberShape, FlagShape, QuantityShape,
                           RangeShape, TableShape, AnyScalarShape>;

struct FieldInfo {
  std::string key;
  std::string meaning;
  Presence presence = Presence::required;
  Multiplicity multiplicity = Multiplicity::one;
  Shape shape;
};

template <class Record>
struct Field {
  FieldInfo info;
  std::function<void(TableReader&, Record&)> read;
  std::function<InputName*(Record&)> name_in = {};  // of the value in a record; null: there is none
  InputName input = {};                             // the pattern of that name; empty: no figure takes it

  // How the value is called in a ledger: "{}" in the label is its owner's name, in the group its part's. The
  // last word of the key is the field's own unless said otherwise.
  Field as_input(std::string label, std::string group = "", std::string key = "") && {
    input = {key.empty() ? info.key : std::move(key), std::move(label), std::move(group)};
    return std::move(*this);
  }
};

// Whose values are named: what their keys begin with, what their labels call it, the part they vary with.
struct InputOwner {
  std::string key;   // "parts.mc-32.operating_point_1"
  std::string name;  // "1.2 V"
  std::string part;  // "mc-32"
};

template <class Record>
using Fields = std::vector<Field<Record>>;

// A record with a member `std::optional<TableReader> reader` keeps the reader, for mistakes found later.
template <class Record>
void read_record(TableReader& reader, const Fields<Record>& fields, Record& record) {
  if constexpr (requires { record.reader = reader; }) record.reader = reader;
  for (const auto& field : fields) field.read(reader, record);
}

// Gives every value of the record that figures take its name.
template <class Record>
void name_inputs(const Fields<Record>& fields, Record& record, const InputOwner& owner) {
  for (const auto& field : fields) {
    if (field.input.key.empty()) continue;
    if (InputName* name = field.name_in(record)) {
      *name = {fmt::format("{}.{}", owner.key, field.input.key),
               fmt::format(fmt::runtime(field.input.label), owner.name),
               fmt::format(fmt::runtime(field.input.correlation), owner.part)};
    }
  }
}

template <class Record>
std::vector<FieldInfo> infos_of(const Fields<Record>& fields) {
  std::vector<FieldInfo> infos;
  infos.reserve(fields.size());
  for (const auto& field : fields) infos.push_back(field.info);
  return infos;
}

inline bool is_wanted(const TableReader& reader, const std::string& key, Presence presence) {
  return presence == Presence::required || reader.has(key);
}

template <class Record>
Field<Record> text(std::string key, std::string Record::*member, std::string meaning,
                   Pattern pattern = Pattern::any, Presence presence = Presence::required) {
  auto read = [key, member, pattern, presence](TableReader& reader, Record& record) {
    if (presence == Presence::required) {
      record.*member = reader.required_string(key, pattern);
    } else if (auto value = reader.optional_string(key, pattern)) {
      record.*member = std::move(*value);
    }
  };
  return {{std::move(key), std::move(meaning), presence, Multiplicity::one, TextShape{pattern}},
          std::move(read)};
}

template <class Record, class Value>
Field<Record> choice(std::string key, Value Record::*member,
                     std::vector<std::pair<std::string, Value>> choices, std::string meaning,
                     Presence presence = Presence::required) {
  ChoiceShape shape;
  for (const auto& entry : choices) shape.names.push_back(entry.first);
  auto read = [key, member, presence, choices = std::move(choices)](TableReader& reader, Record& record) {
    if (presence == Presence::required) {
      record.*member = reader.required_choice(key, choices);
    } else if (auto value = reader.optional_choice(key, choices)) {
      record.*member = std::move(*value);
    }
  };
  return {{std::move(key), std::move(meaning), presence, Multiplicity::one, std::move(shape)},
          std::move(read)};
}

template <class Record>
Field<Record> count(std::string key, unsigned Record::*member, unsigned lower, unsigned upper,
                    std::string meaning, Presence presence = Presence::required) {
  auto read = [key, member, lower, upper, presence](TableReader& reader, Record& record) {
    if (presence == Presence::required) {
      record.*member = static_cast<unsigned>(reader.required_integer(key, lower, upper));
    } else if (auto value = reader.optional_integer(key, lower, upper)) {
      record.*member = static_cast<unsigned>(*value);
    }
  };
  return {{std::move(key), std::move(meaning), presence, Multiplicity::one, IntegerShape{lower, upper}},
          std::move(read)};
}

template <class Record>
Field<Record> number(std::string key, std::optional<double> Record::*member, double lower, double upper,
                     std::string meaning) {
  auto read = [key, member, lower, upper](TableReader& reader, Record& record) {
    record.*member = reader.optional_number(key, lower, upper);
  };
  return {
      {std::move(key), std::move(meaning), Presence::optional, Multiplicity::one, NumberShape{lower, upper}},
      std::move(read)};
}

template <class Record>
Field<Record> number(std::string key, double Record::*member, double lower, double upper, std::string meaning,
                     Presence presence = Presence::required) {
  auto read = [key, member, lower, upper, presence](TableReader& reader, Record& record) {
    if (presence == Presence::required) {
      record.*member = reader.required_number(key, lower, upper);
    } else if (auto value = reader.optional_number(key, lower, upper)) {
      record.*member = *value;
    }
  };
  return {{std::move(key), std::move(meaning), presence, Multiplicity::one, NumberShape{lower, upper}},
          std::move(read)};
}

template <class Record>
Field<Record> flag(std::string key, bool Record::*member, std::string meaning,
                   Presence presence = Presence::required) {
  auto read = [key, member, presence](TableReader& reader, Record& record) {
    if (presence == Presence::required) {
      record.*member = reader.required_boolean(key);
    } else if (auto value = reader.optional_boolean(key)) {
      record.*member = *value;
    }
  };
  return {{std::move(key), std::move(meaning), presence, Multiplicity::one, FlagShape{}}, std::move(read)};
}

template <class Record>
Field<Record> quantity(std::string key, SourcedQuantity Record::*member, const QuantityRule& rule,
                       std::string unit, std::string meaning) {
  auto read = [key, member, rule](TableReader& reader, Record& record) {
    record.*member = reader.required_quantity(key, rule);
  };
  return {{std::move(key), std::move(meaning), Presence::required, Multiplicity::one,
           QuantityShape{rule, std::move(unit)}},
          std::move(read),
          [member](Record& record) { return &(record.*member).input; }};
}

// The value alone, SI.
template <class Record>
Field<Record> quantity(std::string key, double Record::*member, const QuantityRule& rule, std::string unit,
                       std::string meaning) {
  auto read = [key, member, rule](TableReader& reader, Record& record) {
    record.*member = reader.required_quantity(key, rule).value_si;
  };
  return {{std::move(key), std::move(meaning), Presence::required, Multiplicity::one,
           QuantityShape{rule, std::move(unit)}},
          std::move(read)};
}

template <class Record>
Field<Record> quantities(std::string key, std::vector<SourcedQuantity> Record::*member,
                         const QuantityRule& rule, std::string unit, std::string meaning,
                         Presence presence = Presence::required) {
  auto read = [key, member, rule, presence](TableReader& reader, Record& record) {
    record.*member = presence == Presence::required ? reader.required_quantities(key, rule)
                                                    : reader.optional_quantities(key, rule);
  };
  return {{std::move(key), std::move(meaning), presence, Multiplicity::list,
           QuantityShape{rule, std::move(unit)}},
          std::move(read)};
}

template <class Record>
Field<Record> range(std::string key, SourcedRange Record::*member, const QuantityRule& rule, std::string unit,
                    std::string meaning, Presence presence = Presence::required) {
  auto read = [key, member, rule, presence](TableReader& reader, Record& record) {
    if (is_wanted(reader, key, presence)) {
      record.*member = reader.required_range(key, rule);
    } else {
      (void)reader.optional_range(key, rule);  // makes the key known
    }
  };
  return {
      {std::move(key), std::move(meaning), presence, Multiplicity::one, RangeShape{rule, std::move(unit)}},
      std::move(read),
      [member](Record& record) { return &(record.*member).input; }};
}

template <class Record>
Field<Record> range(std::string key, std::optional<SourcedRange> Record::*member, const QuantityRule& rule,
                    std::string unit, std::string meaning) {
  auto read = [key, member, rule](TableReader& reader, Record& record) {
    record.*member = reader.optional_range(key, rule);
  };
  return {{std::move(key), std::move(meaning), Presence::optional, Multiplicity::one,
           RangeShape{rule, std::move(unit)}},
          std::move(read),
          [member](Record& record) { return record.*member ? &(record.*member)->input : nullptr; }};
}

// A list of words; absent means empty where it is optional.
template <class Record>
Field<Record> words(std::string key, std::vector<std::string> Record::*member, std::string meaning,
                    Presence presence = Presence::required, Pattern pattern = Pattern::identifier) {
  auto read = [key, member, pattern, presence](TableReader& reader, Record& record) {
    record.*member = presence == Presence::required ? reader.required_strings(key, pattern)
                                                    : reader.optional_strings(key, pattern);
  };
  return {{std::move(key), std::move(meaning), presence, Multiplicity::list, TextShape{pattern}},
          std::move(read)};
}

template <class Record, class Inner>
Field<Record> table(std::string key, Inner Record::*member, const Fields<Inner>& fields,
                    std::string meaning) {
  auto read = [key, member, &fields](TableReader& reader, Record& record) {
    auto inner = reader.required_table(key);
    read_record(inner, fields, record.*member);
  };
  return {{std::move(key), std::move(meaning), Presence::required, Multiplicity::one,
           TableShape{infos_of(fields)}},
          std::move(read)};
}

template <class Record, class Inner>
Field<Record> table(std::string key, std::optional<Inner> Record::*member, const Fields<Inner>& fields,
                    std::string meaning) {
  auto read = [key, member, &fields](TableReader& reader, Record& record) {
    if (auto inner = reader.optional_table(key)) read_record(*inner, fields, (record.*member).emplace());
  };
  return {{std::move(key), std::move(meaning), Presence::optional, Multiplicity::one,
           TableShape{infos_of(fields)}},
          std::move(read)};
}

// A table that groups keys in the file only: they fill the same record.
template <class Record>
Field<Record> section(std::string key, Fields<Record> fields, std::string meaning) {
  FieldInfo info{key, std::move(meaning), Presence::required, Multiplicity::one,
                 TableShape{infos_of(fields)}};
  auto read = [key = std::move(key), fields = std::move(fields)](TableReader& reader, Record& record) {
    auto inner = reader.required_table(key);
    read_record(inner, fields, record);
  };
  return {std::move(info), std::move(read)};
}

// An array of tables.
template <class Record, class Inner>
Field<Record> tables(std::string key, std::vector<Inner> Record::*member, const Fields<Inner>& fields,
                     std::string meaning, Presence presence = Presence::required) {
  auto read = [key, member, &fields, presence](TableReader& reader, Record& record) {
    auto inner_readers =
        presence == Presence::required ? reader.required_tables(key) : reader.optional_tables(key);
    for (auto& inner : inner_readers) read_record(inner, fields, (record.*member).emplace_back());
  };
  return {{std::move(key), std::move(meaning), presence, Multiplicity::list, TableShape{infos_of(fields)}},
          std::move(read)};
}

// Where the reader of the table itself is the source of the record.
template <class Record>
Field<Record> remembered_source(figures::Source Record::*member) {
  auto read = [member](TableReader& reader, Record& record) { record.*member = reader.source(); };
  return {{"source", "where the values of this table come from", Presence::optional, Multiplicity::one,
           TextShape{}},
          std::move(read)};
}

}  // namespace portweigh::reading
