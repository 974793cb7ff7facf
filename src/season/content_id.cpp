#include "season/content_id.hpp"

#include <vector>

#include "ingest/byte_store.hpp"
#include "season/sha256.hpp"

namespace telltale::host::season {

Result<std::string> content_id(const std::string& path) {
  const auto store = ByteStore::open(path);
  if (!store) return store.error();
  const auto cursor = (*store)->cursor();
  std::vector<char> buffer(std::size_t{256} << 10U);
  Sha256 sha;
  while (const std::size_t got = cursor->read(buffer.data(), buffer.size())) {
    sha.add({buffer.data(), got});
  }
  // Damaged compression: what could be unpacked is the log, also next time.
  return sha.finish_hex();
}

}  // namespace telltale::host::season
