// Mistakes in state tables, word for word: place, what is wrong, what was expected, nearest valid name.
#include <catch2/catch.hpp>
#include <string>

#include "blocks/state_machine/state_table.hpp"
#include "reading/diagnostic.hpp"

using namespace portweigh;
using namespace portweigh::blocks;

namespace {

// All diagnostics of a text, one after the other; empty if it reads well.
std::string errors_of(const std::string& text) {
  try {
    parse_state_table(text, "m.toml");
  } catch (const reading::InputError& error) {
    std::string all;
    for (const reading::Diagnostic& one : error.diagnostics().all()) all += to_text(one) + "\n";
    return all;
  }
  return "";
}

// A good table in pieces, so that a test can spoil one of them.
struct Lamp {
  std::string initial = "initial = \"off\"\n";
  std::string events = "[events]\npress = \"button pressed\"\n";
  std::string more;
  std::string off = "on = [{ event = \"press\", to = \"on\" }]\n";
  std::string on = "on = [{ event = \"press\", to = \"off\" }]\n";
  std::string text() const {
    return "name = \"lamp\"\nsummary = \"a lamp\"\nsource = \"invented\"\n" + initial + events + more +
           "[[state]]\nname = \"off\"\n" + off + "[[state]]\nname = \"on\"\n" + on;
  }
};

}  // namespace

TEST_CASE("A good table has no errors") {
  CHECK(errors_of(Lamp{}.text()) == "");
}

TEST_CASE("Every mistake of a file is told in one run") {
  const std::string text = R"(name = "lamp"
summary = "a lamp with a button"
source = "invented"
initial = "of"

[events]
press = "button pressed"
hold = "button held"
fault = "lamp broken"

[conditions]
is-night = "dark outside"
is-home = "somebody is there"

[actions]
click = "make a sound"
beep = "make a loud sound"

[outputs]
light = "lamp on"

[timers.off-delay]
duration = "5 min"
[timers.blink]
duration = "1 s"

[[state]]
name = "off"
on = [
  { event = "press", when = "is-night", to = "on" },
  { event = "press", when = "is-home", to = "on" },
  { event = "press", when = "is-night", to = "broken" },
]
ignore = ["hold"]

[[state]]
name = "on"
outputs = ["lihgt"]
timers = ["off-delay"]
on = [
  { event = "pres", to = "off", do = ["clik"] },
  { event = "off-delay-timeout", to = "off" },
  { event = "hold", when = "is-night", to = "onn" },
  { event = "blink-timeout", to = "off" },
  { event = "fault" },
]

[[state]]
name = "party"
colour = "red"
on = [{ event = "others", to = "off", do = ["start off-dely", "jump high"] }]
)";
  CHECK(errors_of(text) == R"(m.toml:4:11: unknown state "of", expected one of off, on, party; nearest: "off"
  initial = "of"
            ^
m.toml:17:8: action "beep" is never done, expected it in "do", "enter" or "leave"
  beep = "make a loud sound"
         ^
m.toml:24:1: timer "blink" is never started, expected "start blink" or a state with timers = ["blink"]
  [timers.blink]
  ^
m.toml:28:8: state "off" has no reaction to event "fault", expected a row in "on", or the event in "ignore"
  name = "off"
         ^
m.toml:30:13: event "press" has no reaction in state "off" when not is-night and not is-home; expected one without "when", or the event in "ignore"
    { event = "press", when = "is-night", to = "on" },
              ^
m.toml:31:13: guards "is-night" and "is-home" of event "press" in state "off" can hold at the same time, expected guards that exclude each other
    { event = "press", when = "is-home", to = "on" },
              ^
m.toml:32:13: event "press" has two reactions in state "off" when is-night, expected one
    { event = "press", when = "is-night", to = "broken" },
              ^
m.toml:32:13: guards "is-home" and "is-night" of event "press" in state "off" can hold at the same time, expected guards that exclude each other
    { event = "press", when = "is-night", to = "broken" },
              ^
m.toml:32:46: unknown state "broken", expected one of off, on, party
    { event = "press", when = "is-night", to = "broken" },
                                               ^
m.toml:38:12: unknown output "lihgt", expected light; nearest: "light"
  outputs = ["lihgt"]
             ^
m.toml:41:13: unknown event "pres", expected one of press, hold, fault, off-delay-timeout, blink-timeout, others; nearest: "press"
    { event = "pres", to = "off", do = ["clik"] },
              ^
m.toml:41:39: unknown action "clik", expected one of click, beep; nearest: "click"
    { event = "pres", to = "off", do = ["clik"] },
                                        ^
m.toml:43:13: event "hold" has no reaction in state "on" when not is-night; expected one without "when", or the event in "ignore"
    { event = "hold", when = "is-night", to = "onn" },
              ^
m.toml:43:45: unknown state "onn", expected one of off, on, party; nearest: "on"
    { event = "hold", when = "is-night", to = "onn" },
                                              ^
m.toml:44:13: state "on" reacts to event "blink-timeout", but timer "blink" never runs there
    { event = "blink-timeout", to = "off" },
              ^
m.toml:45:3: a reaction without effect, expected "to" or "do"; events without effect stand in "ignore"
    { event = "fault" },
    ^
m.toml:49:8: state "party" is unreachable, expected a transition to it from a state that can be reached from "off"
  name = "party"
         ^
m.toml:50:1: unknown key "colour", expected one of enter, ignore, leave, meaning, name, on, outputs, timers
  colour = "red"
  ^
m.toml:51:45: unknown timer "off-dely", expected one of off-delay, blink; nearest: "off-delay"
  on = [{ event = "others", to = "off", do = ["start off-dely", "jump high"] }]
                                              ^
m.toml:51:63: unknown command "jump high", expected the name of an action, "start TIMER", "stop TIMER", "count COUNTER" or "clear COUNTER"
  on = [{ event = "others", to = "off", do = ["start off-dely", "jump high"] }]
                                                                ^
)");
}

TEST_CASE("A missing or unknown initial state") {
  Lamp lamp;
  lamp.initial = "";
  CHECK(errors_of(lamp.text()) == R"(m.toml:1:1: missing key "initial", expected a text that is not empty
  name = "lamp"
  ^
)");
  lamp.initial = "initial = \"dark\"\n";
  CHECK(errors_of(lamp.text()) == R"(m.toml:4:11: unknown state "dark", expected one of off, on
  initial = "dark"
            ^
)");
}

TEST_CASE("An unreachable state and an event without a reaction") {
  Lamp lamp;
  lamp.off = "ignore = [\"press\"]\n";
  CHECK(
      errors_of(lamp.text()) ==
      R"(m.toml:11:8: state "on" is unreachable, expected a transition to it from a state that can be reached from "off"
  name = "on"
         ^
)");
  lamp = Lamp{};
  lamp.on = "";
  CHECK(
      errors_of(lamp.text()) ==
      R"(m.toml:11:8: state "on" has no reaction to event "press", expected a row in "on", or the event in "ignore"
  name = "on"
         ^
)");
}

TEST_CASE("States and events declared twice") {
  Lamp lamp;
  lamp.on += "[[state]]\nname = \"off\"\nignore = [\"others\"]\n";
  CHECK(errors_of(lamp.text()) == R"(m.toml:14:8: state "off" is declared twice, expected a name of its own
  name = "off"
         ^
)");
  lamp = Lamp{};
  lamp.more = "[timers.press]\nduration = \"1 s\"\nexpires = \"press\"\n";
  lamp.on = "timers = [\"press\"]\n" + lamp.on;
  CHECK(errors_of(lamp.text()) == R"(m.toml:9:11: "press" is declared twice, expected a name of its own
  expires = "press"
            ^
m.toml:14:8: state "on" has no reaction to event "press", expected a row in "on", or the event in "ignore"
  name = "on"
         ^
)");
}

TEST_CASE("Two reactions to one event") {
  Lamp lamp;
  lamp.off += "ignore = [\"press\"]\n";
  CHECK(errors_of(lamp.text()) ==
        R"(m.toml:10:11: event "press" has two reactions in state "off", expected one
  ignore = ["press"]
            ^
)");
  lamp = Lamp{};
  lamp.more = "[groups]\nall = [\"press\", \"prss\"]\n";
  lamp.off = "on = [{ event = \"all\", to = \"on\" }, { events = [\"all\"], to = \"on\" }]\n";
  CHECK(errors_of(lamp.text()) == R"(m.toml:8:17: unknown event "prss", expected press; nearest: "press"
  all = ["press", "prss"]
                  ^
m.toml:11:49: event "press" has two reactions in state "off", expected one
  on = [{ event = "all", to = "on" }, { events = ["all"], to = "on" }]
                                                  ^
)");
}

TEST_CASE("Guards: spelling, overlaps and gaps") {
  Lamp lamp;
  lamp.more = "[conditions]\na = \"a\"\nb = \"b\"\n";
  SECTION("not a guard") {
    lamp.off = "on = [{ event = \"press\", when = \"a or b\", to = \"on\" }]\n";
    CHECK(errors_of(lamp.text()) == R"(m.toml:8:5: condition "a" is never asked, expected it in a "when"
  a = "a"
      ^
m.toml:9:5: condition "b" is never asked, expected it in a "when"
  b = "b"
      ^
m.toml:12:33: "a or b" is not a guard, expected conditions such as "a and not b"
  on = [{ event = "press", when = "a or b", to = "on" }]
                                  ^
)");
  }
  SECTION("a condition twice") {
    lamp.off = "on = [{ event = \"press\", when = \"a and b and not a\", to = \"on\" }]\n";
    CHECK(
        errors_of(lamp.text()) ==
        R"(m.toml:12:17: event "press" has no reaction in state "off" when a; expected one without "when", or the event in "ignore"
  on = [{ event = "press", when = "a and b and not a", to = "on" }]
                  ^
m.toml:12:33: a condition stands twice in this guard
  on = [{ event = "press", when = "a and b and not a", to = "on" }]
                                  ^
)");
  }
  SECTION("an overlap") {
    lamp.off =
        "on = [\n  { event = \"press\", when = \"a\", to = \"on\" },\n  { event = \"press\", when = \"b and "
        "a\", to = \"on\" },\n"
        "  { event = \"press\", to = \"off\" },\n]\n";
    CHECK(
        errors_of(lamp.text()) ==
        R"(m.toml:14:13: guards "a" and "a and b" of event "press" in state "off" can hold at the same time, expected guards that exclude each other
    { event = "press", when = "b and a", to = "on" },
              ^
)");
  }
  SECTION("a gap") {
    lamp.off =
        "on = [\n  { event = \"press\", when = \"a and b\", to = \"on\" },\n  { event = \"press\", when = "
        "\"not a\", to = \"on\" },\n]\n";
    CHECK(
        errors_of(lamp.text()) ==
        R"(m.toml:13:13: event "press" has no reaction in state "off" when a and not b; expected one without "when", or the event in "ignore"
    { event = "press", when = "a and b", to = "on" },
              ^
)");
  }
  SECTION("a rest for the gap") {
    lamp.off =
        "on = [\n  { event = \"press\", when = \"a and b\", to = \"on\" },\n  { event = \"press\", when = "
        "\"not a\", to = \"on\" },\n]\n"
        "ignore = [\"press\"]\n";
    CHECK(errors_of(lamp.text()) == "");
  }
}

TEST_CASE("Timers that are never started, never stopped, or out of range") {
  Lamp lamp;
  lamp.more = "[timers.delay]\nduration = \"1 s\"\n";
  CHECK(
      errors_of(lamp.text()) ==
      R"(m.toml:7:1: timer "delay" is never started, expected "start delay" or a state with timers = ["delay"]
  [timers.delay]
  ^
)");
  lamp.off = "on = [{ event = \"press\", to = \"on\", do = [\"start delay\"] }]\n";
  lamp.on = "on = [{ events = [\"press\", \"delay-timeout\"], to = \"off\" }]\nignore = []\n";
  CHECK(
      errors_of(lamp.text()) ==
      R"(m.toml:7:1: timer "delay" is never stopped, expected "stop delay" or a state with timers = ["delay"]
  [timers.delay]
  ^
m.toml:10:8: state "off" has no reaction to event "delay-timeout", expected a row in "on", or the event in "ignore"
  name = "off"
         ^
)");
  lamp.more = "[timers.delay]\nduration = { low = \"3 ms\", typical = \"2 ms\", high = \"4 ms\" }\n";
  lamp.off = "on = [{ event = \"press\", to = \"on\" }]\n";
  lamp.on = "timers = [\"delay\"]\n" + lamp.on;
  CHECK(errors_of(lamp.text()) ==
        R"(m.toml:8:12: "duration" is 3 ms .. 2 ms .. 4 ms, expected low <= typical <= high
  duration = { low = "3 ms", typical = "2 ms", high = "4 ms" }
             ^
)");
  lamp.more = "[timers.delay]\nduration = \"2 mW\"\n";
  CHECK(errors_of(lamp.text()) == R"(m.toml:8:12: "duration" is "2 mW", which is power (W), expected time (s)
  duration = "2 mW"
             ^
)");
}

TEST_CASE("A timer's event needs a reaction only where the timer may still run") {
  Lamp lamp;
  lamp.more = "[timers.delay]\nduration = \"1 s\"\n";
  lamp.off = "on = [{ event = \"press\", to = \"on\", do = [\"start delay\"] }]\n";
  SECTION("it has expired, or was stopped") {
    lamp.on =
        "on = [{ event = \"press\", to = \"off\", do = [\"stop delay\"] }, { event = \"delay-timeout\", to = "
        "\"off\" "
        "}]\n";
    CHECK(errors_of(lamp.text()) == "");
  }
  SECTION("it goes on") {
    lamp.on =
        "leave = []\non = [{ event = \"press\", to = \"off\" }, { event = \"delay-timeout\", do = [\"stop "
        "delay\"] }]\n";
    CHECK(errors_of(lamp.text()) ==
          "m.toml:10:8: state \"off\" has no reaction to event \"delay-timeout\", expected a row in \"on\", "
          "or the "
          "event in \"ignore\"\n  name = \"off\"\n         ^\n");
  }
}

TEST_CASE("Names that nobody uses") {
  Lamp lamp;
  lamp.events += "hold = \"button held\"\n";
  lamp.more =
      "[conditions]\nc = \"c\"\n[actions]\nd = \"d\"\n[outputs]\ne = \"e\"\n[counters.f]\nlimit = 3\n";
  lamp.off += "ignore = [\"hold\"]\n";
  lamp.on += "ignore = [\"hold\"]\n";
  CHECK(errors_of(lamp.text()) ==
        R"(m.toml:7:8: event "hold" changes nothing in any state, expected a reaction
  hold = "button held"
         ^
m.toml:9:5: condition "c" is never asked, expected it in a "when"
  c = "c"
      ^
m.toml:11:5: action "d" is never done, expected it in "do", "enter" or "leave"
  d = "d"
      ^
m.toml:13:5: output "e" is held by no state, expected it in "outputs"
  e = "e"
      ^
m.toml:14:1: counter "f" is never counted, expected a "count" command
  [counters.f]
  ^
)");
}

TEST_CASE("Counters: limits, and count and clear in one step") {
  Lamp lamp;
  lamp.more = "[counters.n]\nlimit = 0\n";
  lamp.off = "leave = [\"clear n\"]\non = [{ event = \"press\", to = \"on\", do = [\"count n\"] }]\n";
  CHECK(errors_of(lamp.text()) == R"(m.toml:8:9: "limit" is 0, expected an integer from 1 to 255
  limit = 0
          ^
m.toml:12:17: counter "n" is counted and cleared in one step, expected one of them
  on = [{ event = "press", to = "on", do = ["count n"] }]
                  ^
)");
}

TEST_CASE("Rows that say too much or too little") {
  Lamp lamp;
  lamp.off = "on = [{ event = \"press\", events = [\"press\"], to = \"on\" }]\n";
  CHECK(
      errors_of(lamp.text()) ==
      R"(m.toml:8:8: state "off" has no reaction to event "press", expected a row in "on", or the event in "ignore"
  name = "off"
         ^
m.toml:9:7: expected either "event" or "events"
  on = [{ event = "press", events = ["press"], to = "on" }]
        ^
m.toml:11:8: state "on" is unreachable, expected a transition to it from a state that can be reached from "off"
  name = "on"
         ^
)");
  lamp.off = "enter = [\"begin x y\"]\non = [{ to = \"on\" }]\nignore = [\"press\"]\n";
  CHECK(
      errors_of(lamp.text()) ==
      R"(m.toml:9:10: unknown command "begin x y", expected the name of an action, "start TIMER", "stop TIMER", "count COUNTER" or "clear COUNTER"
  enter = ["begin x y"]
           ^
m.toml:10:7: expected either "event" or "events"
  on = [{ to = "on" }]
        ^
m.toml:13:8: state "on" is unreachable, expected a transition to it from a state that can be reached from "off"
  name = "on"
         ^
)");
}

TEST_CASE("Names that are no names, and events that are missing") {
  Lamp lamp;
  lamp.events = "[events]\nPress_it = \"button pressed\"\n";
  lamp.off = "on = [{ event = \"Press_it\", to = \"on\" }]\n";
  lamp.on = "on = [{ event = \"Press_it\", to = \"off\" }]\n";
  CHECK(
      errors_of(lamp.text()) ==
      R"(m.toml:6:12: "Press_it" is not a name, expected lower-case words joined by hyphens, such as "send-request"
  Press_it = "button pressed"
             ^
)");
  CHECK(errors_of("name = \"x\"\n") == R"(m.toml:1:1: missing key "summary", expected a text that is not empty
  name = "x"
  ^
m.toml:1:1: missing key "source", expected a text that is not empty
  name = "x"
  ^
m.toml:1:1: missing key "initial", expected a text that is not empty
  name = "x"
  ^
m.toml:1:1: missing key "state", expected an array of tables
  name = "x"
  ^
m.toml:1:1: no events, expected a table [events] or [timers]
  name = "x"
  ^
)");
}

TEST_CASE("A file that isn't there, and text that isn't a table") {
  CHECK_THROWS_AS(load_state_table("no-such-folder/x.toml"), reading::InputError);
  CHECK_THROWS_AS(parse_state_table("name = ", "m.toml"), reading::InputError);
}
