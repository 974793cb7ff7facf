#!/bin/sh
# What the core costs on a Cortex-M4F: flash, RAM, stack and instructions a
# sample, for each check and for all, as a table in Markdown.
#
#   sizes.sh BUILD [--write|--totals]     BUILD: of the preset m4
#
# Fails where a figure has grown by more than 3 % over budget.txt beside this
# script, where more is taken than docs/box.md promises, where the millionth
# sample costs more than the first, or where a heap function or a
# double-precision helper is linked. --write makes the measured figures the
# budget and puts the table into docs/box.md and the README; --totals measures the lists only,
# not check by check.
set -eu
here=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$1" && pwd)
mode=${2:-}
budget=$here/tests/embedded/budget.txt
pages="$here/docs/box.md $here/README.md"
source=$here/tools/mcu_replay
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

# The flags of the build itself.
flags=$(sed -n 's/.*"command": "\([^"]*\)-o [^"]*size_main.cpp",*/\1/p' \
  "$build/compile_commands.json" | sed 's/-fstack-usage//')
machine="-mcpu=cortex-m4 -mthumb -mfloat-abi=hard -mfpu=fpv4-sp-d16"
link="$machine --specs=nano.specs -nostartfiles -Wl,--gc-sections
  -T $source/mps2.ld"
cd "$scratch"
arm-none-eabi-gcc $machine -Os -c "$source/startup.c" -o bare.o
arm-none-eabi-gcc $machine -Os -DTELLTALE_SEMIHOSTING -c "$source/startup.c" \
  -o hosted.o

# count NAME LIST SAMPLES FILE: instructions a sample, on the emulator
count() {
  $flags "-DTELLTALE_ONLY=$2" "-DTELLTALE_SAMPLES=$3" -DTELLTALE_SEMIHOSTING \
    -o count.o -c "$source/count_main.cpp"
  arm-none-eabi-g++ $link --specs=rdimon.specs ../hosted.o count.o -o count.elf
  timeout 1200 qemu-system-arm -machine mps2-an386 -icount shift=0 -nographic \
    -monitor none -semihosting-config enable=on,target=native \
    -kernel count.elf > "$4" 2>&1
}
# measure NAME LIST SAMPLES: a row "NAME flash ram stack mean most", the mean
# over the second half: by then the set runs.
measure() {
  mkdir "$1"
  cd "$1"
  $flags "-DTELLTALE_ONLY=$2" -o one.o -c "$source/size_main.cpp"
  arm-none-eabi-g++ $link --specs=nosys.specs ../bare.o one.o -o one.elf
  # The profile is the firmware's own, in flash if it likes.
  plate=$(arm-none-eabi-nm -S -t d one.elf | awk '/profile/ { print $2 + 0 }')
  set -- "$1" "$2" "$3" $(arm-none-eabi-size one.elf | tail -n 1)
  count "$1" "$2" "$3" count.txt
  awk -v name="$1" -v flash="$4" -v ram=$(($5 + $6 - plate)) '
    NF == 3 { if (++tenth > 5) { sum += $2; n++ }; if ($3 > most) most = $3 }
    $1 == "stack" { stack = $2 }
    END { print name, flash, ram, stack, int(sum / n), most }' count.txt > row
}

list_in() {  # list_in FILE TYPE: the names of a list of checks
  sed -n "/using $2/,/;/p" "$here/include/telltale/detect/$1" |
    tr -d '\n' | sed 's/.*CheckList<//; s/>.*//' | tr ',' ' '
}
# One hour at rest, then longer than any check needs to have all it keeps.
samples=${SAMPLES:-8000}
jobs=${JOBS:-$(nproc)}
names=
[ "$mode" = --totals ] || names=$(list_in checks/all.hpp AllChecks)
# The longest first and beside the others, which go as many at a time as there
# are cores.
(mkdir million && cd million &&
  count million telltale::AllChecks "${MILLION:-1152000}" count.txt) &
(measure all telltale::AllChecks "$samples") &
(measure none 'telltale::CheckList<>' "$samples") &
(measure protection telltale::ProtectionChecks "$samples") &
batch=
started=0
for name in $names; do
  (measure "$name" "telltale::CheckList<telltale::$name>" "$samples") &
  batch="$batch $!"
  started=$((started + 1))
  [ $((started % jobs)) -ne 0 ] || { wait $batch; batch=; }
done
wait
for name in none $names protection all; do cat "$name/row"; done > measured

# One image holds everything.
foreign=$(arm-none-eabi-nm all/one.elf | awk '{ print $NF }' |
  grep -E '^(malloc|_malloc_r|free|_sbrk|_Zn[wa].*|_Zd[la].*|__aeabi_d.*|__aeabi_.*2d)$' || true)

awk '
  NR == 1 { flash = $2; ram = $3; mean = $5
    print "| check | flash, bytes | RAM, bytes | instructions a sample |"
    print "|---|---|---|---|"
    printf "| none: frames, phases, load | %d | %d | %d |\n", $2, $3, $5; next }
  $1 == "all" || $1 == "protection" {
    printf "| **%s** | **%d** | **%d** | **%d, at most %d** |\n", $1, $2, $3, $5, $6
    if ($1 == "all") printf "\nDeepest stack with all: %d bytes.\n", $4; next }
  { printf "| %s | %d | %d | %d |\n", $1, $2 - flash, $3 - ram, $5 - mean }
' measured | tee table

if [ -n "$foreign" ]; then
  echo "linked, and must not be: $foreign" >&2
  exit 1
fi
# Ten tenths of whole days of rest and run: the last is as cheap as the first.
flat=yes
awk 'NF == 3 { if (first == 0) first = $2; last = $2; sum += $2; n++ }
  END { printf "\nOver a million samples, an hour in eight at rest: %d a sample, ", sum / n
    printf "%d in the first tenth and %d in the last.\n", first, last
    exit last > first * 1.03 || sum / n > 6000 }' \
  million/count.txt > flat || flat=
tee -a table < flat
[ -n "$flat" ] || { echo "not flat, or more than promised" >&2; exit 1; }

# What is promised, whatever the budget.
awk '
  $1 == "protection" && ($2 > 32768 || $3 > 6144 || $5 > 6000) ||
  $1 == "all" && ($2 > 49152 || $3 > 6144 || $5 > 6000) {
    print "more than promised: " $0; bad = 1 }
  END { exit bad }' measured >&2
if [ "$mode" = --write ]; then
  { echo "# name flash ram stack instructions most; made by sizes.sh --write"
    cat measured; } > "$budget"
  for page in $pages; do
    awk 'NR == FNR { table = table $0 "\n"; next }
      /<!-- sizes -->/ { print; printf "%s", table; skip = 1; next }
      /<!-- \/sizes -->/ { skip = 0 }
      !skip' table "$page" > page && cp page "$page"
  done
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
