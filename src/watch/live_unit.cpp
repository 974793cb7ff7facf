#include "watch/live_unit.hpp"

#include <algorithm>
#include <bit>
#include <cstring>
#include <limits>
#include <type_traits>
#include <utility>

namespace telltale::host {
namespace {

/// Rows of a turning engine that show what kind of set it is.
constexpr int kEnoughTurning = 90;
constexpr std::uint64_t kRelearnEvery = 60;  // rows
/// Rows kept from before that; older ones of a set at rest are let go.
constexpr std::size_t kMostHeld = 1200;

bool turns(const Row& row) {
  const auto above = [&row](Channel channel, double least) {
    return row.value[index_of(channel)] > least;
  };
  return above(Channel::engine_speed, 800.0) ||
         above(Channel::frequency, 40.0) ||
         above(Channel::voltage_line, 80.0) || above(Channel::voltage_l1, 80.0);
}

ClockStep as_clock_step(ClockEvent event) {
  if (event == ClockEvent::set_back) return ClockStep::set_back;
  return event == ClockEvent::set_forward ? ClockStep::set_forward
                                          : ClockStep::none;
}

/// Nothing is left that the rows could tell.
bool complete(const ProfileFile& file) {
  return file.frequency_hz && file.poles && file.voltage_v && file.legs &&
         file.power_kw && file.battery_v && file.exhaust;
}

bool same_story(const LiveFinding& a, const Finding<double>& b) {
  return a.finding.check == b.check && a.finding.channel == b.channel &&
         a.finding.run == b.run;
}

template <class T>
void append(std::string& out, const T& value) {
  static_assert(std::is_trivially_copyable_v<T>);
  out.append(reinterpret_cast<const char*>(&value), sizeof value);
}
template <class T>
bool take(std::string_view& in, T& value) {
  static_assert(std::is_trivially_copyable_v<T>);
  if (in.size() < sizeof value) return false;
  std::memcpy(static_cast<void*>(&value), in.data(), sizeof value);
  in.remove_prefix(sizeof value);
  return true;
}

}  // namespace

LiveUnit::LiveUnit(std::string name, const ProfileFile& profile,
                   double interval_s, bool wall_clock, Listener listener)
    : name_(std::move(name)),
      file_(profile),
      listener_(std::move(listener)),
      interval_s_(interval_s),
      wall_clock_(wall_clock) {}

void LiveUnit::step(const Row& logged) {
  if (is_set(pass_over_to_)) {
    if (logged.logged <= pass_over_to_) return;
    pass_over_to_ = kNoTime;
    // The analysis clock of a new reader may lag behind that of the last.
    if (is_set(last_at_) && logged.at <= last_at_) {
      restart_shift_ = (last_at_ - logged.at) + (logged.logged - last_logged_);
    }
  }
  Row row = logged;
  row.at = row.at + restart_shift_;
  ++rows_;
  if (begun_) {
    relearn_scale(row);
    judge(row);
  } else {
    learn(row);
  }
}

void LiveUnit::learn(const Row& row) {
  inference_.add(row);
  held_back_.push_back(row);
  if (turns(row)) ++turning_rows_;
  if (complete(file_) || turning_rows_ >= kEnoughTurning) {
    begin();
  } else if (held_back_.size() > kMostHeld) {
    held_back_.pop_front();
  }
}

void LiveUnit::begin() {
  std::vector<std::string> told;
  profile_ = inference_.complete(file_, told);
  profile_.wall_clock = wall_clock_;
  if (interval_s_ > 0) profile_.interval_s = static_cast<float>(interval_s_);
  setup_ = box_.configure(profile_);
  begun_ = true;
  for (const Row& row : held_back_) judge(row);
  held_back_.clear();
  held_back_.shrink_to_fit();
}

void LiveUnit::relearn_scale(const Row& row) {
  if (is_known(profile_.rating.power_kw)) return;
  inference_.add(row);
  if (rows_ % kRelearnEvery != 0) return;
  std::vector<std::string> told;
  const float scale = inference_.complete(file_, told).load_scale_kw;
  // Small steps would look like changes of load.
  if (!is_known(scale) || scale <= 1.05F * profile_.load_scale_kw) return;
  profile_.load_scale_kw = scale;
  box_.rescale_load();
}

void LiveUnit::judge(const Row& row) {
  if (setup_.error != SetupError::none) return;
  for (ChannelMask rest = row.present; rest != 0; rest &= rest - 1U) {
    const auto i = static_cast<std::size_t>(std::countr_zero(rest));
    box_.readings().put(static_cast<Channel>(i), row.at, row.value[i]);
  }
  for (ChannelMask rest = row.blank; rest != 0; rest &= rest - 1U) {
    const auto i = static_cast<std::size_t>(std::countr_zero(rest));
    box_.readings().put(static_cast<Channel>(i), row.at,
                        std::numeric_limits<double>::quiet_NaN());
  }
  box_.readings().put(row.state);
  box_.readings().put_alarms(row.alarms);
  DurationMs jump{};
  if (row.clock != ClockEvent::none && is_set(last_at_)) {
    jump = (row.logged - last_logged_) - (row.at - last_at_);
  }
  const DurationMs offset = row.logged - row.at;
  if (offset != offset_) {
    offset_before_ = is_set(last_at_) ? offset_ : offset;
    offset_ = offset;
    offset_since_ = row.at;
  }
  last_at_ = row.at;
  last_logged_ = row.logged;
  box_.scan(row.at, sink(), as_clock_step(row.clock), jump);
}

void LiveUnit::finish(bool ends_run) {
  if (!begun_ && !held_back_.empty()) begin();
  if (ends_run && begun_ && setup_.error == SetupError::none) {
    box_.finish(sink());
  }
}

FindingSink<double> LiveUnit::sink() {
  return FindingSink<double>(
      [](void* self, const Finding<double>& finding) {
        static_cast<LiveUnit*>(self)->tell(finding);
      },
      this);
}

TimeMs LiveUnit::as_logged(TimeMs at) const {
  return at + (is_set(offset_since_) && at < offset_since_ ? offset_before_
                                                           : offset_);
}

void LiveUnit::tell(const Finding<double>& finding) {
  const LiveFinding live{finding, as_logged(finding.since),
                         as_logged(finding.until)};
  worst_ = worst(worst_, finding.severity);
  const auto known = std::find_if(
      open_.begin(), open_.end(),
      [&](const LiveFinding& other) { return same_story(other, finding); });
  if (finding.event == FindingEvent::closed) {
    if (known != open_.end()) open_.erase(known);
  } else if (known != open_.end()) {
    *known = live;
  } else {
    open_.push_back(live);
  }
  listener_(live);
}

std::string LiveUnit::save() const {
  std::string out;
  if (!begun_) return out;
  append(out,
         Saved{profile_.rating, profile_.load_scale_kw, profile_.interval_s,
               last_at_, last_logged_, offset_since_, offset_, rows_, worst_,
               static_cast<std::uint32_t>(open_.size())});
  for (const LiveFinding& finding : open_) append(out, finding);
  std::vector<std::uint8_t> state(Watcher::kStateBytes);
  box_.save(std::span<std::uint8_t, Watcher::kStateBytes>(state));
  out.append(reinterpret_cast<const char*>(state.data()), state.size());
  return out;
}

bool LiveUnit::load(std::string_view bytes) {
  Saved saved;
  if (!take(bytes, saved)) return false;
  std::vector<LiveFinding> open(
      std::min<std::size_t>(saved.open, bytes.size()));
  for (LiveFinding& finding : open) {
    if (!take(bytes, finding)) return false;
  }
  std::vector<std::string> told;
  Profile profile = Inference{}.complete(file_, told);
  profile.rating = saved.rating;
  profile.load_scale_kw = saved.load_scale_kw;
  profile.interval_s = saved.interval_s;
  profile.wall_clock = wall_clock_;
  profile_ = profile;
  setup_ = box_.configure(profile_);
  const std::vector<std::uint8_t> state(bytes.begin(), bytes.end());
  if (setup_.error != SetupError::none ||
      box_.load(state) != StateError::none) {
    return false;
  }
  begun_ = true;
  open_ = std::move(open);
  last_at_ = saved.last_at;
  last_logged_ = pass_over_to_ = saved.last_logged;
  offset_since_ = saved.shift_from;
  offset_ = offset_before_ = saved.shift;
  rows_ = saved.rows;
  worst_ = saved.worst;
  return true;
}

}  // namespace telltale::host
