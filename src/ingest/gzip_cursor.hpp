// Reads a gzip store (RFC 1952) as plain bytes.
#pragma once

#include <array>
#include <memory>

#include "ingest/byte_store.hpp"

namespace telltale::host {

/// One pass over a compressed store; several members in a row read as one. A
/// damaged or cut-off stream gives what can be unpacked, then trouble().
class GzipCursor final : public ByteCursor {
 public:
  explicit GzipCursor(std::shared_ptr<const ByteStore> store);
  ~GzipCursor() override;

  std::size_t read(char* to, std::size_t count) override;

 private:
  struct Inflater;

  std::shared_ptr<const ByteStore> store_;
  std::unique_ptr<Inflater> inflater_;
  std::uint64_t offset_ = 0;
  std::array<char, std::size_t{32} << 10> input_;
  bool done_ = false;
};

}  // namespace telltale::host
