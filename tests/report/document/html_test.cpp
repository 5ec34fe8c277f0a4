#include "report/document/html.hpp"

#include <catch2/catch.hpp>
#include <regex>

#include "report/document/page_files.hpp"
#include "report_fixture.hpp"

using namespace portweigh;
using namespace portweigh::report;

namespace {

// The page without the embedded scripts and data, whose texts are data, not mark-up.
std::string markup_of(std::string html) {
  for (auto begin = html.find("<script"); begin != std::string::npos; begin = html.find("<script")) {
    const auto end = html.find("</script>", begin);
    REQUIRE(end != std::string::npos);
    html.erase(begin, end + 9 - begin);
  }
  return html;
}

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

}  // namespace

TEST_CASE("Names that look like mark-up show as text") {
  const std::string name = "<script>alert(1)</script><img src=x onerror=alert(2)>";
  const Run run = tests::small_run({.study_name = name, .second_id = "mc\"><script>alert(3)</script>"});
  const std::string html = report_html(make_document(run));
  CHECK(html.find("alert(1)</script>") == std::string::npos);
  CHECK(html.find("<script>alert(3)") == std::string::npos);
  CHECK(html.find("<img") == std::string::npos);
  CHECK(html.find("&lt;script&gt;alert(1)&lt;/script&gt;") != std::string::npos);
  // One element for the data, one for the chart library, one for the page's own scripts.
  CHECK(count(html, "</script>") == 3);
}

TEST_CASE("Nothing is loaded from anywhere, and the policy forbids it") {
  const std::string html = report_html(make_document(tests::small_run()));
  const std::string markup = markup_of(html);
  CHECK(markup.find(" src=") == std::string::npos);
  CHECK(markup.find("url(") == std::string::npos);
  CHECK(markup.find("@import") == std::string::npos);
  const std::regex link("href=\"([^\"]*)\"");
  for (auto at = std::sregex_iterator(markup.begin(), markup.end(), link); at != std::sregex_iterator();
       ++at) {
    CHECK((*at)[1].str().starts_with("#"));
  }
  CHECK(html.find("default-src 'none'") != std::string::npos);
  CHECK(html.find("unsafe-eval") == std::string::npos);
}

TEST_CASE("The sections stand in their order") {
  const Run run = tests::small_run();
  const std::string html = report_html(make_document(run));
  std::size_t last = 0;
  for (const char* id :
       {"recommendation", "cautions", "options", "charts", "change", "rejected", "assumptions", "method"}) {
    const auto at = html.find(std::string("<section id=\"") + id + "\"");
    INFO(id);
    REQUIRE(at != std::string::npos);
    CHECK(at > last);
    last = at;
  }
}

TEST_CASE("Clocks that were not taken stand below the options, as text, where there are any") {
  Run run = tests::small_run();
  CHECK(markup_of(report_html(make_document(run))).find("settings-table") == std::string::npos);
  run.other_settings = {{"mc-beta", "<b>4 MHz", true, 0.5, 3e-3, 3e-5}};
  const std::string markup = markup_of(report_html(make_document(run)));
  const auto at = markup.find("id=\"settings-table\"");
  REQUIRE(at != std::string::npos);
  CHECK(at < markup.find("<section id=\"charts\""));
  CHECK(markup.find("&lt;b&gt;4 MHz", at) != std::string::npos);
}

TEST_CASE("Cautions stand near the top, and what is left out beside the options, as text") {
  const std::string html =
      report_html(make_document(tests::small_run({.exclusion_reason = "<b>one</b> source only"})));
  const std::string section = html.substr(html.find("<section id=\"cautions\""));
  CHECK(count(section.substr(0, section.find("</section>")), "<li>") == cautions({5, 3}).size());
  CHECK(html.find("Left out by the study: ff-omega: &lt;b&gt;one&lt;/b&gt; source only") <
        html.find("id=\"charts\""));
}

TEST_CASE("A study where nothing can be built still has a page, without live parts") {
  const std::string html = report_html(make_document(tests::empty_run()));
  CHECK(html.find("No option can be built") != std::string::npos);
  CHECK(html.find("<script") == std::string::npos);
}

TEST_CASE("The chart library is embedded with its notice") {
  CHECK(page::vega.find("Interactive Data Lab") != std::string_view::npos);
  CHECK(page::vega.find("define_module(\"vega-view\"") != std::string_view::npos);
}
