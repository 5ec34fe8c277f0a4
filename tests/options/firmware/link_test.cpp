#include "options/firmware/link.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;

namespace {

// Everything in the fabric of the first device but the blocks of some layers.
Candidate split_at(std::initializer_list<study::Layer> beyond, EngineKind second) {
  tests::Demo& demo = tests::demo();
  Candidate candidate;
  candidate.add(&demo.catalog.programmable_logic.front());
  if (second == EngineKind::microcontroller) {
    const auto& all = demo.catalog.microcontrollers;
    candidate.add(&*std::find_if(all.begin(), all.end(),
                                 [](const auto& part) { return part.part.id == "mcu-32b-turbo"; }));
  }
  for (const study::FunctionBlock& block : demo.study.function.blocks) {
    const bool is_beyond = std::find(beyond.begin(), beyond.end(), block.layer) != beyond.end();
    candidate.engine_of_block.push_back(is_beyond ? second : EngineKind::fabric);
  }
  return candidate;
}

}  // namespace

TEST_CASE("One chip needs no link") {
  CHECK(std::holds_alternative<std::monostate>(
      choose_link(tests::demo().context(), split_at({}, EngineKind::microcontroller))));
}

TEST_CASE("Policy beyond the link is content with I2C") {
  const auto chosen =
      choose_link(tests::demo().context(), split_at({study::Layer::policy}, EngineKind::microcontroller));
  REQUIRE(std::holds_alternative<Link>(chosen));
  const Link& link = std::get<Link>(chosen);
  CHECK(link.bus == "i2c");
  CHECK(link.pins == 3);
  // 12 bytes of nine clocks at 100 kHz.
  CHECK(link.answer_s == Approx(12 * 90e-6));
  // Header, objects and status, and a state change of cable, host registers and pins each: the policy is
  // where they are not.
  CHECK(link.bytes_per_message >= 12);
}

TEST_CASE("The acknowledgement within 195 us needs the faster bus, and never comes back from the host") {
  const auto chosen =
      choose_link(tests::demo().context(),
                  split_at({study::Layer::message, study::Layer::policy}, EngineKind::microcontroller));
  REQUIRE(std::holds_alternative<Link>(chosen));
  CHECK(std::get<Link>(chosen).bus == "spi");
  CHECK(std::get<Link>(chosen).answer_s < 195e-6);
  const auto host = choose_link(tests::demo().context(), split_at({study::Layer::message}, EngineKind::host));
  REQUIRE(std::holds_alternative<NoLink>(host));
  CHECK(std::get<NoLink>(host).reason.find("must answer within 195 us") != std::string::npos);
}

TEST_CASE("The nearer to the line the cut, the more bytes go over the link") {
  const auto bytes = [](std::initializer_list<study::Layer> beyond) {
    return link_traffic(tests::demo().context(),
                        split_at(beyond, EngineKind::microcontroller).engine_of_block);
  };
  using study::Layer;
  const LinkTraffic policy = bytes({Layer::policy, Layer::host, Layer::pins});
  const LinkTraffic message = bytes({Layer::message, Layer::policy, Layer::host, Layer::pins});
  CHECK(policy.bytes < message.bytes);
  CHECK(policy.bytes_at_line_rate == 0);
  // 229 bits, ten for each byte.
  CHECK(message.bytes_at_line_rate == Approx(22.9));
}
