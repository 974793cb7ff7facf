#!/bin/sh
# How fast, and in how much memory, beside what people would use instead; all
# in one run, by turns. Prints tables; --write puts them into docs/speed.md, and
# the first into the README.
# Wants an idle machine, 3 GB of disk and a quarter of an hour.
set -eu
cd "$(dirname "$0")/.."

tools/packages.sh build bench
cmake --preset release >/dev/null
cmake --build --preset release >/dev/null

work=build/bench
bin=build/release/tools
rounds=${BENCH_ROUNDS:-7}
mkdir -p "$work"

channels=engine_speed,frequency,voltage_l1,voltage_l2,voltage_line,current_l1
channels=$channels,current_l2,power,oil_pressure,coolant_temperature
channels=$channels,exhaust_temperature,battery_voltage,engine_hours
# A week and a half of one set that runs two hours in three, once a second.
log_of() {
  [ -f "$work/$1.csv" ] || {
    "$bin/telltale" simulate --preset split-8 --healthy --seed 7 \
      --runs "$2" --duration 7200s --every 10800s --no-state --no-alarms \
      --channels "$channels" --out "$work/part.csv"
    mv "$work/part.csv" "$work/$1.csv"
  }
}
log_of 1x 1
log_of 10x 14
log_of 100x 139
log_of 1000x 1390

report() { echo "$bin/telltale report --quiet --json - $work/$1.csv"; }

tables() {
  echo "One million rows of 14 columns ($(wc -l <"$work/100x.csv") lines," \
    "$(($(wc -c <"$work/100x.csv") / 1000000)) MB), median of $rounds rounds:"
  echo
  "$bin/process_bench" "$rounds" \
    "bare loop: lines, cells, numbers, nothing else" \
    "$bin/bare_loop $work/100x.csv" \
    "\`telltale report --json\`, all checks" "$(report 100x)" \
    "\`telltale report --html\`, pictures and all" \
    "$bin/telltale report --quiet --html $work/page.html $work/100x.csv" \
    "data.table \`fread\`: loaded, nothing else" \
    "Rscript tools/bench/load.R $work/100x.csv" \
    "pandas: loaded, rolling mean and deviation, \`describe\`" \
    "/usr/bin/python3 tools/bench/rolling.py $work/100x.csv" \
    "Miller \`stats1\`: mean, deviation, percentiles of three columns" \
    "mlr --icsv --ojson stats1 -a mean,stddev,p5,p50,p95 \
      -f 'Engine Speed (rpm),Frequency (Hz),Volts L1 (V)' $work/100x.csv"
  echo
  echo "The same log shorter and longer:"
  echo
  for size in 1x 10x 100x 1000x; do
    "$bin/process_bench" 3 \
      "$(($(wc -l <"$work/$size.csv") - 1)) rows, \
$(($(wc -c <"$work/$size.csv") / 1000000)) MB" "$(report $size)" |
      if [ $size = 1x ]; then cat; else tail -n +3; fi
  done | cut -d'|' -f1-6 | sed 's/$/|/'
  echo
  echo "The core alone, one core, 14 channels:"
  echo
  "$bin/core_bench" 5
  echo
  echo "A season: a store of 100 sets with 500 runs each, and its report:"
  echo
  "$bin/season_bench"
}

# put_into PAGE TABLES: between the marks.
put_into() {
  awk -v tables="$2" '
    /<!-- bench -->/ { print; while ((getline line < tables) > 0) print line
                       skip = 1 }
    /<!-- \/bench -->/ { skip = 0 }
    !skip { print }' "$1" >"$work/page.md"
  cp "$work/page.md" "$1"
}

if [ "${1:-}" = --write ]; then
  tables >"$work/tables.md"
  put_into docs/speed.md "$work/tables.md"
  awk '/^The same log/ { exit } { print }' "$work/tables.md" | sed '$d' \
    >"$work/first.md"
  put_into README.md "$work/first.md"
else
  tables
fi
