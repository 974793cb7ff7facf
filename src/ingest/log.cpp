// Opening and reading of logs.
#include "ingest/log.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "ingest/byte_store.hpp"
#include "ingest/line_ledger.hpp"
#include "ingest/map_file.hpp"
#include "ingest/row_source.hpp"
#include "ingest/survey.hpp"
#include "ingest/table_survey.hpp"
#include "ingest/time_order.hpp"
#include "support/civil_time.hpp"

namespace telltale::host {

struct Log::Impl {
  std::shared_ptr<const ByteStore> store;
  Survey survey;
  ReadOptions options;
};

struct LogReader::Impl {
  Impl(std::shared_ptr<const Log::Impl> from)
      : log(std::move(from)), order(order_options_of(log->survey)) {}

  void read_row();
  void settle_dropped();

  std::shared_ptr<const Log::Impl> log;
  LineLedger ledger;
  std::unique_ptr<RowSource> source;
  TimeOrder order;
  RawRow raw;
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
    in.read_row();
  }
  ++in.ledger.tally.rows;
  return true;
}

void LogReader::Impl::read_row() {
  if (source->next(raw)) {
    order.push(raw.row, raw.text, raw.print, raw.lines);
  } else {
    done = true;
    order.finish();
  }
  if (order.has_dropped()) settle_dropped();
}

void LogReader::Impl::settle_dropped() {
  for (const TimeOrder::Dropped& row : order.take_dropped()) {
    ledger.rebook(row.fate, row.line, row.lines, row.text);
  }
}

double LogReader::progress() const { return impl_->source->progress(); }

const RowTally& LogReader::tally() const { return impl_->ledger.tally; }

const std::vector<std::string>& LogReader::unit_names() const {
  static const std::vector<std::string> kNoUnit = {""};
  const auto& names = impl_->source->unit_names();
  return names.empty() ? kNoUnit : names;
}

const std::vector<std::string>& LogReader::alarm_names() const {
  return impl_->source->alarm_names();
}

std::vector<std::string> LogReader::notes() const {
  std::vector<std::string> notes = impl_->source->notes();
  if (impl_->ledger.rejects_failed()) {
    notes.push_back("not all rejected lines could be written to " +
                    impl_->log->options.rejects_path);
  }
  return notes;
}

Log::Log(std::shared_ptr<const Impl> impl) : impl_(std::move(impl)) {}

Result<Log> Log::open(const std::string& path, const ReadOptions& options) {
  auto store = ByteStore::open(path);
  if (!store) return store.error();
  return open(std::move(*store), options);
}

Result<Log> Log::open(std::shared_ptr<const ByteStore> store,
                      const ReadOptions& options) {
  std::optional<LogMap> map;
  if (!options.map_path.empty()) {
    auto read = read_map(options.map_path);
    if (!read) return read.error();
    map = std::move(*read);
  }
  auto survey = survey_log(*store, options, map ? &*map : nullptr);
  if (!survey) return survey.error();
  return Log(std::make_shared<Impl>(
      Impl{std::move(store), std::move(*survey), options}));
}

const LogLayout& Log::layout() const { return impl_->survey.layout; }

std::string Log::map() const {
  return write_map(impl_->survey.layout, impl_->survey.plan);
}

Result<std::string> Log::draft_map(const ByteStore& store) {
  return host::draft_map(store);
}

Result<LogReader> Log::rows(ChannelMask wanted, std::uint32_t of) const {
  auto reader = std::make_unique<LogReader::Impl>(impl_);
  if (!impl_->options.rejects_path.empty()) {
    auto file = RejectFile::open(impl_->options.rejects_path,
                                 impl_->survey.encoding.encoding);
    if (!file) return file.error();
    reader->ledger.set_rejects(std::move(*file));
  }
  reader->source = make_row_source(impl_->store, impl_->survey, {wanted, of},
                                   reader->ledger);
  return LogReader(std::move(reader));
}

bool has_channels(const LogLayout& layout) {
  return std::any_of(
      layout.columns.begin(), layout.columns.end(),
      [](const ColumnUse& use) { return use.channel != Channel::none; });
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
