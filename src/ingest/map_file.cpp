// Reading maps.
#include "ingest/map_file.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <system_error>
#include <utility>

#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

// Carries an Error out of nested readers; caught in parse_map.
struct MapFault {
  Error error;
};

std::string listed(std::initializer_list<std::string_view> words) {
  std::string text;
  for (std::string_view word : words) {
    if (!text.empty()) text += ", ";
    text += word;
  }
  return text;
}

class Reader {
 public:
  Reader(std::string name, const toml::table& root)
      : name_(std::move(name)), root_(root) {}

  LogMap run() {
    map_.path = name_;
    for (const auto& [key, node] : root_) {
      const std::string_view k = key.str();
      if (k == "delimiter") {
        map_.delimiter = delimiter_in(node);
      } else if (k == "decimal") {
        map_.decimal = mark_in(node);
      } else if (k == "header_line") {
        map_.header_line = static_cast<std::uint64_t>(integer(node, k, 0));
      } else if (k == "encoding") {
        map_.encoding = encoding_named(text(node, k));
        if (!map_.encoding) {
          fail(node, "unknown encoding",
               "one of " + listed({"utf-8", "utf-16le", "utf-16be", "latin-1",
                                   "windows-1252"}));
        }
      } else if (k == "time") {
        map_.time = time_in(node);
      } else if (k == "column") {
        columns_in(node);
      } else {
        unknown_key(node, k,
                    {"delimiter", "decimal", "header_line", "encoding", "time",
                     "column"});
      }
    }
    if (map_.delimiter && map_.decimal && *map_.delimiter == *map_.decimal) {
      throw MapFault{{"delimiter and decimal are the same", name_,
                      "a log with decimal commas has another delimiter"}};
    }
    return std::move(map_);
  }

 private:
  static std::uint32_t line_of(const toml::node& node) {
    return node.source().begin.line;
  }

  [[noreturn]] void fail(const toml::node& node, std::string what,
                         std::string remedy) const {
    throw MapFault{{std::move(what), fmt::format("{}:{}", name_, line_of(node)),
                    std::move(remedy)}};
  }

  [[noreturn]] void unknown_key(
      const toml::node& node, std::string_view key,
      std::initializer_list<std::string_view> known) const {
    fail(node, fmt::format("unknown key \"{}\"", printable(key, 60)),
         "known here: " + listed(known));
  }

  std::string text(const toml::node& node, std::string_view key) const {
    const auto value = node.value_exact<std::string>();
    if (!value) {
      fail(node, fmt::format("{} must be a text", key), "put it in quotes");
    }
    return *value;
  }

  std::int64_t integer(const toml::node& node, std::string_view key,
                       std::int64_t least) const {
    const auto value = node.value_exact<std::int64_t>();
    if (!value || *value < least || *value > 1000000000) {
      fail(node,
           fmt::format("{} must be a whole number from {} up", key, least), "");
    }
    return *value;
  }

  double number(const toml::node& node, std::string_view key) const {
    const bool is_number = node.is_floating_point() || node.is_integer();
    const auto value = is_number ? node.value<double>() : std::nullopt;
    if (!value || !std::isfinite(*value)) {
      fail(node, fmt::format("{} must be a number", key), "");
    }
    return *value;
  }

  char delimiter_in(const toml::node& node) const {
    const std::string value = text(node, "delimiter");
    if (value == "," || value == ";" || value == "\t" || value == "|") {
      return value[0];
    }
    if (value == "tab") return '\t';
    fail(node, "impossible delimiter", "one of \",\" \";\" \"\\t\" \"|\"");
  }

  char mark_in(const toml::node& node) const {
    const std::string value = text(node, "decimal");
    if (value != "." && value != ",") {
      fail(node, "impossible decimal mark", "\".\" or \",\"");
    }
    return value[0];
  }

  MapTime time_in(const toml::node& node) const {
    const toml::table* table = node.as_table();
    if (table == nullptr) {
      fail(node, "time must be a table",
           "time = { column = 1, format = \"%Y-%m-%d %H:%M:%S\" }");
    }
    MapTime time;
    time.line = line_of(node);
    const toml::node* format = nullptr;
    for (const auto& [key, value] : *table) {
      const std::string_view k = key.str();
      if (k == "column") {
        time.column = static_cast<std::size_t>(integer(value, k, 1));
      } else if (k == "date") {
        time.date = static_cast<std::size_t>(integer(value, k, 1));
      } else if (k == "time_of_day") {
        time.time_of_day = static_cast<std::size_t>(integer(value, k, 1));
      } else if (k == "format") {
        format = &value;
      } else if (k == "timezone") {
        const auto zone = parse_zone(text(value, k));
        if (!zone) {
          fail(value, "impossible timezone", "such as \"+01:00\" or \"UTC\"");
        }
        time.utc_offset_min = zone;
      } else {
        unknown_key(value, k,
                    {"column", "date", "time_of_day", "format", "timezone"});
      }
    }
    const bool split = time.date != 0 || time.time_of_day != 0;
    if (split && (time.date == 0 || time.time_of_day == 0)) {
      fail(node, "date and time_of_day go together", "give both, or column");
    }
    if (split && time.column != 0) {
      fail(node, "column excludes date and time_of_day",
           "give one or the other");
    }
    if (split && time.date == time.time_of_day) {
      fail(node, "date and time_of_day are the same column",
           "give column instead");
    }
    if (format != nullptr) read_format(*format, split, time);
    return time;
  }

  void read_format(const toml::node& node, bool split, MapTime& time) const {
    const std::string format = text(node, "format");
    const auto bad = [&]() {
      fail(node, fmt::format("impossible format \"{}\"", printable(format, 60)),
           "such as \"%d.%m.%Y %H:%M:%S\", \"epoch s\", \"elapsed s\", "
           "\"elapsed h:mm:ss\" or \"serial days\"");
    };
    if (!split) {
      time.style = stamp_style_named(format);
      if (!time.style) bad();
      return;
    }
    // Date and clock in one pattern, parted by the blank before the hour.
    const std::size_t hour = std::min(format.find("%H"), format.find("%I"));
    const std::size_t gap =
        hour == std::string::npos ? hour : format.rfind(' ', hour);
    if (gap == std::string::npos) bad();
    const auto date = stamp_style_named(format.substr(0, gap));
    const auto clock = stamp_style_named(format.substr(gap + 1));
    if (!date || !clock || date->kind != StampKind::date ||
        clock->kind != StampKind::clock) {
      bad();
    }
    time.style = date;
    time.time_of_day_style = clock;
  }

  void columns_in(const toml::node& node) {
    const toml::array* array = node.as_array();
    if (array == nullptr || !array->is_array_of_tables()) {
      fail(node, "column must be a list of tables", "write [[column]]");
    }
    for (const toml::node& element : *array) {
      map_.columns.push_back(column_in(*element.as_table()));
      const MapColumn& last = map_.columns.back();
      for (std::size_t i = 0; i + 1 < map_.columns.size(); ++i) {
        const MapColumn& other = map_.columns[i];
        if (last.index != 0 && other.index == last.index) {
          fail(element, fmt::format("column {} is described twice", last.index),
               "");
        }
        if (last.role == Role::channel && other.role == Role::channel &&
            last.channel == other.channel && last.set == other.set) {
          fail(element,
               fmt::format("two columns are {}", info_of(last.channel).slug),
               "make one of them \"ignore\"");
        }
      }
    }
  }

  MapColumn column_in(const toml::table& table) const {
    MapColumn column;
    column.line = line_of(table);
    const toml::node* unit = nullptr;
    for (const auto& [key, value] : table) {
      const std::string_view k = key.str();
      if (k == "index") {
        column.index = static_cast<std::size_t>(integer(value, k, 1));
      } else if (k == "header") {
        column.header = text(value, k);
      } else if (k == "channel") {
        read_channel(value, column);
      } else if (k == "set") {
        column.set = text(value, k);
      } else if (k == "unit") {
        column.unit = log_unit_named(text(value, k));
        unit = &value;
        if (!column.unit) {
          fail(value, "unknown unit",
               "one of degC degF K kPa bar psi MPa mbar inHg V mV kV A mA kW W "
               "hp % 1 Hz rpm h min s L/h gal/h");
        }
      } else if (k == "scale") {
        column.scale = number(value, k);
        if (column.scale == 0) fail(value, "scale can't be 0", "");
      } else if (k == "offset") {
        column.offset = number(value, k);
      } else if (k == "missing") {
        read_missing(value, column);
      } else {
        unknown_key(value, k,
                    {"index", "header", "channel", "set", "unit", "scale",
                     "offset", "missing"});
      }
    }
    if (column.index == 0 && column.header.empty()) {
      fail(table, "a column without index or header",
           "say which column it is: index = 1, or header = \"...\"");
    }
    const bool converts =
        unit == nullptr || column.role != Role::channel ||
        conversion(*column.unit, info_of(column.channel).unit).has_value();
    if (!converts ||
        (column.role == Role::channel && column.unit == LogUnit::kVA)) {
      fail(*unit,
           fmt::format("{} can't be in {}", info_of(column.channel).slug,
                       name_of(*column.unit)),
           fmt::format("its own unit is {}",
                       name_of(info_of(column.channel).unit)));
    }
    return column;
  }

  void read_channel(const toml::node& node, MapColumn& column) const {
    const std::string name = text(node, "channel");
    column.has_role = true;
    column.channel = channel_of(name);
    if (column.channel != Channel::none) {
      column.role = Role::channel;
    } else if (name == "unit") {
      column.role = Role::unit;
    } else if (name == "state") {
      column.role = Role::state;
    } else if (name == "alarm") {
      column.role = Role::alarm;
    } else if (name != "ignore") {
      std::string slugs;
      for (const ChannelInfo& info : kChannels) {
        slugs += slugs.empty() ? "" : " ";
        slugs += info.slug;
      }
      fail(node, fmt::format("unknown channel \"{}\"", printable(name, 60)),
           "one of " + slugs + " unit state alarm ignore");
    }
  }

  void read_missing(const toml::node& node, MapColumn& column) const {
    const toml::array* array = node.as_array();
    if (array == nullptr) {
      fail(node, "missing must be a list of texts",
           "missing = [\"---\", \"255\"]");
    }
    for (const toml::node& element : *array) {
      if (const auto value = element.value_exact<std::string>()) {
        column.missing.push_back(*value);
      } else if (const auto whole = element.value_exact<std::int64_t>()) {
        column.missing.push_back(std::to_string(*whole));
      } else {
        fail(element, "missing must be a list of texts",
             "missing = [\"---\", \"255\"]");
      }
    }
  }

  std::string name_;
  const toml::table& root_;
  LogMap map_;
};

}  // namespace

Result<LogMap> parse_map(std::string_view text, const std::string& name) {
  try {
    const toml::table root = toml::parse(text, name);
    return Reader(name, root).run();
  } catch (const toml::parse_error& error) {
    return Error{printable(error.description(), 200),
                 fmt::format("{}:{}", name, error.source().begin.line),
                 "see the TOML rules, or write a new map with --save-map"};
  } catch (const MapFault& fault) {
    return fault.error;
  }
}

Result<LogMap> read_map(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  constexpr std::streamsize kMost = 1 << 20;
  std::string bytes(static_cast<std::size_t>(kMost), '\0');
  if (!file || (file.read(bytes.data(), kMost), file.bad())) {
    return Error{
        "the map can't be read: " + std::generic_category().message(errno),
        path, "check the name"};
  }
  bytes.resize(static_cast<std::size_t>(file.gcount()));
  if (file.gcount() == kMost) {
    return Error{"too long for a map", path, "check the name"};
  }
  return parse_map(bytes, path);
}

}  // namespace telltale::host
