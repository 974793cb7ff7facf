// Journal or log, and what to do with each.
#include "alarms/examine_alarms.hpp"

#include <algorithm>
#include <memory>
#include <optional>
#include <utility>

#include "alarms/alarm_analysis.hpp"
#include "alarms/event_order.hpp"
#include "alarms/journal_plan.hpp"
#include "alarms/journal_rows.hpp"
#include "alarms/level_analysis.hpp"
#include "alarms/log_replay.hpp"
#include "ingest/map_file.hpp"

namespace telltale::host {
namespace {

// Progress by lines, of which the first pass has counted how many there are.
class Progress {
 public:
  Progress(const AlarmOptions& options, double from, double to)
      : show_(options.progress), from_(from), to_(to) {}
  void at(std::uint64_t rows, std::uint64_t of) {
    if (!show_ || of == 0 || rows % 65536 != 0) return;
    show_(from_ +
          (to_ - from_) * static_cast<double>(rows) / static_cast<double>(of));
  }

 private:
  std::function<void(double)> show_;
  double from_;
  double to_;
};

bool wanted(const AlarmOptions& options, std::string_view unit) {
  return options.unit.empty() || options.unit == unit;
}

Error nothing_in_it(const std::string& path) {
  return {
      "nothing in it names alarms: neither a journal nor a log with alarm "
      "columns",
      path,
      "name the column in a map: [[column]] header = \"...\", channel = "
      "\"alarm\""};
}

Result<std::optional<JournalPlan>> plan_of(const ByteStore& store,
                                           const ReadOptions& options) {
  std::optional<LogMap> map;
  if (!options.map_path.empty()) {
    auto read = read_map(options.map_path);
    if (!read) return read.error();
    map = std::move(*read);
  }
  return plan_journal(store, options, map ? &*map : nullptr);
}

Result<AlarmReport> examine_journal(std::shared_ptr<const ByteStore> store,
                                    const JournalPlan& plan,
                                    const AlarmOptions& options) {
  OrderSurvey order;
  std::uint64_t rows = 0;
  {
    LineLedger unbooked;
    AlarmTable unnamed;
    JournalRows reader(store, plan, unbooked, unnamed);
    JournalRow row;
    while (reader.next(row, true)) {
      order.see(row);
      ++rows;
    }
  }
  if (rows == 0) {
    return Error{"not one usable row", store->name(),
                 "telltale alarms --columns shows how it was read"};
  }
  LineLedger ledger;
  if (!options.read.rejects_path.empty()) {
    auto file = RejectFile::open(options.read.rejects_path,
                                 plan.survey.encoding.encoding);
    if (!file) return file.error();
    ledger.set_rejects(std::move(*file));
  }
  AlarmReport report;
  report.shape = plan.shape;
  report.layout = plan.survey.layout;
  AlarmTable names;
  AlarmAnalysis analysis(names,
                         {.clears_told = plan.shape != JournalShape::messages});
  EventOrder events(order,
                    [&](const AlarmEvent& event) { analysis.add(event); });
  JournalRows reader(store, plan, ledger, names);
  JournalRow row;
  // Rows without an event tell that nothing happened.
  analysis.reach(order.first());
  Progress progress(options, 0.4, 1.0);
  std::uint64_t done = 0;
  while (reader.next(row)) {
    progress.at(++done, rows);
    if (!wanted(options, row.unit)) continue;
    events.push(row);
  }
  events.finish();
  if (is_set(events.last().at)) analysis.reach(events.last());
  if (const std::string note = order.note(); !note.empty()) {
    report.notes.push_back(note);
  }
  for (std::string& note : reader.notes()) {
    report.notes.push_back(std::move(note));
  }
  report.tally = ledger.tally;
  analysis.finish(report);
  return report;
}

Result<AlarmReport> examine_log(std::shared_ptr<const ByteStore> store,
                                const AlarmOptions& options) {
  const std::string path = store->name();
  auto log = Log::open(std::move(store), options.read);
  if (!log) return log.error();
  if (!names_alarms(log->layout())) return nothing_in_it(path);
  auto rows = log->rows(ChannelMask{0});
  if (!rows) return rows.error();
  LevelAnalysis analysis(log->layout());
  Row row;
  while (rows->next(row)) {
    if (wanted(options, rows->unit_names()[row.unit])) {
      analysis.see(row, rows->unit_names(), rows->alarm_names());
    }
  }
  if (rows->tally().rows == 0) {
    return Error{"not one usable row", path,
                 "telltale columns shows how it was read"};
  }
  AlarmReport report = analysis.finish(*rows);
  replay_channels(*log, report);
  return report;
}

}  // namespace

bool is_journal(const ByteStore& store, const ReadOptions& options,
                const LogLayout& as_log) {
  if (has_channels(as_log)) return false;
  const auto plan = plan_of(store, options);
  if (!plan || !*plan) return false;
  // A column of yes and no may be the set's own state: no alarm.
  return (*plan)->shape != JournalShape::contacts ||
         std::none_of(as_log.columns.begin(), as_log.columns.end(),
                      [](const ColumnUse& use) { return use.name == "state"; });
}

Result<AlarmReport> examine_alarms(const std::string& path,
                                   const AlarmOptions& options) {
  auto store = ByteStore::open(path);
  if (!store) return store.error();
  return examine_alarms(std::move(*store), options);
}

Result<AlarmReport> examine_alarms(std::shared_ptr<const ByteStore> store,
                                   const AlarmOptions& options) {
  auto plan = plan_of(*store, options.read);
  if (!plan) return plan.error();
  auto report = *plan ? examine_journal(store, **plan, options)
                      : examine_log(store, options);
  if (!report) return report.error();
  if (report->alarms.empty() && report->messages == 0 && *plan) {
    report->notes.emplace_back("no alarm came");
  }
  if (!options.unit.empty() && report->units.empty()) {
    report->notes.push_back("no alarm of the unit " + options.unit);
  }
  return report;
}

}  // namespace telltale::host
