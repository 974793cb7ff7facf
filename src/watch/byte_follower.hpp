// ByteFollower: the bytes of standard input or of a file that may still grow.
#pragma once

#include <cstdint>
#include <string>

#include "support/result.hpp"

namespace telltale::host {

/// Bytes in the order they were written. A file that is followed is looked for
/// by its name: when another takes its place (rotation) what is left of the
/// old one comes first, and when it gets shorter (truncation) it is read from
/// its beginning again.
class ByteFollower {
 public:
  enum class Got : std::uint8_t {
    bytes,    // some
    nothing,  // none for now
    restart,  // what follows begins a file anew
    end       // there will be no more
  };

  /// "-" is standard input.
  static Result<ByteFollower> open(const std::string& path, bool follow);
  ByteFollower(ByteFollower&& other) noexcept;
  ByteFollower& operator=(ByteFollower&& other) noexcept;
  ~ByteFollower();

  /// Waits up to `wait_ms` for bytes and puts them in place of `out`. A signal
  /// cuts the waiting short.
  Got read(std::string& out, int wait_ms);

 private:
  ByteFollower(std::string path, int fd, bool follow);
  /// Whether another file has the name now, or this one got shorter.
  [[nodiscard]] bool was_replaced() const;
  [[nodiscard]] bool was_truncated() const;
  void close();

  std::string path_;
  int fd_ = -1;
  bool follow_ = false;
  std::uint64_t read_ = 0;
};

}  // namespace telltale::host
