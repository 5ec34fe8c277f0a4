// Which chips follow a revision in products that are in use, and what that takes of their memory.
//
//   taken = boot loader in whole erase pages + images x image in whole erase pages
// A boot loader is never erased, so the image starts on a page of its own. With `second_image` in the study the image
// before stays until the new one works: two images. Worked example: boot loader 1920 bytes, image 5000, pages of 1024:
// 2048 + 5120 = 7168 bytes; with a second image 12288. Tested by tests/options/firmware/field_update_test.cpp.
#pragma once

#include <cmath>
#include <optional>

#include "options/candidate.hpp"

namespace portweigh::options {

// Whether a revision touches a block on the chip and reaches products in use without them coming back.
bool is_updated_in_field(const Context& context, const Candidate& candidate, const Chip& chip);

// Images that a chip's memory holds: 2 where an update keeps the one before.
unsigned images_of(const Context& context, const Candidate& candidate, const Chip& chip);

inline double round_up(double value) {
  return std::ceil(value);
}

// Whole pages that hold so much; of numbers or of a ledger's figures, in one unit of memory.
template <class Value>
Value in_pages(const Value& size, const Value& page) {
  return page * round_up(size / page);
}

// Boot loader and images; of numbers or of a ledger's figures, in one unit of memory.
template <class Value>
Value updatable(const Value& image, const Value& boot_loader, const Value& page, unsigned images) {
  return in_pages(boot_loader, page) + static_cast<double>(images) * in_pages(image, page);
}

}  // namespace portweigh::options
