// How fast logs are read, beside a bare loop of the libraries underneath.
//
//   read_bench [FILE] [ROUNDS]
//
// Without a file one of a million rows is made in the temporary folder: ISO
// stamps and 13 numbers. Both loops take turns; medians are printed.
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "bare_loop.hpp"
#include "ingest/log.hpp"
#include "support/civil_time.hpp"

namespace {

using Clock = std::chrono::steady_clock;
using namespace telltale;
using namespace telltale::host;
using telltale::bench::bare_loop;

void write_sample(const std::string& path, std::size_t rows) {
  std::FILE* file = std::fopen(path.c_str(), "wb");
  if (file == nullptr) std::exit(2);
  fmt::print(file,
             "time,rpm,freq_hz,volts_l1,volts_l2,volts_line_v,amps_l1,amps_l2,"
             "kw,oil_press_kpa,coolant_c,exhaust_c,batt_v,engine_hours\n");
  LogLayout layout;
  for (std::size_t i = 0; i < rows; ++i) {
    const auto ms = static_cast<std::int64_t>(1780300800000 + i * 1000);
    const double x = static_cast<double>(i);
    const double w = std::sin(x / 7) + std::sin(x / 31);
    fmt::print(file,
               "{},{:.0f},{:.2f},{:.1f},{:.1f},{:.1f},{:.1f},{:.1f},{:.2f},"
               "{:.0f},{:.1f},{:.1f},{:.2f},{:.1f}\n",
               format_time(TimeMs{ms}, layout), 3600 + 4 * w, 60 + 0.1 * w,
               120 + w, 120 - w, 240 + w, 20 + w, 18 - w, 4.6 + 0.1 * w,
               330 + 3 * w, 82 + 0.3 * w, 60 + 0.5 * w, 13.8 + 0.02 * w,
               1234.5 + x / 3600);
  }
  std::fclose(file);
}

// All rows; the sum of engine speeds, or of all readings where `all` says so.
double read_rows(const std::string& path, ChannelMask wanted, bool all) {
  auto log = Log::open(path, {});
  if (!log) {
    fmt::print(stderr, "{}\n", log.error().line());
    std::exit(2);
  }
  auto reader = log->rows(wanted);
  if (!reader) std::exit(2);
  Row row;
  double sum = 0;
  while (reader->next(row)) {
    sum += row.value[index_of(Channel::engine_speed)];
    if (!all) continue;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if (i != index_of(Channel::engine_speed) && !std::isnan(row.value[i])) {
        sum += row.value[i];
      }
    }
  }
  return sum;
}

template <class Function>
double milliseconds(Function function, double& sum) {
  const auto start = Clock::now();
  sum = function();
  return std::chrono::duration<double, std::milli>(Clock::now() - start)
      .count();
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

}  // namespace

int main(int argc, char** argv) {
  const bool made = argc < 2;
  std::string path;
  if (made) {
    const char* folder = std::getenv("TMPDIR");
    path = fmt::format("{}/telltale-read-bench-{}.csv",
                       folder != nullptr ? folder : "/tmp", ::getpid());
    write_sample(path, 1000000);
  } else {
    path = argv[1];
  }
  const int rounds = argc > 2 ? std::atoi(argv[2]) : 7;
  std::vector<double> bare;
  std::vector<double> rows;
  std::vector<double> few;
  double sum = 0;
  for (int i = 0; i < rounds; ++i) {
    bare.push_back(milliseconds([&] { return bare_loop(path); }, sum));
    rows.push_back(milliseconds(
        [&] { return read_rows(path, kEveryChannel, false); }, sum));
    few.push_back(milliseconds(
        [&] { return read_rows(path, bit(Channel::engine_speed), false); },
        sum));
  }
  // Both have read the same numbers.
  const double bare_sum = bare_loop(path);
  const double rows_sum = read_rows(path, kEveryChannel, true);
  if (made) ::unlink(path.c_str());
  fmt::print("bare loop        {:8.1f} ms\n", median(bare));
  fmt::print("rows             {:8.1f} ms   ratio {:.2f}\n", median(rows),
             median(rows) / median(bare));
  fmt::print("one channel only {:8.1f} ms   ratio {:.2f}\n", median(few),
             median(few) / median(bare));
  fmt::print("sums of readings {:.9g} and {:.9g}\n", bare_sum, rows_sum);
  return std::abs(bare_sum - rows_sum) > 1e-6 * std::abs(bare_sum) ? 1 : 0;
}
