#ifdef TELLTALE_HAS_LIBPQ

#include "season/libpq.hpp"

#include <dlfcn.h>

#include <optional>

namespace telltale::host::season {
namespace {

// The library's binary interface, the same since PostgreSQL 8.
#ifdef __APPLE__
constexpr const char* kLibrary = "libpq.5.dylib";
#else
constexpr const char* kLibrary = "libpq.so.5";
#endif

template <class Function>
bool find(void* library, const char* name, Function& function) {
  function = reinterpret_cast<Function>(::dlsym(library, name));
  return function != nullptr;
}

std::optional<LibPq> load() {
  void* const library = ::dlopen(kLibrary, RTLD_NOW | RTLD_LOCAL);
  if (library == nullptr) return std::nullopt;
  LibPq pq{};
  const bool complete =
      find(library, "PQclear", pq.clear) &&
      find(library, "PQcmdTuples", pq.cmd_tuples) &&
      find(library, "PQconnectdb", pq.connect_db) &&
      find(library, "PQdb", pq.db) &&
      find(library, "PQerrorMessage", pq.error_message) &&
      find(library, "PQexec", pq.exec) &&
      find(library, "PQexecParams", pq.exec_params) &&
      find(library, "PQfinish", pq.finish) &&
      find(library, "PQgetisnull", pq.get_is_null) &&
      find(library, "PQgetlength", pq.get_length) &&
      find(library, "PQgetResult", pq.get_result) &&
      find(library, "PQgetvalue", pq.get_value) &&
      find(library, "PQhost", pq.host) &&
      find(library, "PQntuples", pq.n_tuples) &&
      find(library, "PQport", pq.port) &&
      find(library, "PQputCopyData", pq.put_copy_data) &&
      find(library, "PQputCopyEnd", pq.put_copy_end) &&
      find(library, "PQresultErrorField", pq.result_error_field) &&
      find(library, "PQresultStatus", pq.result_status) &&
      find(library, "PQsetNoticeProcessor", pq.set_notice_processor) &&
      find(library, "PQstatus", pq.status) && find(library, "PQuser", pq.user);
  return complete ? std::optional(pq) : std::nullopt;
}

}  // namespace

const LibPq* load_libpq() {
  static const std::optional<LibPq> kPq = load();
  return kPq ? &*kPq : nullptr;
}

}  // namespace telltale::host::season

#endif
