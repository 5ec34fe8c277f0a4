// Clock enables and synchronous resets recovered from next-value logic, as synthesis does it.
//
// A next value that selects the register's own output under some condition means: don't load. It is split
// into enable and data: hold(q) = never; hold(select(s, t, f)) = select(s, hold(t), hold(f)). A next value
// that one signal forces to the reset value is split into reset and data. Since the signals cost LUTs of
// their own, they are taken only where several registers share them (or the enable is a signal that exists
// anyway). Example: next = select(tick, count + 1, count) becomes enable = tick, next = count + 1.
//
// Tested by tests/logic/graph/register_control_test.cpp.
#pragma once

#include "logic/graph/combinational_view.hpp"

namespace portweigh::logic {

CombinationalView with_recovered_controls(const CombinationalView& view, const Network& network);

}  // namespace portweigh::logic
