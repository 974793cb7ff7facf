// telltale-pack LOG [PROFILE] > packed.log: a log as a box would be told it.
#include <cstdio>
#include <limits>
#include <string>

#include "ingest/log.hpp"
#include "packed_log.hpp"
#include "profile/inference.hpp"
#include "profile/profile_file.hpp"

namespace host = telltale::host;

namespace {

int fail(const host::Error& error) {
  std::fprintf(stderr, "telltale-pack: %s\n", error.line().c_str());
  return 2;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) return fail({"which log?", "", "name one"});
  const auto log = host::Log::open(argv[1], {});
  if (!log) return fail(log.error());
  host::ProfileFile file;
  if (argc > 2) {
    auto read = host::read_profile(argv[2]);
    if (!read) return fail(read.error());
    file = *read;
  }
  host::Inference inference;
  host::Row row;
  auto first_pass = log->rows();
  if (!first_pass) return fail(first_pass.error());
  while (first_pass->next(row)) {
    if (row.unit == 0) inference.add(row);
  }
  std::vector<std::string> told;
  const telltale::Profile profile = inference.complete(file, told);
  telltale::replay::Plate plate;
  plate.rating = profile.rating;
  plate.load_scale_kw = profile.load_scale_kw;
  if (log->layout().interval_s > 0) {
    plate.interval_s = static_cast<float>(log->layout().interval_s);
  }
  plate.wall_clock = log->layout().elapsed ? 0 : 1;
  telltale::replay::put(stdout, plate);
  auto rows = log->rows();
  if (!rows) return fail(rows.error());
  telltale::TimeMs last_at = telltale::kNoTime;
  telltale::TimeMs last_logged = telltale::kNoTime;
  while (rows->next(row)) {
    if (row.unit != 0) continue;
    telltale::replay::Sample s;
    s.at = row.at.ms;
    s.present = row.present;
    s.blank = row.blank;
    s.alarms = row.alarms;
    s.state = static_cast<std::uint8_t>(row.state);
    s.clock = static_cast<std::uint8_t>(row.clock);
    if (row.clock != host::ClockEvent::none && is_set(last_at)) {
      s.jump = static_cast<std::int32_t>(
          ((row.logged - last_logged) - (row.at - last_at)).ms);
    }
    for (std::size_t i = 0; i < telltale::kChannelCount; ++i) {
      s.value[i] = static_cast<float>(row.value[i]);
    }
    last_at = row.at;
    last_logged = row.logged;
    telltale::replay::put_sample(stdout, s);
  }
  return 0;
}
