#include "season/postgres_database.hpp"

#ifdef TELLTALE_HAS_LIBPQ

#include <fmt/format.h>

#include <charconv>
#include <limits>

#include "season/libpq.hpp"
#include "support/number.hpp"

namespace telltale::host::season {
namespace {

/// REQUIRES: open_postgres() has found it
const LibPq& pq() { return *load_libpq(); }

struct ClearResult {
  void operator()(PGresult* r) const { pq().clear(r); }
};
using Answer = std::unique_ptr<PGresult, ClearResult>;

struct CloseConnection {
  void operator()(PGconn* c) const { pq().finish(c); }
};
using Connection = std::unique_ptr<PGconn, CloseConnection>;

/// Messages of the server come in several lines.
std::string one_line(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\n' || c == '\t') {
      if (!out.empty() && out.back() != ' ') out += ' ';
    } else {
      out += c;
    }
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

class PostgresRows final : public Rows {
 public:
  explicit PostgresRows(Answer answer) : answer_(std::move(answer)) {}

  bool next() override { return ++row_ < pq().n_tuples(answer_.get()); }
  [[nodiscard]] const std::optional<Error>& trouble() const override {
    return none_;
  }
  [[nodiscard]] bool is_null(int column) const override {
    return pq().get_is_null(answer_.get(), row_, column) == 1;
  }
  [[nodiscard]] std::int64_t whole(int column) const override {
    const std::string_view digits = text(column);
    std::int64_t x = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), x);
    return x;
  }
  [[nodiscard]] double number(int column) const override {
    return parse_number(text(column))
        .value_or(std::numeric_limits<double>::quiet_NaN());
  }
  [[nodiscard]] std::string_view text(int column) const override {
    return {
        pq().get_value(answer_.get(), row_, column),
        static_cast<std::size_t>(pq().get_length(answer_.get(), row_, column))};
  }

 private:
  Answer answer_;
  int row_ = -1;
  std::optional<Error> none_;
};

/// A value as the server reads it in parameters.
std::string as_text(const FieldValue& v) {
  if (const auto* x = std::get_if<std::int64_t>(&v)) {
    return fmt::format("{}", *x);
  }
  if (const auto* x = std::get_if<double>(&v)) return fmt::format("{}", *x);
  if (const auto* x = std::get_if<std::string>(&v)) return *x;
  return {};
}

/// The same in the text format of COPY.
void append_copy(const FieldValue& v, std::string& out) {
  if (std::holds_alternative<std::monostate>(v)) {
    out += "\\N";
    return;
  }
  for (const char c : as_text(v)) {
    if (c == '\0') continue;  // a text can't hold it
    if (c == '\\' || c == '\n' || c == '\r' || c == '\t') {
      out += '\\';
      out += c == '\n' ? 'n' : c == '\r' ? 'r' : c == '\t' ? 't' : c;
    } else {
      out += c;
    }
  }
}

class PostgresDatabase final : public Database {
 public:
  explicit PostgresDatabase(Connection connection)
      : connection_(std::move(connection)) {
    name_ = fmt::format("postgresql://{}@{}:{}/{}", pq().user(get()),
                        pq().host(get()), pq().port(get()), pq().db(get()));
  }

  Result<std::int64_t> run(std::string_view sql, Values values) override {
    Result<Answer> answer = ask(sql, values);
    if (!answer) return answer.error();
    const std::string_view count = pq().cmd_tuples(answer->get());
    std::int64_t changed = 0;
    std::from_chars(count.data(), count.data() + count.size(), changed);
    return changed;
  }
  Result<std::unique_ptr<Rows>> query(std::string_view sql,
                                      Values values) override {
    Result<Answer> answer = ask(sql, values);
    if (!answer) return answer.error();
    return std::unique_ptr<Rows>(
        std::make_unique<PostgresRows>(std::move(*answer)));
  }
  std::optional<Error> insert(const RowBatch& batch) override {
    if (batch.cells.empty()) return std::nullopt;
    const std::size_t width = batch.columns.size();
    std::string columns;
    for (const std::string& column : batch.columns) {
      if (!columns.empty()) columns += ", ";
      columns += column;
    }
    const Answer start(pq().exec(
        get(),
        fmt::format("COPY {} ({}) FROM STDIN", batch.table, columns).c_str()));
    if (pq().result_status(start.get()) != PGRES_COPY_IN)
      return failure(&start);
    std::string lines;
    for (std::size_t i = 0; i < batch.cells.size(); ++i) {
      append_copy(batch.cells[i], lines);
      lines += (i + 1) % width == 0 ? '\n' : '\t';
    }
    if (pq().put_copy_data(get(), lines.data(),
                           static_cast<int>(lines.size())) != 1 ||
        pq().put_copy_end(get(), nullptr) != 1) {
      return failure(nullptr);
    }
    std::optional<Error> error;
    while (PGresult* raw = pq().get_result(get())) {
      const Answer answer(raw);
      if (pq().result_status(raw) != PGRES_COMMAND_OK) error = failure(&answer);
    }
    return error;
  }

  std::optional<Error> begin() override {
    interfered_ = false;
    return plain("BEGIN ISOLATION LEVEL SERIALIZABLE");
  }
  std::optional<Error> commit() override { return plain("COMMIT"); }
  void rollback() override {
    const bool was = interfered_;
    (void)plain("ROLLBACK");
    interfered_ = was;
  }
  [[nodiscard]] bool interfered() const override { return interfered_; }

  [[nodiscard]] std::string_view own_key() const override {
    return "BIGSERIAL PRIMARY KEY";
  }
  [[nodiscard]] std::string_view by_key() const override { return ""; }
  Result<bool> has_table(std::string_view name) override {
    const FieldValue wanted{std::string(name)};
    auto rows = query(
        "SELECT 1 FROM information_schema.tables "
        "WHERE table_schema = current_schema() AND table_name = $1",
        {&wanted, 1});
    if (!rows) return rows.error();
    return (*rows)->next();
  }
  [[nodiscard]] const std::string& name() const override { return name_; }

 private:
  [[nodiscard]] PGconn* get() const { return connection_.get(); }

  Result<Answer> ask(std::string_view sql, Values values) {
    std::vector<std::string> texts;
    std::vector<const char*> pointers;
    texts.reserve(values.size());
    for (const FieldValue& v : values) {
      texts.push_back(as_text(v));
      pointers.push_back(std::holds_alternative<std::monostate>(v)
                             ? nullptr
                             : texts.back().c_str());
    }
    Answer answer(pq().exec_params(get(), std::string(sql).c_str(),
                                   static_cast<int>(pointers.size()), nullptr,
                                   pointers.empty() ? nullptr : pointers.data(),
                                   nullptr, nullptr, 0));
    const ExecStatusType status = pq().result_status(answer.get());
    if (status != PGRES_COMMAND_OK && status != PGRES_TUPLES_OK) {
      return failure(&answer);
    }
    return answer;
  }
  std::optional<Error> plain(std::string_view sql) {
    const auto answer = ask(sql, {});
    if (!answer) return answer.error();
    return std::nullopt;
  }
  Error failure(const Answer* answer) {
    const char* state =
        answer == nullptr || !*answer
            ? nullptr
            : pq().result_error_field(answer->get(), PG_DIAG_SQLSTATE);
    const std::string_view code = state == nullptr ? "" : state;
    // Class 40: the transaction was rolled back because of another one.
    if (code.substr(0, 2) == "40") interfered_ = true;
    return {
        one_line(pq().error_message(get())), name_,
        code == "42501" ? "ask for the right to create and fill tables" : ""};
  }

  Connection connection_;
  std::string name_;
  bool interfered_ = false;
};

}  // namespace

Result<std::unique_ptr<Database>> open_postgres(const std::string& where) {
  if (load_libpq() == nullptr) {
    return Error{"libpq, PostgreSQL's library, is not on this machine",
                 "--store", "install it (Debian: libpq5), or name a file"};
  }
  Connection connection(pq().connect_db(where.c_str()));
  if (pq().status(connection.get()) != CONNECTION_OK) {
    return Error{one_line(pq().error_message(connection.get())), "--store",
                 "check the address, the user and whether the server runs"};
  }
  pq().set_notice_processor(
      connection.get(), [](void*, const char*) {}, nullptr);
  return std::unique_ptr<Database>(
      std::make_unique<PostgresDatabase>(std::move(connection)));
}

}  // namespace telltale::host::season

#else

namespace telltale::host::season {

Result<std::unique_ptr<Database>> open_postgres(const std::string&) {
  return Error{"this program was built without PostgreSQL", "--store",
               "name a file, or build where libpq-dev is installed"};
}

}  // namespace telltale::host::season

#endif
