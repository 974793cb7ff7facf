#include "watch/byte_follower.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <utility>

namespace telltale::host {

Result<ByteFollower> ByteFollower::open(const std::string& path, bool follow) {
  if (path == "-") return ByteFollower(path, STDIN_FILENO, false);
  const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) return Error{std::strerror(errno), path, "check the name"};
  struct stat info {};
  if (::fstat(fd, &info) == 0 && S_ISDIR(info.st_mode)) {
    ::close(fd);
    return Error{"is a directory", path, "name a log"};
  }
  return ByteFollower(path, fd, follow);
}

ByteFollower::ByteFollower(std::string path, int fd, bool follow)
    : path_(std::move(path)), fd_(fd), follow_(follow) {}
ByteFollower::ByteFollower(ByteFollower&& other) noexcept
    : path_(std::move(other.path_)),
      fd_(std::exchange(other.fd_, -1)),
      follow_(other.follow_),
      read_(other.read_) {}
ByteFollower& ByteFollower::operator=(ByteFollower&& other) noexcept {
  if (this != &other) {
    close();
    path_ = std::move(other.path_);
    fd_ = std::exchange(other.fd_, -1);
    follow_ = other.follow_;
    read_ = other.read_;
  }
  return *this;
}
ByteFollower::~ByteFollower() { close(); }

void ByteFollower::close() {
  if (fd_ > STDIN_FILENO) ::close(fd_);
  fd_ = -1;
}

ByteFollower::Got ByteFollower::read(std::string& out, int wait_ms) {
  out.clear();
  pollfd waiting{fd_, POLLIN, 0};
  // Also says "ready" at the end of a plain file.
  const int ready = ::poll(&waiting, 1, wait_ms);
  if (ready <= 0) return Got::nothing;
  std::array<char, 65536> block{};
  const ssize_t got = ::read(fd_, block.data(), block.size());
  if (got > 0) {
    read_ += static_cast<std::uint64_t>(got);
    out.assign(block.data(), static_cast<std::size_t>(got));
    return Got::bytes;
  }
  if (got < 0) {
    return errno == EINTR || errno == EAGAIN ? Got::nothing : Got::end;
  }
  if (!follow_) return Got::end;
  if (was_truncated()) {
    ::lseek(fd_, 0, SEEK_SET);
    read_ = 0;
    return Got::restart;
  }
  if (was_replaced()) {
    const int fd = ::open(path_.c_str(), O_RDONLY | O_CLOEXEC);
    if (fd >= 0) {
      ::close(fd_);
      fd_ = fd;
      read_ = 0;
      return Got::restart;
    }
  }
  // At the end of a file poll() does not wait.
  ::poll(nullptr, 0, wait_ms);
  return Got::nothing;
}

bool ByteFollower::was_truncated() const {
  struct stat mine {};
  return ::fstat(fd_, &mine) == 0 && S_ISREG(mine.st_mode) &&
         static_cast<std::uint64_t>(mine.st_size) < read_;
}

bool ByteFollower::was_replaced() const {
  struct stat mine {};
  struct stat named {};
  return ::fstat(fd_, &mine) == 0 && ::stat(path_.c_str(), &named) == 0 &&
         (mine.st_ino != named.st_ino || mine.st_dev != named.st_dev);
}

}  // namespace telltale::host
