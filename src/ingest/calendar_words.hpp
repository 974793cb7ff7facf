// Names of months and days of the week in the languages loggers write.
#pragma once

#include <string_view>

namespace telltale::host {

/// 1..12, or 0 where the word is no month. Whole names and the usual
/// abbreviations; case and accents do not matter.
int month_of_word(std::string_view word);

bool is_weekday_word(std::string_view word);

}  // namespace telltale::host
