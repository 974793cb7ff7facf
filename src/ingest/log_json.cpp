// The log object.
#include "ingest/log_json.hpp"

#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

using Json = nlohmann::ordered_json;

Json text_or_null(std::string_view text) {
  return text.empty() ? Json(nullptr) : Json(printable(text));
}

Json stamp_or_null(const std::optional<TimeMs>& stamp,
                   const LogLayout& layout) {
  return stamp ? Json(format_time(*stamp, layout)) : Json(nullptr);
}

}  // namespace

Result<LogExtent> extent_of(const Log& log) {
  // Stamps and lines are all that counts: no channel is converted.
  auto reader = log.rows(0);
  if (!reader) return reader.error();
  LogExtent extent;
  Row row;
  while (reader->next(row)) {
    if (!extent.first) extent.first = row.logged;
    extent.last = row.logged;
  }
  extent.tally = reader->tally();
  extent.notes = reader->notes();
  return extent;
}

Json log_json(const LogLayout& layout, const LogExtent& extent) {
  Json json;
  json["file"] = printable(layout.file, 4096);
  json["bytes"] = layout.bytes;
  json["rows"] = extent.tally.rows;
  json["rejected"] = extent.tally.rejected;
  json["first"] = stamp_or_null(extent.first, layout);
  json["last"] = stamp_or_null(extent.last, layout);
  json["interval_s"] =
      layout.interval_s > 0 ? Json(layout.interval_s) : Json(nullptr);
  json["delimiter"] = std::string(1, layout.delimiter);
  json["encoding"] = layout.encoding;
  json["time_format"] = layout.time_format;
  json["columns"] = Json::array();
  for (const ColumnUse& use : layout.columns) {
    Json column;
    column["header"] = printable(use.header);
    column["channel"] = text_or_null(use.name);
    column["unit"] = text_or_null(name_of(use.unit));
    column["why"] = printable(use.why);
    json["columns"].push_back(std::move(column));
  }
  json["notes"] = Json::array();
  for (const std::vector<std::string>* notes : {&layout.notes, &extent.notes}) {
    for (const std::string& note : *notes) {
      json["notes"].push_back(printable(note, 2000));
    }
  }
  return json;
}

}  // namespace telltale::host
