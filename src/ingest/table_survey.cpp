// From bytes to a table.
#include "ingest/table_survey.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "ingest/column_context.hpp"
#include "ingest/side_by_side.hpp"
#include "ingest/stamp_format.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

using Step = std::optional<Error>;

EncodingGuess find_encoding(const ByteStore& store, const LogMap* map) {
  std::string head(std::size_t{256} << 10, '\0');
  head.resize(store.cursor()->read(head.data(), head.size()));
  const EncodingGuess guess = guess_encoding(head);
  if (map == nullptr || !map->encoding) return guess;
  const bool same = guess.encoding == *map->encoding;
  return {*map->encoding, same ? guess.mark_bytes : 0};
}

Step find_table(const ByteStore& store, const LogMap* map,
                TableSurvey& survey) {
  survey.encoding = find_encoding(store, map);
  survey.sample = take_sample(store, survey.encoding);
  survey.delimiter = map != nullptr && map->delimiter
                         ? *map->delimiter
                         : choose_delimiter(survey.sample);
  if (survey.delimiter != '\0') {
    survey.table = cut_sample(survey.sample, survey.delimiter);
  }
  if (survey.table.width < 2) {
    return Error{
        "no table found: no comma, semicolon, tab or bar parts its lines into "
        "columns",
        store.name(), "is it a log? If so, export it as CSV"};
  }
  const auto& rows = survey.table.rows;
  const bool any_number =
      std::any_of(rows.begin(), rows.end(), [](const Table::Row& row) {
        const CellKinds kinds = kinds_of(row.cells, '\0');
        return kinds.number + kinds.stamp > 0;
      });
  if (!any_number) {
    return Error{"nothing in it is a number: no log, or one without readings",
                 store.name(), "give the log itself"};
  }
  survey.decimal = choose_decimal(survey.table, survey.delimiter);
  if (map != nullptr && map->decimal) survey.decimal = {*map->decimal, true};
  return std::nullopt;
}

// A map by numbers alone says what the columns of a log without header are.
bool may_do_without_header(const LogMap* map) {
  return map != nullptr && map->time && !map->columns.empty() &&
         std::all_of(map->columns.begin(), map->columns.end(),
                     [](const MapColumn& column) {
                       return column.index != 0 && column.header.empty();
                     });
}

Error no_header(const ByteStore& store, const TableSurvey& survey) {
  const HeaderPlace& place = survey.place;
  if (place.other_width != 0) {
    const bool commas =
        survey.delimiter == ',' && place.other_width < survey.table.width;
    return {fmt::format("the header on line {} names {} columns, but rows have "
                        "{} cells{}",
                        place.other_line, place.other_width, survey.table.width,
                        commas ? "; are decimals written with commas?" : ""),
            store.name(),
            "correct the header, or write a map with header_line = 0"};
  }
  return {fmt::format("no header: no line of the log names its {} columns",
                      survey.table.width),
          store.name(),
          "say what they are in a map (--save-map writes one to edit)"};
}

Step find_names(const ByteStore& store, const LogMap* map,
                TableSurvey& survey) {
  HeaderPlace& place = survey.place;
  if (map != nullptr && map->header_line) {
    if (*map->header_line == 0) return std::nullopt;
    const auto& rows = survey.table.rows;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (rows[i].line == *map->header_line) {
        place = place_header(survey.table, i, survey.decimal.mark);
      }
    }
    if (!place.header) {
      return Error{fmt::format("line {} holds no header", *map->header_line),
                   store.name(), "correct header_line in " + map->path};
    }
  } else {
    place = find_header(survey.table, survey.decimal.mark);
    if (!place.header) {
      if (may_do_without_header(map)) return std::nullopt;
      return no_header(store, survey);
    }
  }
  survey.table.width = place.width;
  return std::nullopt;
}

std::string_view without_brackets(std::string_view text) {
  if (text.size() > 2 && (text.front() == '(' || text.front() == '[')) {
    return text.substr(1, text.size() - 2);
  }
  return text;
}

HeaderName header_of_column(const TableSurvey& survey, std::size_t i) {
  const std::string& text = survey.table.rows[*survey.place.header].cells[i];
  HeaderName name = parse_header(text);
  if (!survey.place.unit_row || name.unit) return name;
  const std::string unit(
      without_brackets(survey.table.rows[*survey.place.unit_row].cells[i]));
  if (!unit_of_text(unit)) return name;
  HeaderName with_unit = parse_header(text + " (" + unit + ")");
  with_unit.text = name.text;
  return with_unit;
}

Step find_columns(const ByteStore& store, TableSurvey& survey) {
  const Table& table = survey.table;
  const HeaderPlace& place = survey.place;
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    const Table::Row& row = table.rows[i];
    const bool named =
        place.header == i || place.unit_row == i || place.group_row == i;
    const bool again =
        place.header &&
        row.record->text == table.rows[*place.header].record->text;
    if (has_width(row, table.width) && !named && !again) {
      survey.rows.push_back(i);
    }
  }
  // A last line without line end may be cut off and shows nothing for sure.
  if (survey.rows.size() > 1 &&
      table.rows[survey.rows.back()].record->shape.unterminated) {
    survey.rows.pop_back();
  }
  if (survey.rows.empty()) {
    return Error{"a header, but no readings under it", store.name(),
                 "copy the log again from the logger"};
  }
  survey.columns.resize(table.width);
  for (std::size_t i = 0; i < table.width; ++i) {
    Column& column = survey.columns[i];
    if (place.header) column.header = header_of_column(survey, i);
    column.stats = stats_of(table, survey.rows, i, survey.decimal);
    column.use.header = printable(column.header.text);
  }
  take_units_of_cells(survey.columns);
  if (place.group_row) {
    add_group_names(table.rows[*place.group_row].cells, survey.columns);
  }
  find_common_words(survey.columns);
  name_sets(survey.columns);
  find_running_rows(table, survey.rows, survey.decimal, survey.columns);
  return std::nullopt;
}

}  // namespace

Result<TableSurvey> survey_table(const ByteStore& store, const LogMap* map) {
  TableSurvey survey;
  if (auto error = find_table(store, map, survey)) return *error;
  if (auto error = find_names(store, map, survey)) return *error;
  if (auto error = find_columns(store, survey)) return *error;
  return survey;
}

Result<std::string> draft_map(const ByteStore& store) {
  TableSurvey survey;
  if (auto error = find_table(store, nullptr, survey)) return *error;
  std::string out = "# Say what the columns are; \"ignore\" leaves one out.\n";
  out +=
      fmt::format("delimiter = \"{}\"\ndecimal = \"{}\"\n",
                  survey.delimiter == '\t' ? std::string("\\t")
                                           : std::string(1, survey.delimiter),
                  survey.decimal.mark);
  out += fmt::format("header_line = 0\nencoding = \"{}\"\n",
                     name_of(survey.encoding.encoding));
  std::string time = "# time = { column = 1, format = \"...\" }\n";
  std::string columns;
  const auto& rows = survey.table.rows;
  const auto example =
      std::find_if(rows.rbegin(), rows.rend(), [&](const Table::Row& row) {
        return row.cells.size() == survey.table.width;
      });
  for (std::size_t i = 0; example != rows.rend() && i < example->cells.size();
       ++i) {
    const std::string& cell = example->cells[i];
    const auto patterns = guess_patterns(cell, false);
    if (!patterns.empty() && time.front() == '#') {
      time = fmt::format("time = {{ column = {}, format = \"{}\" }}\n", i + 1,
                         patterns.front());
      continue;
    }
    columns += fmt::format(
        "\n[[column]]  # such as {}\nindex = {}\nchannel = \"ignore\"\n",
        printable(cell, 40), i + 1);
  }
  return out + time + columns;
}

}  // namespace telltale::host
