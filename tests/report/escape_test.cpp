#include "report/escape.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace portweigh::report;

TEST_CASE("Text in HTML has no mark-up of its own") {
  CHECK(html_text("<script>alert('x')</script> & \"y\"") ==
        "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;y&quot;");
  CHECK(html_text("µW, 5 %") == "µW, 5 %");
}

TEST_CASE("JSON in a script element can't end it and reads back the same") {
  const nlohmann::ordered_json json = {{"a", "</script><!-- & \xE2\x80\xA8 \xE2\x80\xA9 \\ \" ü"},
                                       {"b", 0.1}};
  const std::string text = json_in_script(json);
  CHECK(text.find_first_of("<>&") == std::string::npos);
  CHECK(text.find("\xE2\x80\xA8") == std::string::npos);
  CHECK(nlohmann::ordered_json::parse(text) == json);
}

TEST_CASE("Markdown text stays one cell of plain text") {
  CHECK(markdown_text("a|b\n*c* <i> `d` & [e](f)") == "a\\|b \\*c\\* \\<i\\> \\`d\\` &amp; \\[e\\](f)");
}
