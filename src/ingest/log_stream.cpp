// Reading of a live log.
#include "ingest/log_stream.hpp"

#include <fmt/format.h>

#include <optional>
#include <utility>

#include "ingest/byte_store.hpp"
#include "ingest/duplicate_set.hpp"
#include "ingest/file_kind.hpp"
#include "ingest/line_buffer.hpp"
#include "ingest/row_decoder.hpp"
#include "ingest/survey.hpp"
#include "ingest/time_order.hpp"

namespace telltale::host {

struct LogStream::Impl {
  Impl(Survey understood, const TimeOrderOptions& order_options)
      : survey(std::move(understood)),
        lines(survey.encoding, survey.plan.delimiter),
        decoder(survey.plan),
        order(order_options) {}

  Survey survey;
  LineBuffer lines;
  RowDecoder decoder;
  TimeOrder order;
  RowTally tally;
  Row scratch;
  bool closed = false;
};

namespace {

// A live log is read row by row as it comes: a row must be one sample of one
// set.
std::optional<Error> refuse_shape(const Survey& survey,
                                  const std::string& name) {
  switch (survey.plan.shape) {
    case TableShape::wide:
      return std::nullopt;
    case TableShape::side_by_side:
      return Error{
          fmt::format("{} sets side by side in a row can't be watched at once",
                      survey.plan.sets.size()),
          name,
          "watch each by itself, with a map that has channel = \"ignore\" for "
          "the columns of the others; telltale columns --save-map writes one"};
    case TableShape::tall:
    case TableShape::tall_by_name:
      return Error{"one reading a row can't be watched", name,
                   "let the logger write a row for each sample, with a column "
                   "for each channel"};
    case TableShape::pairs:
      break;
  }
  return Error{"columns in groups with times of their own can't be watched",
               name, "let the logger write one time a row"};
}

}  // namespace

LogStream::LogStream(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
LogStream::LogStream(LogStream&&) noexcept = default;
LogStream& LogStream::operator=(LogStream&&) noexcept = default;
LogStream::~LogStream() = default;

Result<LogStream> LogStream::sniff(std::string_view first_bytes,
                                   const std::string& name,
                                   const ReadOptions& options) {
  if (auto refusal = refuse_binary(first_bytes, name)) return *refusal;
  std::optional<LogMap> map;
  if (!options.map_path.empty()) {
    auto read = read_map(options.map_path);
    if (!read) return read.error();
    map = std::move(*read);
  }
  const auto store = ByteStore::of_memory(std::string(first_bytes), name);
  if (store->compressed()) {
    return Error{"a compressed log can't be watched", name,
                 "unpack it on the way"};
  }
  auto survey = survey_log(*store, options, map ? &*map : nullptr);
  if (!survey) return survey.error();
  if (auto refusal = refuse_shape(*survey, name)) return *refusal;
  TimeOrderOptions order = order_options_of(*survey);
  order.hold_rows = 0;
  order.hold = DurationMs{0};
  LogStream stream(std::make_unique<Impl>(std::move(*survey), order));
  stream.feed(first_bytes);
  return stream;
}

const LogLayout& LogStream::layout() const { return impl_->survey.layout; }

void LogStream::feed(std::string_view bytes) { impl_->lines.feed(bytes); }

void LogStream::close() {
  impl_->lines.close();
  impl_->closed = true;
}

bool LogStream::next(Row& row) {
  Impl& in = *impl_;
  while (!in.order.pop(row)) {
    Record record;
    if (!in.lines.next(record)) {
      if (!in.closed) return false;
      in.order.finish();
      for (const auto& dropped : in.order.take_dropped()) {
        in.tally.change(dropped.fate, dropped.line, dropped.lines);
      }
      if (!in.order.pop(row)) return false;
      break;
    }
    const std::uint64_t print = fingerprint(record.text(), 0);
    const LineFate fate = in.decoder.decode(record, in.scratch);
    in.tally.add(fate, record.line, record.lines);
    if (fate == LineFate::accepted) {
      in.order.push(in.scratch, "", print, record.lines);
      for (const auto& dropped : in.order.take_dropped()) {
        in.tally.change(dropped.fate, dropped.line, dropped.lines);
      }
    }
  }
  ++in.tally.rows;
  return true;
}

const RowTally& LogStream::tally() const { return impl_->tally; }

const std::vector<std::string>& LogStream::unit_names() const {
  static const std::vector<std::string> kNoUnit = {""};
  const auto& names = impl_->decoder.unit_names();
  return names.empty() ? kNoUnit : names;
}

const std::vector<std::string>& LogStream::alarm_names() const {
  return impl_->decoder.alarm_names();
}

}  // namespace telltale::host
