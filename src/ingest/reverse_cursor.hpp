// Reads a log that has its newest row first, oldest first.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

#include "ingest/byte_store.hpp"

namespace telltale::host {

/// The store's first `head_bytes` (the header and what is above it) as they
/// are, then its other lines from the last to the first. A last line without
/// line end gets one. REQUIRES: not compressed; lines end in LF
class ReverseCursor final : public ByteCursor {
 public:
  ReverseCursor(std::shared_ptr<const ByteStore> store,
                std::uint64_t head_bytes);

  std::size_t read(char* to, std::size_t count) override;

 private:
  bool load_before();
  bool take_last_line();

  std::shared_ptr<const ByteStore> store_;
  std::uint64_t head_bytes_;
  std::uint64_t head_at_ = 0;
  std::uint64_t low_;  // where `held_` begins in the store
  std::string held_;   // not handed out yet; its last line goes next
  std::string line_;   // what is being handed out
  std::size_t line_at_ = 0;
};

/// Bytes that the store's first `lines` lines take.
std::uint64_t bytes_of_lines(const ByteStore& store, std::uint64_t lines);

/// Lines of a store: line feeds, and an end without one.
std::uint64_t count_lines(const ByteStore& store);

}  // namespace telltale::host
