#!/bin/sh
# Builds portweigh and runs all tests, then once more under AddressSanitizer and UBSan. Installs what it needs on
# Debian 12. Tests that compare with a reference program (berkeley-abc, yosys, OpenTURNS, a browser) fail without it.
set -eu
cd "$(dirname "$0")/.."
. tests/install.sh
# shellcheck disable=SC2086  # a list of words on purpose
need_packages $build_packages berkeley-abc yosys python3-numpy python3-openturns chromium chromium-driver poppler-utils
cmake --preset release >/dev/null
cmake --build --preset release
ctest --preset release
# Logic estimates against synthesis and measured cores: fails where a limit of docs/validation.md is missed (under a minute).
sh tests/reference/validate.sh --check
cmake --preset sanitize >/dev/null
cmake --build --preset sanitize
ctest --preset sanitize
