#!/bin/sh
# Builds portweigh and runs all tests, then once more under AddressSanitizer and UBSan. Installs what it needs on
# Debian 12. The reference programs (berkeley-abc, yosys, compilers, a browser) are used by the tests that compare with them.
set -eu
cd "$(dirname "$0")/.."
. tests/install.sh
# shellcheck disable=SC2086  # a list of words on purpose
need_packages $build_packages berkeley-abc yosys chromium chromium-driver poppler-utils
cmake --preset release >/dev/null
cmake --build --preset release
ctest --preset release
# Logic estimates against synthesis and measured cores: fails where a limit of docs/validation.md is missed (under a minute).
sh tests/reference/validate.sh --check
cmake --preset sanitize >/dev/null
cmake --build --preset sanitize
ctest --preset sanitize
