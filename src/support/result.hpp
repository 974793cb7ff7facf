// Result<T>: a value, or the reason why there is none. No exceptions cross the
// host layer's edge; this is what crosses it instead.
#pragma once

#include <string>
#include <utility>
#include <variant>

namespace telltale::host {

/// Why the command could not do its job, in one line for the person: what
/// went wrong, where (file and line, may be empty), what to do (may be empty).
struct Error {
  std::string what;
  std::string where;
  std::string remedy;

  /// "where: what; remedy" on one line.
  [[nodiscard]] std::string line() const {
    std::string text = where.empty() ? what : where + ": " + what;
    return remedy.empty() ? text : text + "; " + remedy;
  }
};

template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : held_(std::move(value)) {}  // NOLINT: implicit by design
  Result(Error error) : held_(std::move(error)) {}  // NOLINT

  [[nodiscard]] explicit operator bool() const { return held_.index() == 0; }

  /// REQUIRES: the result holds a value.
  T& operator*() { return std::get<0>(held_); }
  const T& operator*() const { return std::get<0>(held_); }
  T* operator->() { return &std::get<0>(held_); }
  const T* operator->() const { return &std::get<0>(held_); }

  /// REQUIRES: the result holds no value.
  [[nodiscard]] const Error& error() const { return std::get<1>(held_); }

 private:
  std::variant<T, Error> held_;
};

}  // namespace telltale::host
