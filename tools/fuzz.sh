#!/bin/sh
# Fuzzes the reading layer: each target for SECONDS (20) on a fresh corpus of
# made-up logs and on what earlier runs left in build/asan/corpus. REQUIRES
# clang.
set -eu
cd "$(dirname "$0")/.."
seconds=${1-20}

cmake --preset asan >/dev/null
cmake --build --preset asan --target make_corpus read_fuzz pieces_fuzz
corpus=build/asan/corpus
mkdir -p $corpus/read $corpus/pieces
build/asan/tests/fuzz/make_corpus $corpus/read
for target in read pieces; do
  log=build/asan/$target.log
  if ! build/asan/tests/fuzz/${target}_fuzz -max_len=4096 -timeout=20 \
    -rss_limit_mb=1024 -max_total_time="$seconds" -print_final_stats=1 \
    -artifact_prefix=build/asan/ $corpus/$target >$log 2>&1; then
    cat $log
    exit 1
  fi
  echo "$target: $(grep -o 'Done .*' $log)"
done
