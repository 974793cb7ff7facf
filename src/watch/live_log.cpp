#include "watch/live_log.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <span>
#include <utility>

#include "checks/catalogue.hpp"
#include "telltale/base/crc.hpp"
#include "watch/live_json.hpp"

namespace telltale::host {
namespace {

/// A header and a few rows are tried first; most logs are plain by then.
constexpr std::size_t kFirstTry = 12;
constexpr std::string_view kStateMark = "telltale watch state 1\n";

/// Whole lines at the beginning of `bytes`: how many, and where they end.
struct WholeLines {
  std::size_t count = 0;
  std::size_t end = 0;
};
WholeLines whole_lines(std::string_view bytes) {
  const char mark = bytes.find('\n') != std::string_view::npos ? '\n' : '\r';
  WholeLines out;
  out.count =
      static_cast<std::size_t>(std::count(bytes.begin(), bytes.end(), mark));
  const std::size_t last = bytes.rfind(mark);
  out.end = last == std::string_view::npos ? 0 : last + 1;
  // A line feed of UTF-16 in little-endian order has a zero after it.
  if (out.end < bytes.size() && out.end > 0 && bytes[out.end] == '\0') {
    ++out.end;
  }
  return out;
}

/// Whether a column is there that may tell of a run. Without one nothing would
/// ever be found, and all would pass for healthy.
bool may_show_running(const LogLayout& layout) {
  constexpr ChannelMask kSigns =
      bit(Channel::engine_speed) | bit(Channel::frequency) |
      bit(Channel::voltage_l1) | bit(Channel::voltage_l2) |
      bit(Channel::voltage_l3) | bit(Channel::voltage_line);
  return std::any_of(
      layout.columns.begin(), layout.columns.end(), [](const ColumnUse& use) {
        return use.name == "state" || (use.channel != Channel::none &&
                                       (kSigns & bit(use.channel)) != 0);
      });
}

Error nothing_to_judge(const std::string& name) {
  return {"no column tells whether the engine turns: nothing can be judged",
          name,
          "name its speed, frequency or volts in a map, which telltale columns "
          "--save-map writes; a journal of alarms is for telltale alarms"};
}

void append_sized(std::string& out, std::string_view text) {
  const auto size = static_cast<std::uint32_t>(text.size());
  out.append(reinterpret_cast<const char*>(&size), sizeof size);
  out.append(text);
}
bool take_sized(std::string_view& in, std::string& text) {
  std::uint32_t size = 0;
  if (in.size() < sizeof size) return false;
  std::memcpy(&size, in.data(), sizeof size);
  in.remove_prefix(sizeof size);
  if (in.size() < size) return false;
  text.assign(in.substr(0, size));
  in.remove_prefix(size);
  return true;
}
std::uint32_t crc_of(std::string_view bytes) {
  return crc32(
      {reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size()});
}

}  // namespace

LiveLog::LiveLog(std::string name, LiveOptions options, Writer write)
    : name_(std::move(name)),
      options_(std::move(options)),
      write_(std::move(write)),
      lines_wanted_(kFirstTry) {}

std::optional<Error> LiveLog::feed(std::string_view bytes) {
  if (stream_) {
    stream_->feed(bytes);
    return drain();
  }
  pending_ += bytes;
  return try_to_understand(false);
}

std::optional<Error> LiveLog::idle() {
  // A header alone tells little: wait for a row or two.
  if (stream_ || whole_lines(pending_).count < 3) return {};
  return try_to_understand(false);
}

std::optional<Error> LiveLog::restart() {
  if (stream_) {
    stream_->close();
    if (auto error = drain()) return error;
    rejected_before_ += stream_->tally().rejected;
    stream_.reset();
  }
  pending_.clear();
  lines_wanted_ = kFirstTry;
  return {};
}

std::optional<Error> LiveLog::finish(bool ends_runs) {
  if (!stream_ && !pending_.empty()) {
    if (auto error = try_to_understand(true)) return error;
  }
  if (stream_) {
    stream_->close();
    if (auto error = drain()) return error;
  }
  for (auto& [name, unit] : units_) unit->finish(ends_runs);
  return {};
}

std::optional<Error> LiveLog::try_to_understand(bool now) {
  const WholeLines lines = whole_lines(pending_);
  const bool last_try = now || pending_.size() >= LogStream::kEnoughToSniff;
  if (!last_try && lines.count < lines_wanted_) return {};
  const std::size_t head = now || lines.end == 0 ? pending_.size() : lines.end;
  Result<LogStream> stream = LogStream::sniff(
      std::string_view(pending_).substr(0, head), name_, options_.read);
  if (!stream || !may_show_running(stream->layout())) {
    if (last_try) return stream ? nothing_to_judge(name_) : stream.error();
    lines_wanted_ = lines.count * 2;
    return {};
  }
  stream_ = std::move(*stream);
  layout_ = stream_->layout();
  stream_->feed(std::string_view(pending_).substr(head));
  pending_.clear();
  pending_.shrink_to_fit();
  return drain();
}

std::optional<Error> LiveLog::drain() {
  Row row;
  while (stream_->next(row)) {
    LiveUnit* unit = unit_of(row);
    if (unit == nullptr) continue;
    unit->step(row);
    if (unit->setup().error != SetupError::none) {
      return Error{fmt::format("the limits of {} contradict each other",
                               check_of(unit->setup().check)->info->slug),
                   "profile", "mend [limits]"};
    }
  }
  return {};
}

LiveUnit* LiveLog::unit_of(const Row& row) {
  const std::string& logged = stream_->unit_names()[row.unit];
  if (!logged.empty() && !options_.unit.empty() && logged != options_.unit) {
    return nullptr;
  }
  std::unique_ptr<LiveUnit>& unit = units_[logged];
  if (unit) return unit.get();
  const std::string name = !logged.empty() ? logged
                           : !options_.unit.empty()
                               ? options_.unit
                               : options_.profile.name.value_or("");
  unit = std::make_unique<LiveUnit>(name, options_.profile, layout_.interval_s,
                                    !layout_.elapsed,
                                    [this, name](const LiveFinding& live) {
                                      write_(finding_line(live, name, layout_));
                                    });
  const auto saved = saved_.find(logged);
  if (saved != saved_.end()) {
    unit->load(saved->second);
    saved_.erase(saved);
  }
  return unit.get();
}

std::vector<const LiveUnit*> LiveLog::units() const {
  std::vector<const LiveUnit*> out;
  for (const auto& [name, unit] : units_) out.push_back(unit.get());
  return out;
}

std::string LiveLog::summary() const {
  const std::uint64_t rejected =
      rejected_before_ + (stream_ ? stream_->tally().rejected : 0);
  return summary_line(units(), layout_, rejected);
}

Severity LiveLog::verdict() const {
  Severity out = Severity::not_judged;
  for (const auto& [name, unit] : units_) {
    out = worst(out, unit->worst_seen());
  }
  return out;
}

std::uint64_t LiveLog::rows() const {
  std::uint64_t out = 0;
  for (const auto& [name, unit] : units_) out += unit->rows();
  return out;
}

std::string LiveLog::state() const {
  std::string body;
  for (const auto& [name, unit] : units_) {
    const std::string bytes = unit->save();
    if (bytes.empty()) continue;
    append_sized(body, name);
    append_sized(body, bytes);
  }
  // Units that have not come back yet are not forgotten.
  for (const auto& [name, bytes] : saved_) {
    append_sized(body, name);
    append_sized(body, bytes);
  }
  const std::uint32_t crc = crc_of(body);
  return std::string(kStateMark) +
         std::string(reinterpret_cast<const char*>(&crc), sizeof crc) + body;
}

std::optional<Error> LiveLog::take_state(std::string_view bytes) {
  const Error refused{"is no state of telltale watch, or damaged", "",
                      "delete it to start afresh"};
  if (bytes.substr(0, kStateMark.size()) != kStateMark) return refused;
  bytes.remove_prefix(kStateMark.size());
  std::uint32_t crc = 0;
  if (bytes.size() < sizeof crc) return refused;
  std::memcpy(&crc, bytes.data(), sizeof crc);
  bytes.remove_prefix(sizeof crc);
  if (crc != crc_of(bytes)) return refused;
  std::map<std::string, std::string> saved;
  while (!bytes.empty()) {
    std::string name;
    std::string state;
    if (!take_sized(bytes, name) || !take_sized(bytes, state)) return refused;
    LiveUnit probe(name, options_.profile, 0.0, true,
                   [](const LiveFinding&) {});
    if (!probe.load(state)) {
      return Error{"was written by another version of telltale", "",
                   "delete it to start afresh"};
    }
    saved.emplace(std::move(name), std::move(state));
  }
  saved_ = std::move(saved);
  return {};
}

}  // namespace telltale::host
