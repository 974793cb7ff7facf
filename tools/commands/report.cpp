// telltale report LOG... [--html FILE] [--json FILE] [--csv FILE] [options]
//
// The health report of every run in the logs: text on the terminal, other
// formats besides. Logs are held in bounded memory, however long they are.
#include "commands/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <deque>
#include <future>
#include <memory>
#include <optional>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "report/csv_writer.hpp"
#include "report/html/html_writer.hpp"
#include "report/json_writer.hpp"
#include "report/text_writer.hpp"
#include "season/report_past.hpp"
#include "session/session.hpp"
#include "support/exit_codes.hpp"
#include "support/options.hpp"
#include "support/output.hpp"

namespace telltale::tool {
namespace {

struct ReportOptions {
  CommonOptions common;
  std::vector<std::string> logs;
  std::string html;
  std::string json;
  std::string csv;
  std::string rejects;
  std::string store;
};

std::string_view view(const fmt::memory_buffer& buffer) {
  return {buffer.data(), buffer.size()};
}

class ReportCommand {
 public:
  explicit ReportCommand(const ReportOptions& options) : options_(options) {}

  int run() {
    host::Result<host::ReadOptions> read = read_options(options_.common);
    if (!read) return fail(read.error());
    host::Result<host::ProfileFile> profile = profile_of(options_.common);
    if (!profile) return fail(profile.error());
    if (const auto error = outputs_are_safe()) return fail(*error);
    session_.read = *read;
    session_.read.rejects_path = options_.rejects;
    session_.profile = *profile;
    session_.unit = options_.common.unit;
    if (!options_.csv.empty()) host::write_csv_header(csv_);
    if (!options_.html.empty()) {
      session_.pictures = &pictures_;
      session_.alarms = true;
    }
    if (may_go_side_by_side()) {
      examine_side_by_side();
    } else {
      for (const std::string& log : options_.logs) take(log, examine(log));
    }
    finish();
    return failed_ ? kCouldNotDo : found_ ? kSomethingFound : kNothingFound;
  }

 private:
  static int fail(const host::Error& error) {
    complain(error);
    return kCouldNotDo;
  }
  /// A slip of the hand must not write a report over a log.
  [[nodiscard]] std::optional<host::Error> outputs_are_safe() const {
    int on_stdout = 0;
    for (const std::string* out :
         {&options_.html, &options_.json, &options_.csv, &options_.rejects}) {
      if (*out == "-") ++on_stdout;
      if (out->empty() || *out == "-") continue;
      if (auto error = would_overwrite(*out, options_.logs)) return error;
    }
    if (on_stdout > 1) {
      return host::Error{"only one format can go to standard output", "",
                         "name files for the others"};
    }
    return {};
  }
  [[nodiscard]] bool text_wanted() const {
    return !options_.common.quiet && options_.html != "-" &&
           options_.json != "-" && options_.csv != "-";
  }

  using Examined = host::Result<host::HealthReport>;

  [[nodiscard]] Examined examine(const std::string& log,
                                 const host::SessionOptions& session) const {
    return options_.store.empty() ? host::examine(log, session)
                                  : host::season::examine_beside_past(
                                        log, session, options_.store);
  }
  [[nodiscard]] Examined examine(const std::string& log) const {
    ProgressBar bar(log, options_.common.quiet);
    host::SessionOptions session = session_;
    session.progress = [&bar](double share) { bar.show(share); };
    return examine(log, session);
  }
  /// Several logs, and none of them shares anything with another.
  [[nodiscard]] bool may_go_side_by_side() const {
    return options_.logs.size() > 1 &&
           std::thread::hardware_concurrency() > 1 && options_.html.empty() &&
           options_.rejects.empty();
  }
  /// As many at a time as there are cores; told of in their order.
  void examine_side_by_side() {
    host::SessionOptions session = session_;
    session.threads = host::Threads::one;
    const std::vector<std::string>& logs = options_.logs;
    std::deque<std::future<Examined>> ahead;
    std::size_t begun = 0;
    ProgressBar bar("logs", options_.common.quiet || text_wanted());
    for (std::size_t i = 0; i < logs.size(); ++i) {
      while (begun < logs.size() &&
             ahead.size() < std::thread::hardware_concurrency()) {
        ahead.push_back(host::beside(host::Threads::more,
                                     [this, &session, &log = logs[begun]] {
                                       return examine(log, session);
                                     }));
        ++begun;
      }
      Examined report = ahead.front().get();
      ahead.pop_front();
      take(logs[i], std::move(report));
      bar.show(static_cast<double>(i + 1) / static_cast<double>(logs.size()));
    }
  }
  void take(const std::string& log, Examined report) {
    if (!report) {
      complain(report.error());
      failed_ = true;
      return;
    }
    if (report->tally.rows == 0) {
      complain(host::Error{"not one usable row", log,
                           "see telltale columns for how it was read"});
      failed_ = true;
      return;
    }
    if (options_.common.fail_on &&
        report->verdict() >= *options_.common.fail_on) {
      found_ = true;
    }
    if (text_wanted()) text(*report);
    if (!report->shows_running) {
      complain(host::Error{
          "no column tells whether the engine turns: no run can be judged", log,
          "name its speed, frequency or volts in a map; telltale columns "
          "--save-map writes one"});
      failed_ = true;
    }
    if (!options_.json.empty()) put_json(*report);
    if (!options_.csv.empty()) host::write_csv_runs(*report, csv_);
    if (!options_.html.empty()) reports_.push_back(std::move(*report));
  }
  void text(const host::HealthReport& report) {
    fmt::memory_buffer page;
    if (pages_++ > 0) page.push_back('\n');
    host::write_text(
        report, {options_.common.units, colour_wanted(options_.common)}, page);
    check(write_output("-", view(page)));
  }

  /// One log gives an object, several give an array of them.
  [[nodiscard]] bool json_is_array() const { return options_.logs.size() > 1; }
  void put_json(const host::HealthReport& report) {
    const bool first = !json_;
    if (first) json_.emplace(options_.json);
    if (json_is_array()) json_->put(first ? "[\n" : ",\n");
    host::write_json(
        report, [this](std::string_view text) { json_->put(text); },
        json_is_array() ? host::Threads::one : host::Threads::more);
  }
  void finish() {
    if (json_is_array() && !options_.json.empty()) {
      const bool empty = !json_;
      if (empty) json_.emplace(options_.json);
      json_->put(empty ? "[\n]\n" : "]\n");
    }
    if (json_) check(json_->commit());
    if (!options_.csv.empty()) check(write_output(options_.csv, view(csv_)));
    if (!reports_.empty()) {
      fmt::memory_buffer page;
      host::write_html(reports_, options_.common.units, page);
      check(write_output(options_.html, view(page)));
    }
  }
  void check(const std::optional<host::Error>& error) {
    if (!error) return;
    complain(*error);
    failed_ = true;
  }

  const ReportOptions& options_;
  host::SessionOptions session_;
  host::PictureStore pictures_;
  std::vector<host::HealthReport> reports_;  // for the HTML file
  std::optional<OutputFile> json_;
  fmt::memory_buffer csv_;
  int pages_ = 0;
  bool failed_ = false;
  bool found_ = false;
};

}  // namespace

void add_report(CLI::App& program, int& exit_code) {
  CLI::App* command = program.add_subcommand(
      "report", "the health report of every run in the logs");
  auto options = std::make_shared<ReportOptions>();
  command->add_option("LOG", options->logs, "logs; - is standard input")
      ->required();
  command
      ->add_option("--html", options->html,
                   "write the report with pictures, one file for all logs")
      ->type_name("FILE");
  command
      ->add_option("--json", options->json,
                   "write the report as JSON; - is standard output")
      ->type_name("FILE");
  command->add_option("--csv", options->csv, "write one line a run as CSV")
      ->type_name("FILE");
  command
      ->add_option("--rejects", options->rejects,
                   "keep every line that could not be read, byte for byte")
      ->type_name("FILE");
  command
      ->add_option("--store", options->store,
                   "set each run beside the set's earlier runs in this store "
                   "of telltale season")
      ->type_name("FILE");
  declare_reading(*command, options->common);
  declare_judging(*command, options->common);
  command->callback(
      [options, &exit_code] { exit_code = ReportCommand(*options).run(); });
}

}  // namespace telltale::tool
