// JournalPlanner: works out how the columns of a journal are read.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "alarms/journal_plan.hpp"
#include "ingest/table_survey.hpp"
#include "ingest/time_columns.hpp"

namespace telltale::host {

/// One table, one run(). Time and shape in journal_plan.cpp, the finding of
/// columns in journal_columns.cpp.
class JournalPlanner {
 public:
  JournalPlanner(const ByteStore& store, const ReadOptions& options,
                 const LogMap* map, TableSurvey table)
      : store_(store), options_(options), map_(map), t_(std::move(table)) {}
  Result<std::optional<JournalPlan>> run();

 private:
  void settle_dialect();
  bool find_time();
  // Where one moment of a row says that the alarm came and another that it
  // went, the first is the row's time, whatever else there is.
  void prefer_beginning(const std::vector<TimeCandidate>& all);
  [[nodiscard]] bool is_time(std::size_t i) const;
  [[nodiscard]] bool is_free(std::size_t i) const;
  // `name` and `part` as in ColumnUse.
  void take(std::size_t i, std::string name, std::string why,
            std::optional<std::size_t>& slot, std::string part = "");
  // Whether the column's cells are mostly stamps of that style.
  [[nodiscard]] bool reads(std::size_t i, const StampStyle& style) const;
  std::optional<std::size_t> end_like(const StampStyle& style);
  // The end of a row's alarm: another stamp of the same kind, or another date
  // and time of day.
  void find_end();
  // What a map says a column is; nothing where none is that.
  [[nodiscard]] std::optional<std::size_t> mapped(Role role) const;
  void find_duration();
  void find_bus_codes();
  // Of all columns that say on and off in their cells, the likeliest.
  void find_state();
  // Columns whose headers say "came" and "went" and whose cells name alarms.
  void find_came_and_went();
  void find_unit();
  [[nodiscard]] std::size_t distinct_of(const Column& column) const;
  void find_name();
  void find_more_words();
  void find_contacts();
  // Columns of readings: a log over time.
  [[nodiscard]] std::size_t count_channels() const;
  void find_columns();
  bool choose_shape();
  std::optional<Error> settle_time();
  void settle_zone();
  // What a person is told of the columns that hold beginnings.
  void explain_beginning();
  // Why the columns that are left are not used.
  void explain_rest();
  void hand_over();

  const ByteStore& store_;
  const ReadOptions& options_;
  const LogMap* map_;
  TableSurvey t_;
  TimeColumns time_;
  JournalPlan plan_;
  std::size_t channels_ = 0;
};

}  // namespace telltale::host
