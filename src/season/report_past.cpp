#include "season/report_past.hpp"

#include "season/content_id.hpp"
#include "season/digest_log.hpp"
#include "season/past.hpp"
#include "season/store.hpp"

namespace telltale::host::season {

Result<HealthReport> examine_beside_past(const std::string& path,
                                         const SessionOptions& options,
                                         const std::string& store) {
  Result<Store> opened = Store::open(store, Access::read);
  if (!opened) return opened.error();
  // Standard input can be read once only: such a log is known to no store.
  std::string id = "-";
  if (path != "-") {
    const Result<std::string> found = content_id(path);
    if (!found) return found.error();
    id = *found;
  }
  Result<OwnPast> past = OwnPast::load(*opened, id);
  if (!past) return past.error();
  SessionOptions with_line = options;
  with_line.own_oil_line = [&past](const std::string& unit) {
    return past->oil_line(unit);
  };
  Result<Digested> digested = digest_log(path, with_line, id);
  if (!digested) return digested.error();
  for (RunReport& run : digested->report.runs) {
    for (const RunDigest& digest : digested->digest.runs) {
      if (digest.unit != run.unit || digest.number != run.run) continue;
      run.past = past->beside(digest);
    }
  }
  return std::move(digested->report);
}

}  // namespace telltale::host::season
