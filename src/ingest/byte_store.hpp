// Where a log's bytes come from: a file, a compressed file, a pipe. Whatever
// it is, it can be read more than once.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>

#include "support/result.hpp"

namespace telltale::host {

/// One pass over a store's bytes, decompressed.
class ByteCursor {
 public:
  ByteCursor() = default;
  ByteCursor(const ByteCursor&) = delete;
  ByteCursor& operator=(const ByteCursor&) = delete;
  virtual ~ByteCursor() = default;

  /// Reads up to `count` bytes; fewer than `count` only at the end, 0 after.
  virtual std::size_t read(char* to, std::size_t count) = 0;

  /// What went wrong on the way (a read error, damaged compression), for
  /// people; empty while all is well. What was read before it is good.
  [[nodiscard]] const std::string& trouble() const { return trouble_; }

  /// How many of the store's bytes (compressed ones as they are) are read.
  [[nodiscard]] std::uint64_t stored_bytes_read() const { return stored_read_; }

 protected:
  std::uint64_t stored_read_ = 0;
  std::string trouble_;
};

/// An opened log. Cheap to copy by shared pointer; cursors keep it alive.
class ByteStore {
 public:
  /// Opens a path; "-" is standard input. One-way sources (pipes, FIFOs,
  /// terminals) are copied first: up to kMemoryLimit in memory, beyond that in
  /// a nameless temporary file. A file's length is fixed here, so one that
  /// grows reads as it is now. Errors: missing, no permission, a directory or
  /// device, empty, a known binary format (named, with what to do).
  static Result<std::shared_ptr<const ByteStore>> open(const std::string& path);

  /// A store of bytes in memory; `name` stands for the path in messages.
  static std::shared_ptr<const ByteStore> of_memory(std::string bytes,
                                                    std::string name);

  static constexpr std::size_t kMemoryLimit = std::size_t{4} << 20;

  virtual ~ByteStore() = default;
  ByteStore(const ByteStore&) = delete;
  ByteStore& operator=(const ByteStore&) = delete;

  /// Length as stored: of a compressed file the compressed length.
  [[nodiscard]] std::uint64_t size() const { return size_; }
  /// The path, or "standard input".
  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] bool compressed() const { return compressed_; }

  /// A new pass from `offset` on. REQUIRES: offset is 0 if compressed().
  [[nodiscard]] std::unique_ptr<ByteCursor> cursor(
      std::uint64_t offset = 0) const;

  /// Reads stored bytes (compressed ones as they are) at an offset. Returns
  /// the count, 0 at the end; `error` gets the system's number of a failure.
  virtual std::size_t read_at(std::uint64_t offset, char* to, std::size_t count,
                              int& error) const = 0;

 protected:
  ByteStore(std::string name, std::uint64_t size)
      : name_(std::move(name)), size_(size) {}

  void look_at_start();

  std::string name_;
  std::uint64_t size_;
  bool compressed_ = false;

 private:
  std::weak_ptr<const ByteStore> self_;
  friend std::shared_ptr<const ByteStore> finish_store(
      std::shared_ptr<ByteStore> store);
};

}  // namespace telltale::host
