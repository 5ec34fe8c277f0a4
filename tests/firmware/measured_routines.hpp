// Plain routines written from the one-line descriptions in tests/reference/measured/firmware.csv, with
// random inputs like those of the measurement. The measured sources were not looked at: what differs in style
// is part of the error.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "c_twin.hpp"
#include "firmware/routine.hpp"

namespace portweigh::firmware {

struct MeasuredRoutine {
  std::string name;  // as in the table
  Routine routine;
  double units = 1;                               // units of the table's row in one event
  std::function<void(RecordingMachine&)> events;  // runs some hundred events
  // Checks results of some events against arithmetic written independently; throws std::runtime_error if
  // wrong.
  std::function<void(RecordingMachine&)> check;
};

std::vector<MeasuredRoutine> measured_routines();

// Parts of the list, by subject.
void add_line_code_routines(std::vector<MeasuredRoutine>& list);
void add_message_routines(std::vector<MeasuredRoutine>& list);
void add_buffer_routines(std::vector<MeasuredRoutine>& list);
void add_peripheral_routines(std::vector<MeasuredRoutine>& list);
void add_code_routines(std::vector<MeasuredRoutine>& list);

}  // namespace portweigh::firmware
