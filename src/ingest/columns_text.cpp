// The columns view.
#include "ingest/columns_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

constexpr std::size_t kWidth = 80;
constexpr std::size_t kHeaderWidth = 24;
constexpr std::size_t kNameWidth = 21;
constexpr std::size_t kUnitWidth = 5;

bool is_continuation(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

// Characters, not bytes.
std::size_t width_of(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return !is_continuation(c); }));
}

// The first `width` characters, ending in … where there are more.
std::string cut_to(std::string_view text, std::size_t width) {
  if (width_of(text) <= width) return std::string(text);
  std::size_t bytes = 0;
  for (std::size_t characters = 0; characters + 1 < width; ++characters) {
    ++bytes;
    while (bytes < text.size() && is_continuation(text[bytes])) ++bytes;
  }
  return std::string(text.substr(0, bytes)).append("\xE2\x80\xA6");
}

std::string padded(std::string_view text, std::size_t width) {
  std::string out = cut_to(text, width);
  out.append(width - std::min(width, width_of(out)), ' ');
  return out;
}

// Words of `text` in lines of at most `width` characters.
std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  std::vector<std::string> lines(1);
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    std::string word = cut_to(text.substr(0, end), width);
    const std::size_t room = width - std::min(width, width_of(lines.back()));
    if (lines.back().empty()) {
      lines.back() = std::move(word);
    } else if (width_of(word) + 1 <= room) {
      lines.back().append(1, ' ').append(word);
    } else {
      lines.push_back(std::move(word));
    }
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::string grouped(std::uint64_t number) {
  std::string digits = std::to_string(number);
  for (std::size_t i = digits.size(); i > 3;) {
    i -= 3;
    digits.insert(i, 1, ',');
  }
  return digits;
}

std::string size_words(std::uint64_t bytes) {
  const auto size = static_cast<double>(bytes);
  if (bytes >= 1000000000) return fmt::format("{:.1f} GB", size / 1e9);
  if (bytes >= 1000000) return fmt::format("{:.1f} MB", size / 1e6);
  if (bytes >= 1000) return fmt::format("{:.1f} kB", size / 1e3);
  return fmt::format("{} bytes", bytes);
}

std::string_view delimiter_words(char delimiter) {
  switch (delimiter) {
    case ';':
      return "semicolons";
    case '\t':
      return "tabs";
    case '|':
      return "bars";
    default:
      return "commas";
  }
}

std::string interval_words(double seconds) {
  if (seconds <= 0) return "";
  if (seconds < 1)
    return fmt::format(", a row every {:.0f} ms", seconds * 1000);
  if (seconds < 120) return fmt::format(", a row every {:.4g} s", seconds);
  return fmt::format(", a row every {:.4g} min", seconds / 60);
}

void add_paragraph(std::string& out, std::string_view text,
                   std::string_view first_lead, std::string_view lead) {
  bool first = true;
  for (const std::string& line : wrapped(text, kWidth - lead.size())) {
    out += fmt::format("{}{}\n", first ? first_lead : lead, line);
    first = false;
  }
}

bool is_used(const ColumnUse& use) {
  return !use.name.empty() || !use.part.empty();
}

std::string read_as(const ColumnUse& use) {
  if (!is_used(use)) return "-";
  return use.part.empty() ? use.name : use.part;
}

void add_column(std::string& out, std::size_t number, const ColumnUse& use) {
  std::string line = fmt::format("{:>4} {} ", number,
                                 padded(printable(use.header), kHeaderWidth));
  line += padded(read_as(use), kNameWidth) + ' ';
  line += padded(symbol_of(use.unit), kUnitWidth) + ' ';
  const std::size_t lead = width_of(line);
  bool first = true;
  for (const std::string& part : wrapped(printable(use.why), kWidth - lead)) {
    std::string whole = (first ? line : std::string(lead, ' ')) + part;
    while (!whole.empty() && whole.back() == ' ') whole.pop_back();
    out += whole + '\n';
    first = false;
  }
}

std::string tally_words(const RowTally& tally) {
  std::string text =
      fmt::format("{} {} read from {} lines", grouped(tally.rows),
                  tally.rows == 1 ? "row" : "rows", grouped(tally.lines));
  for (const RowTally::Reason& reason : tally.reasons()) {
    text += fmt::format("; {} {}: {}", grouped(reason.count),
                        is_rejected(reason.fate) ? "rejected" : "skipped",
                        text_of(reason.fate));
    if (is_rejected(reason.fate)) {
      text += fmt::format(", first on line {}", reason.first_line);
    }
  }
  return text;
}

}  // namespace

std::string dialect_words(const LogLayout& layout) {
  const std::string header =
      layout.header_line == 0
          ? std::string("no header")
          : fmt::format("header on line {}", layout.header_line);
  return fmt::format(
      "{} between cells, decimal {}, {}, {}", delimiter_words(layout.delimiter),
      layout.decimal == ',' ? "comma" : "point", layout.encoding, header);
}

std::string time_words(const LogLayout& layout) {
  return layout.time_format + interval_words(layout.interval_s);
}

std::string columns_table(const LogLayout& layout, const RowTally& tally,
                          const std::vector<std::string>& notes) {
  std::string out;
  add_paragraph(out,
                fmt::format("{} ({})", printable(layout.file, 300),
                            size_words(layout.bytes)),
                "", "  ");
  add_paragraph(out, dialect_words(layout), "  ", "  ");
  add_paragraph(out, fmt::format("time: {}", time_words(layout)), "  ", "  ");
  add_paragraph(out, tally_words(tally), "  ", "    ");
  out += fmt::format(
      "\n{:>4} {} {} {} {}\n", "no.", padded("header", kHeaderWidth),
      padded("read as", kNameWidth), padded("unit", kUnitWidth), "why");
  const auto add_where = [&](bool used) {
    for (std::size_t i = 0; i < layout.columns.size(); ++i) {
      if (is_used(layout.columns[i]) != used) continue;
      add_column(out, i + 1, layout.columns[i]);
    }
  };
  add_where(true);
  const bool some_unused =
      !std::all_of(layout.columns.begin(), layout.columns.end(), is_used);
  if (some_unused) {
    out += "\nNot used\n";
    add_where(false);
  }
  if (!layout.notes.empty() || !notes.empty()) out += "\nNotes\n";
  for (const std::vector<std::string>* list : {&layout.notes, &notes}) {
    for (const std::string& note : *list) {
      add_paragraph(out, printable(note, 2000), "  - ", "    ");
    }
  }
  return out;
}

}  // namespace telltale::host
