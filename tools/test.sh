#!/bin/sh
# Every test: format, the whole suite, then a short run of the fuzzers.
#
#   --all    then lint, and the suite under sanitizers with a second compiler:
#            some twenty minutes more on two cores
#   --embedded  then the core cross-built: every demo log on emulated controllers
#            and a 64-bit ARM gateway, and the budget of sizes. Installs some
#            400 MB of compilers and emulators
#   --embedded=few   the same with a few logs and the totals of the budget
set -eu
cd "$(dirname "$0")/.."

all=
embedded=
for option in "$@"; do
  case $option in
    --all) all=1 ;;
    --embedded) embedded=all ;;
    --embedded=few) embedded=few ;;
    *) echo "usage: tools/test.sh [--all] [--embedded[=few]]" >&2; exit 2 ;;
  esac
done
stage() { printf '\n== %s\n' "$*"; }

stage packages
tools/packages.sh build test

stage format
tools/format.sh --check

stage suite
# Built for speed of building: less than half of what the preset dev takes.
cmake --preset check
cmake --build --preset check
tools/corpora.sh build/corpora
TELLTALE_CORPUS=$PWD/build/corpora ctest --preset check -j2

stage fuzz
tools/fuzz.sh 20

if [ -n "$all" ]; then
  stage lint
  cmake --preset dev
  tools/tidy.sh

  stage sanitizers
  cmake --preset asan
  cmake --build --preset asan
  ctest --preset asan
else
  stage "left out without --all: lint, the suite under sanitizers"
fi

if [ -n "$embedded" ]; then
  stage embedded
  tools/packages.sh box
  tests/embedded/run.sh build/check "$embedded"
else
  stage "left out without --embedded: replay on emulated controllers, sizes"
fi

stage "all passed"
