#!/bin/sh
# Every test: format, the suite, the suite under sanitizers, a short run
# of the fuzzers.
#
#   --quick     format and suite only: what to run before a commit
set -eu
cd "$(dirname "$0")/.."

quick=
for option in "$@"; do
  case $option in
    --quick) quick=1 ;;
    *) echo "usage: tools/test.sh [--quick]" >&2; exit 2 ;;
  esac
done
stage() { printf '\n== %s\n' "$*"; }

stage packages
tools/packages.sh build test

stage format
tools/format.sh --check

stage suite
cmake --preset dev
cmake --build --preset dev
ctest --preset dev

if [ -z "$quick" ]; then
  stage sanitizers
  cmake --preset asan
  cmake --build --preset asan
  ctest --preset asan

  stage fuzz
  tools/fuzz.sh 20
fi

stage "all passed"
