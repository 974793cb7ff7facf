#include "report/json_writer.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "ingest/log_json.hpp"
#include "report/phrases.hpp"
#include "report/value_text.hpp"
#include "support/safe_text.hpp"
#include "telltale/condition/performance_class.hpp"

namespace telltale::host {
namespace {

using Json = nlohmann::ordered_json;

/// A number that can't be had is null, never 0.
Json number(double x) { return std::isfinite(x) ? Json(x) : Json(nullptr); }

/// To what single precision can tell of percent and seconds.
Json rounded(float x) {
  return number(std::round(static_cast<double>(x) * 1e4) / 1e4);
}

template <class T>
Json optional(const std::optional<T>& x) {
  return x ? Json(*x) : Json(nullptr);
}

template <class Texts>
Json texts(const Texts& items) {
  Json out = Json::array();
  for (const auto& item : items) {
    if (!item.empty()) out.push_back(item);
  }
  return out;
}

class JsonReport {
 public:
  explicit JsonReport(const HealthReport& report)
      : report_(report), text_(UnitSystem::metric, report.layout) {}

  /// Some runs at a time: a log of a year has a thousand of them.
  void write(const TextSink& put, Threads threads) const {
    put("{\n  \"schema\": \"telltale.report/1\",\n  \"log\": ");
    put(indented(log(), "  "));
    put(",\n  \"runs\": [");
    for (std::size_t i = 0; i < report_.runs.size(); i += 2 * kAtATime) {
      const bool enough = report_.runs.size() - i > kAtATime;
      auto next = beside(enough ? threads : Threads::one,
                         [this, i] { return runs(i + kAtATime); });
      put(runs(i));
      put(next.get());
    }
    put(report_.runs.empty() ? "]\n}\n" : "\n  ]\n}\n");
  }

 private:
  static constexpr std::size_t kAtATime = 16;

  /// Some runs from that one on; none where there are no more.
  [[nodiscard]] std::string runs(std::size_t first) const {
    const std::size_t end = std::min(first + kAtATime, report_.runs.size());
    std::string out;
    for (std::size_t i = first; i < end; ++i) {
      out += i == 0 ? "\n    " : ",\n    ";
      out += indented(run(report_.runs[i]), "    ");
    }
    return out;
  }
  /// As it stands inside an object: `margin` before every line but the first.
  /// Line ends are between values only; those in texts are escaped.
  static std::string indented(const Json& value, std::string_view margin) {
    const std::string text =
        value.dump(2, ' ', false, nlohmann::json::error_handler_t::replace);
    std::string out;
    out.reserve(text.size() + text.size() / 4);
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t line_end = std::min(text.find('\n', at), text.size());
      if (at > 0) out += margin;
      out.append(text, at, line_end + 1 - at);
      at = line_end + 1;
    }
    return out;
  }

  [[nodiscard]] Json log() const {
    Json out = log_json(report_.layout,
                        {report_.tally, report_.first, report_.last, {}});
    out["notes"] = Json::array();
    for (const std::string& note : report_.notes) {
      out["notes"].push_back(printable(note));
    }
    out["findings"] = Json::array();
    for (const FindingReport& f : report_.findings) {
      out["findings"].push_back(finding(f));
    }
    return out;
  }

  [[nodiscard]] std::string time(const LogPlace& place) const {
    return format_time(place.logged, report_.layout);
  }

  [[nodiscard]] Json run(const RunReport& r) const {
    Json out;
    out["unit"] = printable(r.unit);
    out["run"] = r.run;
    out["start"] = time(r.start);
    out["end"] = time(r.end);
    out["begins"] = r.begins_in_log ? "log" : "start";
    out["ends"] = r.ends == RunReport::Ends::stop     ? "stop"
                  : r.ends == RunReport::Ends::abrupt ? "abrupt"
                                                      : "log";
    out["seconds"] = r.seconds;
    out["attempts"] = optional(r.attempts);
    out["crank_seconds"] = optional(r.crank_seconds);
    out["phases"] = Json::array();
    for (const PhaseSpan& span : r.phases) {
      out["phases"].push_back({{"phase", name_of(span.phase)},
                               {"from", time(span.from)},
                               {"to", time(span.to)}});
    }
    out["channels"] = channels(r);
    out["load_steps"] = Json::array();
    for (const LoadStep& step : r.load_steps) {
      out["load_steps"].push_back(
          {{"at", time(step.at())},
           {"from_pct", rounded(step.from_pct)},
           {"to_pct", rounded(step.to_pct)},
           {"frequency_dip_pct", rounded(step.frequency_dip_pct)},
           {"recovery_s", rounded(step.recovery_s)},
           {"observable", step.observable}});
    }
    out["acceptance"] = acceptance(r);
    out["verdict"] = name_of(r.verdict);
    out["findings"] = Json::array();
    for (const FindingReport& f : r.findings) {
      out["findings"].push_back(finding(f));
    }
    if (r.past) out["past"] = past(*r.past);
    out["not_checked"] = Json::array();
    for (const NotChecked& item : r.not_checked()) {
      out["not_checked"].push_back(
          {{"check", item.check->info->slug}, {"why", item.why}});
    }
    return out;
  }

  [[nodiscard]] std::string time(TimeMs at) const {
    return is_set(at) ? format_time(at, report_.layout) : std::string();
  }
  [[nodiscard]] Json past(const RunPast& past) const {
    Json out;
    if (!past.why_not.empty()) out["why_not"] = past.why_not;
    out["runs"] = past.runs;
    out["first"] = time(past.first);
    out["last"] = time(past.last);
    out["service"] = past.service.empty() ? Json(nullptr) : Json(past.service);
    out["service_on"] = time(past.service_on);
    out["own_oil_line"] = past.own_oil_line;
    out["figures"] = Json::array();
    for (const FigurePast& f : past.figures) {
      out["figures"].push_back({{"figure", f.figure},
                                {"unit", name_of(as_log_unit(f.unit))},
                                {"now", number(f.now)},
                                {"last", number(f.last)},
                                {"last_at", time(f.last_at)},
                                {"runs", f.runs},
                                {"usual", number(f.usual)},
                                {"low", number(f.low)},
                                {"high", number(f.high)},
                                {"before_service", number(f.before_service)},
                                {"after_service", number(f.after_service)},
                                {"unusual", f.unusual},
                                {"worse", f.worse}});
    }
    return out;
  }

  [[nodiscard]] static Json acceptance(const RunReport& r) {
    if (!r.acceptance) return nullptr;
    Json out;
    out["class"] = std::string(name_of(r.acceptance->held_to));
    out["interval_s"] = r.acceptance->interval_s;
    out["quantities"] = Json::array();
    for (const AcceptanceQuantity& q : r.acceptance->quantities) {
      out["quantities"].push_back(
          {{"quantity", q.quantity},
           {"value", number(q.value)},
           {"unit", q.unit},
           {"class", q.reached.empty() ? Json(nullptr) : Json(q.reached)},
           {"bound", bound_text(q.bound)}});
    }
    return out;
  }

  [[nodiscard]] static Json channels(const RunReport& r) {
    Json out = Json::object();
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if (!r.channels[i]) continue;
      const ChannelFigures& f = *r.channels[i];
      out[std::string(kChannels[i].slug)] = {
          {"unit", name_of(kChannels[i].unit)},
          {"samples", f.samples},
          {"mean", number(f.mean)},
          {"sd", number(f.sd)},
          {"min", number(f.min)},
          {"p05", number(f.p05)},
          {"median", number(f.median)},
          {"p95", number(f.p95)},
          {"max", number(f.max)}};
    }
    return out;
  }

  [[nodiscard]] Json finding(const FindingReport& f) const {
    Json out;
    out["check"] = f.check->info->slug;
    out["severity"] = name_of(f.finding.severity);
    out["channel"] = f.finding.channel == Channel::none
                         ? Json(nullptr)
                         : Json(info_of(f.finding.channel).slug);
    out["from"] = time(f.from);
    out["to"] = time(f.to);
    out["value"] = number(f.finding.value);
    out["limit"] = number(f.finding.limit);
    out["unit"] = name_of(f.finding.unit);
    out["summary"] = summary_of(f, text_);
    out["evidence"] = texts(evidence_of(f, text_));
    out["causes"] = texts(f.check->advice->causes);
    out["next"] = texts(f.check->advice->next);
    out["caution"] = caution_of(f);
    out["source"] = source_of(f);
    out["caused_by"] =
        f.caused_by == nullptr ? Json(nullptr) : Json(f.caused_by->info->slug);
    out["first_out"] = f.first_out == Channel::none
                           ? Json(nullptr)
                           : Json(info_of(f.first_out).slug);
    return out;
  }

  const HealthReport& report_;
  ValueText text_;
};

}  // namespace

void write_json(const HealthReport& report, const TextSink& put,
                Threads threads) {
  JsonReport(report).write(put, threads);
}

void write_json(const HealthReport& report, fmt::memory_buffer& out) {
  write_json(report, [&out](std::string_view text) {
    out.append(text.data(), text.data() + text.size());
  });
}

}  // namespace telltale::host
