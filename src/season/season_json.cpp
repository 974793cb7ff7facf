#include "season/season_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "season/dates.hpp"
#include "season/season_phrases.hpp"

namespace telltale::host::season {
namespace {

using Json = nlohmann::ordered_json;

Json number(double x) { return std::isfinite(x) ? Json(x) : Json(nullptr); }

class SeasonJson {
 public:
  explicit SeasonJson(const SeasonReport& report) : report_(report) {}

  [[nodiscard]] Json object() {
    Json out;
    out["schema"] = "telltale.season/1";
    out["store"] = report_.store;
    out["runs"] = report_.runs;
    out["units"] = Json::array();
    for (const UnitSeason& u : report_.units) out["units"].push_back(unit(u));
    out["book_first"] = Json::array();
    for (const Booking& booking : report_.bookings) {
      const UnitSeason& u = report_.units[booking.unit];
      out["book_first"].push_back(
          {{"unit", u.name}, {"finding", booking.finding}});
    }
    return out;
  }

 private:
  [[nodiscard]] Json time(TimeMs at) const {
    return is_set(at) ? Json(iso_text(at, utc_)) : Json(nullptr);
  }

  Json unit(const UnitSeason& u) {
    utc_ = u.zone_known;
    Json out;
    out["unit"] = u.name;
    out["model"] = u.model.empty() ? Json(nullptr) : Json(u.model);
    out["peers"] = u.group.empty() ? Json(nullptr) : Json(u.group);
    out["hours"] = u.hours;
    out["hours_by"] = u.metered ? "meter" : "runs";
    out["runs"] = u.runs;
    out["undated_runs"] = u.undated;
    out["first"] = time(u.first);
    out["last"] = time(u.last);
    out["verdict"] = telltale::name_of(u.verdict());
    const Habits& h = u.habits;
    out["habits"] = {{"running_h", h.hours},
                     {"hours_per_month", number(h.hours_per_month)},
                     {"median_run_h", number(h.median_run_h)},
                     {"light_load_pct", number(h.light_share)},
                     {"short_runs", h.short_runs},
                     {"runs_from_start_to_stop", h.seen_runs},
                     {"starts", h.starts_seen},
                     {"starts_with_more_than_one_crank", h.starts_with_trouble},
                     {"stops_under_load", h.stops_under_load},
                     {"abrupt_stops", h.abrupt_stops}};
    out["figures"] = Json::array();
    for (const FigureFollow& f : u.figures) out["figures"].push_back(figure(f));
    out["findings"] = Json::array();
    for (const SeasonFinding& f : u.findings) {
      out["findings"].push_back(finding(f, u));
    }
    out["service"] = Json::array();
    for (const ServiceStanding& item : u.service) {
      out["service"].push_back(service(item));
    }
    return out;
  }

  [[nodiscard]] static Json reference(const FigureFollow& f) {
    Json out = Json::object();
    const auto add = [&out](const char* name, double x) {
      if (std::isfinite(x)) out[name] = x;
    };
    add("load_pct", f.reference.load_pct);
    add("oil_degc", f.reference.oil_degc);
    add("coolant_degc", f.reference.coolant_degc);
    add("raw_water_degc", f.reference.water_degc);
    add("ambient_degc", f.reference.air_degc);
    add("engine_before_start_degc", f.reference.start_degc);
    return out;
  }

  [[nodiscard]] Json figure(const FigureFollow& f) const {
    const FigureInfo& info = info_of(f.kind);
    Json out;
    out["figure"] = info.slug;
    out["unit"] = telltale::host::name_of(as_log_unit(info.unit));
    out["basis"] = name_of(f.basis);
    out["reference"] = reference(f);
    out["corrected"] = f.corrected;
    out["runs"] = f.runs;
    out["latest"] = number(f.latest.value);
    out["latest_low"] = number(f.latest.low);
    out["latest_high"] = number(f.latest.high);
    out["last_run"] = number(f.last_run);
    out["trend"] = trend(f);
    if (!f.why_not.empty()) out["why_no_trend"] = f.why_not;
    const bool ahead = f.forecast.state == Forecast::State::ahead;
    out["forecast"] = {
        {"limit", number(f.forecast.limit)},
        {"hours", ahead ? number(f.forecast.hours) : Json(nullptr)},
        {"low", number(f.forecast.low)},
        {"high", number(f.forecast.high)},
        {"state", name_of(f.forecast.state)}};
    out["changes"] = Json::array();
    for (const LevelChange& c : f.changes) {
      out["changes"].push_back({{"at", time(c.at)},
                                {"before", number(c.before)},
                                {"after", number(c.after)},
                                {"hours", c.hours},
                                {"run", c.run + 1},
                                {"p", c.p}});
    }
    out["peers"] = nullptr;
    if (f.peers.known) {
      out["peers"] = {
          {"z", number(f.peers.z)}, {"rank", f.peers.rank},
          {"of", f.peers.of},       {"median", number(f.peers.peers)},
          {"p", f.peers.p},         {"stands_out", f.peers.stands_out}};
    }
    return out;
  }
  [[nodiscard]] Json trend(const FigureFollow& f) const {
    if (!f.has_trend) return nullptr;
    return {{"slope_per_100h", 100.0 * f.slope_h},
            {"low", 100.0 * f.slope_low},
            {"high", 100.0 * f.slope_high},
            {"p", f.p},
            {"slope_per_month", number(f.slope_month)},
            {"month_low", number(f.slope_month_low)},
            {"month_high", number(f.slope_month_high)},
            {"autocorrelation", f.correlation},
            {"from", time(f.points[f.trend_from].at)},
            {"runs", f.points.size() - f.trend_from},
            {"certain", f.certain && f.worthwhile}};
  }

  [[nodiscard]] Json finding(const SeasonFinding& f,
                             const UnitSeason& u) const {
    const FigureText text(UnitSystem::metric, u);
    Json out;
    out["kind"] = name_of(f.kind);
    out["severity"] = telltale::name_of(f.severity);
    out["about"] = f.about;
    out["summary"] = summary_of(f, u, text);
    out["evidence"] = evidence_of(f, u, text);
    out["causes"] = f.causes;
    out["next"] = f.next;
    out["since"] = time(f.since);
    out["within_h"] = number(f.within_h);
    return out;
  }

  [[nodiscard]] Json service(const ServiceStanding& item) const {
    return {
        {"item", item.item},
        {"severity", telltale::name_of(item.severity)},
        {"due_at_h", number(item.due_at_h)},
        {"left_h", number(item.left_h)},
        {"due_on",
         is_set(item.due_on) ? Json(date_text(item.due_on)) : Json(nullptr)},
        {"left_days", number(item.left_days)},
        {"expected_on", is_set(item.expected) ? Json(date_text(item.expected))
                                              : Json(nullptr)}};
  }

  const SeasonReport& report_;
  bool utc_ = false;
};

}  // namespace

void write_season_json(const SeasonReport& report, fmt::memory_buffer& out) {
  const std::string text = SeasonJson(report).object().dump(
      2, ' ', false, Json::error_handler_t::replace);
  out.append(text.data(), text.data() + text.size());
  out.push_back('\n');
}

}  // namespace telltale::host::season
