#include "session/blind_text.hpp"

#include <fmt/format.h>

namespace telltale::host {
namespace {

std::string names(ChannelMask channels, std::string_view joint) {
  std::string out;
  for (const ChannelInfo& info : kChannels) {
    if ((channels & bit(info.channel)) == 0) continue;
    if (!out.empty()) out += joint;
    out += info.slug;
  }
  return out;
}

}  // namespace

std::string blind_text(Blind why, const CheckInfo& check, ChannelMask present,
                       double interval_s) {
  switch (why) {
    case Blind::none:
      return "";
    case Blind::no_channel: {
      const ChannelMask lacking = check.needs & ~present;
      return "no such channel: " + (lacking != 0
                                        ? names(lacking, ", ")
                                        : names(check.needs_one, " or "));
    }
    case Blind::no_reading:
      return "no usable reading in this run";
    case Blind::no_rating:
      return "no rating";
    case Blind::no_load_reading:
      return "nothing tells the load";
    case Blind::no_nominal:
      return "nominal figures neither given nor clear from the log";
    case Blind::not_this_kind:
      return "does not apply to this kind of set";
    case Blind::interval_too_long:
      return fmt::format("not observable at this interval ({:.3g} s)",
                         interval_s);
    case Blind::start_not_seen:
      return "the start is not in the log";
    case Blind::stop_not_seen:
      return "the stop is not in the log";
    case Blind::rest_not_seen:
      return "too little rest before the start";
    case Blind::never_steady:
      return "no steady running long enough";
    case Blind::never_settled:
      return "load and temperatures never held still long enough";
    case Blind::never_on_load:
      return "not long enough on load";
    case Blind::too_short:
      return "the run is too short";
    case Blind::no_baseline:
      return "the first third of the run was too short, or still too cool, to "
             "compare with";
    case Blind::load_too_uniform:
      return "the load covers less than 40 % of the rating";
    case Blind::no_step:
      return "no single load step of the size it needs";
    case Blind::nothing_due:
      return "no service in the profile";
    case Blind::no_alarm_column:
      return "no alarm column";
  }
  return "";
}

}  // namespace telltale::host
