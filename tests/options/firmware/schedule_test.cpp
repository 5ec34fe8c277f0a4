#include "options/firmware/schedule.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "figures/units/format_quantity.hpp"
#include "options/firmware/link.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

namespace {

const parts::Microcontroller& part_named(const std::string& id) {
  const auto& all = demo().catalog.microcontrollers;
  return *std::find_if(all.begin(), all.end(), [&](const auto& part) { return part.part.id == id; });
}

// A 32-bit core whose flash has wait states, without RAM for code, a data mover and units that save it work.
Processor plain_processor() {
  Processor processor = processor_of(demo().context(), part_named("mcu-32b-small"));
  for (const char* name : {"dma", "crc-unit", "bit-serial-port"}) processor.peripherals.erase(name);
  processor.ram_bytes = 0;
  return processor;
}

std::vector<const study::FunctionBlock*> blocks_of(std::initializer_list<study::Layer> layers) {
  std::vector<const study::FunctionBlock*> blocks;
  for (const study::FunctionBlock& block : demo().study.function.blocks) {
    if (std::find(layers.begin(), layers.end(), block.layer) != layers.end()) blocks.push_back(&block);
  }
  return blocks;
}

const study::FunctionBlock* block_named(const std::string& name) {
  const auto& blocks = demo().study.function.blocks;
  return &*std::find_if(blocks.begin(), blocks.end(), [&](const auto& block) { return block.name == name; });
}

const ScheduledTask& task_named(const Schedule& schedule, const std::string& block) {
  const auto found = std::find_if(schedule.tasks.begin(), schedule.tasks.end(),
                                  [&](const ScheduledTask& task) { return task.block == block; });
  REQUIRE(found != schedule.tasks.end());
  return *found;
}

using study::Layer;

}  // namespace

TEST_CASE("Framing does its symbols, check sums and buffers in its own routine") {
  const Processor processor = processor_of(demo().context(), part_named("mcu-32b-turbo"));
  const Schedule schedule = make_schedule(demo().context(), blocks_of({Layer::physical}), processor);
  for (const char* inner : {"symbol-decode", "symbol-encode", "crc-receive", "crc-transmit", "receive-buffer",
                            "transmit-buffer"}) {
    INFO(inner);
    CHECK_FALSE(task_named(schedule, inner).contained_in.empty());
  }
  CHECK(task_named(schedule, "frame-receive").contained_in.empty());
  CHECK(task_named(schedule, "line-decode").contained_in.empty());
}

TEST_CASE("Data moved in batches leaves sixteen edges for one activation") {
  const Processor processor = processor_of(demo().context(), part_named("mcu-32b-turbo"));
  const Schedule schedule = make_schedule(demo().context(), blocks_of({Layer::physical}), processor);
  const ScheduledTask& decode = task_named(schedule, "line-decode");
  CHECK(decode.figures->method == "capture-dma");
  CHECK(decode.batch == 16);
  const ScheduledTask& encode = task_named(schedule, "line-encode");
  CHECK(encode.figures->method == "bit-serial-port");
  CHECK(encode.batch == 8);
  // Without the data mover each edge interrupts, and pays the whole entry and exit.
  const Schedule without = make_schedule(demo().context(), blocks_of({Layer::physical}), plain_processor());
  CHECK(task_named(without, "line-decode").batch == 1);
  CHECK(task_named(without, "line-decode").mean_cycles.typical > 1.5 * decode.mean_cycles.typical);
}

TEST_CASE("The end of a byte is charged as often as it comes") {
  const Schedule schedule =
      make_schedule(demo().context(), {{block_named("line-decode")}}, plain_processor());
  const ScheduledTask& decode = task_named(schedule, "line-decode");
  const std::vector<double>& most = decode.consecutive_cycles[1];
  REQUIRE(most.size() == 64);
  CHECK(most.front() == Approx(decode.worst_cycles.typical));
  CHECK(most.back() < 0.9 * 64 * decode.worst_cycles.typical);
  CHECK(most.back() >= 64 * decode.mean_cycles.typical);
}

// What receives of a schedule, each task's longest event every time.
std::vector<firmware::CycleTask> receiving_by_peaks(const Schedule& schedule, double clocks_per_cycle) {
  std::vector<firmware::CycleTask> peaks;
  for (const ScheduledTask& task : schedule.tasks) {
    const EventRule& rule = task.rule;
    if (!task.contained_in.empty() || rule.answers_message || rule.direction == Direction::transmit) continue;
    peaks.push_back(
        {.name = task.block,
         .cycles = task.worst_cycles.typical * clocks_per_cycle,
         .period_s = rule.period_s * task.batch,
         .deadline_s = task.batch > 1 ? rule.period_s * task.batch : rule.deadline_s + rule.jitter_s,
         .jitter_s = task.batch > 1 ? 0 : rule.jitter_s});
  }
  std::stable_sort(peaks.begin(), peaks.end(),
                   [](const auto& a, const auto& b) { return a.deadline_s < b.deadline_s; });
  return peaks;
}

TEST_CASE("By the sequence of events some processors need less than by the longest each time") {
  std::size_t less = 0;
  std::vector<study::FunctionBlock> changed;
  for (const auto* block : blocks_of({Layer::physical})) changed.push_back(*block);
  std::vector<const study::FunctionBlock*> blocks;
  for (study::FunctionBlock& block : changed) {
    if (block.name == "line-decode") block.settings.set("method", "per-edge");
    blocks.push_back(&block);
  }
  for (const parts::Microcontroller& part : demo().catalog.microcontrollers) {
    Processor processor = processor_of(demo().context(), part);
    processor.peripherals.erase("crc-unit");
    const Schedule schedule = make_schedule(demo().context(), blocks, processor);
    const double need_hz = 1.002 * schedule.without_waits.required_hz.typical;
    const auto peaks = receiving_by_peaks(schedule, processor.clocks_per_cycle);
    if (!firmware::meets_all_deadlines(peaks, need_hz)) ++less;
  }
  CHECK(less > 0);
}

TEST_CASE("Handlers of the line run from RAM where there is room, and don't wait for flash") {
  Processor processor = plain_processor();
  const auto blocks = blocks_of({Layer::physical});
  const Schedule flash = make_schedule(demo().context(), blocks, processor);
  processor.ram_bytes = 64e3;
  const Schedule ram = make_schedule(demo().context(), blocks, processor);
  CHECK(task_named(ram, "line-decode").is_in_ram);
  CHECK_FALSE(task_named(ram, "frame-receive").is_in_ram);
  CHECK_FALSE(task_named(flash, "line-decode").is_in_ram);
  REQUIRE(flash.wait_stretch > 1);
  CHECK(flash.need_stretch == flash.wait_stretch);
  CHECK(flash.load_stretch == flash.wait_stretch);
  CHECK(ram.need_stretch < ram.wait_stretch);
  CHECK(ram.load_stretch < ram.wait_stretch);
  CHECK(ram.need_stretch > 1);
  CHECK(ram.memory.ram_bytes > flash.memory.ram_bytes);
  CHECK(ram.without_waits.required_hz.typical == Approx(flash.without_waits.required_hz.typical));
}

TEST_CASE("Polling needs no entry and exit, but makes everything else wait for the message") {
  const Processor processor = plain_processor();
  const auto schedule_of = [&](const std::string& method, const std::string& beside, const Context& context) {
    study::FunctionBlock decode = *block_named("line-decode");
    if (!method.empty()) decode.settings.set("method", method);
    study::FunctionBlock other = *block_named(beside);
    if (beside == "pins") other.deadline = "tick";
    return make_schedule(context, {{&decode, &other}}, processor);
  };
  const auto method_of = [](const Schedule& schedule) {
    return task_named(schedule, "line-decode").figures->method;
  };
  const Schedule automatic = schedule_of("", "message-receive", demo().context());
  CHECK(method_of(automatic) == "polled");
  const Schedule interrupted = schedule_of("per-edge", "message-receive", demo().context());
  CHECK(interrupted.without_waits.required_hz.high > automatic.without_waits.required_hz.high);
  study::Study sleeping = demo().study;
  sleeping.while_line_busy = study::WhileLineBusy::asleep;
  const Context asleep{demo().catalog, demo().effort, sleeping, demo().library};
  CHECK(method_of(schedule_of("", "message-receive", asleep)) != "polled");
  // What can't wait for 429 bits at 270 kb/s forbids it.
  CHECK(method_of(schedule_of("", "pins", demo().context())) != "polled");
  // All of a message is worked off between its end and the answer.
  const Schedule framed = schedule_of("polled", "frame-receive", demo().context());
  CHECK(task_named(framed, "frame-receive").events_after_message == 1);
  CHECK(framed.without_waits.required_hz.typical >=
        task_named(framed, "frame-receive").figures->worst_cycles.typical / 195e-6);
}

TEST_CASE("Timers that wait for the next deadline need no ticks") {
  Processor processor = plain_processor();
  const Schedule compared = make_schedule(demo().context(), {{block_named("timers")}}, processor);
  CHECK(task_named(compared, "timers").figures->method == "next-deadline");
  CHECK(compared.tick_hz == 0);
  processor.peripherals.erase("compare-output");
  const Schedule ticking = make_schedule(demo().context(), {{block_named("timers")}}, processor);
  const ScheduledTask& timers = task_named(ticking, "timers");
  CHECK(timers.figures->method == "software-timers");
  CHECK(ticking.tick_hz == Approx(10e3));
  const firmware::Core& core = *processor.core;
  CHECK(ticking.tick_cycles == Approx(timers.mean_cycles.typical + core.interrupt_entry_cycles +
                                      core.interrupt_frame_cycles + core.interrupt_exit_cycles));
}

TEST_CASE("More blocks never lower the clock that is needed") {
  const Processor processor = processor_of(demo().context(), part_named("mcu-32b-turbo"));
  double before_hz = 0;
  for (const auto& layers : {std::vector<Layer>{Layer::policy},
                             {Layer::policy, Layer::message},
                             {Layer::policy, Layer::message, Layer::physical}}) {
    std::vector<const study::FunctionBlock*> blocks;
    for (const Layer layer : layers) {
      for (const auto* block : blocks_of({layer})) blocks.push_back(block);
    }
    const Schedule schedule = make_schedule(demo().context(), blocks, processor);
    CHECK(schedule.required_hz.typical >= before_hz);
    CHECK(schedule.required_hz.low <= schedule.required_hz.typical);
    CHECK(schedule.required_hz.typical <= schedule.required_hz.high);
    before_hz = schedule.required_hz.typical;
  }
  CHECK(before_hz > 10e6);
}

TEST_CASE("A link shortens the deadlines of what works beyond it, and adds its own task") {
  Processor processor = processor_of(demo().context(), part_named("mcu-8b-timer"));
  const auto blocks = blocks_of({Layer::policy});
  const Schedule alone = make_schedule(demo().context(), blocks, processor);
  const Link link{"i2c", 3, 90e-6, 10e-3, 12};
  processor.link = LinkTask{link_controller(link), link.byte_s, link.answer_s, link.bytes_per_message};
  const Schedule linked = make_schedule(demo().context(), blocks, processor);
  CHECK(task_named(alone, "policy").rule.deadline_s - task_named(linked, "policy").rule.deadline_s ==
        Approx(10e-3));
  CHECK(linked.tasks.size() == alone.tasks.size() + 1);
  CHECK(linked.required_hz.typical > alone.required_hz.typical);
  CHECK(linked.busy_hz.typical > alone.busy_hz.typical);
}

TEST_CASE("A processor that can't keep up is told which tasks alone are too much") {
  const Processor processor = processor_of(demo().context(), part_named("mcu-8b-basic"));
  const Schedule schedule = make_schedule(demo().context(), blocks_of({Layer::physical}), processor);
  CHECK_FALSE(schedule.clock_hz);
  const std::string text = describe_shortfall(schedule, processor);
  CHECK(text.find("line-decode (edge, method per-edge) takes ") != std::string::npos);
  CHECK(text.find("594 thousand edges a second") != std::string::npos);
  CHECK(text.find("highest clock is 17.6 MHz") != std::string::npos);
}

TEST_CASE("A shortfall tells what makes more clocks of its cycles, and what never runs at once") {
  const auto text_of = [](const Processor& processor) {
    return describe_shortfall(make_schedule(demo().context(), blocks_of({Layer::physical}), processor),
                              processor);
  };
  const auto text_for = [&](const std::string& id) {
    return text_of(processor_of(demo().context(), part_named(id)));
  };
  // The bytes of a message are what comes 33 thousand times a second, not messages.
  // The accumulator at 52.8 MHz waits twice, each as long as a fetch: its flash needs none up to 25 MHz only.
  const std::string accumulator = text_for("mcu-8b-acc");
  CHECK_THAT(accumulator, Catch::Matchers::Contains("frame-receive (message, method byte-table)"));
  CHECK_THAT(accumulator, Catch::Matchers::Contains("33 thousand bytes a second"));
  CHECK(accumulator.find("messages a second") == std::string::npos);
  CHECK_THAT(accumulator, Catch::Matchers::Contains("alone at 2 clocks a cycle, wait states x3"));
  CHECK_THAT(accumulator, Catch::Matchers::Contains("receiving and transmitting never at once"));
  const std::string waiting = text_of(plain_processor());
  CHECK_THAT(waiting, Catch::Matchers::Contains("alone at wait states x1."));
  // Neither applies.
  CHECK(text_for("mcu-8b-basic").find("alone at") == std::string::npos);
}

TEST_CASE("The clock that a task is said to need alone is its cycles, times its rate and the stretch") {
  const Processor processor = plain_processor();
  const Schedule schedule = make_schedule(demo().context(), blocks_of({Layer::physical}), processor);
  const ScheduledTask& decode = task_named(schedule, "line-decode");
  const double stretch = firmware::wait_state_stretch(*processor.core, processor.clocks_hz.back());
  CHECK(stretch > 1);
  const double alone_hz = decode.worst_cycles.typical / decode.rule.period_s * stretch;
  CHECK_THAT(describe_shortfall(schedule, processor),
             Catch::Matchers::Contains(figures::format_quantity(alone_hz, figures::dimensions::frequency) +
                                       " alone"));
}

// Need is not monotone in the clock: a part told to need 25.2 MHz with the waits of its highest clock ran at 16.
TEST_CASE("A clock holds if and only if it is no less than the need with its own wait states") {
  std::size_t holding = 0;
  std::size_t failing = 0;
  for (const parts::Microcontroller& part : demo().catalog.microcontrollers) {
    const Processor processor = processor_of(demo().context(), part);
    Schedule schedule =
        make_schedule(demo().context(), blocks_of({Layer::message, Layer::policy}), processor);
    for (const double clock_hz : processor.clocks_hz) {
      INFO(part.part.id << " at " << clock_hz);
      set_clock(schedule, processor, clock_hz);
      CHECK(schedule.wait_stretch == Approx(firmware::wait_state_stretch(*processor.core, clock_hz)));
      const auto& feasible = schedule.feasible_clocks_hz;
      const bool holds = std::find(feasible.begin(), feasible.end(), clock_hz) != feasible.end();
      // Clocks are looked for with the high cycles, or else with the typical ones.
      Processor only = processor;
      only.clocks_hz = {clock_hz};
      const Schedule alone =
          schedule_without_search(demo().context(), blocks_of({Layer::message, Layer::policy}), only);
      CHECK(alone.clock_hz.has_value() == (schedule.required_hz.typical <= clock_hz * 1.0005));
      if (holds) CHECK(schedule.required_hz.typical <= clock_hz * 1.0005);
      ++(alone.clock_hz ? holding : failing);
    }
  }
  CHECK(holding > 0);
  CHECK(failing > 0);
}
