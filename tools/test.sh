#!/bin/sh
# Every test: format, the whole suite, then a short run of the fuzzers.
#
#   --all    then lint, and the suite under sanitizers with a second compiler:
#            some twenty minutes more on two cores
set -eu
cd "$(dirname "$0")/.."

all=
for option in "$@"; do
  case $option in
    --all) all=1 ;;
    *) echo "usage: tools/test.sh [--all]" >&2; exit 2 ;;
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
stage "left out: replay on emulated controllers (tests/embedded/run.sh)"

stage "all passed"
