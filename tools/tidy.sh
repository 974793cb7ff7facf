#!/bin/sh
# clang-tidy over src, tools and all headers of the core. What was clean is
# remembered by its content, so that only what changed is looked at again.
#
#   tools/tidy.sh [BUILD]     BUILD has a compile_commands.json; build/dev
#   tools/tidy.sh --all       forget what was clean
set -eu
cd "$(dirname "$0")/.."

all=
build=build/dev
for option in "$@"; do
  case $option in
    --all) all=1 ;;
    -*) echo "usage: tools/tidy.sh [--all] [BUILD]" >&2; exit 2 ;;
    *) build=$option ;;
  esac
done
command -v clang-tidy >/dev/null || { echo "clang-tidy is missing" >&2; exit 2; }
[ -f "$build/compile_commands.json" ] || {
  echo "no $build/compile_commands.json: configure it first" >&2; exit 2; }

stamps=$build/tidy
[ -z "$all" ] || rm -rf "$stamps"
mkdir -p "$stamps"
# A header may change what any source means.
headers=$(git ls-files 'include/*' 'src/*.hpp' 'tools/*.hpp' .clang-tidy |
  xargs cat | cksum | tr ' ' '-')

# The core has no source of its own: the guards' box program includes it all.
git ls-files 'src/*.cpp' 'tools/*.cpp' 'tests/guards/bare_program.cpp' |
while read -r source; do
  grep -q "\"file\": .*/$source\"" "$build/compile_commands.json" || continue
  stamp=$stamps/$(cksum <"$source" | tr ' ' '-')-$headers
  [ -f "$stamp" ] || printf '%s %s\n' "$source" "$stamp"
done >"$stamps/todo"

echo "$(wc -l <"$stamps/todo") files to look at"
xargs -r -n 2 -P "$(nproc)" sh -c '
  if clang-tidy --quiet -p "$0" --extra-arg=-Wno-unknown-warning-option "$1" 2>/dev/null; then
    : >"$2"
  else
    echo "$1: not clean" >&2
    exit 1
  fi' "$build" <"$stamps/todo"
