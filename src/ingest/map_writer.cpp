// Writing maps.
#include <fmt/format.h>

#include <string>

#include "ingest/map_file.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

// A TOML basic string.
std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (c == '\t') {
      out += "\\t";
    } else if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7F) {
      out += c;
    }
  }
  return out + '"';
}

std::string zone_text(std::int32_t minutes) {
  return fmt::format("{}{:02}:{:02}", minutes < 0 ? '-' : '+',
                     std::abs(minutes) / 60, std::abs(minutes) % 60);
}

std::string time_line(const DecodePlan& plan) {
  std::string line = "time = { ";
  std::string format;
  for (std::size_t i = 0; i < plan.columns.size(); ++i) {
    switch (plan.columns[i].role) {
      case Role::time:
        if (!line.ends_with("{ ")) break;  // of groups the first
        line += fmt::format("column = {}", i + 1);
        format = name_of(plan.time);
        break;
      case Role::date:
        line +=
            fmt::format("{}date = {}", line.ends_with("{ ") ? "" : ", ", i + 1);
        format = name_of(plan.time) + " " + name_of(plan.time_of_day);
        break;
      case Role::time_of_day:
        line += fmt::format("{}time_of_day = {}",
                            line.ends_with("{ ") ? "" : ", ", i + 1);
        break;
      default:
        break;
    }
  }
  line += ", format = " + quoted(format);
  if (plan.utc_offset_min) {
    line += ", timezone = " + quoted(zone_text(*plan.utc_offset_min));
  }
  return line + " }";
}

void write_column(std::string& out, std::size_t index, const ColumnUse& use,
                  const ColumnPlan& plan) {
  const std::string channel = use.name.empty() ? "ignore" : use.name;
  out += "\n[[column]]";
  if (!use.why.empty()) out += "  # " + printable(use.why);
  out += '\n';
  if (index > 0) out += fmt::format("index = {}\n", index);
  if (!use.header.empty()) out += "header = " + quoted(use.header) + "\n";
  out += fmt::format("channel = \"{}\"\n", channel);
  if (!plan.set.empty()) out += "set = " + quoted(plan.set) + "\n";
  if (plan.role == Role::channel) {
    out += fmt::format("unit = \"{}\"\n", name_of(plan.unit));
    if (plan.scale != 1.0) out += fmt::format("scale = {}\n", plan.scale);
    if (plan.offset != 0.0) out += fmt::format("offset = {}\n", plan.offset);
  }
  if (!plan.missing.empty()) {
    out += "missing = [";
    for (std::size_t i = 0; i < plan.missing.size(); ++i) {
      out += (i == 0 ? "" : ", ") + quoted(plan.missing[i]);
    }
    out += "]\n";
  }
}

bool is_time(Role role) {
  return role == Role::time || role == Role::date || role == Role::time_of_day;
}

bool is_tall_part(Role role) {
  return role == Role::reading_name || role == Role::reading_value ||
         role == Role::reading_unit;
}

}  // namespace

std::string write_map(const LogLayout& layout, const DecodePlan& plan) {
  std::string out = "# How the columns of a log are to be read.\n";
  out += "delimiter = " + quoted(std::string(1, layout.delimiter)) + "\n";
  out += "decimal = " + quoted(std::string(1, layout.decimal)) + "\n";
  out += fmt::format("header_line = {}\n", layout.header_line);
  out += fmt::format("encoding = \"{}\"\n", layout.encoding);
  out += time_line(plan) + "\n";
  for (std::size_t i = 0; i < layout.columns.size(); ++i) {
    const bool in_table = i < plan.columns.size();
    const ColumnPlan& column =
        in_table ? plan.columns[i] : plan.readings[i - plan.columns.size()];
    if (is_time(column.role) || is_tall_part(column.role)) continue;
    write_column(out, in_table ? i + 1 : 0, layout.columns[i], column);
  }
  return out;
}

}  // namespace telltale::host
