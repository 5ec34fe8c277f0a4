// A headless browser driven over the WebDriver protocol (W3C Recommendation), for tests of the report page.
//
// Starts Debian's chromedriver on a free port and one session of Debian's chromium in it; both end with the
// object. The few calls needed are plain HTTP to the local machine, so no client library is needed.
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace portweigh::tests {

class WebDriver {
 public:
  // Throws std::runtime_error where a browser or its driver is missing.
  WebDriver();
  ~WebDriver();
  WebDriver(const WebDriver&) = delete;
  WebDriver& operator=(const WebDriver&) = delete;

  void resize(int width, int height);
  void prefer_color_scheme(const std::string& scheme);  // "light" or "dark"
  // Opens a file, with a fragment ("" for none), and waits until the page says that its charts are drawn.
  void open(const std::filesystem::path& file, const std::string& fragment);
  void wait_until_ready();
  // The value that the script returns.
  nlohmann::json run(const std::string& script, const nlohmann::json& arguments = nlohmann::json::array());
  void press(const std::string& css_selector, const std::string& keys);  // focuses, then types
  void click(const std::string& css_selector);
  // Console messages and uncaught errors since the last call.
  std::vector<std::string> take_console();
  // Addresses that the page asked for since the last call.
  std::vector<std::string> take_requests();
  // The bytes of the printed page; size in cm.
  std::string print(double width_cm, double height_cm);

 private:
  nlohmann::json call(const std::string& method, const std::string& path, const nlohmann::json& body);
  nlohmann::json command(const std::string& path, const nlohmann::json& body);
  std::string element(const std::string& css_selector);
  void stop_driver();

  pid_t driver_ = -1;
  int output_ = -1;  // of the driver
  int port_ = 0;
  std::string session_;
};

}  // namespace portweigh::tests
