# Sourced by studies/demo.sh and tests/run.sh: installs Debian packages that are missing.
#   need_packages NAME...    exits with a clear message where it can't
need_packages() {
  missing=""
  for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q "install ok installed" || missing="$missing $package"
  done
  [ -z "$missing" ] && return 0
  if ! command -v apt-get >/dev/null 2>&1; then
    echo "portweigh needs these packages, and there is no apt-get to install them:$missing" >&2
    exit 3
  fi
  if [ "$(id -u)" = 0 ]; then
    as_root=""
  elif command -v sudo >/dev/null 2>&1; then
    as_root="sudo"
  else
    echo "portweigh needs these packages; install them as root, or install sudo:$missing" >&2
    exit 3
  fi
  echo "Installing:$missing" >&2
  $as_root apt-get update -qq >&2 || true
  # shellcheck disable=SC2086  # a list of words on purpose
  if ! DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends $missing >&2; then
    echo "portweigh could not install:$missing" >&2
    exit 3
  fi
}

build_packages="cmake ninja-build g++ pkg-config libeigen3-dev libcli11-dev libtomlplusplus-dev catch2 libfmt-dev
  nlohmann-json3-dev libboost-dev libudunits2-dev zlib1g-dev libjs-vega"
