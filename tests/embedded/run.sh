#!/bin/sh
# The box: builds the core for a Cortex-M4F, a Cortex-M0+ and 64-bit ARM Linux,
# replays the demo logs there, and holds sizes to their budget.
#
#   run.sh HOST_BUILD     a build of the preset dev
#
# Needs, from Debian: gcc-arm-none-eabi libnewlib-arm-none-eabi
# libstdc++-arm-none-eabi-newlib qemu-system-arm (some 400 MB to download), and
# g++-aarch64-linux-gnu qemu-user.
set -eu
here=$(cd "$(dirname "$0")/../.." && pwd)
host=$(cd "$1" && pwd)
cd "$here"
for tool in arm-none-eabi-g++ qemu-system-arm aarch64-linux-gnu-g++ \
  qemu-aarch64; do
  command -v "$tool" > /dev/null || { echo "$tool is not installed" >&2; exit 2; }
done
for machine in m4 m0 aarch64; do
  cmake --preset "$machine" > /dev/null
  cmake --build --preset "$machine"
  tests/embedded/replay.sh "$host" "build/$machine" "$machine"
done
tests/embedded/sizes.sh build/m4
