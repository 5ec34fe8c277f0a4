#include <algorithm>
#include <array>
#include <random>
#include <stdexcept>

#include "measured_routines.hpp"

namespace portweigh::firmware {

namespace {

void require(bool is_right, const std::string& what) {
  if (!is_right) throw std::runtime_error(what + " gives a wrong result");
}

MeasuredRoutine header_parse() {
  Routine r("hdr_parse");
  const auto header = r.parameter_u16("header");
  const auto out = r.parameter_structure("out");
  r.set(out.field_u8("type"), cast_u8(header & 0x1F));
  r.set(out.field_u8("data_role"), cast_u8((header >> 5) & 1));
  r.set(out.field_u8("revision"), cast_u8((header >> 6) & 3));
  r.set(out.field_u8("power_role"), cast_u8((header >> 8) & 1));
  r.set(out.field_u8("id"), cast_u8((header >> 9) & 7));
  r.set(out.field_u8("objects"), cast_u8((header >> 12) & 7));
  r.set(out.field_u8("extended"), cast_u8(header >> 15));
  return {.name = "hdr_parse",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                for (std::uint32_t h = 0; h < 65536; h += 97) m.run({h});
              },
          .check =
              [](RecordingMachine& m) {
                m.run({0x7E61});
                require(m.get("type") == 1 && m.get("data_role") == 1 && m.get("revision") == 1 &&
                            m.get("power_role") == 0 && m.get("id") == 7 && m.get("objects") == 7 &&
                            m.get("extended") == 0,
                        "hdr_parse");
              }};
}

// Acknowledge awaited, duplicates dropped by message id, soft reset clears ids, acknowledge built.
MeasuredRoutine protocol_receive() {
  Routine r("prl_rx");
  const auto header = r.parameter_u16("header");
  const auto waiting = r.state_u8("waiting");
  const auto sent_id = r.state_u8("sent_id");
  const auto seen_id = r.state_u8("seen_id");
  const auto has_seen = r.state_u8("has_seen");
  const auto reply = r.state_u16("reply");
  const auto id = r.local_u8("id");
  const auto type = r.local_u8("type");
  const auto objects = r.local_u8("objects");
  r.set(id, cast_u8(header >> 9) & 7);
  r.set(type, cast_u8(header) & 0x1F);
  r.set(objects, cast_u8(header >> 12) & 7);
  r.if_(objects == 0, [&] {
    r.if_(type == 1, [&] {
      r.if_((waiting != 0) && (id == sent_id), [&] {
        r.set(waiting, 0);
        r.set(sent_id, (sent_id + 1) & 7);
        r.return_(1);
      });
      r.return_(0);
    });
    r.if_(type == 13, [&] {
      r.set(sent_id, 0);
      r.set(has_seen, 0);
      r.set(waiting, 0);
    });
  });
  r.set(reply, (cast_u16(id) << 9) | 0x0041);
  r.if_((has_seen != 0) && (id == seen_id), [&] { r.return_(2); });
  r.set(has_seen, 1);
  r.set(seen_id, id);
  r.return_(3);
  return {.name = "prl_rx",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(4);
                for (int n = 0; n < 1000; ++n) {
                  const auto pick = random() % 8;
                  const auto any_id = static_cast<std::uint32_t>(random()) & 7U;
                  m.set("waiting", pick < 3 ? 1 : 0);
                  const std::uint32_t kind = pick < 2 ? 1 : pick == 2 ? 13 : random() & 15U;
                  const std::uint32_t count = pick < 4 ? 0 : random() & 7U;
                  const auto own = pick < 2 ? m.get("sent_id") : any_id;
                  m.run({count << 12 | own << 9 | kind});
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.set("waiting", 1);
                m.set("sent_id", 5);
                require(m.run({5U << 9 | 1U}) == 1 && m.get("sent_id") == 6, "prl_rx acknowledge");
                require(m.run({1U << 12 | 3U << 9 | 1U}) == 3, "prl_rx first");
                require(m.run({1U << 12 | 3U << 9 | 1U}) == 2, "prl_rx duplicate");
                require(m.get("reply") == (3U << 9 | 0x41U), "prl_rx reply");
              }};
}

std::uint32_t random_object(std::mt19937& random) {
  const std::uint32_t millivolts = 5000 + static_cast<std::uint32_t>(random() % 16) * 1000;
  const std::uint32_t milliamps = 500 + static_cast<std::uint32_t>(random() % 10) * 250;
  return static_cast<std::uint32_t>(random() % 6 == 0 ? 1 : 0) << 30 | (millivolts / 50) << 10 |
         milliamps / 10;
}

// Fixed objects only; voltage inside the window, current clipped, best power kept.
MeasuredRoutine capability_match() {
  Routine r("cap_match7");
  const auto offer = r.parameter_structure("offer");
  const auto objects = offer.array_u32("objects", 7);
  const auto lowest = r.parameter_u16("lowest");
  const auto highest = r.parameter_u16("highest");
  const auto most = r.parameter_u16("most");
  const auto i = r.local_u8("i");
  const auto object = r.local_u32("object");
  const auto voltage = r.local_u16("voltage");
  const auto current = r.local_u16("current");
  const auto power = r.local_u32("power");
  const auto best_power = r.local_u32("best_power");
  const auto best = r.local_u8("best");
  r.set(best, 0);
  r.set(best_power, 0);
  r.for_count(i, 7, [&] {
    r.set(object, objects[i]);
    r.if_((object >> 30) != 0, [&] { r.continue_(); });
    r.set(voltage, cast_u16((object >> 10) & 0x3FF));
    r.if_((voltage < lowest) || (voltage > highest), [&] { r.continue_(); });
    r.set(current, cast_u16(object & 0x3FF));
    r.if_(current > most, [&] { r.set(current, most); });
    r.set(power, cast_u32(voltage) * cast_u32(current));
    r.if_(power > best_power, [&] {
      r.set(best_power, power);
      r.set(best, i + 1);
    });
  });
  r.return_(best);
  return {.name = "cap_match7",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(5);
                for (int n = 0; n < 300; ++n) {
                  for (std::size_t k = 0; k < 7; ++k) m.set_element("objects", k, random_object(random));
                  m.run({100, 300, 300});
                }
              },
          .check =
              [](RecordingMachine& m) {
                for (std::size_t k = 0; k < 7; ++k) m.set_element("objects", k, 100U << 10 | 100U);
                m.set_element("objects", 4, 180U << 10 | 500U);
                m.set_element("objects", 6, 400U << 10 | 500U);
                require(m.run({100, 300, 300}) == 5, "cap_match7");
              }};
}

// In millivolts and milliamperes, power in milliwatts by a division-free product.
MeasuredRoutine object_select() {
  Routine r("pdo_select7");
  const auto offer = r.parameter_structure("offer");
  const auto objects = offer.array_u32("objects", 7);
  const auto limit = r.parameter_u16("limit");
  const auto i = r.local_u8("i");
  const auto object = r.local_u32("object");
  const auto voltage = r.local_u32("voltage");
  const auto current = r.local_u32("current");
  const auto power = r.local_u32("power");
  const auto best_power = r.local_u32("best_power");
  const auto best = r.local_u8("best");
  r.set(best, 0xFF);
  r.set(best_power, 0);
  r.for_count(i, 7, [&] {
    r.set(object, objects[i]);
    r.if_((object >> 30) != 0, [&] { r.continue_(); });
    r.set(voltage, ((object >> 10) & 0x3FF) * 50);
    r.set(current, (object & 0x3FF) * 10);
    r.if_(voltage > limit, [&] { r.continue_(); });
    r.set(power, voltage * current);
    r.if_(power > best_power, [&] {
      r.set(best_power, power);
      r.set(best, i);
    });
  });
  r.return_(best);
  return {.name = "pdo_select7",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(6);
                for (int n = 0; n < 300; ++n) {
                  for (std::size_t k = 0; k < 7; ++k) m.set_element("objects", k, random_object(random));
                  m.run({15000});
                }
              },
          .check =
              [](RecordingMachine& m) {
                for (std::size_t k = 0; k < 7; ++k) m.set_element("objects", k, 100U << 10 | 100U);
                m.set_element("objects", 3, 180U << 10 | 300U);
                require(m.run({15000}) == 3, "pdo_select7");
              }};
}

// Eight software timers of 16 bits.
MeasuredRoutine software_timers() {
  Routine r("sw_timers8");
  const auto timers = r.array_u16("timers", 8);
  const auto i = r.local_u8("i");
  const auto bit = r.local_u8("bit");
  const auto expired = r.local_u8("expired");
  const auto left = r.local_u16("left");
  r.set(expired, 0);
  r.set(bit, 1);
  r.for_count(i, 8, [&] {
    r.set(left, timers[i]);
    r.if_(left != 0, [&] {
      r.set(left, left - 1);
      r.set(timers[i], left);
      r.if_(left == 0, [&] { r.set(expired, expired | bit); });
    });
    r.set(bit, bit << 1);
  });
  r.return_(expired);
  return {.name = "sw_timers8",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(7);
                for (int t = 0; t < 2000; ++t) {
                  for (std::size_t k = 0; k < 8; ++k) {
                    const bool restarts = m.element("timers", k) == 0 && random() % 40 == 0;
                    if (restarts) m.set_element("timers", k, static_cast<std::uint32_t>(random() % 100));
                  }
                  m.run();
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.set_element("timers", 2, 2);
                m.set_element("timers", 7, 1);
                require(m.run() == 0x80 && m.run() == 0x04 && m.run() == 0, "sw_timers8");
              }};
}

}  // namespace

void add_message_routines(std::vector<MeasuredRoutine>& list) {
  list.push_back(header_parse());
  list.push_back(protocol_receive());
  list.push_back(capability_match());
  list.push_back(object_select());
  list.push_back(software_timers());
}

}  // namespace portweigh::firmware
