// The alarm report as JSON.
#include "alarms/json_report.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "alarms/judgement.hpp"
#include "ingest/log_json.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

using Json = nlohmann::ordered_json;

Json number(double x) { return std::isfinite(x) ? Json(x) : Json(nullptr); }

class AlarmJson {
 public:
  explicit AlarmJson(const AlarmReport& report) : r_(report) {}

  [[nodiscard]] Json object() const {
    Json out;
    out["schema"] = "telltale.alarms/1";
    out["log"] = log();
    out["journal"] = journal();
    out["verdict"] = name_of(r_.verdict());
    out["findings"] = list(r_.findings, &AlarmJson::finding);
    out["measures"] = list(r_.measures, &AlarmJson::measure);
    out["alarms"] = list(r_.alarms, &AlarmJson::alarm);
    out["priorities"] = list(r_.priorities, &AlarmJson::priority);
    out["rate"] = rate();
    out["floods"] = floods();
    out["first_out"] = bursts();
    out["follows"] = list(r_.follows, &AlarmJson::follow);
    out["together"] = list(r_.company, &AlarmJson::company);
    return out;
  }

 private:
  template <class Items, class Member>
  [[nodiscard]] Json list(const Items& items, Member member) const {
    Json out = Json::array();
    for (const auto& item : items) out.push_back((this->*member)(item));
    return out;
  }

  [[nodiscard]] Json time(const EventPlace& place) const {
    return is_set(place.logged) ? Json(format_time(place.logged, r_.layout))
                                : Json(nullptr);
  }
  /// A time of the analysis clock as one of the log's, near a place.
  [[nodiscard]] Json time(TimeMs at, const EventPlace& near) const {
    return time(EventPlace{at, near.logged + (at - near.at), 0});
  }
  [[nodiscard]] Json name(std::uint32_t alarm) const {
    Json out;
    out["unit"] = r_.name(alarm).unit;
    out["alarm"] = r_.name(alarm).name;
    return out;
  }

  [[nodiscard]] Json log() const {
    LogExtent extent{r_.tally, {}, {}, r_.notes};
    if (r_.from) extent.first = r_.from->logged;
    if (r_.to) extent.last = r_.to->logged;
    return log_json(r_.layout, extent);
  }

  [[nodiscard]] Json journal() const {
    Json out;
    out["shape"] = name_of(r_.shape);
    out["clears_told"] = r_.clears_told;
    out["from"] = r_.from ? time(*r_.from) : Json(nullptr);
    out["to"] = r_.to ? time(*r_.to) : Json(nullptr);
    out["seconds"] = r_.span_s;
    out["events"] = r_.events;
    out["raises"] = r_.raises;
    out["messages"] = r_.messages;
    out["alarms"] = r_.alarms.size();
    out["units"] = r_.units;
    out["standing_at_end"] = r_.standing_at_end;
    out["mean_standing"] =
        number(r_.clears_told ? r_.mean_standing : kNotKnown);
    return out;
  }

  [[nodiscard]] Json finding(const AlarmFinding& f) const {
    Json out;
    out["check"] = f.check;
    out["severity"] = name_of(f.severity);
    if (f.alarm) {
      out.update(name(*f.alarm));
    } else {
      out["alarm"] = nullptr;
    }
    out["from"] = time(f.from);
    out["line"] = f.from.line;
    out["value"] = number(f.value);
    out["limit"] = number(f.limit);
    out["unit_of_value"] = f.unit;
    out["summary"] = f.summary;
    out["next"] = f.next;
    out["source"] = f.source;
    return out;
  }

  [[nodiscard]] Json measure(const Measure& m) const {
    Json out;
    out["measure"] = m.id;
    out["title"] = m.title;
    out["value"] = number(m.value);
    out["unit"] = m.unit.empty() ? "1" : m.unit;
    out["acceptable"] = number(m.acceptable);
    out["at_most"] = number(m.at_most);
    out["source"] = m.source;
    out["meant_for"] = m.meant_for;
    return out;
  }

  [[nodiscard]] Json alarm(const AlarmFigures& f) const {
    const AlarmName& n = r_.name(f.alarm);
    Json out = name(f.alarm);
    out["text"] = n.text;
    out["priority"] = n.priority;
    out["role"] = n.role == AlarmRole::shutdown ? "shutdown" : "warning";
    out["raises"] = f.raises;
    out["repeats"] = f.repeats;
    out["clears"] = f.clears;
    out["stray_clears"] = f.stray_clears;
    out["acknowledgements"] = f.acknowledgements;
    out["mean_acknowledge_s"] = number(f.mean_acknowledge_s);
    out["share"] = number(f.share);
    out["per_day"] = number(f.per_day);
    out["per_10min"] = number(f.per_10min);
    out["standing_s"] = number(f.standing_s);
    out["standing_share"] = number(f.standing_share);
    out["longest_s"] = number(f.longest_s);
    out["median_s"] = number(f.median_s);
    out["stood_before"] = f.stood_before;
    out["stands_at_end"] = f.stands_at_end;
    out["stale"] = f.stale;
    out["fleeting"] = f.fleeting;
    out["chatter_index"] = number(f.chatter_index);
    out["chatter_index_60"] = number(f.chatter_index_60);
    out["chatters_by_index"] = f.chatters_by_index;
    out["chatters_by_screen"] = f.chatters_by_screen;
    out["screen_hits"] = f.screen_hits;
    out["screen_bursts"] = f.screen_bursts;
    out["raises_within_60s"] = f.chatter_raises;
    out["first"] = time(f.first);
    out["last"] = time(f.last);
    out["in_bursts"] = f.part.in_bursts;
    out["first_out"] = f.part.first;
    out["first_out_tied"] = f.part.first_tied;
    out["time_to_shutdown_s"] = number(f.part.time_to_act_s);
    out["cure"] = f.cure ? cure(*f.cure) : Json(nullptr);
    return out;
  }

  [[nodiscard]] static Json setting(const CureSetting& s) {
    Json out;
    out["on_delay_s"] = s.on_delay_s;
    out["off_delay_s"] = s.off_delay_s;
    out["deadband"] = s.deadband;
    return out;
  }

  [[nodiscard]] static Json cure(const Cure& c) {
    Json out;
    out["basis"] = c.basis == CureBasis::replay        ? "replay"
                   : c.basis == CureBasis::run_lengths ? "run lengths"
                                                       : "none";
    out["summary"] = cure_in_words(c);
    out["caution"] = c.basis == CureBasis::none ? kShutdownStays : kCureCaution;
    out["occurrences"] = c.occurrences;
    out["raises"] = c.raises;
    if (c.limit) {
      Json limit;
      limit["channel"] = info_of(c.limit->channel).slug;
      limit["unit"] = name_of(info_of(c.limit->channel).unit);
      limit["alarm"] = c.limit->above ? "above" : "below";
      limit["limit"] = c.limit->limit;
      limit["clears"] = c.limit->clears;
      limit["recorded"] = c.limit->recorded;
      limit["reproduced"] = c.limit->reproduced;
      out["channel"] = limit;
    } else {
      out["channel"] = nullptr;
    }
    out["proposal"] =
        c.proposal ? setting(c.outcomes[*c.proposal].setting) : Json(nullptr);
    out["outcomes"] = Json::array();
    for (const CureOutcome& o : c.outcomes) {
      Json one = setting(o.setting);
      one["raises"] = o.raises;
      one["chatters"] = o.chatters;
      one["chatter_index"] = number(o.index);
      one["told"] = o.told;
      one["delayed"] = o.delayed;
      one["missed"] = o.missed;
      one["longest_missed_s"] = o.longest_missed_s;
      one["mean_delay_s"] = o.mean_delay_s;
      one["worst_delay_s"] = o.worst_delay_s;
      one["standing_s"] = o.standing_s;
      one["barred"] = o.barred.empty() ? Json(nullptr) : Json(o.barred);
      out["outcomes"].push_back(one);
    }
    return out;
  }

  [[nodiscard]] Json priority(const PriorityShare& p) const {
    Json out;
    out["priority"] = p.priority;
    out["raises"] = p.raises;
    out["alarms"] = p.alarms;
    out["share"] = r_.raises == 0 ? Json(nullptr)
                                  : Json(static_cast<double>(p.raises) /
                                         static_cast<double>(r_.raises));
    return out;
  }

  [[nodiscard]] Json rate() const {
    Json out;
    out["bin_s"] = static_cast<double>(r_.counts.bin_length().ms) / 1000.0;
    out["from"] =
        r_.from ? time(r_.counts.bins_from(), *r_.from) : Json(nullptr);
    out["raises"] = Json::array();
    out["most_in_10min"] = Json::array();
    for (const IntervalCounts::Bin& bin : r_.counts.bins()) {
      out["raises"].push_back(bin.raises);
      out["most_in_10min"].push_back(bin.most);
    }
    return out;
  }

  [[nodiscard]] Json floods() const {
    Json out;
    out["count"] = r_.flood_count;
    out["seconds"] = r_.flood_s;
    out["peak_10min"] = r_.flood_peak;
    out["list"] = Json::array();
    for (const Flood& f : r_.floods) {
      Json one;
      one["from"] = time(f.from);
      one["line"] = f.from.line;
      one["to"] = time(f.to, f.from);
      one["open"] = f.open;
      one["seconds"] = f.seconds();
      one["raises"] = f.raises;
      one["alarms"] = f.distinct;
      one["peak_10min"] = f.peak;
      one["first"] = name(f.first_alarm);
      one["most_frequent"] = name(f.top_alarm);
      out["list"].push_back(one);
    }
    return out;
  }

  [[nodiscard]] Json bursts() const {
    Json out;
    out["bursts"] = r_.burst_count;
    out["largest"] = Json::array();
    for (const Burst& b : r_.bursts) {
      Json one;
      one["from"] = time(b.from);
      one["line"] = b.from.line;
      one["alarms"] = b.distinct;
      one["seconds"] = b.seconds;
      one["tied"] = b.tied;
      one["members"] = Json::array();
      for (const Burst::Member& m : b.members) {
        Json member = name(m.alarm);
        member["after_s"] = m.after_s;
        one["members"].push_back(member);
      }
      out["largest"].push_back(one);
    }
    return out;
  }

  [[nodiscard]] Json follow(const Follow& f) const {
    Json out;
    out["first"] = name(f.first);
    out["then"] = name(f.then);
    out["times"] = f.times;
    out["of"] = f.of;
    out["mean_lag_s"] = f.mean_lag_s;
    out["least_lag_s"] = f.least_lag_s;
    out["most_lag_s"] = f.most_lag_s;
    return out;
  }

  [[nodiscard]] Json company(const Company& c) const {
    Json out;
    out["alarms"] = Json::array();
    for (const std::uint32_t alarm : c.alarms) {
      out["alarms"].push_back(name(alarm));
    }
    out["times"] = c.times;
    out["always"] = c.always;
    return out;
  }

  const AlarmReport& r_;
};

}  // namespace

void write_alarm_json(const AlarmReport& report, fmt::memory_buffer& out) {
  const std::string text = AlarmJson(report).object().dump(
                               2, ' ', false, Json::error_handler_t::replace) +
                           "\n";
  out.append(text.data(), text.data() + text.size());
}

}  // namespace telltale::host
