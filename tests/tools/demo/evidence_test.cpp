// Every finding on every demo log: its evidence, worked out anew from the lines
// that it names.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "catch.hpp"
#include "checks/catalogue.hpp"
#include "demo/demo_logs.hpp"
#include "ingest/log.hpp"

namespace telltale::tool {
namespace {

const std::string kDatasets = TELLTALE_DATASETS;

/// A log's rows by their lines.
std::map<std::uint64_t, host::Row> rows_of(const DemoLog& log) {
  host::ReadOptions options;
  if (!log.map.empty()) options.map_path = kDatasets + "/" + log.map;
  const auto opened = host::Log::open(kDatasets + "/" + log.file, options);
  REQUIRE(opened);
  auto reader = opened->rows();
  REQUIRE(reader);
  std::map<std::uint64_t, host::Row> rows;
  host::Row row;
  while (reader->next(row)) rows.emplace(row.line, row);
  return rows;
}

struct Stretch {
  std::uint64_t readings = 0;
  double mean = 0.0;
};

Stretch stretch_of(const std::map<std::uint64_t, host::Row>& rows,
                   Channel channel, const host::Evidence& evidence) {
  const std::uint16_t unit = rows.at(evidence.from.line).unit;
  Stretch out;
  for (auto row = rows.find(evidence.from.line);
       row != rows.end() && row->first <= evidence.to.line; ++row) {
    const bool read = (row->second.present & bit(channel)) != 0;
    if (!read || row->second.unit != unit) continue;
    ++out.readings;
    out.mean += row->second.value[index_of(channel)];
  }
  if (out.readings > 0) out.mean /= static_cast<double>(out.readings);
  return out;
}

/// Checks the evidence of one finding; how much of it could be worked out.
int recompute(const host::FindingReport& finding,
              const std::map<std::uint64_t, host::Row>& rows) {
  const Channel channel = finding.finding.channel;
  if (channel == Channel::none) return 0;
  int recomputed = 0;
  for (const host::Evidence& evidence : finding.evidence) {
    INFO(evidence.label << " from line " << evidence.from.line);
    const bool extreme =
        evidence.label == "lowest" || evidence.label == "highest";
    if (!extreme && evidence.label != "mean") continue;
    const auto row = rows.find(evidence.from.line);
    REQUIRE(row != rows.end());
    CHECK(row->second.logged == evidence.from.logged);
    // A load that was derived from others has no column of its own.
    if ((row->second.present & bit(channel)) == 0) {
      CHECK((channel == Channel::load || channel == Channel::power));
      continue;
    }
    if (extreme) {
      CHECK(row->second.value[index_of(channel)] == Approx(evidence.value));
      ++recomputed;
      continue;
    }
    const Stretch stretch = stretch_of(rows, channel, evidence);
    // Readings that the data checks condemned are left out.
    CHECK(stretch.readings >= evidence.readings);
    if (stretch.readings != evidence.readings) continue;
    CHECK(stretch.mean == Approx(evidence.value));
    ++recomputed;
  }
  return recomputed;
}

TEST_CASE(
    "evidence can be worked out from the lines it names, for each check") {
  const auto logs = read_demo_logs(kDatasets);
  REQUIRE(logs);
  std::map<std::string, int> recomputed;
  std::set<std::string> without_channel;
  for (const DemoLog& log : *logs) {
    INFO(log.file);
    const auto report = report_on(log, kDatasets);
    REQUIRE(report);
    const auto rows = rows_of(log);
    const auto check_all = [&](const std::vector<host::FindingReport>& all) {
      for (const host::FindingReport& finding : all) {
        const std::string slug(finding.check->info->slug);
        INFO(slug);
        REQUIRE(rows.contains(finding.from.line));
        CHECK(rows.at(finding.from.line).logged == finding.from.logged);
        CHECK(finding.to.line >= finding.from.line);
        recomputed[slug] += recompute(finding, rows);
        if (finding.finding.channel == Channel::none) {
          without_channel.insert(slug);
        }
      }
    };
    check_all(report->findings);
    for (const host::RunReport& run : report->runs) check_all(run.findings);
  }
  for (const host::CheckCard& card : host::catalogue()) {
    const std::string slug(card.info->slug);
    INFO(slug);
    CHECK((recomputed[slug] > 0 || without_channel.contains(slug)));
  }
}

}  // namespace
}  // namespace telltale::tool
