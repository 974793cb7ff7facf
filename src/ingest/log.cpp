// Opening and reading of logs.
#include "ingest/log.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "ingest/byte_store.hpp"
#include "ingest/csv_source.hpp"
#include "ingest/duplicate_set.hpp"
#include "ingest/reject_file.hpp"
#include "ingest/row_decoder.hpp"
#include "ingest/survey.hpp"
#include "ingest/time_order.hpp"
#include "support/civil_time.hpp"

namespace telltale::host {

struct Log::Impl {
  std::shared_ptr<const ByteStore> store;
  Survey survey;
  ReadOptions options;
};

namespace {

TimeOrderOptions order_options(const Survey& survey) {
  const auto ms = [](double seconds) {
    return DurationMs{std::max<std::int64_t>(1, std::llround(seconds * 1000))};
  };
  TimeOrderOptions options;
  if (survey.layout.interval_s > 0) {
    options.interval = ms(survey.layout.interval_s);
  }
  if (survey.stamp_step_s > 0) options.stamp_step = ms(survey.stamp_step_s);
  return options;
}

}  // namespace

struct LogReader::Impl {
  Impl(std::shared_ptr<const Log::Impl> from, ChannelMask wanted)
      : log(std::move(from)),
        source(log->store->cursor(), log->survey.encoding,
               log->survey.plan.delimiter),
        decoder(log->survey.plan, wanted),
        order(order_options(log->survey)) {}

  void read_record();
  void reject(LineFate fate, const Record& record, std::string_view text);
  void settle_dropped();

  std::shared_ptr<const Log::Impl> log;
  CsvSource source;
  RowDecoder decoder;
  TimeOrder order;
  RowTally tally;
  std::optional<RejectFile> rejects;
  bool rejects_failed = false;
  Row scratch;
  std::string raw;  // a quoted record before its quotes came off
  bool done = false;
};

LogReader::LogReader(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
LogReader::LogReader(LogReader&&) noexcept = default;
LogReader& LogReader::operator=(LogReader&&) noexcept = default;
LogReader::~LogReader() = default;

bool LogReader::next(Row& row) {
  Impl& in = *impl_;
  while (!in.order.pop(row)) {
    if (in.done) return false;
    in.read_record();
  }
  ++in.tally.rows;
  return true;
}

void LogReader::Impl::read_record() {
  Record record;
  const bool more = source.next(record);
  if (rejects && rejects->is_open()) rejects->end();  // a long line's end
  if (!more) {
    done = true;
    order.finish();
    settle_dropped();
    if (rejects && !rejects->flush()) rejects_failed = true;
    return;
  }
  const std::uint64_t print = fingerprint(record.text(), 0);
  std::string_view text = record.text();
  if (rejects && record.quoting == Quoting::regular) {
    raw = text;
    text = raw;
  }
  LineFate fate = decoder.decode(record, scratch);
  if (fate == LineFate::wrong_count && record.lines > 1) {
    // A stray quotation mark has joined lines that are rows of their own.
    source.keep_first_line_only(record);
    text = record.text();
    fate = LineFate::unclosed_quote;
  }
  tally.add(fate, record.line, record.lines);
  if (fate == LineFate::accepted) {
    order.push(scratch, text, print, record.lines);
    if (order.has_dropped()) settle_dropped();
  } else if (is_rejected(fate) && rejects) {
    reject(fate, record, text);
  }
}

void LogReader::Impl::reject(LineFate fate, const Record& record,
                             std::string_view text) {
  std::string detail;
  if (fate == LineFate::wrong_count || fate == LineFate::cut_off) {
    detail = fmt::format("{}, not {}", decoder.cells(), decoder.width());
  }
  rejects->begin(fate, record.line, detail);
  rejects->more(text);
  if (!record.too_long) rejects->end();
}

void LogReader::Impl::settle_dropped() {
  for (const TimeOrder::Dropped& row : order.take_dropped()) {
    tally.change(row.fate, row.line, row.lines);
    if (rejects && is_rejected(row.fate)) {
      rejects->write(row.fate, row.line, "", row.text);
    }
  }
}

const RowTally& LogReader::tally() const { return impl_->tally; }

const std::vector<std::string>& LogReader::unit_names() const {
  static const std::vector<std::string> kNoUnit = {""};
  const auto& names = impl_->decoder.unit_names();
  return names.empty() ? kNoUnit : names;
}

const std::vector<std::string>& LogReader::alarm_names() const {
  return impl_->decoder.alarm_names();
}

std::vector<std::string> LogReader::notes() const {
  std::vector<std::string> notes;
  if (!impl_->source.trouble().empty())
    notes.push_back(impl_->source.trouble());
  if (impl_->rejects_failed) {
    notes.push_back("not all rejected lines could be written to " +
                    impl_->log->options.rejects_path);
  }
  const auto& odd = impl_->decoder.odd_cells();
  for (std::size_t i = 0; i < odd.size(); ++i) {
    if (odd[i].count == 0) continue;
    notes.push_back(fmt::format(
        "\"{}\": {} cells are no number, the first on line {}; they count as "
        "missing",
        impl_->log->survey.layout.columns[i].header, odd[i].count,
        odd[i].first_line));
  }
  return notes;
}

Log::Log(std::shared_ptr<const Impl> impl) : impl_(std::move(impl)) {}

Result<Log> Log::open(const std::string& path, const ReadOptions& options) {
  auto store = ByteStore::open(path);
  if (!store) return store.error();
  auto survey = survey_log(**store, options);
  if (!survey) return survey.error();
  return Log(std::make_shared<Impl>(
      Impl{std::move(*store), std::move(*survey), options}));
}

const LogLayout& Log::layout() const { return impl_->survey.layout; }

Result<LogReader> Log::rows(ChannelMask wanted) const {
  auto reader = std::make_unique<LogReader::Impl>(impl_, wanted);
  if (!impl_->options.rejects_path.empty()) {
    auto file = RejectFile::open(impl_->options.rejects_path,
                                 impl_->survey.encoding.encoding);
    if (!file) return file.error();
    reader->rejects.emplace(std::move(*file));
    LogReader::Impl* const raw = reader.get();
    reader->source.on_rest_of_long_line([raw](std::string_view piece) {
      if (raw->rejects->is_open()) raw->rejects->more(piece);
    });
  }
  return LogReader(std::move(reader));
}

std::string format_time(TimeMs logged, const LogLayout& layout) {
  if (layout.elapsed) {
    const std::int64_t ms = logged.ms;
    const std::int64_t whole = std::abs(ms) / 1000;
    const std::int64_t rest = std::abs(ms) % 1000;
    const char sign = ms < 0 ? '-' : '+';
    return rest % 100 == 0 ? fmt::format("t{}{}.{}", sign, whole, rest / 100)
                           : fmt::format("t{}{}.{:03}", sign, whole, rest);
  }
  const DaySplit split = split_days(logged.ms);
  const CivilDate date = civil_from_days(split.days);
  const std::int64_t s = split.ms / 1000;
  std::string text =
      fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", date.year, date.month,
                  date.day, s / 3600, s / 60 % 60, s % 60);
  if (split.ms % 1000 != 0) text += fmt::format(".{:03}", split.ms % 1000);
  if (layout.zone_known) text += 'Z';
  return text;
}

}  // namespace telltale::host
