#!/bin/sh
# Compares `portweigh block` with synthesis (yosys, generic flow) for every Verilog twin in blocks/ and state_machines/, and with the
# measured cores of measured/hardware.csv that can be said in block settings (measured/mapping.csv). Writes the tables
# between the marks of docs/validation.md.
#
#   sh tests/reference/validate.sh           writes docs/validation.md
#   sh tests/reference/validate.sh --check   writes nothing; fails if a limit of docs/validation.md is missed
# PORTWEIGH names the program (build/portweigh), JOBS how many comparisons run at once (2), WORK a folder to keep the
# rows and the logs in (else a temporary one).
set -eu
cd "$(dirname "$0")/../.."
mode=write
case ${1:-} in
  --check | --twin | --core) mode=${1#--}; shift ;;
  "") ;;
  *) echo "validate.sh: unknown argument $1, expected --check or nothing" >&2; exit 2 ;;
esac
program=${PORTWEIGH:-build/portweigh}
[ -x "$program" ] || { echo "validate.sh: no program at $program; build it or set PORTWEIGH" >&2; exit 3; }

# Prints "LUTs registers levels RAM-bits" of a Verilog file. Memories stay whole ($mem_v2, RAM bits); registers keep
# their enable and synchronous reset; no carry chains. `abc -lut` without -fast is the thorough script.
synthesise() { # FILE TOP LUT_INPUTS
  log=$WORK/$2.$3
  yosys -q -p "
    read_verilog -sv $1
    synth -flatten -top $2 -lut $3 -run begin:fine
    opt -fast -full
    memory_map -rom-only
    opt -full
    techmap
    opt -fast
    abc -lut $3
    opt -fast
    opt_clean -purge
    tee -q -o $log.stat stat
    tee -q -o $log.levels ltp -noff
    tee -q -o $log.memories dump t:\$mem_v2" </dev/null >"$log.log" 2>&1 || { cat "$log.log" >&2; return 1; }
  awk -v stat="$log.stat" -v levels_file="$log.levels" -v memories="$log.memories" '
    function binary(text,  value, i) {
      sub(/^.*\x27/, "", text)
      for (i = 1; i <= length(text); ++i) value = value * 2 + substr(text, i, 1)
      return value
    }
    BEGIN {
      while ((getline line < stat) > 0) {
        count = split(line, word, " ")
        if (word[1] == "$lut") luts = word[2]
        if (word[1] ~ /^\$_(S?DFF|DFFE|SDFFE|SDFFCE|ALDFF|DLATCH|SR)/ || word[1] ~ /^\$_[A-Z]*DFF[A-Z]*_/) registers += word[2]
      }
      while ((getline line < levels_file) > 0)
        if (match(line, /length=[0-9]+/)) levels = substr(line, RSTART + 7, RLENGTH - 7)
      while ((getline line < memories) > 0) {
        split(line, word, " ")
        if (word[2] == "\\SIZE") size = word[3] ~ /\x27/ ? binary(word[3]) : word[3]
        if (word[2] == "\\WIDTH") width = word[3] ~ /\x27/ ? binary(word[3]) : word[3]
        if (word[1] == "end" && size > 0) { bits += size * width; size = 0; width = 0 }
      }
      print luts + 0, registers + 0, levels + 0, bits + 0
    }' </dev/null
}

# Prints "LUTs registers levels RAM-bits low high" of one block.
estimate() { # LUT_INPUTS KIND SETTING...
  inputs=$1
  kind=$2
  shift 2
  arguments=""
  for setting in "$@"; do arguments="$arguments --set $setting"; done
  # shellcheck disable=SC2086  # words on purpose: settings have no spaces
  "$program" block "$kind" $arguments --lut-inputs "$inputs" --json | awk '
    /"low": \{/ { part = "low" } /"high": \{/ { part = "high" } /"firmware": \{/ { part = "firmware" }
    match($1, /^"[a-z_]+":$/) {
      name = substr($1, 2, length($1) - 3)
      value = $2
      sub(/,$/, "", value)
      if (part == "" || (name == "luts" && part != "firmware")) figure[part name] = value
    }
    END { print figure["luts"], figure["registers"], figure["levels"], figure["ram_bits"], figure["lowluts"], figure["highluts"] }'
}

# One row for each twin: kind|settings|twin|LUT inputs|ours (6 numbers)|theirs (4 numbers).
compare_twin() { # FILE LUT_INPUTS
  heading=$(sed -n 's|^// twin: ||p' "$1" | head -n 1)
  kind=$(echo "$heading" | sed 's/.*block=\([^ ]*\).*/\1/')
  settings=$(echo "$heading" | sed 's/.*settings="\([^"]*\)".*/\1/')
  top=$(echo "$heading" | sed 's/.*top=\([^ ]*\).*/\1/')
  # shellcheck disable=SC2086  # words on purpose
  ours=$(estimate "$2" "$kind" $settings)
  theirs=$(synthesise "$1" "$top" "$2")
  echo "$kind|$settings|$(basename "$1" .v)|$2|$ours|$theirs" >"$WORK/$(basename "$1" .v).$2.row"
}

# One row for each measured core and LUT size: class|core|blocks|LUT inputs|ours (6 numbers, summed).
# A block may stand several times: `3*crc width=8`. The range of a sum is the sum of the ranges.
compare_core() { # CLASS CORE BLOCKS LUT_INPUTS
  echo "$3" | tr ';' '\n' | while read -r count kind settings; do
    # shellcheck disable=SC2086  # words on purpose
    echo "$count $(estimate "$4" "$kind" $settings)"
  done | awk '
    { for (i = 2; i <= 7; ++i) sum[i] += $1 * $i; if ($4 > levels) levels = $4 }
    END { print sum[2], sum[3], levels, sum[5], sum[6], sum[7] }' >"$WORK/$2.$4.sum"
  echo "$1|$2|$3|$4|$(cat "$WORK/$2.$4.sum")" >"$WORK/$2.$4.core"
}

case $mode in
  twin) compare_twin "$@"; exit ;;
  core) compare_core "$@"; exit ;;
esac

command -v yosys >/dev/null || { echo "validate.sh: yosys is not installed (Debian: yosys)" >&2; exit 3; }
if [ -z "${WORK:-}" ]; then
  WORK=$(mktemp -d)
  trap 'rm -rf "$WORK"' EXIT
fi
mkdir -p "$WORK"
rm -f "$WORK"/*.row "$WORK"/*.core
export PORTWEIGH="$program" WORK

for file in tests/reference/blocks/*.v tests/reference/state_machines/*.v; do
  for inputs in 4 6; do printf '%s\0' "$file" "$inputs"; done
done | xargs -0 -n 2 -P "${JOBS:-2}" sh tests/reference/validate.sh --twin
tail -n +2 tests/reference/measured/mapping.csv | while IFS=, read -r class core blocks _; do
  for inputs in 4 6; do printf '%s\0' "$class" "$core" "$blocks" "$inputs"; done
done | xargs -0 -n 4 -P "${JOBS:-2}" sh tests/reference/validate.sh --core

cat "$WORK"/*.row | sort -t '|' -k1,1 -k3,3 -k4,4n | awk -f tests/reference/twin_table.awk >"$WORK/twins.md"
cat "$WORK"/*.core | sort -t '|' -k1,2 -k4,4n >"$WORK/cores"
awk -f tests/reference/core_table.awk tests/reference/measured/hardware.csv "$WORK/cores" >"$WORK/cores.md"
cat "$WORK"/*.row >"$WORK/twin_rows"
awk -f tests/reference/fit_spreads.awk tests/reference/measured/hardware.csv "$WORK/cores" "$WORK/twin_rows" >"$WORK/spreads.md"

status=0
for table in hardware firmware; do
  awk -F, -v table=$table 'FNR == 1 { next } NR == FNR { has[$1] = 1; next }
    !has[$1] { print "validate.sh: " table " row without a source: " $1; bad = 1 } END { exit bad }' \
    tests/reference/measured/${table}_sources.csv tests/reference/measured/$table.csv >&2 || status=1
done
for table in twins cores; do
  sed -n 's/^MISSED /validate.sh: /p' "$WORK/$table.md" >&2
  grep -q '^MISSED ' "$WORK/$table.md" && status=1
done
if [ $mode = write ]; then
  for table in twins cores spreads; do
    awk -v table="$table" -v rows="$WORK/$table.md" '
      $0 == "<!-- " table ": written by tests/reference/validate.sh -->" {
        print; inside = 1
        while ((getline line < rows) > 0) if (line !~ /^MISSED /) print line
      }
      $0 == "<!-- end of " table " -->" { inside = 0 }
      !inside { print }' docs/validation.md >"$WORK/validation.md"
    cp "$WORK/validation.md" docs/validation.md
  done
fi
exit $status
