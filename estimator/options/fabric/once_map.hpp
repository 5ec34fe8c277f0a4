// Values by key, each made once at its first use, from any thread.
//
// A thread that asks for a value that another is making waits for it rather than make it too. Making throws
// on to the asker, and the next one tries again. References stay valid as long as the map. Tested by
// tests/options/fabric/once_map_test.cpp.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

namespace portweigh::options {

template <class Value>
class OnceMap {
 public:
  // `make` returns the value; it is called at most once for each key that it succeeds for.
  template <class Make>
  const Value& get(const std::string& key, const Make& make) {
    Slot& slot = slot_of(key);
    std::call_once(slot.is_made, [&] { slot.value.emplace(make()); });
    return *slot.value;
  }

 private:
  struct Slot {
    std::once_flag is_made;
    std::optional<Value> value;
  };

  Slot& slot_of(const std::string& key) {
    const std::scoped_lock lock(mutex_);
    std::unique_ptr<Slot>& slot = slots_[key];
    if (!slot) slot = std::make_unique<Slot>();
    return *slot;
  }

  std::mutex mutex_;
  std::map<std::string, std::unique_ptr<Slot>> slots_;
};

}  // namespace portweigh::options
