#!/bin/sh
# Builds portweigh, runs the demo study and writes its report. Installs what it needs on Debian 12.
set -eu
cd "$(dirname "$0")/.."
. tests/install.sh
# shellcheck disable=SC2086  # a list of words on purpose
need_packages $build_packages
cmake --preset release >/dev/null
cmake --build --preset release --target portweigh >&2
build/portweigh rank studies/flow-meter.toml
build/portweigh report studies/flow-meter.toml --output build/demo-report.html >/dev/null
echo "The report for management: build/demo-report.html"
