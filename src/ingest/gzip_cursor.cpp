// The gzip cursor on top of zlib.
#include "ingest/gzip_cursor.hpp"

#include <zlib.h>

#include <algorithm>
#include <limits>
#include <string>
#include <utility>

namespace telltale::host {

struct GzipCursor::Inflater {
  z_stream stream{};
  bool in_member = false;

  // 15 window bits, +16: expect a gzip header.
  Inflater() { ok = inflateInit2(&stream, 15 + 16) == Z_OK; }
  Inflater(const Inflater&) = delete;
  Inflater& operator=(const Inflater&) = delete;
  ~Inflater() { inflateEnd(&stream); }

  bool ok = false;
};

GzipCursor::GzipCursor(std::shared_ptr<const ByteStore> store)
    : store_(std::move(store)), inflater_(std::make_unique<Inflater>()) {
  done_ = !inflater_->ok;
}

GzipCursor::~GzipCursor() = default;

std::size_t GzipCursor::read(char* to, std::size_t count) {
  z_stream& z = inflater_->stream;
  count = std::min<std::size_t>(count, std::numeric_limits<uInt>::max());
  z.next_out = reinterpret_cast<Bytef*>(to);
  z.avail_out = static_cast<uInt>(count);
  while (!done_ && z.avail_out > 0) {
    if (z.avail_in == 0) {
      int error = 0;
      const std::size_t got =
          store_->read_at(offset_, input_.data(), input_.size(), error);
      offset_ += got;
      stored_read_ += got;
      z.next_in = reinterpret_cast<Bytef*>(input_.data());
      z.avail_in = static_cast<uInt>(got);
      if (got == 0) {
        done_ = true;
        if (inflater_->in_member) {
          trouble_ = "the compressed file is cut off; what follows byte " +
                     std::to_string(z.total_out) + " of its text is lost";
        }
        break;
      }
    }
    inflater_->in_member = true;
    const int answer = inflate(&z, Z_NO_FLUSH);
    if (answer == Z_STREAM_END) {
      inflater_->in_member = false;
      const auto total = z.total_out;
      if (inflateReset(&z) != Z_OK) done_ = true;
      z.total_out = total;
    } else if (answer != Z_OK && answer != Z_BUF_ERROR) {
      done_ = true;
      // Zero padding after the last member is common and harmless.
      const bool padding = z.total_in == 0 && offset_ == store_->size();
      if (!padding || z.total_out == 0) {
        trouble_ = "the compressed file is damaged; what follows byte " +
                   std::to_string(z.total_out) + " of its text is lost";
      }
    }
  }
  return count - z.avail_out;
}

}  // namespace telltale::host
