#!/bin/sh
# Formats all C++ of the project, or with --check names what is not formatted.
set -eu
cd "$(dirname "$0")/.."
mode=-i
[ "${1-}" = --check ] && mode="--dry-run --Werror"
# shellcheck disable=SC2086  # several words on purpose
git ls-files '*.cpp' '*.hpp' '*.h' | xargs clang-format $mode
