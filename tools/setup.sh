#!/bin/sh
# From a fresh Debian 12 to the health report of a demo log: installs what is
# missing, builds the program, examines a log.
set -eu
cd "$(dirname "$0")/.."

tools/packages.sh build
cmake --preset program
cmake --build --preset program
echo
# A finding is no failure here: exit code 1 says there is one.
build/program/tools/telltale report \
  datasets/faults/exhaust-jump/sandpiper.csv \
  --profile datasets/profiles/sandpiper.toml || [ $? = 1 ]
echo
echo "The program is build/program/tools/telltale; try it on your own log:"
echo "  build/program/tools/telltale report LOG.csv"
