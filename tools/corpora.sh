#!/bin/sh
# Unpacks the Debian packages whose awkward CSV files the tests read (a few MB)
# into a folder, without installing them: tools/corpora.sh FOLDER. Does nothing
# where they are there; where they can't be fetched, the tests say so.
set -eu
mkdir -p "$1"
cd "$1"

for package in node-csv-spectrum r-cran-data.table librust-csv-dev; do
  [ ! -e "$package" ] || continue
  apt-get -qq download "$package" &&
    dpkg -x "$package"_*.deb . && : >"$package" ||
    echo "not fetched: $package; the tests that read it are skipped"
  rm -f "$package"_*.deb
done
