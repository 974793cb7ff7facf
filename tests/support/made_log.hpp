// A made run as a CSV log, and the profile that goes with it.
#pragma once

#include <string>
#include <vector>

#include "made_run.hpp"
#include "profile/profile_file.hpp"

namespace telltale::test {

/// How the log is spelled.
struct LogSpelling {
  bool us_units = false;  // psi, degF, gal/h
  bool elapsed = false;   // seconds from the start instead of time stamps
  std::string unit;       // a unit column with that text, if not empty
  std::string alarm = "Low oil pressure";  // the text of an alarm, numbered on
};

/// The log; the header is line 1, scan i stands on line i + 2.
std::string csv_of(const MadeRun& run, const LogSpelling& spelling = {});

/// What the plate says, as a profile file states it.
host::ProfileFile stated_by(const Plate& plate);
/// The same as TOML.
std::string toml_of(const Plate& plate);

/// Text in lines, without their ends.
std::vector<std::string> lines_of(const std::string& text);
/// The cells of one line of CSV by RFC 4180, quotes taken off.
std::vector<std::string> cells_of(const std::string& line);

}  // namespace telltale::test
