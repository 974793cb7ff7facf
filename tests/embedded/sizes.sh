#!/bin/sh
# What the core costs on a Cortex-M4F: flash, RAM, stack and instructions a
# sample, for each check and for all, as a table in Markdown.
#
#   sizes.sh BUILD [--write]     BUILD: of the preset m4
#
# Fails where a figure has grown by more than 3 % over budget.txt beside this
# script, a heap function or a double-precision helper is linked. --write makes
# the measured figures the budget.
set -eu
here=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$1" && pwd)
write=${2:-}
budget=$here/tests/embedded/budget.txt
source=$here/tools/mcu_replay
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

# The flags of the build itself.
flags=$(sed -n 's/.*"command": "\([^"]*\)-o [^"]*size_main.cpp",*/\1/p' \
  "$build/compile_commands.json" | sed 's/-fstack-usage//')
link="-mcpu=cortex-m4 -mthumb -mfloat-abi=hard -mfpu=fpv4-sp-d16
  --specs=nano.specs -nostartfiles -Wl,--gc-sections -T $source/mps2.ld"
cd "$scratch"
c_flags="-mcpu=cortex-m4 -mthumb -mfloat-abi=hard -mfpu=fpv4-sp-d16 -Os"
arm-none-eabi-gcc $c_flags -c "$source/startup.c" -o bare.o
arm-none-eabi-gcc $c_flags -DTELLTALE_SEMIHOSTING -c "$source/startup.c" \
  -o hosted.o

# measure NAME LIST SAMPLES: "NAME flash ram stack mean most"
measure() {
  $flags -fstack-usage "-DTELLTALE_ONLY=$2" -o one.o \
    -c "$source/size_main.cpp"
  arm-none-eabi-g++ $link --specs=nosys.specs bare.o one.o -o one.elf
  # The profile is the firmware's own, in flash if it likes.
  plate=$(arm-none-eabi-nm -S -t d one.elf | awk '/profile/ { print $2 + 0 }')
  set -- "$1" "$2" "$3" $(arm-none-eabi-size one.elf | tail -n 1)
  # The deepest frame; those of the callers add to it.
  stack=$(awk -F'\t' '$2 > most { most = $2 } END { print most + 0 }' *.su)
  $flags "-DTELLTALE_ONLY=$2" "-DTELLTALE_SAMPLES=$3" -DTELLTALE_SEMIHOSTING \
    -o count.o -c "$source/count_main.cpp"
  arm-none-eabi-g++ $link --specs=rdimon.specs hosted.o count.o -o count.elf
  timeout 600 qemu-system-arm -machine mps2-an386 -icount shift=0 -nographic \
    -monitor none -semihosting-config enable=on,target=native \
    -kernel count.elf > count.txt 2>&1
  awk -v name="$1" -v flash="$4" -v ram=$(($5 + $6 - plate)) -v stack="$stack" '
    NF == 3 { sum += $2; n++; if ($3 > most) most = $3 }
    END { print name, flash, ram, stack, int(sum / n), most }' count.txt
}

names=$(sed -n '/using AllChecks/,/;/p' \
  "$here/include/telltale/detect/checks/all.hpp" |
  tr -d '\n' | sed 's/.*CheckList<//; s/>.*//' | tr ',' ' ')
samples=${SAMPLES:-30000}
measure none 'telltale::CheckList<>' "$samples" > measured
for name in $names; do
  measure "$name" "telltale::CheckList<telltale::$name>" "$samples" >> measured
done
measure all telltale::AllChecks "$samples" >> measured

# The last image holds everything.
foreign=$(arm-none-eabi-nm one.elf | awk '{ print $NF }' |
  grep -E '^(malloc|_malloc_r|free|_sbrk|_Zn[wa].*|_Zd[la].*|__aeabi_d.*|__aeabi_.*2d)$' || true)

awk '
  NR == 1 { flash = $2; ram = $3; mean = $5
    print "| check | flash, bytes | RAM, bytes | instructions a sample |"
    print "|---|---|---|---|"
    printf "| none: frames, phases, load | %d | %d | %d |\n", $2, $3, $5; next }
  $1 == "all" {
    printf "| all | %d | %d | %d, at most %d |\n", $2, $3, $5, $6
    printf "\nDeepest stack frame: %d bytes.\n", $4; next }
  { printf "| %s | %d | %d | %d |\n", $1, $2 - flash, $3 - ram, $5 - mean }
' measured

if [ -n "$foreign" ]; then
  echo "linked, and must not be: $foreign" >&2
  exit 1
fi
if [ "$write" = --write ]; then
  { echo "# name flash ram stack instructions most; made by sizes.sh --write"
    cat measured; } > "$budget"
  exit
fi
awk -v limit=1.03 '
  /^#/ { next }
  NR == FNR { for (i = 2; i <= 6; i++) old[$1, i] = $i; known[$1] = 1; next }
  !($1 in known) { print $1 " has no budget"; bad = 1; next }
  { split("name flash RAM stack instructions most", what, " ")
    for (i = 2; i <= 6; i++) if ($i > old[$1, i] * limit) {
      print $1 ": " what[i] " grew from " old[$1, i] " to " $i; bad = 1 } }
  END { exit bad }' "$budget" measured >&2
