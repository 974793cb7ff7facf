#include "ingest/byte_store.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <string>
#include <thread>

#include "catch.hpp"
#include "log_writer.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

using test::TempFile;

std::string all_of(ByteCursor& cursor, std::size_t step = 1000) {
  std::string bytes;
  std::string block(step, '\0');
  while (const std::size_t got = cursor.read(block.data(), block.size())) {
    bytes.append(block, 0, got);
    if (got < step) break;
  }
  return bytes;
}

std::string numbers(std::size_t count) {
  std::string text;
  for (std::size_t i = 0; i < count; ++i) text += std::to_string(i) + ",1\n";
  return text;
}

TEST_CASE("a file can be read twice and from the middle") {
  const std::string text = numbers(5000);
  const TempFile file(text);
  const auto store = ByteStore::open(file.path());
  REQUIRE(store);
  CHECK((*store)->size() == text.size());
  CHECK(all_of(*(*store)->cursor()) == text);
  CHECK(all_of(*(*store)->cursor()) == text);
  CHECK(all_of(*(*store)->cursor(100)) == text.substr(100));
}

TEST_CASE("gzip is read as plain text, members one after the other") {
  const std::string text = numbers(200000);
  const TempFile file(test::gzip_bytes(text) + test::gzip_bytes("more\n"),
                      ".csv.gz");
  const auto store = ByteStore::open(file.path());
  REQUIRE(store);
  const auto cursor = (*store)->cursor();
  CHECK(all_of(*cursor, 100000) == text + "more\n");
  CHECK(cursor->trouble().empty());
}

TEST_CASE("a cut or damaged gzip stream gives what it can and says so") {
  const std::string text = numbers(50000);
  std::string bytes = test::gzip_bytes(text);
  {
    const TempFile file(bytes.substr(0, bytes.size() / 2));
    const auto cursor = (*ByteStore::open(file.path()))->cursor();
    const std::string got = all_of(*cursor);
    CHECK(got.size() > text.size() / 4);
    CHECK(text.starts_with(got));
    CHECK(cursor->trouble().find("cut off") != std::string::npos);
  }
  bytes[bytes.size() / 2] ^= 0x55;
  bytes[bytes.size() / 2 + 1] ^= 0x55;
  const TempFile file(bytes);
  const auto cursor = (*ByteStore::open(file.path()))->cursor();
  all_of(*cursor);
  CHECK_FALSE(cursor->trouble().empty());
}

TEST_CASE("a pipe is copied, small or large, and can be read twice") {
  for (std::size_t count : {100U, 900000U}) {
    const std::string text = numbers(count);
    std::string path = "/tmp/telltale-fifo.XXXXXX";
    REQUIRE(::mkdtemp(path.data()) != nullptr);
    const std::string fifo = path + "/log";
    REQUIRE(::mkfifo(fifo.c_str(), 0600) == 0);
    std::thread writer([&] {
      const int fd = ::open(fifo.c_str(), O_WRONLY);
      for (std::size_t at = 0; at < text.size();) {
        const ssize_t put = ::write(fd, text.data() + at, text.size() - at);
        if (put <= 0) break;
        at += static_cast<std::size_t>(put);
      }
      ::close(fd);
    });
    const auto store = ByteStore::open(fifo);
    writer.join();
    ::unlink(fifo.c_str());
    ::rmdir(path.c_str());
    REQUIRE(store);
    CHECK((*store)->size() == text.size());
    CHECK(all_of(*(*store)->cursor(), 65536) == text);
    CHECK(all_of(*(*store)->cursor(), 65536) == text);
  }
}

TEST_CASE("a file that grows is read as it was when it was opened") {
  const TempFile file("a,b\n");
  const auto store = ByteStore::open(file.path());
  REQUIRE(store);
  std::FILE* more = std::fopen(file.path().c_str(), "ab");
  std::fputs("c,d\n", more);
  std::fclose(more);
  CHECK(all_of(*(*store)->cursor()) == "a,b\n");
}

TEST_CASE("a file that shrinks says so") {
  const TempFile file(numbers(1000));
  const auto store = ByteStore::open(file.path());
  REQUIRE(store);
  REQUIRE(::truncate(file.path().c_str(), 10) == 0);
  const auto cursor = (*store)->cursor();
  CHECK(all_of(*cursor) == "0,1\n1,1\n2,");
  CHECK_FALSE(cursor->trouble().empty());
}

TEST_CASE("what can't be read is refused with what, where and what to do") {
  const auto refused = [](const std::string& path, const char* what) {
    const auto store = ByteStore::open(path);
    REQUIRE_FALSE(store);
    INFO(store.error().line());
    CHECK(store.error().what.find(what) != std::string::npos);
    CHECK(store.error().where == path);
    CHECK_FALSE(store.error().remedy.empty());
  };
  refused("/nowhere/at/all.csv", "no such file");
  refused("/tmp", "folder");
  refused("/dev/zero", "device");
  const TempFile empty("");
  refused(empty.path(), "empty");
  const TempFile zeros(std::string(5000, '\0'));
  refused(zeros.path(), "zero bytes");
  const TempFile png("\x89PNG\r\n\x1a\n....");
  refused(png.path(), "picture");
  const TempFile zip("PK\x03\x04.....");
  refused(zip.path(), "spreadsheet");
  std::string noise;
  for (int i = 0; i < 4000; ++i) noise += static_cast<char>(i * 7919 % 251);
  const TempFile binary(noise);
  refused(binary.path(), "binary");
  if (::geteuid() != 0) {
    const TempFile secret("a,b\n");
    ::chmod(secret.path().c_str(), 0);
    refused(secret.path(), "permission");
  }
}

}  // namespace
}  // namespace telltale::host
