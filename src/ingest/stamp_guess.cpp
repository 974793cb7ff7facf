// Guesses the pattern a stamp is written in from one example.
#include <algorithm>
#include <array>
#include <cstddef>
#include <initializer_list>
#include <string>

#include "ingest/calendar_words.hpp"
#include "ingest/fold_letters.hpp"
#include "ingest/stamp_format.hpp"

namespace telltale::host {
namespace {

enum class TokenKind { number, word, blank, mark };

struct Token {
  TokenKind kind;
  std::string_view text;
};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
         static_cast<unsigned char>(c) >= 0x80;
}

std::vector<Token> tokens_of(std::string_view text) {
  std::vector<Token> tokens;
  std::size_t i = 0;
  while (i < text.size()) {
    const std::size_t from = i;
    TokenKind kind = TokenKind::mark;
    if (is_digit(text[i])) {
      kind = TokenKind::number;
      while (i < text.size() && is_digit(text[i])) ++i;
    } else if (is_letter(text[i])) {
      kind = TokenKind::word;
      while (i < text.size() && is_letter(text[i])) ++i;
    } else if (text[i] == ' ' || text[i] == '\t') {
      kind = TokenKind::blank;
      while (i < text.size() && (text[i] == ' ' || text[i] == '\t')) ++i;
    } else {
      ++i;
    }
    tokens.push_back({kind, text.substr(from, i - from)});
  }
  return tokens;
}

using Patterns = std::vector<std::string>;

// Patterns of a clock that starts at token `at`; moves `at` behind it.
bool take_clock(const std::vector<Token>& tokens, std::size_t& at,
                std::string& pattern) {
  const auto kind = [&](std::size_t i) {
    return i < tokens.size() ? tokens[i].kind : TokenKind::blank;
  };
  const auto mark = [&](std::size_t i, char c) {
    return i < tokens.size() && tokens[i].kind == TokenKind::mark &&
           tokens[i].text.front() == c;
  };
  const auto word = [&](std::size_t i, std::string_view w) {
    return i < tokens.size() && tokens[i].kind == TokenKind::word &&
           fold_letters(tokens[i].text) == w;
  };
  const auto small = [&](std::size_t i) {
    return kind(i) == TokenKind::number && tokens[i].text.size() <= 2;
  };
  std::size_t i = at;
  if (kind(i) != TokenKind::number) return false;
  const std::size_t digits = tokens[i].text.size();
  std::string clock;
  if (digits == 6 || digits == 4) {  // hhmmss, hhmm
    clock = digits == 6 ? "%H%M%S" : "%H%M";
    ++i;
    if (digits == 6 && (mark(i, '.') || mark(i, ',')) &&
        kind(i + 1) == TokenKind::number) {
      i += 2;
    }
  } else if (digits <= 2) {
    const bool letters = word(i + 1, "h");
    const char between = mark(i + 1, ':')   ? ':'
                         : mark(i + 1, '.') ? '.'
                         : mark(i + 1, '-') ? '-'
                                            : '\0';
    if (letters && small(i + 2)) {  // 08h05m03s, 08h05
      clock = "%Hh%M";
      i += 3;
      if ((word(i, "m") || word(i, "min")) && small(i + 1)) {
        clock += std::string(tokens[i].text) + "%S";
        i += 2;
        if (word(i, "s")) clock += std::string(tokens[i++].text);
      } else if (word(i, "m") || word(i, "min")) {
        clock += std::string(tokens[i++].text);
      }
    } else if (between != '\0' && small(i + 2)) {
      clock = std::string("%H") + between + "%M";
      i += 3;
      if (mark(i, between) && small(i + 1)) {
        clock += between;
        clock += "%S";
        i += 2;
        const bool fraction = mark(i, '.') || mark(i, ',');
        if (fraction && kind(i + 1) == TokenKind::number) {
          i += 2;
        } else if (mark(i, ':') && kind(i + 1) == TokenKind::number) {
          clock += ":%f";
          i += 2;
        }
      }
    } else {
      return false;
    }
  } else {
    return false;
  }
  // AM or PM, with or without points, after a blank or none.
  std::size_t j = i;
  const bool gap = kind(j) == TokenKind::blank && j < tokens.size();
  if (gap) ++j;
  const bool joined = word(j, "am") || word(j, "pm");
  const bool pointed =
      (word(j, "a") || word(j, "p")) && mark(j + 1, '.') && word(j + 2, "m");
  if (joined || pointed) {
    clock.replace(clock.find("%H"), 2, "%I");
    clock += gap ? " %p" : "%p";
    i = joined ? j + 1 : j + 3;
    if (mark(i, '.')) ++i;
  }
  at = i;
  pattern = clock;
  return true;
}

// Patterns of a date that starts at token `at`; moves `at` behind it.
Patterns take_date(const std::vector<Token>& tokens, std::size_t& at) {
  const auto number = [&](std::size_t i, std::size_t least, std::size_t most) {
    return i < tokens.size() && tokens[i].kind == TokenKind::number &&
           tokens[i].text.size() >= least && tokens[i].text.size() <= most;
  };
  const auto is_month = [&](std::size_t i) {
    return i < tokens.size() && tokens[i].kind == TokenKind::word &&
           month_of_word(tokens[i].text) != 0;
  };
  // What stands between two parts, as it goes into the pattern.
  const auto between = [&](std::size_t& i) -> std::optional<std::string> {
    std::string text;
    while (i < tokens.size() && (tokens[i].kind == TokenKind::blank ||
                                 tokens[i].kind == TokenKind::mark)) {
      if (tokens[i].kind == TokenKind::blank) {
        text += ' ';
      } else if (std::string_view("-/.,").find(tokens[i].text.front()) !=
                 std::string_view::npos) {
        text += tokens[i].text;
      } else {
        return std::nullopt;
      }
      ++i;
    }
    return text;
  };
  std::size_t i = at;
  if (number(i, 8, 8)) {  // YYYYMMDD, DDMMYYYY, MMDDYYYY
    at = i + 1;
    return {"%Y%m%d", "%d%m%Y", "%m%d%Y"};
  }
  if (number(i, 14, 14)) {
    at = i + 1;
    if (at + 1 < tokens.size() &&
        (tokens[at].text == "." || tokens[at].text == ",") &&
        tokens[at + 1].kind == TokenKind::number) {
      at += 2;
    }
    return {"%Y%m%d%H%M%S"};
  }
  if (number(i, 12, 12)) {
    at = i + 1;
    return {"%Y%m%d%H%M", "%y%m%d%H%M%S"};
  }
  const std::size_t first = i++;
  const auto gap1 = between(i);
  const std::size_t second = i++;
  if (!gap1 || second >= tokens.size()) return {};
  const auto gap2 = between(i);
  const std::size_t third = i++;
  if (!gap2 || third >= tokens.size()) return {};
  at = i;
  const auto joined = [&](std::string_view a, std::string_view b,
                          std::string_view c) {
    // The point of "Jun." belongs to the name: %b takes it.
    std::string one = *gap1;
    std::string two = *gap2;
    if (a == "%b" && one.starts_with('.')) one.erase(0, 1);
    if (b == "%b" && two.starts_with('.')) two.erase(0, 1);
    std::string pattern(a);
    pattern += one;
    pattern += b;
    pattern += two;
    pattern += c;
    return pattern;
  };
  const auto year_of = [&](std::size_t k) {
    return number(k, 4, 4) ? "%Y" : "%y";
  };
  const auto is_year = [&](std::size_t k) {
    return number(k, 4, 4) || number(k, 2, 2);
  };
  if (is_month(second) && number(first, 1, 2) && is_year(third)) {
    if (number(third, 4, 4)) return {joined("%d", "%b", "%Y")};
    return {joined("%d", "%b", "%y"), joined("%y", "%b", "%d")};
  }
  if (is_month(second) && number(first, 4, 4) && number(third, 1, 2)) {
    return {joined("%Y", "%b", "%d")};
  }
  if (is_month(first) && number(second, 1, 2) && is_year(third)) {
    return {joined("%b", "%d", year_of(third))};
  }
  if (gap1->empty() || gap2->empty()) return {};
  if (number(first, 4, 4) && number(second, 1, 2) && number(third, 1, 2)) {
    return {joined("%Y", "%m", "%d")};
  }
  if (number(first, 1, 2) && number(second, 1, 2) && is_year(third)) {
    Patterns all = {joined("%d", "%m", year_of(third)),
                    joined("%m", "%d", year_of(third))};
    if (number(third, 2, 2) && number(first, 2, 2)) {
      all.push_back(joined("%y", "%m", "%d"));
    }
    return all;
  }
  return {};
}

// What may stand between date and clock, or nothing.
std::optional<std::string> take_joint(const std::vector<Token>& tokens,
                                      std::size_t& at) {
  std::string joint;
  while (at < tokens.size() && tokens[at].kind != TokenKind::number) {
    const Token& token = tokens[at];
    const bool mark = token.kind == TokenKind::mark &&
                      std::string_view("-_,;@:/").find(token.text.front()) !=
                          std::string_view::npos;
    const bool word = token.kind == TokenKind::word &&
                      (token.text == "T" || token.text == "t" ||
                       token.text == "at" || token.text == "um");
    if (token.kind == TokenKind::blank) {
      joint += ' ';
    } else if (mark || word) {
      joint += token.text;
    } else {
      return std::nullopt;
    }
    ++at;
  }
  return joint;
}

std::string rest_of(const std::vector<Token>& tokens, std::size_t at,
                    std::string_view text) {
  if (at >= tokens.size()) return "";
  return std::string(text.substr(
      static_cast<std::size_t>(tokens[at].text.data() - text.data())));
}

// The end of a stamp: nothing, or a zone.
std::optional<std::string> take_end(const std::vector<Token>& tokens,
                                    std::size_t at, std::string_view text) {
  std::string rest = rest_of(tokens, at, text);
  if (rest.empty()) return "";
  const bool gap = rest.front() == ' ' || rest.front() == '\t';
  rest.erase(0, rest.find_first_not_of(" \t"));
  if (parse_zone(rest)) return gap ? " %z" : "%z";
  return std::nullopt;
}

std::string joined(std::initializer_list<std::string_view> parts) {
  std::string whole;
  for (std::string_view part : parts) whole += part;
  return whole;
}

// Without a date before it, digits and hyphens are no clock, and points only
// in "08.05.03".
bool is_plain_clock(std::string_view clock, std::string_view text) {
  if (clock.find(':') != clock.npos || clock.find('h') != clock.npos) {
    return true;
  }
  return std::count(clock.begin(), clock.end(), '.') >= 2 && text.size() >= 8 &&
         text[2] == '.' && text[5] == '.';
}

}  // namespace

std::vector<std::string> guess_patterns(std::string_view text,
                                        bool digits_too) {
  if (text.size() > 48 || text.size() < 4) return {};
  const bool digits_only = std::all_of(text.begin(), text.end(), is_digit);
  if (digits_only && !digits_too) return {};
  const std::vector<Token> tokens = tokens_of(text);
  Patterns candidates;
  std::string lead;
  std::size_t at = 0;
  if (tokens.front().kind == TokenKind::word &&
      is_weekday_word(tokens.front().text) &&
      month_of_word(tokens.front().text) == 0) {
    lead = "%a";
    ++at;
    if (at < tokens.size() && tokens[at].text == ".") ++at;  // part of %a
    const auto joint = take_joint(tokens, at);
    // A month's name is a word too: "Mon Jun 1".
    if (joint) {
      lead += *joint;
    } else {
      at = 1;
      while (at < tokens.size() && tokens[at].kind != TokenKind::word &&
             tokens[at].kind != TokenKind::number) {
        lead += tokens[at].kind == TokenKind::blank
                    ? " "
                    : std::string(tokens[at].text);
        ++at;
      }
    }
  }
  // Date, then perhaps a clock.
  std::size_t after_date = at;
  for (const std::string& date : take_date(tokens, after_date)) {
    std::size_t i = after_date;
    if (i >= tokens.size()) {
      candidates.push_back(lead + date);
      continue;
    }
    if (auto end = take_end(tokens, i, text); end && !end->empty()) {
      candidates.push_back(lead + date + *end);
      continue;
    }
    const auto joint = take_joint(tokens, i);
    std::string clock;
    if (!joint || joint->empty() || !take_clock(tokens, i, clock)) continue;
    if (auto end = take_end(tokens, i, text)) {
      candidates.push_back(joined({lead, date, *joint, clock, *end}));
    } else if (i < tokens.size() && tokens[i].kind == TokenKind::blank &&
               i + 2 == tokens.size() &&
               tokens[i + 1].kind == TokenKind::number &&
               tokens[i + 1].text.size() == 4 && date.find("%y") != date.npos) {
      continue;
    }
  }
  // "09.03.07" is a date and a clock: other rows tell which.
  const bool either = text.size() == 8 && text[2] == '.' && text[5] == '.';
  if (candidates.empty() || either) {
    // A clock first: alone, or with the date behind it.
    std::size_t i = at;
    std::string clock;
    if (take_clock(tokens, i, clock) && is_plain_clock(clock, text)) {
      if (auto end = take_end(tokens, i, text)) {
        candidates.push_back(lead + clock + *end);
      } else if (auto joint = take_joint(tokens, i); joint && !joint->empty()) {
        std::size_t j = i;
        for (const std::string& date : take_date(tokens, j)) {
          if (j == tokens.size()) {
            candidates.push_back(joined({lead, clock, *joint, date}));
          }
        }
      }
    }
  }
  // "Mon Jun  1 08:00:00 2026": the year at the very end.
  if (candidates.empty() && tokens.size() >= at + 7 &&
      tokens[at].kind == TokenKind::word &&
      month_of_word(tokens[at].text) != 0 &&
      tokens[at + 2].kind == TokenKind::number &&
      tokens.back().text.size() == 4) {
    std::size_t i = at + 4;
    std::string clock;
    if (take_clock(tokens, i, clock)) {
      std::string zone;
      if (tokens.size() - i == 4) zone = " %z";
      if (zone.empty() && tokens.size() - i == 2) {
        candidates.push_back(lead + "%b %d " + clock + " %Y");
      }
    }
  }
  // Only what really reads the example, each pattern once.
  Patterns good;
  for (const std::string& pattern : candidates) {
    const auto format = StampFormat::compile(pattern);
    Stamp stamp;
    if (format && format->parse(text, stamp) &&
        std::find(good.begin(), good.end(), pattern) == good.end()) {
      good.push_back(pattern);
    }
  }
  return good;
}

}  // namespace telltale::host
