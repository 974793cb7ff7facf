// Rows of a wide table: one record, one row.
#pragma once

#include <cstdint>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "ingest/record_reader.hpp"
#include "ingest/row_source.hpp"

namespace telltale::host {

class WideSource final : public RowSource {
 public:
  WideSource(std::shared_ptr<const ByteStore> store, const Survey& survey,
             RowChoice wanted, LineLedger& ledger);

  bool next(RawRow& raw) override;
  [[nodiscard]] const std::vector<std::string>& unit_names() const override {
    return decoder_.unit_names();
  }
  [[nodiscard]] const std::vector<std::string>& alarm_names() const override {
    return decoder_.alarm_names();
  }
  [[nodiscard]] double progress() const override { return reader_.progress(); }
  [[nodiscard]] std::vector<std::string> notes() const override;

 private:
  void pass_over();

  std::shared_ptr<const ByteStore> store_;
  RecordReader reader_;
  RowDecoder decoder_;
  std::uint32_t one_of_;
  std::minstd_rand chance_;  // the same in every run
};

}  // namespace telltale::host
