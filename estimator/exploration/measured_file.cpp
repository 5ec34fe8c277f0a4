#include "exploration/measured_file.hpp"

#include <fmt/core.h>

#include "blocks/registry.hpp"
#include "reading/suggest.hpp"
#include "reading/table_reader.hpp"
#include "study/block_settings_reader.hpp"
#include "study/figure_names.hpp"
#include "study/study_reader.hpp"

namespace portweigh::exploration {
namespace {

using namespace reading;

class MeasuredReader {
 public:
  MeasuredReader(const std::filesystem::path& file, const parts::Catalog& catalog)
      : file_(file), catalog_(catalog), document_(Document::load(file)) {}

  Measured read() {
    auto root = document_.root();
    measured_.name = root.required_string("name");
    root.optional_string("source");
    auto synthesis = root.optional_tables("synthesis");
    auto firmware = root.optional_tables("firmware");
    auto bench = root.optional_tables("bench");
    for (TableReader& reader : synthesis) read_logic(reader);
    for (TableReader& reader : firmware) read_firmware(reader);
    for (TableReader& reader : bench) read_figure(reader);
    if (synthesis.empty() && firmware.empty() && bench.empty()) {
      root.report("nothing is measured, expected tables [[synthesis]], [[firmware]] or [[bench]]");
    }
    document_.throw_if_errors(of_studies_);
    return std::move(measured_);
  }

 private:
  std::optional<options::BlockUse> read_block(TableReader& reader) {
    const std::string name = reader.required_string("block", Pattern::identifier);
    auto settings = reader.optional_table("settings");
    std::vector<std::string> names;
    for (const blocks::Kind& kind : blocks::kinds()) {
      names.push_back(kind.name);
      if (kind.name != name) continue;
      const std::vector<std::filesystem::path> folders = {file_.parent_path(), catalog_.folder};
      return options::BlockUse{&kind, settings ? study::read_settings(*settings, kind, folders)
                                               : blocks::Settings::standard(kind.settings)};
    }
    if (!name.empty()) reader.report("block", unknown_name_message("block kind", name, names));
    if (settings) {
      for (const std::string& key : settings->keys()) settings->accept(key);
    }
    return std::nullopt;
  }

  void read_logic(TableReader& reader) {
    MeasuredLogic logic;
    const auto use = read_block(reader);
    logic.traits.lut_inputs = static_cast<unsigned>(reader.required_integer("lut_inputs", 3, 8));
    logic.traits.has_carry_chain = reader.optional_boolean("carry_chain").value_or(false);
    logic.traits.ram_reads = logic::RamReads::any;
    logic.luts = static_cast<unsigned>(reader.required_integer("luts", 1, 10'000'000));
    logic.source = reader.source();
    if (!use) return;
    if (!use->kind->network && !use->kind->given) {
      reader.report("block", fmt::format("{} has no logic, expected a kind with a network", use->kind->name));
      return;
    }
    logic.use = *use;
    measured_.logic.push_back(std::move(logic));
  }

  void read_firmware(TableReader& reader) {
    MeasuredFirmware firmware;
    const auto use = read_block(reader);
    firmware.core = reader.required_string("core");
    firmware.method = reader.optional_string("method").value_or("");
    firmware.cycles = reader.optional_number("cycles", 1e-3, 1e12);
    firmware.code_bytes = reader.optional_number("code_bytes", 1, 1e9);
    firmware.source = reader.source();
    if (!firmware.core.empty() && !catalog_.cores.contains(firmware.core)) {
      std::vector<std::string> names;
      for (const auto& [name, core] : catalog_.cores) names.push_back(name);
      reader.report("core", unknown_name_message("core class", firmware.core, names));
      return;
    }
    if (!firmware.cycles && !firmware.code_bytes) {
      reader.report("neither cycles nor code_bytes, expected one of them or both");
    }
    if (!use) return;
    firmware.use = *use;
    measured_.firmware.push_back(std::move(firmware));
  }

  void read_figure(TableReader& reader) {
    MeasuredFigure figure;
    figure.study = reader.required_string("study");
    figure.option = reader.required_string("option");
    figure.input = reader.required_string("input");
    figure.figure = reader.required_string("figure");
    figure.source = reader.source();
    const study::FigureName* known = study::find_figure(figure.figure);
    if (known == nullptr) {
      std::vector<std::string> names;
      for (const study::FigureName& one : study::known_figures()) names.push_back(one.name);
      if (!figure.figure.empty()) {
        reader.report("figure", unknown_name_message("figure", figure.figure, names));
      }
      reader.accept("measured");
    } else {
      const auto measured = reader.required_quantity("measured", QuantityRule(known->dimension));
      figure.value_si = measured.value_si;
      figure.unit = measured.unit;
    }
    load_study(reader, figure.study);
    measured_.figures.push_back(std::move(figure));
  }

  void load_study(TableReader& reader, const std::string& study) {
    if (study.empty() || measured_.studies.contains(study)) return;
    const auto path = (file_.parent_path() / study).lexically_normal();
    if (!std::filesystem::is_regular_file(path)) {
      reader.report("study", fmt::format("no file {}, expected a study's path from this file's folder",
                                         path.generic_string()));
      return;
    }
    try {
      measured_.studies.emplace(study, study::read_study(path, catalog_.folder));
    } catch (const InputError& error) {
      of_studies_.append(error.diagnostics());
    }
  }

  const std::filesystem::path& file_;
  const parts::Catalog& catalog_;
  Document document_;
  Measured measured_;
  Diagnostics of_studies_;
};

}  // namespace

Measured read_measured(const std::filesystem::path& file, const parts::Catalog& catalog) {
  return MeasuredReader(file, catalog).read();
}

}  // namespace portweigh::exploration
