#!/bin/sh
# Fuzzes the reading layer under sanitizers: each target for SECONDS (20), both
# at once, on a fresh corpus of made-up logs and on what earlier runs left in
# build/asan/corpus. REQUIRES clang.
set -eu
cd "$(dirname "$0")/.."
seconds=${1-20}

[ -e build/asan/build.ninja ] || cmake --preset asan >/dev/null
cmake --build --preset asan --target make_corpus read_fuzz pieces_fuzz
corpus=build/asan/corpus
mkdir -p $corpus/read $corpus/pieces
build/asan/tests/fuzz/make_corpus $corpus/read

start() {
  # A fixed seed: what a run on a fresh corpus finds, the next finds again.
  build/asan/tests/fuzz/"$1"_fuzz -max_len=4096 -timeout=20 -seed=1 -entropic=0 \
    -rss_limit_mb=1024 -max_total_time="$seconds" -print_final_stats=1 \
    -artifact_prefix=build/asan/ $corpus/"$1" >build/asan/"$1".log 2>&1
}
# Whether the target ended well; says how far it came, or what it found.
tell() {
  if [ "$2" = 0 ]; then
    echo "$1: $(grep -o 'Done .*' build/asan/"$1".log)"
  else
    cat build/asan/"$1".log
  fi
  return "$2"
}

start read & read=$!
start pieces & pieces=$!
failed=0
wait $read || failed=1
tell read $failed || exit 1
wait $pieces || failed=1
tell pieces $failed
