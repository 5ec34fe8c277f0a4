// Covering time, memory and LUT totals beside berkeley-abc on generated circuits of 100 to 200,000 ANDs.
//
// Both programs run as whole processes on the same AIGER files: this program starts itself with `--cover K
// FILE`, and `berkeley-abc -c "read FILE; strash; if -K K; print_stats"`. Printed: wall time, processor time
// and peak memory of each process, LUTs and levels, then totals and ratios (ours / theirs). With file names
// as arguments, those files are measured instead of the generated ones.
#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "../logic/circuits.hpp"
#include "../logic/netlist_writers_fixture.hpp"
#include "logic/cover/cover.hpp"
#include "logic/files/logic_file.hpp"

namespace {

using namespace portweigh::logic;

struct Measured {
  std::size_t luts = 0;
  std::size_t levels = 0;
  double wall_s = 0;
  double processor_s = 0;
  double memory_mb = 0;
};

double seconds(const timeval& time) {
  return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) * 1e-6;
}

// The number behind `label` and an equals sign, as in `nd =   254`; empty if there is none.
std::optional<std::size_t> number_after(const std::string& text, std::string_view label) {
  const std::size_t place = text.find(label);
  if (place == std::string::npos) return std::nullopt;
  const std::size_t digits = text.find_first_of("0123456789", place + label.size());
  if (digits == std::string::npos) return std::nullopt;
  return std::stoul(text.substr(digits));
}

// Runs a program, reads `nd = LUTs ... lev = levels` from its output. Zero LUTs: it could not be run.
Measured run(const std::vector<std::string>& command) {
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0) return {};
  const auto start = std::chrono::steady_clock::now();
  const pid_t child = fork();
  if (child == 0) {
    std::vector<char*> arguments;
    for (const std::string& word : command) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    dup2(ends[1], STDOUT_FILENO);
    close(ends[0]);
    close(ends[1]);
    execvp(arguments[0], arguments.data());
    _exit(127);
  }
  close(ends[1]);
  std::string text;
  std::array<char, 4096> buffer{};
  for (ssize_t count = 0; (count = read(ends[0], buffer.data(), buffer.size())) > 0;) {
    text.append(buffer.data(), static_cast<std::size_t>(count));
  }
  close(ends[0]);
  int status = 0;
  rusage usage{};
  wait4(child, &status, 0, &usage);
  Measured measured;
  measured.wall_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  measured.processor_s = seconds(usage.ru_utime) + seconds(usage.ru_stime);
  measured.memory_mb = static_cast<double>(usage.ru_maxrss) / 1024;
  measured.luts = number_after(text, "nd =").value_or(0);
  measured.levels = number_after(text, "lev =").value_or(0);
  return measured;
}

int cover_one(unsigned lut_inputs, const std::string& path) {
  const Cover covered =
      cover(read_netlist(path), {.lut_inputs = lut_inputs, .effort = Effort::covering_only});
  fmt::print("nd = {} lev = {}\n", covered.luts.size(), covered.levels);
  return 0;
}

std::vector<std::string> write_generated(const std::filesystem::path& folder) {
  std::vector<std::string> files;
  const auto add = [&](const std::string& name, const Network& net) {
    files.push_back((folder / (name + ".aig")).string());
    std::ofstream(files.back(), std::ios::binary) << write_aiger(net, AigerForm::binary);
  };
  add("adder-16", circuits::adder(16));
  add("adder-128", circuits::adder(128));
  add("multiplier-8", circuits::multiplier(8));
  add("multiplier-32", circuits::multiplier(32));
  add("multiplier-64", circuits::multiplier(64));
  add("shifter-128", circuits::barrel_shifter(7));
  add("priority-256", circuits::priority_encoder(256));
  add("comparator-64", circuits::less_than(64));
  add("crc-32-8", circuits::crc_next_state(32, 0x04C11DB7, 8));
  add("crc-32-64", circuits::crc_next_state(32, 0x04C11DB7, 64));
  add("random-100", circuits::random_logic(1, 16, 100));
  add("random-1000", circuits::random_logic(2, 40, 1000));
  add("random-10000", circuits::random_logic(3, 120, 10000));
  add("random-50000", circuits::random_logic(4, 300, 50000));
  add("random-130000", circuits::random_logic(5, 600, 130000));
  return files;
}

void compare(unsigned lut_inputs, const std::vector<std::string>& files, const std::string& self) {
  fmt::print("\nK = {}\n{:<20} {:>9} {:>7} {:>8} {:>8} {:>7}   {:>9} {:>7} {:>8} {:>8} {:>7}\n", lut_inputs,
             "circuit", "LUTs", "levels", "wall s", "cpu s", "MB", "abc LUTs", "levels", "wall s", "cpu s",
             "MB");
  Measured ours;
  Measured theirs;
  const auto add = [](Measured& total, const Measured& one) {
    total.luts += one.luts;
    total.wall_s += one.wall_s;
    total.processor_s += one.processor_s;
    total.memory_mb = std::max(total.memory_mb, one.memory_mb);
  };
  for (const std::string& file : files) {
    const Measured our = run({self, "--cover", std::to_string(lut_inputs), file});
    const Measured their =
        run({"berkeley-abc", "-c", fmt::format("read {}; strash; if -K {}; print_stats", file, lut_inputs)});
    fmt::print("{:<20} {:>9} {:>7} {:>8.3f} {:>8.3f} {:>7.0f}   {:>9} {:>7} {:>8.3f} {:>8.3f} {:>7.0f}{}\n",
               std::filesystem::path(file).stem().string(), our.luts, our.levels, our.wall_s, our.processor_s,
               our.memory_mb, their.luts, their.levels, their.wall_s, their.processor_s, their.memory_mb,
               their.luts != 0 && our.levels > their.levels ? "  deeper" : "");
    std::fflush(stdout);
    add(ours, our);
    add(theirs, their);
  }
  fmt::print("{:<20} {:>9} {:>7} {:>8.3f} {:>8.3f} {:>7.0f}   {:>9} {:>7} {:>8.3f} {:>8.3f} {:>7.0f}\n",
             "total", ours.luts, "", ours.wall_s, ours.processor_s, ours.memory_mb, theirs.luts, "",
             theirs.wall_s, theirs.processor_s, theirs.memory_mb);
  if (theirs.luts == 0) {
    fmt::print("berkeley-abc is not installed: no comparison\n");
    return;
  }
  fmt::print("ratio of LUTs {:.3f}, of wall time {:.2f}, of processor time {:.2f}\n",
             static_cast<double>(ours.luts) / static_cast<double>(theirs.luts), ours.wall_s / theirs.wall_s,
             ours.processor_s / theirs.processor_s);
}

}  // namespace

int main(int count, char** arguments) {
  std::vector<std::string> words(arguments, arguments + count);
  if (count == 4 && words[1] == "--cover") {
    return cover_one(static_cast<unsigned>(std::stoul(words[2])), words[3]);
  }
  const std::filesystem::path folder =
      std::filesystem::temp_directory_path() / fmt::format("portweigh-covering-{}", getpid());
  std::filesystem::create_directories(folder);
  const std::vector<std::string> files =
      count > 1 ? std::vector<std::string>(words.begin() + 1, words.end()) : write_generated(folder);
  const std::string self = std::filesystem::read_symlink("/proc/self/exe").string();
  for (const unsigned lut_inputs : {4U, 6U}) compare(lut_inputs, files, self);
  std::filesystem::remove_all(folder);
  return 0;
}
