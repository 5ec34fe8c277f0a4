// Every table of the catalog loads, and does what the protocol does in the scenarios below.
//
// The scenarios are those of IEC 62680-1-2 from memory (attach, offers, request, accept, supply moved;
// timeouts lead to hard reset; two retries) [M]; counted limits: nHardResetCount 2, nCapsCount 50, seen in
// zephyrproject-rtos/zephyr 0a04bc0, include/zephyr/drivers/usb_c/usbc_pd.h [S]; nRetryCount 2 [M].
#include <fmt/core.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

#include "blocks/state_machine/state_table.hpp"

using namespace portweigh::blocks;

namespace {

StateTable load(const std::string& name) {
  return load_state_table(fmt::format("{}/state-machines/{}.toml", PORTWEIGH_CATALOG_DIR, name));
}

std::string text_of(const StateTable& table, const Command& command) {
  switch (command.kind) {
    case CommandKind::act:
      return table.actions[command.index].name;
    case CommandKind::start:
      return "start " + table.timers[command.index].name;
    case CommandKind::stop:
      return "stop " + table.timers[command.index].name;
    case CommandKind::count:
      return "count " + table.counters[command.index].name;
    case CommandKind::clear:
      return "clear " + table.counters[command.index].name;
  }
  return "";
}

// Plays events by name and shows states and commands by name.
class Play {
 public:
  explicit Play(const std::string& name) : table_(load(name)), walk_(table_) { note(walk_.begin()); }

  Play& on(const std::string& event, const std::vector<std::string>& conditions = {}) {
    std::uint64_t bits = 0;
    for (const std::string& condition : conditions) bits |= std::uint64_t{1} << table_.condition(condition);
    note(walk_.step(table_.event(event), bits));
    return *this;
  }
  std::string state() const { return table_.states[walk_.state()].name; }
  bool did(const std::string& command) const {
    return std::find(last_.begin(), last_.end(), command) != last_.end();
  }
  bool is_running(const std::string& timer) const {
    for (std::size_t i = 0; i < table_.timers.size(); ++i) {
      if (table_.timers[i].name == timer) return walk_.is_running(i);
    }
    return false;
  }
  const std::vector<std::string>& last() const { return last_; }

 private:
  void note(const std::vector<Command>& commands) {
    last_.clear();
    for (const Command& command : commands) last_.push_back(text_of(table_, command));
  }

  StateTable table_;
  StateWalk walk_;
  std::vector<std::string> last_;
};

}  // namespace

TEST_CASE("Every state table of the catalog loads") {
  std::size_t count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(PORTWEIGH_CATALOG_DIR "/state-machines")) {
    CAPTURE(entry.path().string());
    const StateTable table = load_state_table(entry.path());
    CHECK(table.name == entry.path().stem().string());
    CHECK(table.states.size() >= 4);
    CHECK(table.reaction_count() >= table.states.size());
    ++count;
  }
  CHECK(count >= 9);
}

TEST_CASE("Policy engines have the size of real ones") {
  CHECK(load("policy-sink").states.size() >= 20);
  CHECK(load("policy-sink").states.size() <= 40);
  CHECK(load("policy-source").states.size() >= 20);
  CHECK(load("policy-source").states.size() <= 40);
}

TEST_CASE("The initial state has number 0 and timers' events come last") {
  const StateTable table = load("policy-sink");
  CHECK(table.states[0].name == "unattached");
  CHECK(table.state("discovery") == 1);
  CHECK(table.events[0].name == "attached");
  CHECK(table.events.size() == table.external_events() + table.timers.size());
  CHECK(table.timers[0].name == "sender-response");
  CHECK(table.timers[0].duration_s.typical == Approx(0.027));
  CHECK(table.events[table.timers[0].event].name == "sender-response-timeout");
  CHECK_THROWS_AS(table.state("nowhere"), std::out_of_range);
}

TEST_CASE("A sink negotiates a contract") {
  Play play("policy-sink");
  play.on("attached");
  CHECK(play.state() == "discovery");
  play.on("vbus-present");
  CHECK(play.is_running("wait-capabilities"));
  play.on("capabilities");
  CHECK(play.state() == "evaluate-capability");
  CHECK_FALSE(play.is_running("wait-capabilities"));
  play.on("offer-chosen");
  CHECK(play.did("send-request"));
  CHECK_FALSE(play.is_running("sender-response"));
  play.on("message-sent");
  CHECK(play.is_running("sender-response"));
  play.on("accept");
  CHECK(play.state() == "transition-sink");
  CHECK(play.last() ==
        std::vector<std::string>{"stop sender-response", "start supply-transition", "reduce-power"});
  play.on("supply-ready");
  CHECK(play.state() == "ready");
  CHECK(play.did("take-new-power"));
}

TEST_CASE("A sink without an answer resets hard, and gives up after two resets") {
  Play play("policy-sink");
  play.on("attached").on("vbus-present").on("capabilities").on("offer-chosen").on("message-sent");
  play.on("sender-response-timeout");
  CHECK(play.state() == "hard-reset");
  CHECK(play.did("send-hard-reset"));
  play.on("message-sent").on("at-default").on("vbus-present").on("wait-capabilities-timeout");
  CHECK(play.state() == "hard-reset");
  play.on("message-sent").on("at-default").on("vbus-present");
  SECTION("without a contract it waits in discovery") {
    play.on("wait-capabilities-timeout");
    CHECK(play.state() == "discovery");
  }
  SECTION("with one it recovers by removing its terminations") {
    play.on("wait-capabilities-timeout", {"has-contract"});
    CHECK(play.state() == "error-recovery");
  }
}

TEST_CASE("A sink answers resets, swaps and unexpected messages") {
  Play play("policy-sink");
  play.on("attached")
      .on("vbus-present")
      .on("capabilities")
      .on("offer-chosen")
      .on("message-sent")
      .on("accept");
  SECTION("unexpected message while the supply moves: soft reset") {
    play.on("get-sink-capabilities");
    CHECK(play.state() == "send-soft-reset");
    play.on("message-sent").on("accept");
    CHECK(play.state() == "wait-for-capabilities");
  }
  SECTION("soft reset not acknowledged: hard reset") {
    play.on("data-role-swap").on("message-failed");
    CHECK(play.state() == "hard-reset");
  }
  SECTION("in ready") {
    play.on("supply-ready");
    SECTION("hard reset signalling") {
      play.on("hard-reset-seen");
      CHECK(play.state() == "transition-to-default");
    }
    SECTION("data role swap refused") {
      play.on("data-role-swap").on("refused");
      CHECK(play.did("send-reject"));
      play.on("message-sent");
      CHECK(play.state() == "ready");
    }
    SECTION("cable supply: on at the partner before off here") {
      play.on("vconn-swap").on("allowed").on("message-sent", {"supplies-cable"});
      CHECK(play.state() == "wait-for-vconn");
      play.on("supply-ready");
      CHECK(play.did("drop-cable"));
      CHECK(play.state() == "ready");
    }
    SECTION("power role swap hands over to the source's policy") {
      play.on("power-role-swap").on("allowed").on("message-sent").on("supply-ready");
      CHECK(play.did("become-source"));
      play.on("supply-is-on").on("message-sent");
      CHECK(play.state() == "unattached");
    }
    SECTION("vendor messages are handed on without leaving the state") {
      play.on("vendor-message");
      CHECK(play.last() == std::vector<std::string>{"forward-vendor-message"});
      CHECK(play.state() == "ready");
    }
    SECTION("detach") {
      play.on("detached");
      CHECK(play.state() == "unattached");
    }
  }
}

TEST_CASE("A sink told to wait asks again") {
  Play play("policy-sink");
  play.on("attached").on("vbus-present").on("capabilities").on("offer-chosen").on("message-sent");
  play.on("wait", {"has-contract"});
  CHECK(play.state() == "ready");
  CHECK(play.is_running("request-again"));
  play.on("request-again-timeout");
  CHECK(play.state() == "select-capability");
  CHECK_FALSE(play.is_running("request-again"));
}

TEST_CASE("A source negotiates a contract") {
  Play play("policy-source");
  play.on("attached");
  CHECK(play.state() == "startup");
  play.on("send-capabilities-again-timeout", {"cable-asked"});
  CHECK(play.did("send-capabilities"));
  play.on("message-sent");
  CHECK(play.is_running("sender-response"));
  play.on("request").on("can-meet");
  CHECK(play.did("send-accept"));
  play.on("message-sent");
  CHECK(play.is_running("source-transition"));
  play.on("source-transition-timeout");
  CHECK(play.did("move-supply"));
  play.on("supply-is-ready");
  CHECK(play.did("send-supply-ready"));
  play.on("message-sent");
  CHECK(play.state() == "ready");
  CHECK(play.did("report-contract"));
}

TEST_CASE("A source offers 50 times, then takes the sink for one without power delivery") {
  Play play("policy-source");
  play.on("attached").on("send-capabilities-again-timeout", {"cable-asked"});
  int offers = 1;
  while (play.state() == "send-capabilities" && offers < 100) {
    play.on("message-failed");
    CHECK(play.state() == "discovery");
    play.on("send-capabilities-again-timeout");
    if (play.did("send-capabilities")) ++offers;
  }
  CHECK(offers == 50);
  CHECK(play.state() == "no-partner");
}

TEST_CASE("A source whose sink stays silent resets twice, then recovers") {
  Play play("policy-source");
  play.on("attached").on("send-capabilities-again-timeout", {"cable-asked"}).on("message-sent");
  play.on("sender-response-timeout");
  CHECK(play.state() == "hard-reset");
  CHECK(play.is_running("no-response"));
  play.on("hard-reset-hold-timeout").on("at-default");
  CHECK(play.state() == "startup");
  play.on("no-response-timeout");
  CHECK(play.state() == "hard-reset");
  play.on("hard-reset-hold-timeout").on("at-default").on("no-response-timeout");
  CHECK(play.state() == "error-recovery");
}

TEST_CASE("A source asks the cable up to 20 times, delays, refuses and turns roles") {
  Play play("policy-source");
  play.on("attached");
  int attempts = 0;
  for (int i = 0; i < 40; ++i) {
    play.on("send-capabilities-again-timeout");
    if (play.state() != "ask-cable") break;
    ++attempts;
    play.on("cable-response-timeout");
  }
  CHECK(attempts == 20);
  CHECK(play.state() == "send-capabilities");
  play.on("message-sent").on("request").on("cannot-meet").on("message-sent");
  CHECK(play.state() == "wait-for-new-offers");
  play.on("request").on("can-meet-later").on("message-sent", {"has-contract"});
  CHECK(play.state() == "ready");
  play.on("power-role-swap")
      .on("allowed")
      .on("message-sent")
      .on("source-transition-timeout")
      .on("supply-is-off");
  CHECK(play.did("become-sink"));
  play.on("message-sent").on("supply-ready");
  CHECK(play.state() == "unattached");
}

TEST_CASE("A message is sent three times in all, then given up") {
  Play play("message-transmit");
  play.on("message-wanted", {"may-start"});
  int frames = 0;
  while (play.state() == "waiting-for-line" && frames < 10) {
    play.on("line-idle");
    CHECK(play.did("send-frame"));
    ++frames;
    play.on("frame-sent");
    CHECK(play.is_running("acknowledge-wait"));
    play.on("acknowledge-wait-timeout");
  }
  CHECK(frames == 3);
  CHECK(play.did("report-failed"));
  CHECK(play.did("next-number"));
  CHECK(play.state() == "idle");
}

TEST_CASE("An acknowledge ends the sending, one with another number doesn't") {
  Play play("message-transmit");
  play.on("message-wanted", {"may-start"}).on("line-idle").on("frame-sent");
  play.on("acknowledge");
  CHECK(play.state() == "waiting-for-line");
  play.on("line-idle").on("frame-sent").on("acknowledge", {"number-fits"});
  CHECK(play.state() == "idle");
  CHECK(play.did("report-sent"));
  SECTION("the next message starts with fresh retries") {
    play.on("message-wanted", {"may-start"}).on("line-idle").on("frame-sent").on("acknowledge-wait-timeout");
    play.on("line-idle").on("frame-sent").on("acknowledge-wait-timeout");
    CHECK(play.state() == "waiting-for-line");
  }
  SECTION("a sink waits until the source allows it to start") {
    play.on("message-wanted").on("sink-wait-timeout");
    CHECK(play.state() == "waiting-for-resistor");
    play.on("sink-wait-timeout", {"may-start"});
    CHECK(play.state() == "waiting-for-line");
    play.on("message-received");
    CHECK(play.did("report-discarded"));
  }
}

TEST_CASE("A message that came twice is acknowledged but handed on once") {
  Play play("message-receive");
  play.on("frame-received", {"number-is-new"});
  CHECK(play.did("send-acknowledge"));
  play.on("acknowledge-sent");
  CHECK(play.last() == std::vector<std::string>{"stop turn-round", "keep-number", "hand-on"});
  play.on("frame-received");
  CHECK(play.did("send-acknowledge"));
  play.on("acknowledge-sent");
  CHECK_FALSE(play.did("hand-on"));
  CHECK(play.state() == "waiting");
  SECTION("a soft reset forgets the number") {
    play.on("soft-reset-received");
    CHECK(play.did("forget-number"));
    play.on("acknowledge-sent");
    CHECK(play.did("hand-on-soft-reset"));
  }
  SECTION("an acknowledge isn't acknowledged") {
    play.on("acknowledge-received");
    CHECK(play.last() == std::vector<std::string>{"hand-on-acknowledge"});
  }
  SECTION("an acknowledge that comes too late for the line is lost") {
    play.on("frame-received", {"number-is-new"}).on("turn-round-timeout");
    CHECK(play.did("report-lost"));
  }
}

TEST_CASE("A sink's attachment attaches and detaches") {
  Play play("attachment-sink");
  play.on("source-seen").on("debounce-timeout");
  CHECK(play.state() == "attach-wait");
  play.on("debounce-timeout", {"vbus-present"});
  CHECK(play.state() == "attached");
  CHECK(play.did("report-attach"));
  play.on("advert-changed").on("advert-debounce-timeout");
  CHECK(play.last() == std::vector<std::string>{"report-current"});
  play.on("advert-changed", {"contract-held"});
  CHECK(play.last().empty());
  play.on("vbus-lost");
  CHECK(play.state() == "unattached");
  CHECK(play.did("report-detach"));
}

TEST_CASE("A source's attachment supplies bus and cable, and discharges after a removal") {
  Play play("attachment-source");
  play.on("sink-seen").on("debounce-timeout", {"vbus-is-zero", "cable-is-active"});
  CHECK(play.state() == "attached-active-cable");
  play.on("vbus-on-timeout");
  CHECK(play.did("report-attach"));
  play.on("nothing-seen").on("sink-seen", {"cable-is-active"});
  CHECK(play.state() == "powered-active-cable");
  play.on("nothing-seen").on("detach-debounce-timeout");
  CHECK(play.state() == "discharging");
  play.on("vbus-safe");
  CHECK(play.state() == "unattached");
  play.on("sink-seen").on("over-current");
  CHECK(play.state() == "error-recovery");
}

TEST_CASE("A dual-role port alternates, then tries to be the source") {
  Play play("attachment-dual-role");
  play.on("toggle-sink-timeout");
  CHECK(play.state() == "unattached-source");
  play.on("toggle-source-timeout").on("source-seen");
  play.on("debounce-timeout", {"vbus-present", "prefers-source"});
  CHECK(play.state() == "try-source");
  SECTION("the partner yields") {
    play.on("sink-seen").on("detach-debounce-timeout");
    CHECK(play.state() == "attached-source");
  }
  SECTION("the partner stays a source") {
    play.on("try-timeout").on("source-seen").on("debounce-timeout", {"vbus-present"});
    CHECK(play.state() == "attached-sink");
  }
}

TEST_CASE("An alternate mode is discovered, entered and left") {
  Play play("alternate-mode");
  play.on("contract").on("acknowledged", {"partner-has-modes"}).on("acknowledged", {"more-standards"});
  CHECK(play.state() == "discover-standards");
  play.on("acknowledged").on("busy").on("busy-wait-timeout").on("acknowledged", {"mode-is-known"});
  CHECK(play.state() == "isolate");
  play.on("mux-is-safe").on("acknowledged").on("acknowledged").on("mux-is-set").on("acknowledged");
  CHECK(play.state() == "active");
  CHECK(play.did("report-mode"));
  play.on("leave-wanted").on("mux-is-safe").on("exit-timeout");
  CHECK(play.state() == "no-mode");
}

TEST_CASE("The video switch goes through its safe state and shortens hot-plug for interrupts") {
  Play play("video-switch");
  play.on("attached", {"is-flipped"});
  CHECK(play.did("set-flip"));
  play.on("isolate").on("settle-timeout");
  CHECK(play.did("report-safe"));
  play.on("two-lanes").on("settle-timeout").on("plug-high").on("interrupt-gap-timeout").on("plug-interrupt");
  CHECK(play.state() == "two-lanes-interrupt");
  play.on("interrupt-pulse-timeout");
  CHECK(play.state() == "two-lanes-fresh");
  play.on("detached");
  CHECK(play.state() == "open");
}
