// Merging of passes.
#include "ingest/merge_source.hpp"

#include <algorithm>
#include <utility>

#include "ingest/duplicate_set.hpp"
#include "ingest/record_reader.hpp"
#include "ingest/tall_source.hpp"
#include "ingest/wide_source.hpp"

namespace telltale::host {
namespace {

std::vector<std::size_t> time_columns(const DecodePlan& plan) {
  std::vector<std::size_t> times;
  for (std::size_t i = 0; i < plan.columns.size(); ++i) {
    if (plan.columns[i].role == Role::time) times.push_back(i);
  }
  return times;
}

// Books the lines of a table of groups or of several sets: one counts as read
// where any group has a time in it.
void book_group_lines(const std::shared_ptr<const ByteStore>& store,
                      const Survey& survey, LineLedger& ledger) {
  RecordReader reader(store, survey, ledger);
  RowDecoder decoder(survey.plan, 0);
  RowClock clock(survey.plan);
  const std::vector<std::size_t> times = time_columns(survey.plan);
  std::vector<Cell> cells;
  Record record;
  Row row;
  while (reader.next(record)) {
    LineFate fate = decoder.decode(record, row);
    if (fate == LineFate::bad_time) {
      cut_cells(record, survey.plan.delimiter, cells);
      for (const std::size_t column : times) {
        TimeMs stamp;
        if (column < cells.size() &&
            clock.read(cells[column], cells[column], stamp)) {
          fate = LineFate::accepted;
        }
      }
    }
    reader.book(fate, record, "");
  }
}

}  // namespace

MergeSource::MergeSource(std::shared_ptr<const ByteStore> store,
                         const Survey& survey, ChannelMask wanted,
                         LineLedger& ledger)
    : store_(std::move(store)), survey_(survey), ledger_(&ledger) {
  switch (survey_.plan.shape) {
    case TableShape::pairs:
      add_groups(wanted);
      break;
    case TableShape::side_by_side:
      add_sets(wanted);
      break;
    default:
      add_readings(wanted);
  }
}

void MergeSource::add_groups(ChannelMask wanted) {
  const DecodePlan& plan = survey_.plan;
  const std::vector<std::size_t> times = time_columns(plan);
  for (std::size_t g = 0; g < times.size(); ++g) {
    const std::size_t end =
        g + 1 < times.size() ? times[g + 1] : plan.columns.size();
    Survey part = survey_;
    part.plan.shape = TableShape::wide;
    part.plan.first_columns.clear();
    bool used = false;
    for (std::size_t i = 0; i < plan.columns.size(); ++i) {
      const bool inside = i > times[g] && i < end;
      if (!inside && i != times[g]) {
        part.plan.columns[i].role = Role::ignored;
      }
      used |= inside && plan.columns[i].role != Role::ignored;
    }
    if (used) add(part, wanted);
  }
}

void MergeSource::add_sets(ChannelMask wanted) {
  for (const std::string& set : survey_.plan.sets) {
    Survey part = survey_;
    part.plan.shape = TableShape::wide;
    for (auto* columns : {&part.plan.columns, &part.plan.first_columns}) {
      for (ColumnPlan& column : *columns) {
        if (!column.set.empty() && column.set != set) {
          column.role = Role::ignored;
        }
      }
    }
    add(part, wanted, set);
  }
}

void MergeSource::add_readings(ChannelMask wanted) {
  for (const ColumnPlan& reading : survey_.plan.readings) {
    if (reading.role == Role::ignored) continue;
    if (reading.role == Role::channel && (wanted & bit(reading.channel)) == 0) {
      continue;
    }
    Survey part = survey_;
    part.plan.readings = {reading};
    add(part, wanted);
  }
}

MergeSource::~MergeSource() = default;

void MergeSource::add(const Survey& part, ChannelMask wanted, std::string set) {
  if (parts_.size() == kMostParts) {
    left_out_ = true;
    return;
  }
  Part added;
  added.set = std::move(set);
  if (part.plan.shape == TableShape::wide) {
    added.source = std::make_unique<WideSource>(store_, part, RowChoice{wanted},
                                                unbooked_);
  } else {
    added.source =
        std::make_unique<TallSource>(store_, part, wanted, unbooked_);
  }
  added.live = added.source->next(added.raw);
  parts_.push_back(std::move(added));
}

bool MergeSource::next(RawRow& raw) {
  const Part* first = nullptr;
  for (const Part& part : parts_) {
    if (part.live &&
        (first == nullptr || part.raw.row.logged < first->raw.row.logged)) {
      first = &part;
    }
  }
  if (first == nullptr) {
    if (!booked_) book_lines();
    return false;
  }
  raw.row = first->raw.row;
  raw.row.present = raw.row.blank = 0;
  raw.row.alarms = 0;
  raw.text = {};
  raw.lines = 0;  // the last pass books lines
  // Parts number units as they meet them; what counts are the names.
  const std::string unit_name = name_of_unit(*first);
  const std::uint16_t unit =
      unit_name.empty() ? 0 : units_.number_of(unit_name).value_or(0);
  raw.row.unit = unit;
  for (Part& part : parts_) {
    const Row& row = part.raw.row;
    if (!part.live || row.logged != raw.row.logged ||
        name_of_unit(part) != unit_name) {
      continue;
    }
    // The same channel again: that is the next row.
    if ((raw.row.present & row.present) != 0) continue;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if ((row.present >> i & 1U) != 0) raw.row.value[i] = row.value[i];
    }
    raw.row.present |= row.present;
    raw.row.blank |= row.blank;
    raw.row.alarms |= alarms_of(part);
    raw.row.line = std::min(raw.row.line, row.line);
    if (row.state != EngineState::unknown) raw.row.state = row.state;
    part.live = part.source->next(part.raw);
  }
  raw.row.blank &= ~raw.row.present;
  const std::string_view values(
      reinterpret_cast<const char*>(raw.row.value.data()),
      sizeof(raw.row.value));
  raw.print = fingerprint(values, raw.row.present ^
                                      (std::uint64_t{raw.row.alarms} << 32) ^
                                      (std::uint64_t{unit} << 20));
  return true;
}

// Parts number alarms as they meet them, too.
AlarmMask MergeSource::alarms_of(const Part& part) {
  AlarmMask mask = 0;
  const std::vector<std::string>& names = part.source->alarm_names();
  for (std::size_t i = 0; i < names.size(); ++i) {
    if ((part.raw.row.alarms >> i & 1U) == 0) continue;
    auto known = std::find(alarm_names_.begin(), alarm_names_.end(), names[i]);
    if (known == alarm_names_.end() &&
        alarm_names_.size() <= AlarmReader::kOwnBits) {
      known = alarm_names_.insert(known, names[i]);
    }
    const auto number = std::min<std::size_t>(
        static_cast<std::size_t>(known - alarm_names_.begin()),
        AlarmReader::kOwnBits);
    mask |= AlarmMask{1} << number;
  }
  return mask;
}

std::string MergeSource::name_of_unit(const Part& part) {
  if (!part.set.empty()) return part.set;
  const auto& names = part.source->unit_names();
  return part.raw.row.unit < names.size() ? names[part.raw.row.unit] : "";
}

void MergeSource::book_lines() {
  booked_ = true;
  if (survey_.plan.shape == TableShape::pairs ||
      survey_.plan.shape == TableShape::side_by_side) {
    book_group_lines(store_, survey_, *ledger_);
    return;
  }
  TallSource books(store_, survey_, 0, *ledger_);
  RawRow raw;
  while (books.next(raw)) {
  }
}

const std::vector<std::string>& MergeSource::unit_names() const {
  return units_.names();
}

const std::vector<std::string>& MergeSource::alarm_names() const {
  return alarm_names_;
}

double MergeSource::progress() const {
  // The pass that books the lines is one more.
  double sum = booked_ ? 1 : 0;
  for (const Part& part : parts_) sum += part.source->progress();
  return sum / static_cast<double>(parts_.size() + 1);
}

std::vector<std::string> MergeSource::notes() const {
  std::vector<std::string> notes;
  if (left_out_) {
    notes.push_back(
        "more readings with times of their own than can be merged: "
        "the last ones are left out");
  }
  for (const Part& part : parts_) {
    for (std::string& note : part.source->notes()) {
      if (std::find(notes.begin(), notes.end(), note) == notes.end()) {
        notes.push_back(std::move(note));
      }
    }
  }
  return notes;
}

}  // namespace telltale::host
