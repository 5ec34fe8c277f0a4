#!/bin/sh
# Writes the C twins of the block routines named in blocks.list, with recorded events, for measure.sh, and
# model.csv for compare_blocks.py.
# usage: record_blocks.sh BUILD_FOLDER TWINS_FOLDER, from the source folder
set -eu
build=$1
folder=$2
mkdir -p "$folder"
program=$folder/record_blocks.program
span=_ZN9portweigh8firmware7Machine3runESt4spanIKjLm18446744073709551615EE
list=_ZN9portweigh8firmware7Machine3runESt16initializer_listIjE
# shellcheck disable=SC2046  # words on purpose
g++ -std=c++20 -O1 -Iestimator -Itests/firmware $(pkg-config --cflags tomlplusplus) \
  tests/reference/twins/record_blocks.cpp tests/firmware/c_twin_fixture.cpp tests/firmware/core_fixture.cpp \
  -DPORTWEIGH_CATALOG_DIR='"catalog"' -DTOML_HEADER_ONLY=0 -Wl,--wrap=$list -Wl,--wrap=$span \
  "$build"/libpw_parts.a "$build"/libpw_blocks.a "$build"/libpw_reading.a "$build"/libpw_firmware.a "$build"/libpw_logic.a \
  "$build"/libpw_figures.a $(pkg-config --libs tomlplusplus) -lfmt -o "$program"
"$program" tests/reference/twins/blocks.list "$folder"
rm "$program"
