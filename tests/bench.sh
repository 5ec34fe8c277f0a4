#!/bin/sh
# Measures speed and prints it; nothing is asserted, since times depend on the machine and its load.
# Figures over samples beside the same formulas in NumPy and OpenTURNS, growth with samples, options, inputs and
# threads, the whole process of a ranking, and covering beside berkeley-abc.
# The part growth ranks catalogs of 15 to 120 parts and functions of 7 to 20 blocks.
#   sh tests/bench.sh [sampling|process|growth|covering]...      without names: all
set -eu
cd "$(dirname "$0")/.."
. tests/install.sh
# shellcheck disable=SC2086  # a list of words on purpose
need_packages $build_packages python3-numpy python3-openturns berkeley-abc
cmake --preset release >/dev/null
cmake --build --preset release --target portweigh sampling_bench covering_bench >&2
[ $# -gt 0 ] || set -- sampling process growth covering
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
    growth)
      folder=$(mktemp -d)
      for size in "15 14" "30 14" "60 14" "120 14" "60 7" "60 20"; do
        # shellcheck disable=SC2086  # two words on purpose
        /usr/bin/python3 tests/bench/large_catalog.py "$folder/large" $size >/dev/null
        for run in 1 2 3; do
          start=$(date +%s%N)
          build/portweigh rank "$folder/large/study.toml" --catalog "$folder/large/catalog" --threads 2 >/dev/null
          end=$(date +%s%N)
          echo "rank, parts and blocks $size, two threads, whole process, run $run: $(((end - start) / 1000000)) ms"
        done
      done
      rm -r "$folder"
      ;;
    covering) build/covering_bench ;;
    *)
      echo "no such part: $part; expected sampling, process, growth or covering" >&2
      exit 2
      ;;
  esac
done
