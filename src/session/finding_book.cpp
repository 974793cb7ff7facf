#include "session/finding_book.hpp"

#include <algorithm>
#include <cmath>

#include "telltale/detect/checks/all.hpp"

namespace telltale::host {
namespace {

bool has_channel(const Finding<double>& finding) {
  return finding.channel != Channel::none;
}

/// Whether a check looks at the readings that others may not go by.
bool is_about_data(std::uint16_t check) {
  return check == SensorFrozen<double>::info.id ||
         check == SensorRange<double>::info.id ||
         check == SensorSpike<double>::info.id ||
         check == SensorDropout<double>::info.id;
}

}  // namespace

void FindingBook::Window::add(const Row& row, Channel channel) {
  if ((row.present & bit(channel)) == 0) return;
  const double x = row.value[index_of(channel)];
  const LogPlace here{row.logged, row.line};
  if (n == 0 || x < low) {
    low = x;
    low_at = here;
  }
  if (n == 0 || x > high) {
    high = x;
    high_at = here;
  }
  if (n == 0) first = here;
  last = here;
  sum += x;
  ++n;
}

FindingBook::Entry* FindingBook::find(const Finding<double>& finding) {
  for (Entry& entry : entries_) {
    const bool same = entry.finding.check == finding.check &&
                      entry.finding.channel == finding.channel;
    // What opened outside every run and still stands belongs to the run that
    // has begun since.
    const bool carried =
        entry.finding.run == 0 && entry.open && finding.run != 0;
    if (same && (entry.finding.run == finding.run || carried)) return &entry;
  }
  return nullptr;
}

void FindingBook::take(const Finding<double>& finding) {
  Entry* entry = find(finding);
  if (entry == nullptr) {
    entries_.push_back({});
    entry = &entries_.back();
    entry->finding = finding;
    entry->first_since = finding.since;
    entry->counted_to = finding.since - DurationMs{1};
    entry->from = trail_->place(finding.since);
  } else {
    Finding<double>& held = entry->finding;
    const bool graver = finding.severity > held.severity;
    if (graver) {
      held.severity = finding.severity;
      held.since = finding.since;
      entry->from = trail_->place(finding.since);
    }
    // The figures of the gravest stretch stay.
    if (graver || finding.severity == held.severity) {
      held.value = finding.value;
      held.limit = finding.limit;
      held.unit = finding.unit;
      const bool has_details =
          std::any_of(finding.detail.begin(), finding.detail.end(),
                      [](double d) { return std::isfinite(d); });
      if (has_details) held.detail = finding.detail;
    }
    held.until = std::max(held.until, finding.until);
    held.run = finding.run;
  }
  // Looked up while the trail still has the row.
  entry->to = trail_->place(entry->finding.until);
  entry->open = finding.event != FindingEvent::closed;
  if (!entry->open) count_until(*entry, finding.until);
}

void FindingBook::count_until(Entry& entry, TimeMs until) const {
  if (!has_channel(entry.finding) || entry.counted_to >= until) return;
  trail_->each(entry.counted_to + DurationMs{1}, until,
               [&](const TrailRow& row) { count(entry, row); });
  entry.counted_to = until;
}

void FindingBook::count(Entry& entry, const TrailRow& row) {
  const Channel channel = entry.finding.channel;
  const bool condemned = (row.condemned & bit(channel)) != 0;
  if (!condemned || is_about_data(entry.finding.check)) {
    entry.window.add(row, channel);
  }
}

void FindingBook::forget(const TrailRow& row) {
  for (Entry& entry : entries_) {
    if (!entry.open || row.at <= entry.counted_to) continue;
    if (has_channel(entry.finding)) {
      count(entry, row);
    }
    entry.counted_to = row.at;
  }
}

std::vector<FindingReport> FindingBook::collect(std::uint16_t run, TimeMs end) {
  std::vector<FindingReport> out;
  for (Entry& entry : entries_) {
    if (entry.finding.run != run) continue;
    if (entry.open) {
      entry.finding.until = std::max(entry.finding.until, entry.finding.since);
      count_until(entry, std::min(end, entry.finding.until));
    }
    out.push_back(report(entry));
  }
  std::erase_if(entries_,
                [run](const Entry& e) { return e.finding.run == run; });
  return out;
}

FindingReport FindingBook::report(Entry& entry) const {
  FindingReport out;
  out.check = check_of(entry.finding.check);
  out.finding = entry.finding;
  out.from = entry.from;
  out.to = entry.to;
  out.held_s =
      static_cast<double>((entry.finding.until - entry.finding.since).ms) /
      1000.0;
  const Window& w = entry.window;
  if (w.n > 0) {
    const Unit unit = info_of(entry.finding.channel).unit;
    const double mean = w.sum / static_cast<double>(w.n);
    out.evidence.push_back({"mean", mean, unit, w.first, w.last, w.n});
    out.evidence.push_back({"lowest", w.low, unit, w.low_at, {}, 0});
    out.evidence.push_back({"highest", w.high, unit, w.high_at, {}, 0});
  }
  for (std::size_t i = 0; i < entry.finding.detail.size(); ++i) {
    const DetailInfo& detail = out.check->info->details[i];
    const double value = entry.finding.detail[i];
    if (detail.name.empty() || !std::isfinite(value)) continue;
    out.evidence.push_back(
        {std::string(detail.name), value, detail.unit, {}, {}, 0});
  }
  return out;
}

}  // namespace telltale::host
