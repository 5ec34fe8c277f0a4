#include "parts/catalog.hpp"

#include <algorithm>
#include <optional>

#include "parts/core_reader.hpp"
#include "parts/external_part_reader.hpp"
#include "parts/fixed_function_reader.hpp"
#include "parts/microcontroller_reader.hpp"
#include "parts/programmable_logic_reader.hpp"
#include "parts/reference_reader.hpp"

namespace portweigh::parts {
namespace {

using reading::Diagnostics;
using reading::Document;
using reading::InputError;
using reading::TableReader;

// All TOML files of a folder by name; none if there is no such folder.
std::vector<std::filesystem::path> files_of(const std::filesystem::path& folder) {
  std::vector<std::filesystem::path> files;
  std::error_code error;
  for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

// What `read_root` makes of the file, or nothing after its mistakes were added to `mistakes`.
template <class ReadRoot>
auto read_file(const std::filesystem::path& file, Diagnostics& mistakes, ReadRoot read_root)
    -> std::optional<decltype(read_root(std::declval<TableReader&>()))> {
  try {
    auto document = Document::load(file);
    auto root = document.root();
    auto value = read_root(root);
    document.throw_if_errors();
    return value;
  } catch (const InputError& error) {
    mistakes.append(error.diagnostics());
    return std::nullopt;
  }
}

template <class SomePart>
const std::string& id_of(const SomePart& part) {
  if constexpr (requires { part.part.id; }) {
    return part.part.id;
  } else {
    return part.id;
  }
}

template <class SomePart>
std::vector<SomePart> read_parts(const std::filesystem::path& folder, ReadingContext& context,
                                 Diagnostics& mistakes,
                                 SomePart (*read)(TableReader&, const ReadingContext&)) {
  std::vector<SomePart> parts;
  for (const auto& file : files_of(folder)) {
    context.expected_id = file.stem().string();
    auto part = read_file(file, mistakes, [&](TableReader& root) {
      auto value = read(root, context);
      context.ids.emplace(id_of(value), file.generic_string());
      return value;
    });
    if (part) parts.push_back(std::move(*part));
  }
  std::sort(parts.begin(), parts.end(),
            [](const SomePart& a, const SomePart& b) { return id_of(a) < id_of(b); });
  return parts;
}

std::map<std::string, firmware::Core> read_cores(const std::filesystem::path& folder, ReadingContext& context,
                                                 Diagnostics& mistakes) {
  std::map<std::string, firmware::Core> cores;
  for (const auto& file : files_of(folder)) {
    const auto name = file.stem().string();
    context.core_classes.push_back(name);
    auto core = read_file(file, mistakes, [&](TableReader& root) { return read_core(root, name); });
    if (core) cores.emplace(name, std::move(*core));
  }
  return cores;
}

}  // namespace

Catalog read_catalog(const std::filesystem::path& folder) {
  if (!std::filesystem::is_directory(folder)) {
    throw InputError(reading::Diagnostic{
        folder.generic_string(), 0, 0,
        "no such folder, expected a catalog with programmable-logic, "
        "microcontrollers, fixed-function, external, cores, spreads.toml and currencies.toml",
        ""});
  }
  Catalog catalog;
  catalog.folder = folder;
  Diagnostics mistakes;
  ReadingContext context;
  catalog.cores = read_cores(folder / "cores", context, mistakes);
  if (auto spreads = read_file(folder / "spreads.toml", mistakes, read_spreads)) {
    catalog.lut_spreads = std::move(*spreads);
  }
  if (auto currencies = read_file(folder / "currencies.toml", mistakes, read_currencies)) {
    catalog.currencies = std::move(*currencies);
  }
  for (const auto& [code, rate] : catalog.currencies) context.currencies.push_back(code);
  catalog.programmable_logic =
      read_parts(folder / "programmable-logic", context, mistakes, read_programmable_logic);
  catalog.microcontrollers = read_parts(folder / "microcontrollers", context, mistakes, read_microcontroller);
  catalog.fixed_functions = read_parts(folder / "fixed-function", context, mistakes, read_fixed_function);
  catalog.external_parts = read_parts(folder / "external", context, mistakes, read_external_part);
  if (!mistakes.is_empty()) throw InputError(std::move(mistakes));
  return catalog;
}

}  // namespace portweigh::parts
