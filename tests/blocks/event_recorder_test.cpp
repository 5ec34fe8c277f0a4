#include "blocks/event_recorder.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>
#include <utility>

namespace portweigh::blocks {
namespace {

// Adds 1 to 'total' as often as asked.
firmware::Routine adding_routine() {
  firmware::Routine routine("add");
  const auto total = routine.state_u16("total");
  const auto times = routine.parameter_u8("times");
  const auto turn = routine.local_u8("turn");
  routine.for_count(turn, times, [&] { routine.set(total, total + 1); });
  routine.return_(total);
  return routine;
}

}  // namespace

TEST_CASE("all events are counted and the longest is kept by itself") {
  EventRecorder recorder(adding_routine());
  CHECK(recorder.run({2}) == 2);
  CHECK(recorder.run({9}) == 11);
  CHECK(recorder.run({3}) == 14);
  CHECK(recorder.machine().get("total") == 14);
  const FirmwareRun run = std::move(recorder).finish();
  CHECK(run.events == 3);
  CHECK(run.counts.events == 3);
  CHECK(run.paths.front().events == 1);
  const auto& program = run.routine.program();
  const auto addition = program.statements[program.functions[0].body[0]].first[0];
  CHECK(run.counts.statements[addition] == 14);
  CHECK(run.paths.front().statements[addition] == 9);
}

TEST_CASE("paths are kept once each, longest first, with their order") {
  EventRecorder recorder(adding_routine());
  for (const unsigned times : {2, 9, 3, 2, 9}) recorder.run({times});
  const FirmwareRun run = std::move(recorder).finish();
  CHECK(run.paths.size() == 3);
  CHECK(run.order == std::vector<std::uint16_t>{2, 0, 1, 2, 0});
}

TEST_CASE("of many paths the longest are kept, without an order") {
  EventRecorder recorder(adding_routine());
  for (unsigned times = 1; times <= EventRecorder::most_paths + 1; ++times) {
    recorder.run({times});
    recorder.run({times});
  }
  const FirmwareRun run = std::move(recorder).finish();
  const auto& program = run.routine.program();
  const auto addition = program.statements[program.functions[0].body[0]].first[0];
  CHECK(run.paths.front().statements[addition] == 65);
  CHECK(run.paths.size() == 12);
  CHECK(run.paths.back().statements[addition] == 54);
  CHECK(run.paths.back().events == 1);
  CHECK(run.order.empty());
}

TEST_CASE("a recording without events is a defect") {
  EventRecorder recorder(adding_routine());
  CHECK_THROWS_AS(std::move(recorder).finish(), std::logic_error);
}

}  // namespace portweigh::blocks
