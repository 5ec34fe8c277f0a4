// A small catalog and study in a folder of their own, for the readers' tests.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace portweigh::study::texts {

// A folder that is removed at the end of the test.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  void write(const std::string& name, const std::string& text) const;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

std::string function();     // catalog/functions/small.toml
std::string state_table();  // catalog/state-machines/lamp.toml
std::string study();        // study.toml, which names the function "small"

// The text with `from` replaced by `to`; fails the test if `from` isn't there.
std::string changed(std::string text, const std::string& from, const std::string& to);

// "study.toml:3:10: what is wrong" for each mistake, folders cut off; empty if all is right. The folder gets
// a catalog of one function, one state table, two core classes, two parts and two currencies.
std::vector<std::string> mistakes_of_study(const std::string& study_text, const std::string& function_text,
                                           const std::string& table_text = state_table());

}  // namespace portweigh::study::texts
