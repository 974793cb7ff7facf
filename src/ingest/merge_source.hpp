// Several passes over one log, merged by time.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "ingest/row_source.hpp"

namespace telltale::host {

/// For tables whose rows are not in order of time by themselves: groups of
/// columns with times of their own (rates may differ, so that one group ends
/// long before another), and tall tables sorted by name; and for several sets
/// side by side. Every part is read by a pass of its own; readings of equal
/// stamps and sets make one row. Lines are booked by one more pass at the end.
class MergeSource final : public RowSource {
 public:
  MergeSource(std::shared_ptr<const ByteStore> store, const Survey& survey,
              ChannelMask wanted, LineLedger& ledger);
  ~MergeSource() override;

  bool next(RawRow& raw) override;
  [[nodiscard]] const std::vector<std::string>& unit_names() const override;
  [[nodiscard]] const std::vector<std::string>& alarm_names() const override;
  [[nodiscard]] double progress() const override;
  [[nodiscard]] std::vector<std::string> notes() const override;

 private:
  struct Part {
    std::unique_ptr<RowSource> source;
    std::string set;  // of several side by side
    RawRow raw;
    bool live = false;
  };

  // Each part has a window of its own over the log: some 0.3 MB.
  static constexpr std::size_t kMostParts = 40;

  void add_groups(ChannelMask wanted);
  void add_readings(ChannelMask wanted);
  void add_sets(ChannelMask wanted);
  void add(const Survey& part, ChannelMask wanted, std::string set = "");
  AlarmMask alarms_of(const Part& part);
  static std::string name_of_unit(const Part& part);
  void book_lines();

  std::shared_ptr<const ByteStore> store_;
  Survey survey_;
  LineLedger* ledger_;
  LineLedger unbooked_;
  std::vector<Part> parts_;
  UnitNames units_;
  std::vector<std::string> alarm_names_;
  bool booked_ = false;
  bool left_out_ = false;
};

}  // namespace telltale::host
