#include "blocks/sized_variables.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

namespace portweigh::blocks {

TEST_CASE("variables take the narrowest type that holds the bits") {
  using firmware::Type;
  firmware::Routine routine("sizes");
  CHECK(sized_state(routine, "a", 1).type() == Type::u8);
  CHECK(sized_state(routine, "b", 8).type() == Type::u8);
  CHECK(sized_local(routine, "c", 9).type() == Type::u16);
  CHECK(sized_parameter(routine, "d", 16).type() == Type::u16);
  CHECK(sized_port(routine, "e", 17).type() == Type::u32);
  CHECK(sized_array(routine, "f", 32, 3).type() == Type::u32);
  CHECK(sized_table(routine, "g", 12, {1, 2}).type() == Type::u16);
  CHECK(sized_cast(8, routine.local_u32("h")).type() == Type::u8);
  CHECK_THROWS_AS(variable_bits(33), std::logic_error);
}

}  // namespace portweigh::blocks
