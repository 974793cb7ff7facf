#!/bin/sh
# The box: builds the core for a Cortex-M4F, a Cortex-M0+ and 64-bit ARM Linux,
# replays the demo logs there, and holds sizes to their budget.
#
#   run.sh HOST_BUILD [all|few]   a build with the tools, of any preset; `few`
#                                 takes all logs on the Cortex-M4F but a few on
#                                 the others, and the totals of the budget
#
# Needs the packages of `tools/packages.sh box` (some 400 MB to download).
set -eu
here=$(cd "$(dirname "$0")/../.." && pwd)
host=$(cd "$1" && pwd)
many=${2:-all}
cd "$here"
for tool in arm-none-eabi-g++ qemu-system-arm aarch64-linux-gnu-g++ \
  qemu-aarch64; do
  command -v "$tool" > /dev/null || { echo "$tool is not installed" >&2; exit 2; }
done
for machine in m4 m0 aarch64; do
  every=1
  [ "$many" = all ] || [ "$machine" = m4 ] || every=8
  cmake --preset "$machine" > /dev/null
  cmake --build --preset "$machine"
  EVERY=$every tests/embedded/replay.sh "$host" "build/$machine" "$machine"
done
if [ "$many" = few ]; then
  MILLION=288000 tests/embedded/sizes.sh build/m4 --totals
else
  tests/embedded/sizes.sh build/m4
fi
