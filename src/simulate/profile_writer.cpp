// Keys and spellings are those of the contract's section 5.
#include "simulate/profile_writer.hpp"

#include <fmt/format.h>

#include <iterator>

namespace telltale::host::sim {

std::string write_profile(const SetSpec& set) {
  const Rating& r = set.rating;
  std::string out;
  const auto line = [&out]<class... Args>(fmt::format_string<Args...> text,
                                          Args&&... args) {
    fmt::format_to(std::back_inserter(out), text, std::forward<Args>(args)...);
    out += '\n';
  };
  line("[unit]");
  line("name = \"{}\"", set.name);
  line("");
  line("[rating]");
  line("frequency_hz = {}", r.frequency_hz);
  line("poles = {}", r.poles);
  line("power_kw = {:.2f}", r.power_kw);
  line("voltage_v = {}", r.voltage_v);
  line("legs = {}", r.legs);
  line("power_factor = {:.2f}", r.power_factor);
  line("battery_v = {}", r.battery_v);
  line("generator = \"{}\"", r.asynchronous ? "asynchronous" : "synchronous");
  line("winding_class = \"{}\"", r.winding_class);
  line("class = \"G{}\"", r.performance_class);
  line("cooling = \"{}\"",
       r.cooling == Cooling::sea_water ? "sea water" : "fresh water");
  line("exhaust = \"{}\"", r.exhaust == Exhaust::dry ? "dry" : "wet");
  if (set.service.empty()) return out;
  line("");
  line("[service]");
  for (const ServiceItem& item : set.service) {
    std::string done_on;
    if (!item.done_on.empty()) done_on = ", done_on = " + item.done_on;
    line("{} = {{ every_h = {}, every_months = {}, done_h = {:.1f}{} }}",
         item.name, item.every_h, item.every_months, item.done_h, done_on);
  }
  return out;
}

}  // namespace telltale::host::sim
