// Opening and reading of logs.
#include "ingest/log.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "ingest/byte_store.hpp"
#include "ingest/csv_source.hpp"
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

struct LogReader::Impl {
  Impl(std::shared_ptr<const Log::Impl> from, ChannelMask wanted)
      : log(std::move(from)),
        source(log->store->cursor(), log->survey.encoding,
               log->survey.plan.delimiter),
        decoder(log->survey.plan, wanted),
        order({DurationMs{std::max<std::int64_t>(
            1, std::llround(log->survey.layout.interval_s * 1000))}}) {}

  std::shared_ptr<const Log::Impl> log;
  CsvSource source;
  RowDecoder decoder;
  TimeOrder order;
  RowTally tally;
  bool done = false;
};

LogReader::LogReader(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
LogReader::LogReader(LogReader&&) noexcept = default;
LogReader& LogReader::operator=(LogReader&&) noexcept = default;
LogReader::~LogReader() = default;

bool LogReader::next(Row& row) {
  Impl& in = *impl_;
  for (;;) {
    if (in.order.pop(row)) {
      ++in.tally.rows;
      return true;
    }
    if (in.done) return false;
    Record record;
    if (!in.source.next(record)) {
      in.order.finish();
      in.done = true;
      continue;
    }
    const LineFate fate = in.decoder.decode(record, row);
    in.tally.add(fate, record.line, record.lines);
    if (fate == LineFate::accepted) in.order.push(row);
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
      Impl{*std::move(store), *std::move(survey), options}));
}

const LogLayout& Log::layout() const { return impl_->survey.layout; }

Result<LogReader> Log::rows(ChannelMask wanted) const {
  return LogReader(std::make_unique<LogReader::Impl>(impl_, wanted));
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
