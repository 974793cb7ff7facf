// LiveLog: a log that is still being written, from bytes to findings.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ingest/log_stream.hpp"
#include "profile/profile_file.hpp"
#include "support/result.hpp"
#include "watch/live_unit.hpp"

namespace telltale::host {

struct LiveOptions {
  ReadOptions read;
  ProfileFile profile;
  /// --unit: the only unit to watch, or the name of the set where the log has
  /// no unit column.
  std::string unit;
};

/// Understands the log from its first lines and watches every set in it. The
/// memory it takes does not grow with the log.
class LiveLog {
 public:
  using Writer = std::function<void(const std::string& line)>;

  /// Lines of JSON go to `write` the moment something happens.
  LiveLog(std::string name, LiveOptions options, Writer write);

  /// More bytes, cut anywhere. An Error: the log can't be understood.
  std::optional<Error> feed(std::string_view bytes);
  /// No bytes came for a while: what is there must do.
  std::optional<Error> idle();
  /// What follows begins a file anew: another one after rotation, or the same
  /// one cut short.
  std::optional<Error> restart();
  /// No more bytes. `ends_runs`: nor will there be after a restart.
  std::optional<Error> finish(bool ends_runs);

  /// The last line: what the watching came to.
  [[nodiscard]] std::string summary() const;
  /// Highest severity told.
  [[nodiscard]] Severity verdict() const;
  [[nodiscard]] std::uint64_t rows() const;

  /// Everything that must survive a restart of the program.
  [[nodiscard]] std::string state() const;
  /// An Error where it is damaged or of another build; nothing is taken then.
  std::optional<Error> take_state(std::string_view bytes);

 private:
  std::optional<Error> try_to_understand(bool now);
  std::optional<Error> drain();
  LiveUnit* unit_of(const Row& row);
  [[nodiscard]] std::vector<const LiveUnit*> units() const;

  std::string name_;
  LiveOptions options_;
  Writer write_;
  std::string pending_;  // until the log is understood
  std::size_t lines_wanted_ = 0;
  std::optional<LogStream> stream_;
  LogLayout layout_;
  std::map<std::string, std::unique_ptr<LiveUnit>> units_;
  std::map<std::string, std::string> saved_;  // of units not yet seen
  std::uint64_t rejected_before_ = 0;         // in files rotated away
};

}  // namespace telltale::host
