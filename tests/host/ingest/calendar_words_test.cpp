#include "ingest/calendar_words.hpp"

#include "catch.hpp"

namespace telltale::host {
namespace {

TEST_CASE("months are known by name in seven languages") {
  struct Case {
    const char* word;
    int month;
  };
  for (const Case& c : {Case{"Jan", 1},
                        Case{"January", 1},
                        Case{"enero", 1},
                        Case{"gennaio", 1},
                        Case{"f\xC3\xA9vrier", 2},
                        Case{"M\xC3\xA4rz", 3},
                        Case{"Mrz", 3},
                        Case{"maart", 3},
                        Case{"avril", 4},
                        Case{"abril", 4},
                        Case{"Mai", 5},
                        Case{"mei", 5},
                        Case{"maggio", 5},
                        Case{"juin", 6},
                        Case{"giugno", 6},
                        Case{"juillet", 7},
                        Case{"luglio", 7},
                        Case{"ao\xC3\xBBt", 8},
                        Case{"agosto", 8},
                        Case{"SEPT", 9},
                        Case{"settembre", 9},
                        Case{"Okt", 10},
                        Case{"ottobre", 10},
                        Case{"Nov", 11},
                        Case{"Dez", 12},
                        Case{"d\xC3\xA9"
                             "cembre",
                             12},
                        Case{"desember", 12},
                        Case{"diciembre", 12}}) {
    INFO(c.word);
    CHECK(month_of_word(c.word) == c.month);
  }
}

TEST_CASE("other words are no months") {
  for (const char* word : {"", "ja", "xyz", "oil", "decimalplaces", "T", "Z"}) {
    INFO(word);
    CHECK(month_of_word(word) == 0);
  }
}

TEST_CASE("days of the week are known, short and long") {
  for (const char* word : {"Mon", "Monday", "Tue", "Sat", "Mo", "Montag", "lun",
                           "lundi", "mercoledi", "tirsdag", "domingo"}) {
    INFO(word);
    CHECK(is_weekday_word(word));
  }
  for (const char* word : {"", "oil", "T", "UTC", "Jan"}) {
    INFO(word);
    CHECK_FALSE(is_weekday_word(word));
  }
}

}  // namespace
}  // namespace telltale::host
