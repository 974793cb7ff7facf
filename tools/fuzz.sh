#!/bin/sh
# Fuzzes what reads files under sanitizers: each TARGET for SECONDS (20), all at
# once, on a fresh corpus of made-up files and on what earlier runs left in
# build/asan/corpus. REQUIRES clang.
#
#   tools/fuzz.sh [SECONDS [TARGET...]]   read and pieces, unless said otherwise;
#                                         journal builds all of the host library
set -eu
cd "$(dirname "$0")/.."
seconds=${1-20}
[ $# -eq 0 ] || shift
[ $# -gt 0 ] || set -- read pieces

[ -e build/asan/build.ninja ] || cmake --preset asan >/dev/null
cmake --build --preset asan --target make_corpus $(printf '%s_fuzz ' "$@")
corpus=build/asan/corpus
mkdir -p $corpus/read $corpus/pieces $corpus/journal
build/asan/tests/fuzz/make_corpus $corpus

start() {
  # A fixed seed: what a run on a fresh corpus finds, the next finds again.
  build/asan/tests/fuzz/"$1"_fuzz -max_len=4096 -timeout=20 -seed=1 -entropic=0 \
    -rss_limit_mb=1024 -max_total_time="$seconds" -print_final_stats=1 \
    -artifact_prefix=build/asan/ $corpus/"$1" >build/asan/"$1".log 2>&1
}
running=
for target in "$@"; do
  start "$target" &
  running="$running $!"
done

# Whether each ended well; says how far it came, or what it found.
failed=0
for process in $running; do
  if wait "$process"; then
    echo "$1: $(grep -o 'Done .*' build/asan/"$1".log)"
  else
    cat build/asan/"$1".log
    failed=1
  fi
  shift
done
exit $failed
