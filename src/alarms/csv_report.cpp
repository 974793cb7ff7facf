// One line an alarm.
#include "alarms/csv_report.hpp"

#include <cmath>
#include <iterator>
#include <string>

#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

std::string figure(double value) {
  return std::isfinite(value) ? fmt::format("{:.6g}", value) : std::string();
}

}  // namespace

void write_alarm_csv(const AlarmReport& report, fmt::memory_buffer& out) {
  const auto append = [&out](std::string_view text) {
    out.append(text.data(), text.data() + text.size());
  };
  append(
      "file,unit,alarm,text,priority,role,raises,share,per_day,per_10min,"
      "standing_s,longest_s,median_s,stale,fleeting,chatter_index,"
      "chatter_index_60,chatters_by_index,chatters_by_screen,stands_at_end,"
      "in_bursts,first_out,first,last,on_delay_s,off_delay_s,deadband,"
      "raises_left,worst_delay_s\r\n");
  for (const AlarmFigures& f : report.alarms) {
    const AlarmName& n = report.name(f.alarm);
    append(fmt::format("{},{},{},{},{},{},{},{}", csv_cell(report.layout.file),
                       csv_cell(n.unit), csv_cell(n.name), csv_cell(n.text),
                       csv_cell(n.priority),
                       n.role == AlarmRole::shutdown ? "shutdown" : "warning",
                       f.raises, figure(f.share)));
    for (const double value :
         {f.per_day, f.per_10min, f.standing_s, f.longest_s, f.median_s}) {
      append("," + figure(value));
    }
    append(fmt::format(
        ",{},{},{},{},{},{},{},{},{},{},{}", f.stale, f.fleeting,
        figure(f.chatter_index), figure(f.chatter_index_60),
        f.chatters_by_index, f.chatters_by_screen, f.stands_at_end,
        f.part.in_bursts, f.part.first,
        is_set(f.first.logged) ? format_time(f.first.logged, report.layout)
                               : std::string(),
        is_set(f.last.logged) ? format_time(f.last.logged, report.layout)
                              : std::string()));
    if (f.cure && f.cure->proposal) {
      const CureOutcome& o = f.cure->outcomes[*f.cure->proposal];
      append(fmt::format(",{},{},{},{},{}\r\n", figure(o.setting.on_delay_s),
                         figure(o.setting.off_delay_s),
                         figure(o.setting.deadband), o.raises,
                         figure(o.worst_delay_s)));
    } else {
      append(",,,,,\r\n");
    }
  }
}

}  // namespace telltale::host
