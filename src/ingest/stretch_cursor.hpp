// A pass over a store's bytes that ends before they do.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <utility>

#include "ingest/byte_store.hpp"

namespace telltale::host {

/// The next `bytes` of another cursor, and no more.
class StretchCursor final : public ByteCursor {
 public:
  StretchCursor(std::unique_ptr<ByteCursor> cursor, std::uint64_t bytes)
      : cursor_(std::move(cursor)), left_(bytes) {}

  std::size_t read(char* to, std::size_t count) override {
    const auto most =
        static_cast<std::size_t>(std::min<std::uint64_t>(left_, count));
    const std::size_t got = cursor_->read(to, most);
    left_ -= got;
    stored_read_ = cursor_->stored_bytes_read();
    trouble_ = cursor_->trouble();
    return got;
  }

 private:
  std::unique_ptr<ByteCursor> cursor_;
  std::uint64_t left_;
};

}  // namespace telltale::host
