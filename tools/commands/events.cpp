// telltale events FILE... [--json]
//
// Event records of a box (advise/event_record.hpp), in words or as lines of
// JSON.
#include "commands/events.hpp"

#include <algorithm>
#include <fstream>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "support/exit_codes.hpp"
#include "support/output.hpp"
#include "telltale/advise/event_record.hpp"
#include "watch/live_json.hpp"

namespace telltale::tool {
namespace {

struct EventsOptions {
  std::vector<std::string> files;
  bool json = false;
};

const char* why(RecordError error) {
  switch (error) {
    case RecordError::other_version:
      return "a record of another version";
    case RecordError::damaged:
      return "a damaged record";
    default:
      return "no record";
  }
}

/// Prints what can be read and says where the rest stands.
int one_file(const std::string& path, bool json) {
  std::ifstream opened;
  if (path != "-") {
    opened.open(path, std::ios::binary);
    if (!opened) {
      complain(host::Error{"can't be read", path, "check the name"});
      return kCouldNotDo;
    }
  }
  std::istream& in = path == "-" ? std::cin : opened;
  EventRecord::Bytes bytes{};
  EventRecord record;
  std::string out;
  std::uint64_t offset = 0;
  std::uint64_t good = 0;
  int exit_code = kNothingFound;
  while (in.read(reinterpret_cast<char*>(bytes.data()), bytes.size())) {
    const RecordError error = decode_event(bytes, record);
    if (error == RecordError::none) {
      out += json ? host::record_line(record) : host::record_text(record);
      ++good;
    } else if (error != RecordError::blank) {
      complain(fmt::format("{}, byte {}: {}", path, offset, why(error)));
    }
    offset += bytes.size();
  }
  if (in.gcount() > 0) {
    complain(fmt::format("{}, byte {}: cut short", path, offset));
  }
  if (good == 0) {
    complain(host::Error{"holds not one record", path,
                         "records are 32 bytes long, one after the other"});
    exit_code = kCouldNotDo;
  }
  if (const auto error = write_output("-", out)) {
    complain(*error);
    exit_code = kCouldNotDo;
  }
  return exit_code;
}

}  // namespace

void add_events(CLI::App& program, int& exit_code) {
  CLI::App* command = program.add_subcommand(
      "events", "event records of a box, in words or as JSON");
  auto options = std::make_shared<EventsOptions>();
  command->add_option("FILE", options->files, "records; - is standard input")
      ->required();
  command->add_flag("--json", options->json, "one JSON object a line");
  command->callback([options, &exit_code] {
    for (const std::string& file : options->files) {
      exit_code = std::max(exit_code, one_file(file, options->json));
    }
  });
}

}  // namespace telltale::tool
