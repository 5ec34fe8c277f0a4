#!/bin/sh
# Measures speed and prints it; nothing is asserted, since times depend on the machine and its load.
# Figures over samples beside the same formulas in NumPy and OpenTURNS, growth with samples, options, inputs and
# threads, the whole process of a ranking, and covering beside berkeley-abc.
#   sh tests/bench.sh [sampling|process|covering]...      without names: all
set -eu
cd "$(dirname "$0")/.."
. tests/install.sh
# shellcheck disable=SC2086  # a list of words on purpose
need_packages $build_packages python3-numpy python3-openturns berkeley-abc
cmake --preset release >/dev/null
cmake --build --preset release --target portweigh sampling_bench covering_bench >&2
[ $# -gt 0 ] || set -- sampling process covering
study=studies/flow-meter.toml

echo "load of this machine: $(cut -d' ' -f1-3 /proc/loadavg), $(nproc) cores"
for part in "$@"; do
  echo
  echo "== $part"
  case $part in
    sampling)
      build/sampling_bench --export $study catalog > build/bench_ledger.json
      OMP_NUM_THREADS=1 /usr/bin/python3 tests/reference/ledger_figures.py bench build/bench_ledger.json
      build/sampling_bench $study catalog
      ;;
    process)
      for samples in 1000 10000 100000; do
        for run in 1 2 3; do
          start=$(date +%s%N)
          build/portweigh rank $study --samples $samples >/dev/null
          end=$(date +%s%N)
          echo "rank, $samples samples, whole process, run $run: $(((end - start) / 1000000)) ms"
        done
      done
      ;;
    covering) build/covering_bench ;;
    *)
      echo "no such part: $part; expected sampling, process or covering" >&2
      exit 2
      ;;
  esac
done
