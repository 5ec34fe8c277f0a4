#include <catch2/catch.hpp>

#include "blocks/registry.hpp"
#include "study/function.hpp"

using namespace portweigh;
using study::FunctionBlock;

namespace {

using Texts = std::vector<std::pair<std::string, std::string>>;

FunctionBlock block_of(const std::string& kind, const Texts& texts) {
  FunctionBlock block;
  block.name = kind;
  block.kind = &blocks::find_kind(kind);
  block.settings = blocks::Settings::standard(block.kind->settings);
  for (const auto& [name, text] : texts) block.settings.set(name, text);
  return block;
}

double edges_of(const std::string& code, const std::vector<FunctionBlock>& others) {
  const FunctionBlock line = block_of("line-code", {{"code", code}});
  return blocks::mean_edges(line.kind->line(line.settings), study::stream_of(others));
}

}  // namespace

// Edges for each bit on the line, exact for random data: computed from the definitions of the codes [C].
TEST_CASE("A line code's edges are those of its own stream") {
  const auto plain = std::vector<FunctionBlock>{};
  CHECK(edges_of("nrz", plain) == 0.5);
  CHECK(edges_of("nrzi", plain) == 0.5);
  CHECK(edges_of("manchester", plain) == 1.5);
  CHECK(edges_of("biphase-mark", plain) == 1.5);
  const std::vector<FunctionBlock> short_symbols = {block_of("symbol-code", {{"code", "4b5b"}})};
  CHECK(edges_of("biphase-mark", short_symbols) == Approx(129.0 / 80).epsilon(0.002));
  const std::vector<FunctionBlock> long_symbols = {block_of("symbol-code", {{"code", "8b10b"}})};
  CHECK(edges_of("nrz", long_symbols) == Approx(0.6115479).epsilon(0.004));
}

TEST_CASE("Stuffing leaves the edges that its rule says") {
  struct Row {
    const char* run;
    const char* insert;
    const char* code;
    double edges;
  };
  // NRZI, a 0 after 6 ones .50393701, after 5 .50793651; NRZ the same; complement after 5 equal bits 16/31 [C].
  for (const Row& row : {Row{"6", "zero", "nrzi", 0.50393701}, Row{"5", "zero", "nrzi", 0.50793651},
                         Row{"6", "zero", "nrz", 0.50393701}, Row{"5", "complement", "nrz", 16.0 / 31}}) {
    CAPTURE(row.run, row.insert, row.code);
    CHECK(edges_of(row.code, {block_of("bit-stuffing", {{"run", row.run}, {"insert", row.insert}})}) ==
          Approx(row.edges).epsilon(0.004));
  }
}

TEST_CASE("Encoder and decoder of a code count once") {
  const FunctionBlock decoder = block_of("symbol-code", {{"direction", "decode"}});
  const FunctionBlock encoder = block_of("symbol-code", {{"direction", "encode"}});
  CHECK(study::stream_of({decoder, encoder}).ones == study::stream_of({encoder}).ones);
}
