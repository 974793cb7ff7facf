#!/bin/sh
# Every test: format, the whole suite, then a short run of the fuzzers.
#
#   --all    then lint, and the suite and the fuzzer of journals under sanitizers
#            with a second compiler: some twenty minutes more on two cores
#   --embedded  then the core cross-built: every demo log on emulated controllers
#            and a 64-bit ARM gateway, and the budget of sizes. Installs some
#            400 MB of compilers and emulators
#   --embedded=few   the same with fewer logs and the totals of the budget:
#            half a minute on two cores once installed
#   --servers   first installs the servers and programs that telltale works with
#            (PostgreSQL, an MQTT broker, GNU parallel, sqlite3), without which
#            some tests are left out, and fails where one still is
#   --browser   first installs a browser and what drives it (chromium, Node.js,
#            two npm packages), without which no page is looked at
#
# CI runs it with --servers --browser --embedded=few.
set -eu
cd "$(dirname "$0")/.."

all=
embedded=
servers=
browser=
for option in "$@"; do
  case $option in
    --all) all=1 ;;
    --embedded) embedded=all ;;
    --embedded=few) embedded=few ;;
    --servers) servers=1 ;;
    --browser) browser=1 ;;
    *)
      echo "usage: tools/test.sh [--all] [--embedded[=few]] [--servers]" \
        "[--browser]" >&2
      exit 2
      ;;
  esac
done
stage() { printf '\n== %s\n' "$*"; }

stage packages
tools/packages.sh build test
if [ -n "$servers" ]; then
  tools/packages.sh server
  export TELLTALE_SERVERS=1
fi
[ -z "$browser" ] || tools/packages.sh browser

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
  tools/fuzz.sh 60 journal
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

[ -n "$servers" ] ||
  stage "left out without --servers: tests with a server that is not installed"
[ -n "$browser" ] ||
  stage "left out without --browser: pages in a browser that is not installed"

stage "all passed"
