#!/bin/sh
# Replays demo logs on an emulated controller and compares what it tells with
# what the laptop tells, check by check and second by second.
#
#   replay.sh HOST_BUILD OTHER_BUILD MACHINE [LOG...]
#
# HOST_BUILD holds telltale-pack and replay_double, OTHER_BUILD replay_float;
# MACHINE is m4, m0 or aarch64. Without logs: all under datasets/ that are of
# one set, or one in EVERY of them. Times may differ by TOLERANCE_S seconds.
set -eu
here=$(cd "$(dirname "$0")/../.." && pwd)
host=$(cd "$1" && pwd)/tools/mcu_replay
other=$(cd "$2" && pwd)/tools/mcu_replay
machine=$3
shift 3
tolerance=${TOLERANCE_S:-1}

scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$scratch"

replay() {
  case $machine in
    m4) board=mps2-an386 ;;
    m0) board=mps2-an385 ;; # its Cortex-M3 runs all that an M0+ runs
    aarch64) qemu-aarch64 "$other/replay_float"; return ;;
  esac
  timeout 300 qemu-system-arm -machine $board -nographic -monitor none \
    -semihosting-config enable=on,target=native \
    -kernel "$other/replay_float" 2>&1
}

# "log<TAB>profile" of every demo log; the profile may be missing.
demo_logs() {
  awk -v root="$here/datasets/" '
    function tell() { if (file ~ /\.csv$/) print root file "\t" (profile == "" ? "" : root profile) }
    /^\[\[log\]\]/ { tell(); file = profile = "" }
    /^file = /    { split($0, part, "\""); file = part[2] }
    /^profile = / { split($0, part, "\""); profile = part[2] }
    END { tell() }' "$here/datasets/logs.toml"
}

if [ $# -gt 0 ]; then
  for log in "$@"; do printf '%s\t\n' "$log"; done > list
else
  demo_logs | awk -v every="${EVERY:-1}" 'NR % every == 0' > list
fi

logs=0 findings=0 differ=0
while IFS="$(printf '\t')" read -r log profile; do
  [ -f "$log" ] || continue
  # A table of one reading a row, say, can't be packed.
  "$host/telltale-pack" "$log" ${profile:+"$profile"} > packed.log 2> why ||
    { echo "left out: $(cat why)"; continue; }
  "$host/replay_double" > laptop.txt
  replay > box.txt || { echo "$log: the replay failed"; cat box.txt; exit 1; }
  logs=$((logs + 1))
  # Times and values of the same finding may differ a little, nothing else.
  if awk -v tolerance="$tolerance" '
      function far(a, b, by) { return a - b > by || b - a > by }
      function size(x) { return x < 0 ? -x : x }
      NR == FNR { line[FNR] = $0; n = FNR; next }
      { m = FNR
        split(line[FNR], a, " ")
        for (i = 1; i <= 5; i++) if (a[i] != $i) bad = bad "\n  " line[FNR] " | " $0
        if (NF > 5) {
          if (far(a[6], $6, tolerance) || far(a[7], $7, tolerance) ||
              far(a[8], $8, 2 + 0.002 * size(a[8])))
            bad = bad "\n  " line[FNR] " | " $0
        } }
      END { if (n != m) bad = bad "\n  " n " lines | " m " lines"
            if (bad != "") { print bad; exit 1 } }' laptop.txt box.txt > diff.txt
  then
    :
  else
    differ=$((differ + 1))
    echo "differs: $log$(cat diff.txt)"
  fi
  findings=$((findings + $(wc -l < laptop.txt) - 1))
done < list
echo "$machine: $logs logs, $findings lines of findings, $differ logs differ"
[ "$differ" -eq 0 ] && [ "$logs" -gt 0 ]
