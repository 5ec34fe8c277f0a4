#include "web_driver_fixture.hpp"

#include <fmt/core.h>
#include <netinet/in.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <stdexcept>
#include <thread>

namespace portweigh::tests {
namespace {

constexpr const char* browser_path = "/usr/bin/chromium";
constexpr const char* driver_path = "/usr/bin/chromedriver";

std::string decode_base64(const std::string& text) {
  static const std::string digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string bytes;
  unsigned bits = 0;
  int count = 0;
  for (const char c : text) {
    const auto digit = digits.find(c);
    if (digit == std::string::npos) continue;
    bits = (bits << 6U) | static_cast<unsigned>(digit);
    count += 6;
    if (count >= 8) {
      count -= 8;
      bytes += static_cast<char>((bits >> static_cast<unsigned>(count)) & 0xFFU);
    }
  }
  return bytes;
}

// The driver prints "... started successfully on port N." once it listens.
int read_port(int output) {
  std::string text;
  std::array<char, 256> buffer{};
  const std::string mark = "on port ";
  while (true) {
    const ssize_t count = read(output, buffer.data(), buffer.size());
    if (count <= 0) throw std::runtime_error("the driver did not start: " + text);
    text.append(buffer.data(), static_cast<std::size_t>(count));
    const auto success = text.find("started successfully");
    if (success == std::string::npos || text.find('\n', success) == std::string::npos) continue;
    const auto at = text.find(mark, success);
    if (at == std::string::npos) throw std::runtime_error("the driver names no port: " + text);
    return std::stoi(text.substr(at + mark.size()));
  }
}

std::string send_request(int port, const std::string& request) {
  const int connection = socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(port));
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (connect(connection, reinterpret_cast<const sockaddr*>(&address), sizeof(address)) != 0) {
    close(connection);
    throw std::runtime_error("the driver does not answer");
  }
  for (std::size_t sent = 0; sent < request.size();) {
    const ssize_t count = write(connection, request.data() + sent, request.size() - sent);
    if (count <= 0) break;
    sent += static_cast<std::size_t>(count);
  }
  std::string answer;
  std::array<char, 65536> buffer{};
  const auto is_whole = [&answer] {
    const auto head = answer.find("\r\n\r\n");
    if (head == std::string::npos) return false;
    const auto at = answer.find("Content-Length:");
    return at != std::string::npos && answer.size() >= head + 4 + std::stoul(answer.substr(at + 15));
  };
  while (!is_whole()) {
    const ssize_t count = read(connection, buffer.data(), buffer.size());
    if (count <= 0) break;
    answer.append(buffer.data(), static_cast<std::size_t>(count));
  }
  close(connection);
  return answer;
}

}  // namespace

WebDriver::WebDriver() {
  for (const char* needed : {browser_path, driver_path}) {
    if (!std::filesystem::exists(needed)) {
      throw std::runtime_error(fmt::format("{} is not there (Debian: chromium, chromium-driver)", needed));
    }
  }
  int ends[2];
  if (pipe(ends) != 0) throw std::runtime_error("no pipe");
  driver_ = fork();
  if (driver_ == 0) {
    dup2(ends[1], STDOUT_FILENO);
    dup2(ends[1], STDERR_FILENO);
    close(ends[0]);
    close(ends[1]);
    setpgid(0, 0);
    execl(driver_path, driver_path, "--port=0", "--log-level=SEVERE", nullptr);
    _exit(127);
  }
  close(ends[1]);
  output_ = ends[0];
  try {
    port_ = read_port(output_);
    const nlohmann::json options = {{"binary", browser_path},
                                    {"args",
                                     {"--headless=new", "--no-sandbox", "--disable-gpu",
                                      "--disable-dev-shm-usage", "--window-size=1280,900"}}};
    const nlohmann::json wanted = {{"browserName", "chrome"},
                                   {"goog:loggingPrefs", {{"browser", "ALL"}, {"performance", "ALL"}}},
                                   {"goog:chromeOptions", options}};
    session_ = call("POST", "/session", {{"capabilities", {{"alwaysMatch", wanted}}}})
                   .at("sessionId")
                   .get<std::string>();
  } catch (...) {
    stop_driver();
    throw;
  }
}

WebDriver::~WebDriver() {
  try {
    if (!session_.empty()) call("DELETE", "/session/" + session_, nullptr);
  } catch (const std::exception&) {
    session_.clear();  // the driver is stopped all the same
  }
  stop_driver();
}

void WebDriver::stop_driver() {
  if (driver_ > 0) {
    kill(driver_, SIGTERM);
    waitpid(driver_, nullptr, 0);
  }
  close(output_);
}

nlohmann::json WebDriver::call(const std::string& method, const std::string& path,
                               const nlohmann::json& body) {
  const std::string content = body.is_null() ? "" : body.dump();
  const std::string answer = send_request(
      port_,
      fmt::format("{} {} HTTP/1.1\r\nHost: localhost:{}\r\nContent-Type: application/json\r\nContent-Length: "
                  "{}\r\nConnection: close\r\n\r\n{}",
                  method, path, port_, content.size(), content));
  const auto head = answer.find("\r\n\r\n");
  if (head == std::string::npos) throw std::runtime_error("no answer to " + path);
  const nlohmann::json value = nlohmann::json::parse(answer.substr(head + 4)).at("value");
  if (value.is_object() && value.contains("error")) throw std::runtime_error(path + ": " + value.dump());
  return value;
}

nlohmann::json WebDriver::command(const std::string& path, const nlohmann::json& body) {
  return call("POST", "/session/" + session_ + path, body);
}

void WebDriver::resize(int width, int height) {
  command("/goog/cdp/execute",
          {{"cmd", "Emulation.setDeviceMetricsOverride"},
           {"params",
            {{"width", width}, {"height", height}, {"deviceScaleFactor", 1}, {"mobile", width < 600}}}});
}

void WebDriver::prefer_color_scheme(const std::string& scheme) {
  command("/goog/cdp/execute",
          {{"cmd", "Emulation.setEmulatedMedia"},
           {"params", {{"features", {{{"name", "prefers-color-scheme"}, {"value", scheme}}}}}}});
}

void WebDriver::open(const std::filesystem::path& file, const std::string& fragment) {
  // A new fragment alone would not load the page again.
  command("/url", {{"url", "about:blank"}});
  command("/url", {{"url", "file://" + file.string() + (fragment.empty() ? "" : "#" + fragment)}});
  wait_until_ready();
}

void WebDriver::wait_until_ready() {
  for (int attempt = 0; attempt < 300; ++attempt) {
    if (run("return document.documentElement.dataset.state === 'ready'") == true) return;
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  std::string messages;
  for (const std::string& message : take_console()) messages += message + "\n";
  throw std::runtime_error("the page does not get ready: " + messages);
}

nlohmann::json WebDriver::run(const std::string& script, const nlohmann::json& arguments) {
  return command("/execute/sync", {{"script", script}, {"args", arguments}});
}

std::string WebDriver::element(const std::string& css_selector) {
  return command("/element", {{"using", "css selector"}, {"value", css_selector}})
      .begin()
      ->get<std::string>();
}

void WebDriver::press(const std::string& css_selector, const std::string& keys) {
  command("/element/" + element(css_selector) + "/value", {{"text", keys}});
}

void WebDriver::click(const std::string& css_selector) {
  command("/element/" + element(css_selector) + "/click", nlohmann::json::object());
}

std::vector<std::string> WebDriver::take_console() {
  std::vector<std::string> messages;
  for (const auto& entry : command("/se/log", {{"type", "browser"}})) {
    messages.push_back(entry.at("level").get<std::string>() + " " + entry.at("message").get<std::string>());
  }
  return messages;
}

std::vector<std::string> WebDriver::take_requests() {
  std::vector<std::string> requests;
  for (const auto& entry : command("/se/log", {{"type", "performance"}})) {
    const nlohmann::json message =
        nlohmann::json::parse(entry.at("message").get<std::string>()).at("message");
    if (message.at("method") != "Network.requestWillBeSent") continue;
    requests.push_back(message.at("params").at("request").at("url").get<std::string>());
  }
  return requests;
}

std::string WebDriver::print(double width_cm, double height_cm) {
  return decode_base64(
      command("/print", {{"page", {{"width", width_cm}, {"height", height_cm}}}, {"background", true}})
          .get<std::string>());
}

}  // namespace portweigh::tests
