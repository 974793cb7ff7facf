// Threads: whether something may start threads of its own.
#pragma once

#include <cstdint>
#include <future>
#include <system_error>
#include <thread>
#include <utility>

namespace telltale::host {

/// What comes out is the same either way.
enum class Threads : std::uint8_t {
  one,  // all is done on the caller's
  more  // some of it beside the caller's
};

/// Calls `work` beside the caller where that may be, there are cores for it and
/// the system has a thread left; else when its result is asked for.
template <class Work>
auto beside(Threads threads, Work work) -> std::future<decltype(work())> {
  if (threads == Threads::more && std::thread::hardware_concurrency() > 1) {
    try {
      return std::async(std::launch::async, work);
    } catch (const std::system_error&) {
    }
  }
  return std::async(std::launch::deferred, std::move(work));
}

/// A thread that does `work`; none where the system has none left.
template <class Work>
std::thread thread_if_any(Work work) {
  try {
    return std::thread(std::move(work));
  } catch (const std::system_error&) {
    return {};
  }
}

}  // namespace telltale::host
