// Months and weekdays by their first letters.
#include "ingest/calendar_words.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "ingest/fold_letters.hpp"

namespace telltale::host {
namespace {

struct MonthStart {
  std::string_view letters;
  int month;
};

// English, German, French, Spanish, Italian, Dutch, Norwegian. The first
// match wins, so longer starts stand before shorter ones.
constexpr std::array kMonths = {
    MonthStart{"jan", 1},  MonthStart{"ene", 1},  MonthStart{"gen", 1},
    MonthStart{"feb", 2},  MonthStart{"fev", 2},  MonthStart{"mar", 3},
    MonthStart{"maer", 3}, MonthStart{"mrz", 3},  MonthStart{"maa", 3},
    MonthStart{"mrt", 3},  MonthStart{"apr", 4},  MonthStart{"avr", 4},
    MonthStart{"abr", 4},  MonthStart{"mai", 5},  MonthStart{"may", 5},
    MonthStart{"mei", 5},  MonthStart{"mag", 5},  MonthStart{"maj", 5},
    MonthStart{"jun", 6},  MonthStart{"juin", 6}, MonthStart{"giu", 6},
    MonthStart{"juil", 7}, MonthStart{"jul", 7},  MonthStart{"lug", 7},
    MonthStart{"aug", 8},  MonthStart{"aou", 8},  MonthStart{"ago", 8},
    MonthStart{"sep", 9},  MonthStart{"set", 9},  MonthStart{"okt", 10},
    MonthStart{"oct", 10}, MonthStart{"ott", 10}, MonthStart{"nov", 11},
    MonthStart{"dec", 12}, MonthStart{"dez", 12}, MonthStart{"des", 12},
    MonthStart{"dic", 12},
};

constexpr std::array<std::string_view, 42> kDays = {
    "mon",     "tue",     "wed",      "thu",      "fri",        "sat",
    "sun",     "montag",  "dienstag", "mittwoch", "donnerstag", "freitag",
    "samstag", "sonntag", "mo",       "di",       "mi",         "do",
    "fr",      "sa",      "so",       "lun",      "mar",        "mer",
    "jeu",     "ven",     "sam",      "dim",      "mie",        "jue",
    "vie",     "sab",     "dom",      "gio",      "man",        "tir",
    "ons",     "tor",     "lor",      "son",      "zat",        "zon"};

bool starts_day_name(std::string_view word, std::string_view day) {
  if (word == day) return true;
  // "monday", "lundi", "tirsdag": at least three letters must agree.
  return day.size() == 3 && word.starts_with(day) && word.size() >= 5;
}

}  // namespace

int month_of_word(std::string_view word) {
  const std::string folded = fold_letters(word);
  if (folded.size() < 3 || folded.size() > 10) return 0;
  for (const MonthStart& start : kMonths) {
    if (folded.starts_with(start.letters)) return start.month;
  }
  return 0;
}

bool is_weekday_word(std::string_view word) {
  const std::string folded = fold_letters(word);
  return std::any_of(kDays.begin(), kDays.end(), [&](std::string_view day) {
    return starts_day_name(folded, day);
  });
}

}  // namespace telltale::host
