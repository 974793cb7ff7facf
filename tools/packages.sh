#!/bin/sh
# Installs what this machine lacks of the packages named by group (Debian 12
# names): build, test, browser, server, bench, box. Does nothing if all is there.
set -eu

packages_of() {
  case $1 in
    build) echo g++ cmake ninja-build pkg-config libfmt-dev libfast-float-dev \
      libfccp-dev libboost-dev libcli11-dev nlohmann-json3-dev \
      libtomlplusplus-dev zlib1g-dev libsqlite3-dev libpq-dev \
      libjs-dygraphs ;;
    test) echo catch2 librapidcheck-dev clang libclang-rt-14-dev git \
      clang-format clang-tidy ;;
    # Node.js from elsewhere brings an npm of its own, and Debian's won't have it.
    browser) echo chromium
      command -v node >/dev/null || echo nodejs
      command -v npm >/dev/null || echo npm ;;
    server) echo postgresql mosquitto mosquitto-clients parallel sqlite3 ;;
    bench) echo python3-pandas r-cran-data.table miller ;;
    box) echo gcc-arm-none-eabi libnewlib-arm-none-eabi \
      libstdc++-arm-none-eabi-newlib qemu-system-arm g++-aarch64-linux-gnu \
      qemu-user ;;
    *) echo "no such group of packages: $1" >&2; exit 2 ;;
  esac
}

missing=
for group in "$@"; do
  for package in $(packages_of "$group"); do
    state=$(dpkg-query -W -f '${Status}' "$package" 2>/dev/null || true)
    [ "$state" = "install ok installed" ] || missing="$missing $package"
  done
done
if [ -n "$missing" ]; then
  as_root=
  [ "$(id -u)" = 0 ] || as_root=sudo
  echo "installing$missing"
  $as_root apt-get -qq update
  # shellcheck disable=SC2086  # one word a package
  DEBIAN_FRONTEND=noninteractive $as_root apt-get -qq -y \
    --no-install-recommends install $missing >/dev/null
fi

# What drives the browser is not Debian's.
case " $* " in
  *" browser "*)
    cd "$(dirname "$0")/../tests/browser"
    [ -d node_modules/playwright-core ] ||
      npm ci --silent --no-audit --no-fund --fetch-retries=1 ;;
esac
