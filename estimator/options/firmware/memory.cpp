#include "options/firmware/memory.hpp"

#include <fmt/core.h>

#include "options/firmware/field_update.hpp"

namespace portweigh::options {
namespace {

using figures::Figure;
namespace dimensions = figures::dimensions;

// A byte is eight of the ledger's dimensionless bits.
constexpr double bits_per_byte = 8;

const parts::Microcontroller& microcontroller_of(const Chip& chip) {
  return *std::get<const parts::Microcontroller*>(chip.device);
}

Figure bits_of_part(Draft& draft, std::string_view key, std::string_view label, double bytes) {
  return draft.counted(key, label, figures::exactly(bits_per_byte * bytes), "catalog", "B");
}

Figure flash_needed(Draft& draft, const Chip& chip, Figure image) {
  if (!is_updated_in_field(draft.context, draft.candidate, chip)) return image;
  const Figure boot_loader = bits_per_byte * draft.input(draft.context.effort.boot_loader_bytes);
  const Figure page = bits_of_part(draft, "parts.erase_page", "erase page of the program memory",
                                   microcontroller_of(chip).erase_page_bytes);
  return updatable(image, boot_loader, page, images_of(draft.context, draft.candidate, chip));
}

}  // namespace

Impossible check_memory(const Context& context, const Candidate& candidate, const Chip& chip,
                        const MemoryNeed& need) {
  const parts::Microcontroller& part = microcontroller_of(chip);
  const double usable = 1 - context.study.capacity_reserve.range.typical;
  double flash_bytes = need.flash_bytes.typical;
  std::string what = "firmware takes";
  if (is_updated_in_field(context, candidate, chip)) {
    const unsigned images = images_of(context, candidate, chip);
    flash_bytes =
        updatable(flash_bytes, context.effort.boot_loader_bytes.range.typical, part.erase_page_bytes, images);
    what = fmt::format("boot loader and {} of firmware in pages of {:.0f} bytes take",
                       images == 1 ? "one image" : "two images", part.erase_page_bytes);
  }
  if (flash_bytes > part.flash_bytes * usable) {
    return Shortfall{fmt::format("{} {:.0f} bytes of program memory, {:.0f} can be used of {:.0f}", what,
                                 flash_bytes, part.flash_bytes * usable, part.flash_bytes),
                     flash_bytes, part.flash_bytes * usable, "B"};
  }
  if (need.ram_bytes > part.ram_bytes * usable) {
    return Shortfall{fmt::format("firmware takes {:.0f} bytes of data memory, {:.0f} can be used of {:.0f}",
                                 need.ram_bytes, part.ram_bytes * usable, part.ram_bytes),
                     need.ram_bytes, part.ram_bytes * usable, "B"};
  }
  return std::nullopt;
}

void name_memory(Draft& draft, const Chip& chip, const MemoryNeed& need) {
  const parts::Microcontroller& part = microcontroller_of(chip);
  const std::string run = "routines translated for the core class";
  const figures::Range& bytes = need.flash_bytes;
  const Figure image =
      draft.executed("counts.flash", "program memory of the firmware",
                     {bits_per_byte * bytes.low, bits_per_byte * bytes.typical, bits_per_byte * bytes.high},
                     part.core, run, "B");
  const Figure flash =
      draft.name(flash_needed(draft, chip, image), "flash_needed", "program memory needed", "B");
  const Figure ram = draft.counted("counts.ram", "data memory needed",
                                   figures::exactly(bits_per_byte * need.ram_bytes), run, "B");
  const Figure reserve = draft.input(draft.context.study.capacity_reserve);
  const Figure flash_there =
      bits_of_part(draft, "parts.flash", "program memory of the part", part.flash_bytes);
  const Figure ram_there = bits_of_part(draft, "parts.ram", "data memory of the part", part.ram_bytes);
  draft.name(flash / (flash_there * (1.0 - reserve)), "flash_use", "program memory used, of what may be used",
             "%");
  draft.name(ram / (ram_there * (1.0 - reserve)), "ram_use", "data memory used, of what may be used", "%");
  draft.option.implied_limits.push_back({"flash_use", 1.0, "program memory with its reserve"});
  draft.option.implied_limits.push_back({"ram_use", 1.0, "data memory with its reserve"});
}

}  // namespace portweigh::options
