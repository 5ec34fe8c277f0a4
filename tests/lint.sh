#!/bin/sh
# clang-tidy with the checks of .clang-tidy: all headers at once, and one source file of each folder, since the whole
# tree takes over twenty minutes. Fails on the first finding of a file. Needs a configured build folder.
# usage: lint.sh BUILD_FOLDER
set -eu
cd "$(dirname "$0")/.."
build=$1
headers=$build/all_headers.cpp
find estimator -name '*.hpp' | LC_ALL=C sort | sed 's|estimator/\(.*\)|#include "\1"|' >"$headers"
{
  find estimator -name '*.cpp' | LC_ALL=C sort | awk -F/ '{ folder = $0; sub(/\/[^\/]*$/, "", folder) } !seen[folder]++'
  echo "$headers"
} | xargs -P "$(nproc)" -I{} sh -c '
  case $1 in
    "$2") set -- "$1" -- -std=c++20 -Iestimator -isystem /usr/include/eigen3 -DTOML_HEADER_ONLY=0 ;;
    *) set -- "$1" -p "$3" ;;
  esac
  exec clang-tidy --quiet --warnings-as-errors="*" --extra-arg=-Wno-unknown-warning-option "$@"' lint {} "$headers" "$build"
