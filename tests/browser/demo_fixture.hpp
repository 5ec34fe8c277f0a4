// The demo study's page and saved run, made once for all browser tests, and the program that makes them.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace portweigh::tests {

inline const std::string demo_study = PORTWEIGH_STUDIES_DIR "/flow-meter.toml";

// What the program prints; it must end with exit code 0.
std::string run_program(std::vector<std::string> arguments);

// A folder for files of this run of the tests, gone at its end.
const std::filesystem::path& browser_folder();

const std::filesystem::path& demo_page();
const nlohmann::json& demo_run();

}  // namespace portweigh::tests
